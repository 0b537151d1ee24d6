import { type EditorState, type Extension, StateEffect, StateField, type Transaction } from '@codemirror/state'
import { Decoration, type DecorationSet, EditorView, WidgetType } from '@codemirror/view'
import { type HeaderRow, headerRow } from '../chart/header.ts'
import { rowsOf } from '../chart/row.ts'
import type { Span } from '../chart/span.ts'

/** The rows above the bars: their span, and what they say in a few words. */
export interface ChangesHead extends Span {
  readonly says: string
}

/**
 * The header rows at the top of a text with the remarks and empty rows among them and the empty rows behind; `undefined` if the text does not begin with any.
 *
 * @example
 * changesHead('key: F\ntempo: 126\nfeel: shuffle\n| C7 |') // => { from: 0, to: 31, says: 'key F · 126 · shuffle' }
 * changesHead('| C7 |') // => undefined
 */
export function changesHead(text: string): ChangesHead | undefined {
  const headers: HeaderRow[] = []
  let remarks = 0
  let between = 0
  let from: number | undefined
  let to = 0
  for (const row of rowsOf(text)) {
    const header = headerRow(row.text, row.from)
    if (!header && row.text.trim() !== '') break
    if (headers.length > 0 && between === 0 && row.comment === undefined) to = row.from + row.text.length
    if (header || row.comment !== undefined) from ??= row.from
    if (!header) {
      if (row.comment !== undefined) between++
      continue
    }
    headers.push(header)
    remarks += between + (row.comment === undefined ? 0 : 1)
    between = 0
    to = row.from + row.text.length + (row.comment?.length ?? 0)
  }
  if (headers.length === 0) return undefined
  return { from: from!, to, says: saysOf(headers, remarks) }
}

/** Shown first, in this order, with words where a value alone would say nothing. */
const SHOWN: readonly (readonly [name: string, say: (value: string) => string])[] = [
  ['key', (value) => `key ${value}`],
  ['time', (value) => value],
  ['tempo', (value) => value],
  ['feel', (value) => value],
  ['form', (value) => `form ${value}`],
  ['groups', (value) => value],
  ['pickup', () => 'pick-up'],
  ['bass', (value) => value],
]

function saysOf(headers: readonly HeaderRow[], remarks: number): string {
  const said = new Map(headers.map(({ name, value }) => [name.toLowerCase(), value] as const).reverse())
  const counted = (count: number, one: string) => (count === 0 ? [] : [`${count} ${one}${count === 1 ? '' : 's'}`])
  const words = (name: string) => said.get(name)?.match(/"[^"]*"?|[^\s,"]+/g)?.length ?? 0
  const parts = [
    ...SHOWN.flatMap(([name, say]) => (said.get(name) ? [say(said.get(name)!)] : [])),
    ...counted(words('cells'), 'cell'),
    ...counted(words('patterns'), 'pattern'),
    ...counted(headers.filter(({ name, value }) => name.toLowerCase() === 'rule' && value !== '').length, 'rule'),
    ...counted(remarks, 'remark'),
  ]
  if (parts.length > 0) return parts.join(' · ')
  return headers.map(({ name, value }) => value || `${name}:`).join(' · ')
}

/** Opens the head (`true`) or folds it. */
export const openHead = StateEffect.define<boolean>()

/** The one quiet line in place of the header rows. */
class HeadWidget extends WidgetType {
  readonly #says: string
  constructor(says: string) {
    super()
    this.#says = says
  }

  override eq(other: HeadWidget): boolean {
    return other.#says === this.#says
  }

  override toDOM(view: EditorView): HTMLElement {
    const row = document.createElement('div')
    row.className = 'cm-head'
    row.title = 'Open the headers'
    row.textContent = this.#says
    row.addEventListener('mousedown', (event) => {
      event.preventDefault()
      const head = view.state.field(headField).head
      if (!head) return
      view.focus()
      view.dispatch({ selection: { anchor: head.to }, effects: openHead.of(true) })
    })
    return row
  }

  override ignoreEvent(): boolean {
    return true
  }
}

interface HeadState {
  readonly head: ChangesHead | undefined
  readonly open: boolean
  readonly decorations: DecorationSet
}

function headState(head: ChangesHead | undefined, open: boolean): HeadState {
  if (!head || open) return { head, open: open && head !== undefined, decorations: Decoration.none }
  const fold = Decoration.replace({ widget: new HeadWidget(head.says), block: true })
  return { head, open, decorations: Decoration.set(fold.range(head.from, head.to)) }
}

function isInside(head: ChangesHead | undefined, { selection }: EditorState): boolean {
  return head !== undefined && selection.main.from <= head.to && selection.main.to >= head.from
}

function next(before: HeadState, transaction: Transaction): HeadState {
  const head = transaction.docChanged ? changesHead(transaction.newDoc.toString()) : before.head
  let { open } = before
  const inside = isInside(head, transaction.state)
  for (const effect of transaction.effects) if (effect.is(openHead)) open = effect.value
  // The cursor opens it by coming, and folds it by leaving; a press folds it when it is over, so that nothing moves under it.
  if (transaction.isUserEvent('select') || transaction.isUserEvent('input') || transaction.isUserEvent('delete')) {
    if (inside) open = true
    else if (!transaction.isUserEvent('select.pointer')) open = false
  }
  if (head === before.head && open === before.open) return before
  return headState(head, open)
}

const headField = StateField.define<HeadState>({
  create: (state) => headState(changesHead(state.doc.toString()), false),
  update: next,
  provide: (field) => EditorView.decorations.from(field, ({ decorations }) => decorations),
})

/** The head of the text that is edited, and whether it is open. */
export function headOf(state: EditorState): { readonly head: ChangesHead | undefined; readonly open: boolean } {
  return state.field(headField)
}

/** Folds the header rows to one line, which opens by a press or when the cursor comes. */
export const CHANGES_HEAD: Extension = [
  headField,
  EditorView.domEventHandlers({
    click: (_, view) => {
      const { head, open } = headOf(view.state)
      if (open && !isInside(head, view.state)) view.dispatch({ effects: openHead.of(false) })
    },
  }),
]
