/** A stretch of text in UTF-16 offsets, half-open. */
export interface Span {
  readonly from: number
  readonly to: number
}
