import { CHORD_QUALITIES, type ChordQuality } from './chord-qualities.ts'
import { type Degree, formatDegree, parseDegree, semitonesOf } from './degree.ts'
import { formatNoteName, type NoteName, parseNoteName } from './note-name.ts'

/** A chord as it is written. */
export interface ChordSymbol {
  /** as typed */
  readonly text: string
  readonly root: NoteName
  /** its tones, rising */
  readonly degrees: readonly Degree[]
  /** the row of the table that it is, or the nearest one */
  readonly quality: ChordQuality
  /** its tones are those of the row exactly */
  readonly exact: boolean
  /** the note under a slash, as typed */
  readonly bass: NoteName | undefined
}

/** Why a text is no chord symbol. */
export type ChordErrorCode =
  | 'no-root'
  | 'lower-case-root'
  | 'german-h'
  | 'too-many-accidentals'
  | 'no-such-number'
  | 'plus-number'
  | 'two-sevenths'
  | 'parenthesis'
  | 'bass-not-a-note'
  | 'unreadable'

/** Something that was read, but may have been meant otherwise. */
export type ChordHintCode =
  | 'minus-five'
  | 'two-is-add-nine'
  | 'accidental-is-the-roots'
  | 'plus-seven-after-minor'
  | 'suspended-minor'
  | 'altered-ninth-without-seventh'
  | 'nothing-to-omit'

/** What a text reads as. */
export type ChordReading =
  | { readonly kind: 'chord'; readonly symbol: ChordSymbol; readonly hints: readonly ChordHintCode[] }
  | { readonly kind: 'no-chord' }
  | {
      readonly kind: 'unreadable'
      readonly code: ChordErrorCode
      readonly message: string
      /** readable spellings that may have been meant, the likeliest first */
      readonly fixes: readonly string[]
    }

/** Characters that count as the same, each with the plain one. Unicode NFKC would turn º into the letter o, so it is not used. */
const SAME: readonly (readonly [RegExp, string])[] = [
  [/[♯＃]/g, '#'],
  [/♭/g, 'b'],
  [/\u{1D12A}/gu, '##'],
  [/\u{1D12B}/gu, 'bb'],
  [/♮/g, ''],
  [/[△∆δ]/g, 'Δ'],
  [/[−–—‐‑－﹣]/g, '-'],
  [/[º˚○]/g, '°'],
  [/[Ø∅⌀]/g, 'ø'],
  [/[⁄∕／]/g, '/'],
  [/＋/g, '+'],
  [/[\u00a0\u2009\u202f]/g, ' '],
]

const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾'
const PLAIN = '0123456789+-()'

/** The text with signs of the same meaning made one: `B♭Δ⁷` as `BbΔ7`. */
export function normaliseChordText(text: string): string {
  let plain = text
  for (const [signs, sign] of SAME) plain = plain.replace(signs, sign)
  return plain.replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾]/g, (sign) => PLAIN[SUPERSCRIPTS.indexOf(sign)]!).trim()
}

const LONGEST = 64

/**
 * Reads a chord symbol: a root, a suffix in any common spelling, and perhaps a slash and a bass.
 *
 * The grammar is our own, wide enough for printed and typed lead sheets; where writers disagree one reading is taken and a hint
 * says so. Blanks are ignored, but they end the root: `Cb 5` is C flat and 5, `C b5` C with a flat five.
 *
 * @example
 * parseChordSymbol('N.C.') // => { kind: 'no-chord' }
 */
export function parseChordSymbol(text: string): ChordReading {
  const plain = normaliseChordText(text)
  if (plain.length > LONGEST) return refuse(plain.slice(0, LONGEST), 'unreadable')
  if (/^(N\.?C\.?|n\.c\.)$/.test(plain)) return { kind: 'no-chord' }
  const parts = split(plain)
  if (typeof parts === 'string') return refuse(plain, parts)
  const suffix = readSuffix(parts.suffix)
  if (typeof suffix === 'string') return refuse(plain, suffix)
  const hints = [...suffix.hints]
  if (accidentalMayBeTheFifths(parts)) hints.unshift('accidental-is-the-roots')
  const { quality, exact } = qualityOf(suffix.degrees)
  const { root, bass } = parts
  return { kind: 'chord', symbol: { text, root, degrees: suffix.degrees, quality, exact, bass }, hints }
}

interface Parts {
  readonly root: NoteName
  readonly suffix: string
  readonly bass: NoteName | undefined
  /** the accidental stands directly before the suffix */
  readonly joined: boolean
}

