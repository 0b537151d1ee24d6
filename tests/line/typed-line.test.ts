import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { read } from '../../src/compose.ts'
import { readTypedLine, typedBars } from '../../src/line/typed-line.ts'
import { instrumentOf } from '../../src/music/instruments.ts'

/** A typed line over a chart on a bass: `tick+length pitch` for each note, `x` a dead one; and what is said of it. */
function typed(chart: string, line: string, bass = 'four-string') {
  const { form } = read(chart)
  const { notes, way, diagnostics } = readTypedLine(line, form, instrumentOf(bass)!)
  return {
    way,
    notes: notes.map(({ startTick, ticks, pitch, ghost }) => `${startTick}+${ticks} ${ghost ? 'x' : pitch}`).join(', '),
    said: diagnostics.map(({ code, span, message, fixes }) => ({
      code,
      at: line.slice(span.from, span.to),
      message,
      fixes,
    })),
  }
}

const QUARTERS = '0+480 38, 480+480 41, 960+480 45, 1440+480 44'

describe('A typed line', () => {
  it('is places, notes or degrees over a rhythm', () => {
    expect(typed('| Dm7 |', '1 2 3 4: A5 D3 D7 D6').notes).toBe(QUARTERS)
    expect(typed('| Dm7 |', '1 2 3 4: 3/5 2/3 2/7 2/6').notes).toBe(QUARTERS)
    expect(typed('| Dm7 |', '1 2 3 4: D2 F2 A2 Ab2').notes).toBe(QUARTERS)
    expect(typed('| Dm7 |', '1 2 3 4: 1 3 5 b5').notes).toBe(QUARTERS)
    expect(typed('| Dm7 |', '1 2 3 4: 1, b3, 5, b5').notes).toBe(QUARTERS)
  })

  it('has one note on each count where no rhythm is given, and the rhythm of the bar before after that', () => {
    expect(typed('| Dm7 |', 'D2 F2 A2 Ab2').notes).toBe(QUARTERS)
    expect(typed('| Dm7 | G7 |', '1 3: D2 A2 | G1 D2').notes).toBe('0+960 38, 960+960 45, 1920+960 31, 2880+960 38')
  })

  it('repeats a bar with %, a degree over the chord that sounds then', () => {
    expect(typed('| Dm7 | G7 |', '| 1 3: D2 A2 | % |').notes).toBe('0+960 38, 960+960 45, 1920+960 38, 2880+960 45')
    expect(typed('| Dm7 | G7 |', '1 3: 1 5 | %').notes).toBe('0+960 38, 960+960 45, 1920+960 31, 2880+960 38')
  })

  it('holds over a bar line, rests, and has dead notes that need no word', () => {
    expect(typed('| Dm7 | G7 |', '1 4&~: D2 G2 | ~1 3: B1').notes).toBe('0+1680 38, 1680+1200 43, 2880+960 35')
    expect(typed('| Dm7 |', '1 (2) 3x 4: D2 A2').notes).toBe('0+480 38, 960+480 x, 1440+480 45')
  })

  it('is in the metre of its bar', () => {
    expect(typed('time: 3/4\n| Dm7 |', '1 2 3: D2 F2 A2').notes).toBe('0+480 38, 480+480 41, 960+480 45')
    expect(typed('time: 6/8\n| Dm7 |', '1 4: D2 A2').notes).toBe('0+720 38, 720+720 45')
    expect(typed('time: 3/4\n| Dm7 |', '4/4: 1 2 3 4: D2 F2 A2 C3').said).toEqual([
      {
        code: 'line/typed-metre',
        at: '4/4: 1 2 3 4',
        message: '"4/4: 1 2 3 4" is no bar of 3/4, which bar 1 is.',
        fixes: [],
      },
    ])
  })

  it('may have rows and comments', () => {
    expect(typed('| Dm7 | G7 |', '// mine\n1 3: D2 A2 // up\n| G1 D2').notes).toBe(
      '0+960 38, 960+960 45, 1920+960 31, 2880+960 38',
    )
  })

  it('is one kind of words, as its first word says or as all words allow', () => {
    expect(typed('| Dm7 |', '1: D2').way).toBe('notes')
    expect(typed('| Dm7 |', 'frets 1: D2')).toMatchObject({ way: 'frets', notes: '0+1920 40' })
    // D5 and A3 lie over the neck as notes.
    expect(typed('| Dm7 |', '1 2 3: A3 D5 D2 ').way).toBe('frets')
    expect(typed('| Dm7 |', '1 3: A2 D2').said).toEqual([
      {
        code: 'line/typed-both',
        at: 'A2',
        message:
          'Each of these can be a note and a place on the neck. They are read as notes; begin with the word frets to have places.',
        fixes: [],
      },
    ])
    expect(typed('| Dm7 |', 'notes 1 3: A2 D2').said).toEqual([])
  })
})

