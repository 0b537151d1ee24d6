import type { Span } from '../chart/span.ts'
import { type ChordSymbol, normaliseChordText } from '../music/chord-symbol.ts'
import type { NoteName } from '../music/note-name.ts'
import type { Tick } from '../music/tick.ts'
import { type Accidental, signIfAny } from './staff-accidental.ts'

/** A chord symbol, cut into the runs it is printed in. */
export interface PrintedSymbol {
  readonly startTick: Tick
  /** the root's letter; `N.C.` for no chord */
  readonly root: string
  readonly accidental: Accidental | undefined
  /** an `m` on the base line after the root */
  readonly minor: boolean
  /** raised: `7`, `maj7`, `7♭9`; flats and sharps as ♭ ♯, half-diminished as ø, diminished as °, major seventh as typed, `maj7` or Δ */
  readonly suffix: string
  readonly bass: { readonly letter: string; readonly accidental: Accidental | undefined } | undefined
  /** in words: `B flat seven` */
  readonly spoken: string
  /** where it is written in the text */
  readonly span: Span
}

/** A piece of a suffix: how it may be typed, how it is printed, and how it is said. */
type Rule = readonly [typed: RegExp, printed: string, spoken: string]

/** What may stand directly after the root. The patterns are those that a symbol is read by. */
const STEMS: readonly Rule[] = [
  [/^(?:minor|min(?!o\d)|mi)/i, 'm', 'minor'],
  [/^m(?!aj|a(?!dd|ug))/, 'm', 'minor'],
  [/^-(?!5)/, 'm', 'minor'],
  [/^(?:half-?dim(?:inished)?|hdim)/i, 'ø', 'half diminished'],
  [/^(?:ø(?:dim)?|h)/, 'ø', 'half diminished'],
  [/^dim(?:inished)?/i, '°', 'diminished'],
  [/^(?:°|o(?!mit)|0)/, '°', 'diminished'],
  [/^(?:augmented|aug)(?:5(?!\d))?/i, 'aug', 'augmented'],
  [/^\+(?:5(?!\d))?/, '+', 'augmented'],
  [/^dom(?:inant)?/i, '', ''],
]

/** What may follow, in any order. */
const PIECES: readonly Rule[] = [
  [/^(?:major|maj|ma(?!d)|M|j(?=\d))/i, 'maj', 'major'],
  [/^[Δ^]/, 'Δ', 'major'],
  [/^sus/i, 'sus', 'suspended'],
  [/^add/i, 'add', 'add'],
  [/^(?:no|omit)/i, 'no', 'no'],
  [/^(?:rd|th)/i, '', ''],
  [/^(?:root|r)/i, 'root', 'root'],
  [/^alt(?:ered)?/i, 'alt', 'altered'],
  [/^lyd(?:ian)?/i, 'lyd', 'lydian'],
  [/^phr(?:yg(?:ian)?)?/i, 'phryg', 'phrygian'],
  [/^aug/i, 'aug', 'augmented'],
  [/^b(?=\d)/, '♭', 'flat'],
  [/^#(?=\d)/, '♯', 'sharp'],
  [/^-(?=\d)/, '♭', 'flat'],
  [/^\+(?=\d)/, '♯', 'sharp'],
  [/^\+/, '+', 'augmented'],
  [/^(?:6\/9|6,9|69)(?!\d)/, '6/9', 'six nine'],
  [/^\(/, '(', ''],
  [/^\)/, ')', ''],
  [/^,/, ',', ''],
  [/^&/, '', ''],
  [/^\//, '/', ''],
]

const NUMBERS: Readonly<Record<string, string>> = {
  '1': 'one',
  '2': 'two',
  '3': 'three',
  '4': 'four',
  '5': 'five',
  '6': 'six',
  '7': 'seven',
  '9': 'nine',
  '10': 'ten',
  '11': 'eleven',
  '13': 'thirteen',
}

/**
 * A chord symbol as it is printed: in the player's own spelling as far as it is common in print, never one of another meaning.
 *
 * @param symbol  `undefined` for no chord
 * @param place   where it stands over the staff, and in the text
 */
export function printedSymbol(
  symbol: ChordSymbol | undefined,
  place: { readonly startTick: Tick; readonly span: Span },
): PrintedSymbol {
  if (!symbol) {
    const none = { accidental: undefined, minor: false, suffix: '', bass: undefined, spoken: 'no chord' }
    return { ...place, root: 'N.C.', ...none }
  }
  const { root, bass } = symbol
  const { minor, suffix, spoken } = printedSuffix(suffixOf(symbol))
  return {
    ...place,
    root: root.letter,
    accidental: signIfAny(root.alter),
    minor,
    suffix,
    bass: bass && { letter: bass.letter, accidental: signIfAny(bass.alter) },
    spoken: [spokenName(root), spoken, bass ? `over ${spokenName(bass)}` : ''].filter((word) => word !== '').join(' '),
  }
}

const ALTERATIONS = ['double flat', 'flat', '', 'sharp', 'double sharp']

/**
 * A note's name in words.
 *
 * @example
 * spokenName({ letter: 'B', alter: -1 }) // => 'B flat'
 */
export function spokenName({ letter, alter }: NoteName): string {
  return `${letter} ${ALTERATIONS[alter + 2] ?? ''}`.trim()
}

/** The text between root and bass. */
function suffixOf({ text, bass }: ChordSymbol): string {
  const suffix = normaliseChordText(text).replace(/^[A-G](?:##|x|bb|#|b)?/, '')
  const own = bass ? suffix.replace(/\/ *[A-G](?:##|x|bb|#|b)? *$/, '') : suffix
  return own.replace(/ /g, '')
}

function printedSuffix(text: string): {
  readonly minor: boolean
  readonly suffix: string
  readonly spoken: string
} {
  const printed: string[] = []
  const spoken: string[] = []
  let rest = text
  const take = (rules: readonly Rule[]): boolean => {
    for (const [typed, sign, words] of rules) {
      const match = typed.exec(rest)
      if (!match) continue
      rest = rest.slice(match[0].length)
      printed.push(sign)
      spoken.push(words)
      return true
    }
    return false
  }
  take(STEMS)
  const minor = printed[0] === 'm'
  if (minor) printed.shift()
  while (rest !== '') {
    if (take(PIECES)) continue
    const [number] = /^(?:1[0-9]|\d)/.exec(rest) ?? [undefined]
    const sign = number ?? rest[0]!
    printed.push(sign)
    spoken.push(NUMBERS[sign] ?? sign)
    rest = rest.slice(sign.length)
  }
  // A triangle alone says the seventh.
  if (/Δ(?!\d)/.test(printed.join(''))) spoken.splice(spoken.lastIndexOf('major') + 1, 0, 'seven')
  const suffix = printed.join('')
  // An accidental directly after the root would read as the root's.
  const guarded = /^[♭♯]/.test(suffix) && !minor ? `(${suffix})` : suffix
  return { minor, suffix: guarded, spoken: spoken.filter((word) => word !== '').join(' ') }
}
