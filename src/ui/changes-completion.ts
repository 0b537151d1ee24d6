import {
  autocompletion,
  type CompletionContext,
  type CompletionResult,
  closeCompletion,
  completionKeymap,
  completionStatus,
} from '@codemirror/autocomplete'
import { type Extension, Prec } from '@codemirror/state'
import { EditorView, keymap } from '@codemirror/view'
import { HEADER_NAMES, headerRow, isHeaderName } from '../chart/header.ts'
import { parseChart } from '../chart/parse.ts'
import { FEELS } from '../feels/feels.ts'
import { PATTERNS } from '../line/patterns.ts'
import { INSTRUMENTS } from '../music/instruments.ts'
import { CELLS } from '../rhythm/cells.ts'

// Loaded when somebody begins to write. Nothing is chosen until the player goes to it, so that Enter ends a row as ever.

/** What may stand at a place of a chart, and from where; `undefined`: nothing comes to mind. */
export interface Offer {
  readonly from: number
  readonly words: readonly string[]
}

/**
 * Words for a place of a chart: chords that it has already, names of its sections, headers and their ids.
 *
 * @param text  of the chart
 * @param at    the place, 0 to the length of the text
 */
export function offerAt(text: string, at: number): Offer | undefined {
  const rowFrom = text.lastIndexOf('\n', at - 1) + 1
  const before = text.slice(rowFrom, at)
  if (before.includes('//')) return undefined
  const header = headerRow(before, rowFrom)
  if (header && isHeaderName(header.name.toLowerCase())) {
    const from = at - /[^\s,:]*$/.exec(before)![0].length
    return offer(from, valuesOf(header.name.toLowerCase(), text), text.slice(from, at))
  }
  const section = /\[([^\]|]*)$/.exec(before)
  if (section) return offer(at - section[1]!.length, sectionsOf(text), section[1]!)
  if (/^[a-z]+$/.test(before) && !text.slice(0, rowFrom).includes('|')) {
    const said = new Set(text.split('\n').map((row) => headerRow(row, 0)?.name.toLowerCase()))
    const names = HEADER_NAMES.filter((name) => name === 'rule' || !said.has(name))
    return offer(
      rowFrom,
      names.map((name) => `${name}: `),
      before,
    )
  }
  const chord = /(?:^|[\s|:<])([A-G][^\s|:]*)$/.exec(before)?.[1]
  return chord ? offer(at - chord.length, chordsOf(text, at), chord) : undefined
}

function offer(from: number, words: readonly string[], begun: string): Offer | undefined {
  const fitting = words.filter((word) => word.startsWith(begun) && word !== begun)
  return fitting.length > 0 ? { from, words: fitting } : undefined
}

function valuesOf(header: string, text: string): readonly string[] {
  if (header === 'feel') return FEELS.map(({ id }) => id)
  if (header === 'bass') return INSTRUMENTS.map(({ id }) => id)
  if (header === 'cells') return CELLS.map(({ id }) => id)
  if (header === 'patterns') return PATTERNS.map(({ id }) => id)
  return header === 'form' ? sectionsOf(text) : []
}

function sectionsOf(text: string): readonly string[] {
  return [...new Set([...text.matchAll(/\[([^\]|\n]+)\]/g)].map((match) => match[1]!))]
}

/** The chords of the text, the most frequent first; not the one that is being written. */
function chordsOf(text: string, at: number): readonly string[] {
  const counts = new Map<string, number>()
  for (const bar of parseChart(text).chart.bars)
    for (const { word, span } of bar.chords)
      if (word.kind === 'chord' && !(span.from <= at && at <= span.to))
        counts.set(word.symbol.text, (counts.get(word.symbol.text) ?? 0) + 1)
  return [...counts].sort(([, a], [, b]) => b - a).map(([chord]) => chord)
}

function complete({ state, pos }: CompletionContext): CompletionResult | null {
  const found = offerAt(state.doc.toString(), pos)
  return found ? { from: found.from, options: found.words.map((label) => ({ label })), filter: false } : null
}

const LOOK = EditorView.theme({
  '.cm-tooltip': { border: '1.25px solid var(--ink)', borderRadius: 'var(--radius)', backgroundColor: 'var(--lift)' },
  '.cm-tooltip.cm-tooltip-autocomplete > ul': {
    minWidth: '0',
    maxHeight: '11em',
    fontFamily: 'var(--typed)',
    fontSize: 'var(--typed-size)',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li': { padding: '4px 11px', lineHeight: '1.4', color: 'var(--ink)' },
  '.cm-tooltip-autocomplete ul li[aria-selected]': { backgroundColor: 'var(--ink)', color: 'var(--paper)' },
})

/** Completion for the editor of the changes. */
export const CHANGES_COMPLETION: Extension = [
  autocompletion({
    override: [complete],
    selectOnOpen: false,
    // Nothing can be taken by accident.
    interactionDelay: 0,
    icons: false,
    maxRenderedOptions: 60,
    defaultKeymap: false,
  }),
  Prec.highest(
    keymap.of([
      ...completionKeymap.filter(({ key }) => key !== 'Escape'),
      // An offer that has not opened yet is no reason to stay in the text.
      { key: 'Escape', run: (view) => completionStatus(view.state) === 'active' && closeCompletion(view) },
    ]),
  ),
  LOOK,
]
