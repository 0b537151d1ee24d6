import { type ChordHintCode, type ChordSymbol, normaliseChordText, parseChordSymbol } from '../music/chord-symbol.ts'
import { shown } from './header.ts'
import { fixesOfChord } from './near-chord.ts'
import type { Token } from './token.ts'

/** What a word of a bar is. */
export type WordReading =
  | {
      readonly kind: 'chord'
      readonly symbol: ChordSymbol
      readonly hints: readonly ChordHint[]
      readonly pushed: boolean
    }
  | { readonly kind: 'no-chord' }
  | { readonly kind: 'slash' }
  /** `%` */
  | { readonly kind: 'again' }
  /** `message` says why; what is played instead depends on where it stands */
  | { readonly kind: 'unread'; readonly code: string; readonly message: string; readonly fixes: readonly string[] }
  /** no letter and no figure: not even a chord that nobody can read */
  | { readonly kind: 'stray' }

export interface ChordHint {
  readonly code: ChordHintCode
  readonly message: string
  readonly fixes: readonly string[]
}

/** Reads the words of a chart; equal chords become one and the same symbol. */
export class WordReader {
  readonly #read = new Map<string, WordReading>()

  read(text: string): WordReading {
    let reading = this.#read.get(text)
    if (!reading) {
      reading = readWord(text)
      this.#read.set(text, reading)
    }
    return reading
  }

  /** A row without a bar line in which fewer than half of the words can be read: somebody's remark. */
  isProse(tokens: readonly Token[]): boolean {
    const words = tokens.filter((token) => token.kind === 'word')
    if (words.length === 0 || tokens.some((token) => token.kind === 'line')) return false
    const read = words.filter(({ text }) => {
      const reading = this.read(text)
      return reading.kind !== 'stray' && !(reading.kind === 'unread' && reading.code.startsWith('chord/'))
    })
    return 2 * read.length < words.length
  }
}

function readWord(text: string): WordReading {
  const plain = normaliseChordText(text.slice(0, 100))
  if (plain === '/') return { kind: 'slash' }
  if (plain === '%') return { kind: 'again' }
  if (plain.startsWith('<')) {
    const chord = readWord(text.slice(text.indexOf('<') + 1))
    if (chord.kind === 'chord') return { ...chord, pushed: true }
  }
  if (!/[\p{L}\p{N}]/u.test(plain)) return { kind: 'stray' }
  const reading = parseChordSymbol(text)
  if (reading.kind === 'chord') {
    const hints = reading.hints.map((code) => hintOf(code, reading.symbol))
    return { kind: 'chord', symbol: reading.symbol, hints, pushed: false }
  }
  if (reading.kind === 'no-chord') return reading
  if (isRoman(plain)) {
    const message = `Roman numerals, as "${shown(plain)}" is one, are not read yet: write the chord by its letter.`
    return { kind: 'unread', code: 'chart/roman-not-read', message, fixes: [] }
  }
  const message = `${reading.message.replace(plain, shown(plain))}.`
  const fixes = reading.code === 'unreadable' ? fixesOfChord(plain, reading.fixes) : reading.fixes
  return { kind: 'unread', code: `chord/${reading.code}`, message, fixes }
}

/** True if a text is a step of a key with a suffix that a chord may have. */
function isRoman(plain: string): boolean {
  const numeral = /^[b#]?(VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)/.exec(plain)
  return numeral !== null && parseChordSymbol(`C${plain.slice(numeral[0].length)}`).kind === 'chord'
}

/** How else a chord may be written that was perhaps meant otherwise. */
function hintOf(code: ChordHintCode, symbol: ChordSymbol): ChordHint {
  const plain = normaliseChordText(symbol.text)
  const root = /^[A-G](##|x|bb|#|b)?/.exec(plain)![0]
  const letter = root.charAt(0)
  const rest = plain.slice(root.length)
  const said = (message: string, ...fixes: string[]): ChordHint => ({
    code,
    message: `"${shown(plain)}" ${message}`,
    fixes: fixes.filter((fix) => fix !== plain && parseChordSymbol(fix).kind === 'chord'),
  })
  switch (code) {
    case 'minus-five':
      return said('is read as a chord with a flat five; the minor chord is written with m.', `${root}(b5)`, `${root}m`)
    case 'two-is-add-nine':
      return said(
        'is read with its third and an added nine; without the third it is sus2.',
        `${root}add9`,
        `${root}sus2`,
      )
    case 'accidental-is-the-roots':
      return said(
        'is read with the accidental on the root; on the figure it stands in parentheses.',
        `${letter}(${root.slice(1)}${rest})`,
      )
    case 'plus-seven-after-minor':
      return said(
        'is read as a minor chord with a major seventh, and not with a sharp five.',
        `${root}m(maj7)`,
        `${root}m7#5`,
      )
    case 'suspended-minor':
      return said(
        'is read as suspended: the minor third gives way to the fourth.',
        plain.replace(/^([A-G][#bx]*)(minor|min|mi|m|-)/, '$1'),
      )
    case 'altered-ninth-without-seventh':
      return said('is read as written, without a seventh.', `${root}7${rest.replace(/[()]/g, '')}`)
    case 'nothing-to-omit':
      return said('leaves out a tone that the chord does not have. It is read as if that did not stand there.')
  }
}
