import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CHORD_QUALITIES } from '../../src/music/chord-qualities.ts'
import { normaliseChordText, parseChordSymbol } from '../../src/music/chord-symbol.ts'
import { formatDegree, semitonesOf } from '../../src/music/degree.ts'
import { formatNoteName } from '../../src/music/note-name.ts'
import { spellPitch } from '../../src/music/spelling.ts'
import { chordOf, symbolOf } from '../support/chord-form.ts'
import { CHORD_SPELLINGS, NO_CHORD, REFUSED } from './chord-spelling-cases.ts'

const SHARE = process.env['SOAK'] ? 1 : 0.1

const degreesOf = (text: string): string => symbolOf(text).degrees.map(formatDegree).join(' ')

/** Names of the tones, rising, without octaves; the bass is left out of it. */
function namesOf(text: string): string {
  const chord = chordOf(text)
  const over = { ...chord, symbol: { ...chord.symbol, bass: undefined } }
  return chord.tones
    .map((tone) => spellPitch(36 + chord.rootPc + semitonesOf(tone), { chord: over }).replace(/-?\d+$/, ''))
    .join(' ')
}

describe('a symbol is read', () => {
  test.each(CHORD_SPELLINGS)('$symbol is $notes', ({ symbol, root, degrees, quality, notes, bass, hint }) => {
    const reading = parseChordSymbol(symbol)
    if (reading.kind !== 'chord') throw new Error(`${symbol} is not read`)
    const read = reading.symbol
    expect(formatNoteName(read.root)).toBe(root)
    expect(read.degrees.map(formatDegree).join(' ')).toBe(degrees)
    expect(read.exact ? read.quality.id : undefined).toBe(quality)
    expect(read.bass && formatNoteName(read.bass)).toBe(bass)
    expect(reading.hints).toEqual(hint ? [hint] : [])
    expect(read.text).toBe(symbol)
    expect(namesOf(symbol)).toBe(notes)
  })

  test('of the table there are 437', () => {
    expect(CHORD_SPELLINGS).toHaveLength(437)
    expect(new Set(CHORD_SPELLINGS.map(({ symbol }) => symbol)).size).toBe(437)
  })
})

test.each(NO_CHORD)('%s says that no chord sounds', (text) => {
  expect(parseChordSymbol(text)).toEqual({ kind: 'no-chord' })
})

describe('a text that is no chord is refused', () => {
  test.each(REFUSED)('%s: %s', (text, code) => {
    const reading = parseChordSymbol(text)
    if (reading.kind !== 'unreadable') throw new Error(`${text} is read`)
    expect(reading.code).toBe(code)
    expect(reading.message).toContain(`"${text}"`)
    for (const fix of reading.fixes) expect(parseChordSymbol(fix).kind).toBe('chord')
  })

  // what was typed, what may have been meant
  test.each([
    ['c', ['C']],
    ['cm7', ['Cm7']],
    ['bb7', ['Bb7']],
    ['H7', ['B7']],
    ['C+11', ['C7#11', 'C(add11)', 'C+7']],
    ['C+6', ['C(add6)', 'C+7']],
    ['C7(b9', ['C7(b9)']],
    ['C7b9)', ['C7b9']],
    ['C/e', ['C/E']],
    ['C/H', ['C/B']],
  ])('%s may have been meant as %s', (text, fixes) => {
    const reading = parseChordSymbol(text)
    expect(reading.kind === 'unreadable' && reading.fixes).toEqual(expect.arrayContaining(fixes))
    expect(reading.kind === 'unreadable' && reading.fixes[0]).toBe(fixes[0])
  })

  test('road-map words are no chords', () => {
    for (const word of ['Fine', 'Segno', 'D.C.', 'D.S.', 'Coda', 'Intro', 'Chorus', 'Bridge'])
      expect(parseChordSymbol(word).kind).toBe('unreadable')
  })

  test('longer than 64 characters', () => {
    expect(parseChordSymbol(`C7${'b9'.repeat(40)}`).kind).toBe('unreadable')
  })

  test('and a single letter counts in its case', () => {
    for (const capital of ['CH7', 'CO7']) expect(parseChordSymbol(capital).kind).toBe('unreadable')
    expect(symbolOf('Ch7').quality.id).toBe('half-diminished')
    expect(symbolOf('Co7').quality.id).toBe('diminished-7')
  })
})

test('signs of the same meaning read alike', () => {
  for (const [typed, plain] of [
    ['B♭Δ⁷', 'Bb^7'],
    ['F♯ø', 'F#m7b5'],
    ['C−7', 'C-7'],
    ['C–7', 'C-7'],
    ['C△7', 'CΔ7'],
    ['C∆7', 'CΔ7'],
    ['Cº7', 'Cdim7'],
    ['C˚7', 'Cdim7'],
    ['CØ7', 'Cø7'],
    ['C7⁽♭⁹⁾', 'C7(b9)'],
    ['C⁄E', 'C/E'],
    ['F𝄪7', 'F##7'],
    ['B𝄫7', 'Bbb7'],
    ['Fx7', 'F##7'],
  ] as const) {
    expect(degreesOf(typed), typed).toBe(degreesOf(plain))
    expect(symbolOf(typed).root, typed).toEqual(symbolOf(plain).root)
    expect(symbolOf(typed).bass, typed).toEqual(symbolOf(plain).bass)
  }
  expect(normaliseChordText(' B♭Δ⁷ ')).toBe('BbΔ7')
})

test('only a minor chord is asked whether its +7 is a sharp five', () => {
  const hintsOf = (text: string) => {
    const reading = parseChordSymbol(text)
    return reading.kind === 'chord' ? reading.hints : undefined
  }
  expect(hintsOf('Cm+7')).toEqual(['plus-seven-after-minor'])
  expect(hintsOf('C(+7)')).toEqual([])
  expect(hintsOf('C+7')).toEqual([])
})

