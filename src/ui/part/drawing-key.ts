import type { PartBar, PrintedNote, PrintedRest, PrintedSymbol } from '../../notation/part.ts'
import type { SystemBar } from './systems.ts'

/**
 * What a bar's drawing depends on, as text: two bars with equal keys look the same to the hundredth of a staff space. Places
 * in the chart's text and indices of the line's notes are left out, so that an edit elsewhere redraws nothing here.
 */
export function barKey({ bar, x, width, layout }: SystemBar): string {
  return [
    x.toFixed(2),
    width.toFixed(2),
    layout.x.map((place) => place.toFixed(2)).join(),
    layout.symbolX.map((place) => place.toFixed(2)).join(),
    contentKey(bar),
  ].join(';')
}

/** What stands in a bar, wherever it stands. */
export function contentKey(bar: PartBar): string {
  return [
    bar.signs.map((sign) => signKey(sign, bar)).join(),
    bar.symbols.map((symbol) => symbolKey(symbol, bar)).join(),
    bar.beams.join('+'),
    bar.triplets.join('+'),
    bar.barLine,
    bar.section ?? '',
    bar.metreChanges ? `${bar.metre.upper}/${bar.metre.lower}` : '',
  ].join(';')
}

function signKey(sign: PrintedNote | PrintedRest, bar: PartBar): string {
  const { part, dots, triplet } = sign.value
  const value = `${sign.startTick - bar.startTick}:${part}${'.'.repeat(dots)}${triplet ? 't' : ''}`
  if (sign.kind === 'rest') return `r${value}`
  const { tab, degree } = sign
  return [
    value,
    sign.step,
    sign.accidental ?? '',
    sign.head,
    sign.tiedFromBefore ? '<' : '',
    sign.tiedOn ? '>' : '',
    sign.accent ? 'a' : '',
    sign.length ?? '',
    tab ? `${tab.string}/${tab.fret ?? 'x'}${tab.bracketed ? 'b' : ''}` : '',
    degree ? `${degree.accidental ?? ''}${degree.number}` : '',
    sign.mark ?? '',
  ].join('|')
}

function symbolKey(symbol: PrintedSymbol, bar: PartBar): string {
  return `${symbol.startTick - bar.startTick}:${symbolText(symbol)}`
}

/** A chord symbol in one row of plain letters: `Bbmaj7#11/D`. */
export function symbolText(symbol: PrintedSymbol): string {
  const { root, accidental, minor, suffix, bass } = symbol
  const plain = suffix.replace(/♭/g, 'b').replace(/♯/g, '#')
  const under = bass ? `/${bass.letter}${bass.accidental ?? ''}` : ''
  return root + (accidental ?? '') + (minor ? 'm' : '') + plain + under
}