/** chart, line, bass, code, the words that are underlined, what may stand there instead */
const WRONG: readonly (readonly [string, string, string, string, string, readonly string[]])[] = [
  ['| Dm7 |', 'frets 1 3: D25 A2', 'four-string', 'line/typed-no-fret', 'D25', ['G20']],
  ['| Dm7 |', 'frets 1 3: G25 A2', 'four-string', 'line/typed-no-fret', 'G25', ['G20']],
  ['| Dm7 |', 'frets 1 3: C2 A2', 'four-string', 'line/typed-no-string', 'C2', []],
  ['| Dm7 |', 'frets 1 3: 5/2 A2', 'four-string', 'line/typed-no-string', '5/2', []],
  ['| Dm7 |', 'frets 1 3: D A2', 'four-string', 'line/typed-no-place', 'D', []],
  ['| Dm7 |', 'frets 1 3: D2 A2', 'four-string-drop-d', 'line/typed-two-strings', 'D2', ['4/2']],
  ['| Dm7 |', 'notes 1 3: H2 A2', 'four-string', 'line/typed-no-note', 'H2', ['B2']],
  ['| Dm7 |', 'notes 1 3: b2 A2', 'four-string', 'line/typed-no-note', 'b2', ['B2']],
  ['| Dm7 |', 'notes 1 3: C1 A2', 'four-string', 'line/typed-off-the-bass', 'C1', ['C2']],
  ['| Dm7 |', 'notes 1 3: C6 A2', 'four-string', 'line/typed-off-the-bass', 'C6', ['C4']],
  ['| Dm7 |', 'degrees 1 3: 16 5', 'four-string', 'line/typed-no-degree', '16', []],
  ['| N.C. | Dm7 |', 'degrees 1: 1 | 1: 1', 'four-string', 'line/typed-no-chord', '1', []],
  ['| Dm7 |', '1 3: D2 F2 A2', 'four-string', 'line/typed-too-many', 'D2 F2 A2', ['D2 F2']],
  ['| Dm7 |', '1 2 3: D2 F2', 'four-string', 'line/typed-too-few', 'D2 F2', []],
  ['| Dm7 |', '1 3 2: D2 F2 A2', 'four-string', 'cell/goes-back', '2', []],
  ['| Dm7 |', '% | D2 F2 A2 C3', 'four-string', 'line/typed-nothing-before', '%', []],
  ['| Dm7 |', '1: D2 | G1', 'four-string', 'line/typed-too-long', 'G1', []],
  ['| Dm7 |', ' // nothing', 'four-string', 'line/typed-empty', ' // nothing', []],
]

describe('A typed line that is wrong', () => {
  it.each(WRONG)('over %s, %s on %s: %s under %s', (chart, line, bass, code, at, fixes) => {
    const { said, notes } = typed(chart, line, bass)
    expect(said.map((one) => [one.code, one.at, one.fixes])).toContainEqual([code, at, fixes])
    expect(notes).toBe('')
    // What may stand there instead does away with it.
    const [wrong] = said
    if (fixes.length > 0)
      expect(typed(chart, line.replace(at, fixes[0]!), bass).said.map((one) => one.code)).not.toContain(wrong!.code)
  })

  it('never throws, whatever is typed, and points into the text', () => {
    const { form } = read('time: 4/4\n| Dm7 G7 | N.C. | F#m7b5/C |')
    const words = fc.constantFrom(
      ...['frets', 'notes', 'degrees', '|', '%', ':', '1', '2&', '3', '4~', '~1', '(1)', '2x', '3/4:', ':1/5'],
      ...['D2', 'A3', 'E30', 'Q9', '5/3', '0/1', 'b7', 'v5', '>1', 'h-', '//', '\n', ',', '♭', 'Ab2'],
    )
    const line = fc.oneof(
      fc.array(words, { maxLength: 30 }).map((parts) => parts.join(' ')),
      fc.string({ unit: 'binary', maxLength: 60 }),
    )
    fc.assert(
      fc.property(line, fc.constantFrom('four-string', 'six-string', 'four-string-drop-d'), (text, bass) => {
        const { notes, diagnostics } = readTypedLine(text, form, instrumentOf(bass)!)
        expect(typedBars(text)).toBeGreaterThanOrEqual(0)
        for (const { span } of diagnostics) {
          expect(span.from).toBeGreaterThanOrEqual(0)
          expect(span.to).toBeGreaterThanOrEqual(span.from)
          expect(span.to).toBeLessThanOrEqual(text.length)
        }
        for (const [i, note] of notes.entries()) {
          expect(note.ticks).toBeGreaterThan(0)
          expect(note.startTick).toBeGreaterThan(notes[i - 1]?.startTick ?? -1)
        }
      }),
      { numRuns: process.env['SOAK'] ? 20_000 : 500 },
    )
  })
})
