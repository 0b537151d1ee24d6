/** How long the browser may take to fetch what it was handed, ms. */
const FETCHED_WITHIN_MS = 60_000

/** Hands a MIDI file to the browser as a download. */
export function takeFile(bytes: Uint8Array, name: string): void {
  const url = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type: 'audio/midi' }))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), FETCHED_WITHIN_MS)
}

/**
 * A title as a name of a file, without what some machine does not allow; `line` where nothing is left.
 *
 * @example
 * fileNameOf('Late: A/B?') // => 'Late AB'
 * fileNameOf('..') // => 'line'
 */
export function fileNameOf(title: string): string {
  const plain = [...title].filter((sign) => sign >= ' ' && !'\\/:*?"<>|'.includes(sign)).join('')
  return plain.trim().replace(/^\.+/, '').slice(0, 80).trim() || 'line'
}
