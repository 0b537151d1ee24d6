import { type Extension, StateEffect, StateField } from '@codemirror/state'
import { Decoration, type DecorationSet, EditorView } from '@codemirror/view'
import type { Diagnostic } from '../chart/diagnostic.ts'
import type { Span } from '../chart/span.ts'

/** What the text shows besides itself: what is said about it, and the bar that sounds. Places follow the text as it is edited. */
export interface ChangesMarks {
  readonly diagnostics: readonly Diagnostic[]
  readonly lit: Span | undefined
  readonly decorations: DecorationSet
}

export const setDiagnostics = StateEffect.define<readonly Diagnostic[]>()
export const setLit = StateEffect.define<Span | undefined>()

const WRONG = Decoration.mark({ class: 'cm-wrong' })
const HINT = Decoration.mark({ class: 'cm-hint' })
const LIT = Decoration.mark({ class: 'cm-lit' })

function marksOf(diagnostics: readonly Diagnostic[], lit: Span | undefined, length: number): ChangesMarks {
  const inside = ({ from, to }: Span) => from < to && to <= length
  const ranges = diagnostics
    .filter(({ span }) => inside(span))
    .map(({ severity, span }) => (severity === 'hint' ? HINT : WRONG).range(span.from, span.to))
  if (lit && inside(lit)) ranges.push(LIT.range(lit.from, lit.to))
  return { diagnostics, lit, decorations: Decoration.set(ranges, true) }
}

/** The marks of the text that is edited. */
export const changesMarks = StateField.define<ChangesMarks>({
  create: () => marksOf([], undefined, 0),
  update(before, transaction) {
    let { diagnostics, lit } = before
    if (transaction.docChanged) {
      const { changes } = transaction
      const moved = ({ from, to }: Span): Span => {
        const start = changes.mapPos(from, 1)
        return { from: start, to: Math.max(start, changes.mapPos(to, -1)) }
      }
      diagnostics = diagnostics.map((diagnostic) => {
        const { span, fixSpan } = diagnostic
        return { ...diagnostic, span: moved(span), ...(fixSpan ? { fixSpan: moved(fixSpan) } : {}) }
      })
      lit = lit && moved(lit)
    }
    for (const effect of transaction.effects) {
      if (effect.is(setDiagnostics)) diagnostics = effect.value
      if (effect.is(setLit)) lit = effect.value
    }
    if (diagnostics === before.diagnostics && lit === before.lit) return before
    return marksOf(diagnostics, lit, transaction.newDoc.length)
  },
  provide: (field) => EditorView.decorations.from(field, ({ decorations }) => decorations),
})

export const CHANGES_MARKS: Extension = changesMarks

/**
 * What is to be said now: all about the place of the cursor, else what is nearest in its row, else the first; what is wrong before
 * matters of style. At most three.
 *
 * @param cursor  `undefined`: nobody is writing
 * @param row     where the row of the cursor begins and ends
 */
export function saidNow(
  diagnostics: readonly Diagnostic[],
  cursor: number | undefined,
  row: Span | undefined,
): readonly Diagnostic[] {
  if (cursor !== undefined && row) {
    const distance = ({ span }: Diagnostic) => Math.max(span.from - cursor, cursor - span.to, 0)
    const near = diagnostics
      .filter(({ span }) => span.from <= row.to && span.to >= row.from)
      .sort((a, b) => distance(a) - distance(b) || Number(a.severity === 'hint') - Number(b.severity === 'hint'))
    const here = near.filter((diagnostic) => distance(diagnostic) === 0)
    if (here.length > 0) return here.slice(0, 3)
    if (near[0]) return [near[0]]
  }
  const first = diagnostics.find(({ severity }) => severity !== 'hint') ?? diagnostics[0]
  return first ? [first] : []
}