/** Root, suffix and bass. If the text ends in a slash and a root, that is the bass and is cut off first. */
function split(plain: string): Parts | ChordErrorCode {
  if (/^[a-g]|^nc/.test(plain)) return 'lower-case-root'
  if (plain.startsWith('H')) return 'german-h'
  const match = /^([A-G])(##|x|bb|#|b)?/.exec(plain)
  if (!match) return 'no-root'
  let suffix = plain.slice(match[0].length)
  if (/^[#b]/.test(suffix) && match[2]) return 'too-many-accidentals'
  const joined = !suffix.startsWith(' ')
  const under = /\/ *([A-G](?:##|x|bb|#|b)?) *$/.exec(suffix)
  if (under) suffix = suffix.slice(0, under.index)
  return {
    root: parseNoteName(match[0])!,
    suffix: suffix.replace(/ /g, ''),
    bass: under ? parseNoteName(under[1]!) : undefined,
    joined,
  }
}

/** `Cb5` is C flat and 5; someone may have meant C with a flat five. Only where the flat or sharp root itself is rare. */
function accidentalMayBeTheFifths({ root, suffix, joined }: Parts): boolean {
  const rare = ['Cb', 'Fb', 'E#', 'B#'].includes(formatNoteName(root)) || Math.abs(root.alter) === 2
  return joined && rare && /^(5|9|11|13)(?!\d)/.test(suffix)
}

/** What a suffix says, while it is read. */
class Meaning {
  third: string | undefined = '3'
  fifths: string[] = ['5']
  sixth: string | undefined
  seventh: string | undefined
  /** 9, 11 and 13, altered or not */
  readonly above = new Set<string>()
  readonly suspensions = new Set<'2' | '4'>()
  readonly omitted = new Set<string>()
  stem: 'minor' | 'half-dim' | 'dim' | 'aug' | 'dom' | undefined
  /** a major mark stood somewhere */
  major = false
  number = ''
  fifthAltered = false
  thirdAdded = false
  readonly hints: ChordHintCode[] = []

  get isPower(): boolean {
    return this.number === '5'
  }

  get isDominant(): boolean {
    return this.seventh === 'b7' && this.stem !== 'minor' && this.stem !== 'half-dim' && this.stem !== 'dim'
  }
}

/** A cursor over a suffix. Its patterns are sticky. */
class Cursor {
  readonly #text: string
  #at = 0

  constructor(text: string) {
    this.#text = text
  }

  get done(): boolean {
    return this.#at >= this.#text.length
  }

  /** True if what comes matches. */
  sees(pattern: RegExp): boolean {
    return this.#match(pattern) !== undefined
  }

  /** Takes what comes if it matches: its first group, or all of it. */
  take(pattern: RegExp): string | undefined {
    const match = this.#match(pattern)
    if (!match) return undefined
    this.#at += match[0].length
    return match[1] ?? match[0]
  }

  #match(pattern: RegExp): RegExpExecArray | undefined {
    pattern.lastIndex = this.#at
    return pattern.exec(this.#text) ?? undefined
  }

  mark(): number {
    return this.#at
  }

  back(mark: number): void {
    this.#at = mark
  }
}

interface Suffix {
  readonly degrees: readonly Degree[]
  readonly hints: readonly ChordHintCode[]
}

function readSuffix(text: string): Suffix | ChordErrorCode {
  if (/^lyd(ian)?$/i.test(text)) return { degrees: degreesOf('1 3 5 7 #11'), hints: [] }
  if (/^phr(yg(ian)?)?$/i.test(text)) return { degrees: degreesOf('1 4 5 b7 b9'), hints: [] }
  const cursor = new Cursor(text)
  const meaning = new Meaning()
  return readHead(cursor, meaning) ?? readParts(cursor, meaning)
}

const degreesOf = (text: string): Degree[] => text.split(' ').map((word) => parseDegree(word)!)

/** Stem, major mark and number. */
function readHead(cursor: Cursor, meaning: Meaning): ChordErrorCode | undefined {
  if (cursor.sees(/\+(2|4|6|11|13)(?!\d)/y)) return 'plus-number'
  readStem(cursor, meaning)
  const bracketed = readMajor(cursor, meaning)

  const number = cursor.take(/(6\/9|6,9|69|769|13|11|9|7|6|5|4|2)(?!\d)/y) ?? ''
  if (number === '' && cursor.sees(/\d/y)) return 'no-such-number'
  if (bracketed && !cursor.take(/\)/y)) return 'parenthesis'
  const { stem } = meaning
  if (stem === 'aug' && !['', '7', '9'].includes(number)) return 'plus-number'
  if ((stem === 'half-dim' || stem === 'dim') && !['', '7', '9', '11'].includes(number)) return 'no-such-number'
  if (['2', '4', '5'].includes(number) && (stem || meaning.major)) return 'no-such-number'
  if (stem === 'dom' && number === '') return 'no-such-number'
  if (!meaning.major && stem !== 'half-dim' && stem !== 'dom' && /^(7|9|11|13)$/.test(number)) {
    if (cursor.take(/(?:maj|M)(?=$|[(#b+\-,/]|sus|add|no|omit)/y)) meaning.major = true
  }
  applyNumber(number, meaning)
  return undefined
}

function readStem(cursor: Cursor, meaning: Meaning): void {
  if (cursor.take(/(?:minor|min(?!o\d)|mi)/iy) || cursor.take(/m(?!aj|a(?!dd|ug))/y) || cursor.take(/-(?!5)/y)) {
    meaning.stem = 'minor'
    meaning.third = 'b3'
    if (cursor.take(/aug/iy)) {
      meaning.fifths = ['#5']
      meaning.fifthAltered = true
    }
  } else if (cursor.take(/(?:half-?dim(?:inished)?|hdim)/iy) || cursor.take(/[øh]/y)) {
    meaning.stem = 'half-dim'
    meaning.third = 'b3'
    meaning.fifths = ['b5']
    meaning.seventh = 'b7'
    cursor.take(/dim/iy)
  } else if (cursor.take(/dim(?:inished)?/iy) || cursor.take(/(?:°|o(?!mit)|0)/y)) {
    meaning.stem = 'dim'
    meaning.third = 'b3'
    meaning.fifths = ['b5']
  } else if (cursor.take(/(?:augmented|aug)/iy) || cursor.take(/\+/y)) {
    meaning.stem = 'aug'
    meaning.fifths = ['#5']
    cursor.take(/5(?!\d)/y)
  } else if (cursor.take(/dom(?:inant)?/iy)) {
    meaning.stem = 'dom'
  }
}

/** A major mark, perhaps behind a slash or in parentheses. True if a parenthesis is still open. */
function readMajor(cursor: Cursor, meaning: Meaning): boolean {
  if (meaning.stem === 'half-dim' || meaning.stem === 'dom') return false
  const start = cursor.mark()
  const before = cursor.take(/[(/]/y)
  const mark = cursor.take(/(?:major|maj|ma(?!d))/iy) ?? cursor.take(/(?:M|Δ|\^|j(?=\d))/y)
  if (!mark) {
    cursor.back(start)
    return false
  }
  meaning.major = true
  // A triangle brings the seventh; after a stem any major mark does.
  if (meaning.stem || mark === 'Δ' || mark === '^') meaning.seventh = '7'
  return before === '('
}

/** What the number brings; the seventh is 7 after a major mark, bb7 after dim, else b7. */
function applyNumber(number: string, meaning: Meaning): void {
  meaning.number = number === '6,9' || number === '69' ? '6/9' : number === '769' ? '13' : number
  const seventh = meaning.major ? '7' : meaning.stem === 'dim' ? 'bb7' : 'b7'
  switch (meaning.number) {
    case '7':
      meaning.seventh = seventh
      break
    case '9':
      meaning.seventh = seventh
      meaning.above.add('9')
      break
    case '11':
      meaning.seventh = seventh
      meaning.above.add('9').add('11')
      if (meaning.third === '3' && !meaning.major) meaning.third = undefined
      break
    case '13':
      meaning.seventh = seventh
      meaning.above.add('9').add('13')
      if (meaning.stem === 'minor' && !meaning.major) meaning.above.add('11')
      break
    case '6':
      meaning.sixth = '6'
      if (meaning.seventh === '7' && !meaning.stem) meaning.seventh = undefined
      break
    case '6/9':
      meaning.sixth = '6'
      meaning.above.add('9')
      if (meaning.seventh === '7' && !meaning.stem) meaning.seventh = undefined
      break
    case '5':
      meaning.third = undefined
      break
    case '4':
      meaning.suspensions.add('4')
      break
    case '2':
      meaning.above.add('9')
      meaning.hints.push('two-is-add-nine')
      break
  }
}

/** Everything after the head. Its order plays no role: alterations are carried out before additions, omissions last. */
function readParts(cursor: Cursor, meaning: Meaning): Suffix | ChordErrorCode {
  const alterations: (() => boolean)[] = []
  const additions: (() => boolean)[] = []
  let inside = false
  let altered = false
  while (!cursor.done) {
    if (cursor.take(/,/y)) continue
    if (cursor.take(/\(/y)) {
      if (inside || cursor.sees(/\)/y)) return 'parenthesis'
      inside = true
      continue
    }
    if (cursor.take(/\)/y)) {
      if (!inside) return 'parenthesis'
      inside = false
      continue
    }
    if (cursor.take(/\//y)) {
      if (!cursor.sees(/[#b+-]?\d/y)) return 'bass-not-a-note'
      const sign = cursor.take(/[#b+-]/y)
      const number = cursor.take(/(13|11|10|9|7|6|5|4|2)(?!\d)/y)
      if (!number) return 'no-such-number'
      if (sign) alterations.push(() => alter(meaning, accidentalOf(sign), number))
      else if (number === '4') meaning.suspensions.add('4')
      else additions.push(() => add(meaning, '', number))
      continue
    }
    if (cursor.take(/alt(?:ered)?/iy)) {
      if (meaning.stem || meaning.third !== '3' || meaning.major) return 'unreadable'
      altered = true
      continue
    }
    if (cursor.take(/sus/iy)) {
      suspend(cursor, meaning)
      continue
    }
    if (cursor.take(/add/iy)) {
      const sign = cursor.take(/(?:#|b|maj|M)/y) ?? ''
      const number = cursor.take(/(13|11|10|9|7|6|5|4|3|2)(?!\d)/y)
      if (!number || (/^m/i.test(sign) && number !== '7')) return 'no-such-number'
      additions.push(() => add(meaning, /^m/i.test(sign) ? '#' : sign, number))
      continue
    }
    if (cursor.take(/(?:no|omit)/iy)) {
      if (cursor.take(/(?:root|r)/iy)) {
        meaning.omitted.add('1')
        continue
      }
      const number = cursor.take(/(11|13|1|3|5|7|9)(?:rd|th)?(?!\d)/y)
      if (!number) return 'no-such-number'
      meaning.omitted.add(number)
      for (let more = cursor.take(/[,&]?(3|5)(?!\d)/y); inside && more; more = cursor.take(/[,&]?(3|5)(?!\d)/y))
        meaning.omitted.add(more)
      continue
    }
    if (inside && cursor.take(/(?:maj|ma|M|Δ|\^)7?(?=[),])/y)) {
      if (meaning.seventh || !meaning.stem) return 'two-sevenths'
      meaning.seventh = '7'
      continue
    }
    if (cursor.sees(/[#b+-]\d/y)) {
      const sign = cursor.take(/[#b+-]/y)!
      const number = cursor.take(/\d+/y)!
      if (sign === '+' && number === '7' && meaning.stem === 'minor') meaning.hints.push('plus-seven-after-minor')
      if (sign === '-' && number === '5' && !meaning.stem && meaning.number === '' && !inside)
        meaning.hints.push('minus-five')
      alterations.push(() => alter(meaning, accidentalOf(sign), number))
      continue
    }
    if (cursor.take(/(?:\+|aug)(?=$|[),(#b/]|sus|add|no|omit)/iy)) {
      if (meaning.stem === 'aug' || meaning.isPower) return 'unreadable'
      alterations.push(() => alter(meaning, '#', '5'))
      continue
    }
    const bare = cursor.take(/(13|11|9|7|6|4|2)(?!\d)/y)
    if (!bare) return 'unreadable'
    if (!inside) return 'no-such-number'
    if (bare === '4') meaning.suspensions.add('4')
    else additions.push(() => add(meaning, '', bare))
  }
  if (inside) return 'parenthesis'
  for (const apply of [...alterations, ...additions]) if (!apply()) return 'no-such-number'
  if (altered) {
    if (meaning.number !== '' && meaning.number !== '7') return 'unreadable'
    return { degrees: degreesOf('1 3 b5 #5 b7 b9 #9'), hints: meaning.hints }
  }
  if (meaning.isPower && (meaning.fifthAltered || meaning.suspensions.size > 0)) return 'unreadable'
  return { degrees: putTogether(meaning), hints: meaning.hints }
}

const accidentalOf = (sign: string): '#' | 'b' => (sign === '#' || sign === '+' ? '#' : 'b')

function suspend(cursor: Cursor, meaning: Meaning): void {
  if (cursor.take(/(?:2sus4|4sus2|2\/4|4\/2|24|42)/iy)) {
    meaning.suspensions.add('2').add('4')
    return
  }
  if (cursor.take(/2(?!\d)/y)) {
    meaning.suspensions.add('2')
    return
  }
  cursor.take(/4(?!\d)/y)
  meaning.suspensions.add('4')
  const number = meaning.number === '' ? cursor.take(/(13|11|9|7)(?!\d)/y) : undefined
  if (!number) return
  meaning.number = number
  meaning.seventh = meaning.major ? '7' : 'b7'
  if (number !== '7') meaning.above.add('9')
  if (number === '13') meaning.above.add('13')
}

/** An alteration replaces the plain degree; false if there is no such one. */
function alter(meaning: Meaning, accidental: '#' | 'b', number: string): boolean {
  const { above } = meaning
  const replace = (plain: string, by: string): boolean => {
    above.delete(plain)
    above.add(by)
    return true
  }
  switch (number) {
    case '5':
      if (meaning.isPower) return false
      if (!meaning.fifthAltered) meaning.fifths = [`${accidental}5`]
      else if (!meaning.fifths.includes(`${accidental}5`)) meaning.fifths.push(`${accidental}5`)
      meaning.fifthAltered = true
      return true
    case '2':
    case '9':
      return replace('9', `${accidental}9`)
    case '10':
      return accidental === 'b' && replace('9', '#9')
    case '4':
    case '11':
      return accidental === '#' && replace('11', '#11')
    case '6':
      if (accidental !== 'b') return false
      if (meaning.seventh) return replace('13', 'b13')
      meaning.sixth = 'b6'
      return true
    case '13':
      return accidental === 'b' && replace('13', 'b13')
    case '7':
      if (meaning.seventh) return false
      meaning.seventh = accidental === '#' ? '7' : 'b7'
      return true
  }
  return false
}

/** An addition replaces nothing; false if there is no such one. */
function add(meaning: Meaning, accidental: string, number: string): boolean {
  switch (number) {
    case '2':
    case '9':
      meaning.above.add(`${accidental}9`)
      return true
    case '4':
    case '11':
      if (accidental === 'b') return false
      meaning.above.add(`${accidental}11`)
      return true
    case '6':
    case '13':
      if (accidental === '#') return false
      if (meaning.seventh) meaning.above.add(`${accidental}13`)
      else meaning.sixth = `${accidental}6`
      return true
    case '7':
      if (meaning.seventh) return false
      meaning.seventh = accidental === '#' ? '7' : 'b7'
      return true
    case '3':
    case '10':
      if (accidental !== '') return false
      meaning.thirdAdded = true
      return true
    case '5':
      if (accidental === '' || meaning.fifths.includes(`${accidental}5`)) return false
      meaning.fifths.push(`${accidental}5`)
      return true
  }
  return false
}

const ABOVE = ['b9', '9', '#9', '11', '#11', 'b13', '13']

function putTogether(meaning: Meaning): readonly Degree[] {
  const { above, suspensions, hints } = meaning
  let { third } = meaning
  if (suspensions.size > 0) {
    if (third === 'b3') hints.push('suspended-minor')
    third = meaning.thirdAdded ? '3' : undefined
    above.delete('11')
    if (suspensions.has('2')) above.delete('9')
    if (above.has('b9')) meaning.seventh ??= 'b7'
  }
  // b13 beside the fifth clashes over a dominant; in a minor chord it is a colour over it.
  const fifthGivesWay = meaning.isDominant && above.has('b13') && !meaning.fifthAltered && meaning.stem !== 'aug'
  if (!meaning.seventh && !meaning.stem && (above.has('b9') || above.has('#9')))
    hints.push('altered-ninth-without-seventh')
  const degrees = [
    '1',
    ...(suspensions.has('2') ? ['2'] : []),
    ...(third ? [third] : []),
    ...(suspensions.has('4') ? ['4'] : []),
    ...(fifthGivesWay
      ? []
      : [...meaning.fifths].sort((a, b) => semitonesOf(parseDegree(a)!) - semitonesOf(parseDegree(b)!))),
    ...(meaning.sixth ? [meaning.sixth] : []),
    ...(meaning.seventh ? [meaning.seventh] : []),
    ...ABOVE.filter((degree) => above.has(degree)),
  ]
  const numberOf = (degree: string) => degree.replace(/[b#]/g, '')
  const kept = degrees.filter((degree) => !meaning.omitted.has(numberOf(degree)))
  for (const number of meaning.omitted)
    if (!degrees.some((degree) => numberOf(degree) === number) && !hints.includes('nothing-to-omit'))
      hints.push('nothing-to-omit')
  // Without third, sixth and seventh a ninth is heard as a second.
  const isOpen = !kept.some((degree) => numberOf(degree) === '3') && !meaning.seventh && !meaning.sixth
  if (isOpen && suspensions.size === 0 && kept.includes('9')) {
    const [root, ...rest] = kept.filter((degree) => degree !== '9')
    return degreesOf([root!, '2', ...rest].join(' '))
  }
  return degreesOf(kept.join(' '))
}

const EXACT = new Map(CHORD_QUALITIES.map((quality) => [quality.degrees.map(formatDegree).join(' '), quality]))

/**
 * The row of these tones, or the nearest: with the same third, fifth and seventh as far as there is one, then with the fewest
 * differing degrees.
 */
function qualityOf(degrees: readonly Degree[]): { quality: ChordQuality; exact: boolean } {
  const words = degrees.map(formatDegree)
  const exact = EXACT.get(words.join(' '))
  if (exact) return { quality: exact, exact: true }
  const frame = (of: readonly Degree[], number: number) =>
    of
      .filter((degree) => degree.number === number)
      .map(formatDegree)
      .join(' ')
  let best = CHORD_QUALITIES[0]!
  let least = Number.POSITIVE_INFINITY
  for (const quality of CHORD_QUALITIES) {
    const own = quality.degrees.map(formatDegree)
    const differing =
      words.filter((word) => !own.includes(word)).length + own.filter((word) => !words.includes(word)).length
    const off = [3, 5, 7].filter((number) => frame(degrees, number) !== frame(quality.degrees, number)).length
    const distance = 100 * off + differing
    if (distance < least) {
      best = quality
      least = distance
    }
  }
  return { quality: best, exact: false }
}

const MESSAGES: Readonly<Record<ChordErrorCode, string>> = {
  'no-root': 'does not begin with a root: a chord begins with a letter A to G',
  'lower-case-root': 'begins with a small letter: roots are capitals, A to G',
  'german-h': 'begins with H: here the note is B',
  'too-many-accidentals': 'has too many accidentals on its root: two alike are the most',
  'no-such-number': 'holds a number that chords do not have there',
  'plus-number': 'has a + before a number that it could raise or add',
  'two-sevenths': 'has two sevenths',
  parenthesis: 'has a parenthesis that is not paired, or empty',
  'bass-not-a-note': 'has no note after the slash: a bass is a letter A to G',
  unreadable: 'is not a chord we can read',
}

function refuse(plain: string, code: ChordErrorCode): ChordReading {
  return { kind: 'unreadable', code, message: `"${plain}" ${MESSAGES[code]}`, fixes: fixesOf(plain, code) }
}

/** Readable spellings near a text: the usual slips first, then what one sign less or more makes readable. */
function fixesOf(plain: string, code: ChordErrorCode): readonly string[] {
  const tries: string[] = []
  const capital = plain.charAt(0).toUpperCase() + plain.slice(1)
  if (code === 'lower-case-root') tries.push(capital)
  if (code === 'german-h') tries.push(plain.replace('H', 'B'))
  if (code === 'plus-number') {
    const [, root, number] = /^([A-G][#b]?)\+(\d+)/.exec(plain) ?? []
    if (root && number) tries.push(`${root}7#${number}`, `${root}(add${number})`, `${root}+7`)
  }
  if (code === 'parenthesis') tries.push(`${plain})`, plain.replace(/[()]/g, ''))
  if (code === 'bass-not-a-note') {
    const [before, after] = [plain.slice(0, plain.lastIndexOf('/')), plain.slice(plain.lastIndexOf('/') + 1)]
    tries.push(`${before}/${after.toUpperCase().replace('H', 'B')}`, before)
  }
  const cut = capital.slice(0, 16)
  for (let i = cut.length - 1; i > 0; i--) tries.push(cut.slice(0, i) + cut.slice(i + 1))
  for (let i = cut.length - 1; i > 0; i--) tries.push(cut.slice(0, i))
  const fixes: string[] = []
  for (const text of tries) {
    if (fixes.length === 3) break
    if (fixes.includes(text) || text === plain) continue
    if (text !== '' && reads(text)) fixes.push(text)
  }
  return fixes
}

function reads(text: string): boolean {
  const parts = split(text)
  return typeof parts !== 'string' && typeof readSuffix(parts.suffix) !== 'string'
}