test('a blank ends the root and is ignored elsewhere', () => {
  expect(degreesOf('C b5')).toBe('1 3 b5')
  expect(degreesOf('Cb 5')).toBe('1 5')
  expect(degreesOf('C7 (b9, #11)')).toBe('1 3 5 b7 b9 #11')
  expect(formatNoteName(symbolOf('C m7 / Eb').bass!)).toBe('Eb')
})

describe('the order of alterations plays no role', () => {
  const permutations = (items: readonly string[]): readonly (readonly string[])[] =>
    items.length < 2
      ? [items]
      : items.flatMap((item, at) => permutations(items.toSpliced(at, 1)).map((rest) => [item, ...rest]))

  test.each([
    ['C7', ['b9', '#11', 'b13']],
    ['C7', ['#5', 'b9', '#9']],
    ['C7', ['b5', '#5', 'b9', '#9']],
    ['Cm7', ['b5', 'add11', 'b13']],
    ['Cmaj7', ['#11', 'add13', 'no3']],
    ['C13', ['sus4', 'b9', '#11']],
    ['C', ['add9', 'add11', 'no5']],
  ] as const)('%s with %s', (head, parts) => {
    const expected = degreesOf(head + parts.join(''))
    for (const order of permutations(parts)) {
      expect(degreesOf(head + order.join(''))).toBe(expected)
      expect(degreesOf(`${head}(${order.join(',')})`)).toBe(expected)
      expect(degreesOf(head + order.map((part) => `(${part})`).join(''))).toBe(expected)
    }
  })
})

test('the suffix of every quality reads back to it, with flats and sharps as signs too, on four roots', () => {
  for (const { id, suffix } of CHORD_QUALITIES)
    for (const root of ['C', 'Bb', 'F#', 'Ebb'])
      for (const text of [root + suffix, root + suffix.replaceAll('b', '♭').replaceAll('#', '♯')]) {
        expect(symbolOf(text).quality.id, text).toBe(id)
        expect(symbolOf(text).exact, text).toBe(true)
      }
})

describe('a quality without a row takes the family of the nearest', () => {
  test.each([
    ['C7b9#11b13', 'dominant'],
    ['Cm(maj9)(add11)', 'minor-major'],
    ['Cm7(no5)', 'minor'],
    ['Cmaj9#5(add13)', 'augmented'],
    ['C7sus4(#11)', 'suspended'],
    ['Cm7b5(b13)', 'half-diminished'],
    ['Cdim7(add11)', 'diminished'],
  ])('%s is %s', (text, family) => {
    expect(symbolOf(text).exact).toBe(false)
    expect(symbolOf(text).quality.family).toBe(family)
  })
})

test('whatever is typed, the reading is a value and no degree stands twice', () => {
  const piece = fc.constantFrom(
    ...'ABCDEFGHb#x0123456789mMjÄ +-/()^°øΔ♭♯,.|%'.split(''),
    ...['maj', 'min', 'dim', 'aug', 'sus', 'add', 'no', 'omit', 'alt', 'dom', 'half', '13', '11', '6/9', 'N.C.'],
  )
  const typed = fc.oneof(
    fc.array(piece, { maxLength: 12 }).map((pieces) => pieces.join('')),
    fc.array(piece, { maxLength: 8 }).map((pieces) => `C${pieces.join('')}`),
    fc.string({ unit: 'binary', maxLength: 20 }),
  )
  fc.assert(
    fc.property(typed, (text) => {
      const reading = parseChordSymbol(text)
      if (reading.kind === 'chord') {
        const degrees = reading.symbol.degrees.map(formatDegree)
        expect(new Set(degrees).size).toBe(degrees.length)
      }
      if (reading.kind === 'unreadable')
        for (const fix of reading.fixes) expect(parseChordSymbol(fix).kind).toBe('chord')
    }),
    { numRuns: 200_000 * SHARE, seed: 20_260 },
  )
}, 600_000)

test('every symbol built by the grammar is read', () => {
  const word = (...words: readonly string[]) => fc.constantFrom(...words)
  const stem = word(
    ...[
      '',
      'm',
      'mi',
      'min',
      '-',
      'dom7',
      'maj7',
      'M7',
      'Δ',
      '^',
      '6',
      '69',
      '7',
      '9',
      '11',
      '13',
      'm7',
      'm9',
      'm6',
      '-Δ',
    ],
    ...[
      'dim',
      'dim7',
      '°7',
      'o9',
      'ø',
      'h7',
      'half-dim7',
      'aug',
      '+',
      '+7',
      '+maj7',
      'maug',
      'm(maj7)',
      'm/maj7',
      '769',
      '7M',
    ],
  )
  const alteration = word('b5', '#5', 'b9', '#9', '#11', 'b13', '+9', '-9', '+11')
  const part = fc.oneof(
    alteration,
    alteration.map((text) => `(${text})`),
    word('add9', 'add11', 'add13', 'sus4', 'sus2', 'sus', 'no3', 'no5', 'omit5', '(add9)', '(no3)'),
  )
  const symbol = fc
    .tuple(
      word('C', 'F#', 'Bb', 'Ebb', 'G##', 'Ax'),
      stem,
      fc.uniqueArray(part, { maxLength: 3 }),
      word('', '/G', '/Bb', '/F#'),
    )
    .map(([root, head, parts, bass]) => root + (head === '' && parts.length > 0 ? 'maj' : head) + parts.join('') + bass)
  fc.assert(
    fc.property(symbol, (text) => {
      expect(parseChordSymbol(text).kind, text).toBe('chord')
    }),
    { numRuns: 100_000 * SHARE, seed: 20_261 },
  )
}, 600_000)
