import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { analyseMidi, analyseTyped } from '../src/analyse.ts'

/** A MIDI file of one track at 96 to the quarter: rows of delta, key and velocity, 0 to end a note. */
function fileOf(
  events: readonly (readonly [delta: number, key: number, velocity: number])[],
  more: readonly number[] = [],
) {
  const data = [...more, ...events.flatMap(([delta, key, velocity]) => [delta, 0x90, key, velocity]), 0, 0xff, 0x2f, 0]
  const head = [0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96]
  return Uint8Array.from([...head, 0x4d, 0x54, 0x72, 0x6b, 0, 0, data.length >> 8, data.length & 255, ...data])
}

const quarters = (...keys: readonly number[]) =>
  keys.flatMap((key): [number, number, number][] => [
    [0, key, 90],
    [96, key, 0],
  ])

describe('A file against a chart', () => {
  it('is read over the chart as often as it is long', () => {
    const { analysis, said } = analyseMidi('| Dm7 |', fileOf(quarters(38, 41, 45, 44, 38, 41, 45, 44)))
    expect(analysis!.notes.map(({ degree }) => degree)).toEqual(['1', 'b3', '5', 'b5', '1', 'b3', '5', 'b5'])
    expect(said).toEqual([
      'The bass is track 1, 8 notes.',
      'The chart is played 2 times, since the line is longer than it.',
    ])
  })

  it('begins after a count-in where that fits the chart better, and says so; a bar of rest stays one', () => {
    const afterBars = (bars: number) => [0x80 | ((bars * 384) >> 7), (bars * 384) & 127, 0xff, 1, 0]
    const line = quarters(38, 41, 45, 44, 43, 47, 38, 37, 36, 40, 43, 40)
    const counted = analyseMidi('| Dm7 | G7 | Cmaj7 | % |', fileOf(line, afterBars(2)))
    expect(counted.said).toEqual([
      'The bass is track 1, 12 notes.',
      'The bass enters after 2 bars of the file: the chart begins there, which fits better.',
    ])
    expect(counted.analysis!.notes.map(({ barIndex, degree }) => `${barIndex + 1} ${degree}`).slice(0, 5)).toEqual([
      ...['1 1', '1 b3', '1 5', '1 b5'],
      '2 1',
    ])
    const rested = analyseMidi('| Am7 | Dm7 | G7 | Cmaj7 |', fileOf(line, afterBars(1)))
    expect(rested.said).toEqual(['The bass is track 1, 12 notes.'])
    expect(rested.analysis!.notes[0]!.barIndex).toBe(1)
  })

  it('leaves a pickup before the chart out, and says so', () => {
    const from = (ticks: number) => [0x80 | (ticks >> 7), ticks & 127, 0xff, 1, 0]
    const line = quarters(37, 38, 41, 45, 44, 43, 47, 38, 37, 36, 40, 43, 40)
    const { said, analysis } = analyseMidi('| Dm7 | G7 | Cmaj7 | % |', fileOf(line, from(2 * 384 - 96)))
    expect(said).toEqual([
      'The bass is track 1, 13 notes.',
      'The chart begins after 2 bars of the file, which fits better; 1 note before it is left out.',
    ])
    expect(analysis!.notes.map(({ barIndex, degree }) => `${barIndex + 1} ${degree}`).slice(0, 5)).toEqual([
      ...['1 1', '1 b3', '1 5', '1 b5'],
      '2 1',
    ])
  })

  it('says where it contradicts the chart, and counts as the chart does', () => {
    const slow = [0, 0xff, 0x51, 3, 0x0f, 0x42, 0x40, 0, 0xff, 0x58, 4, 3, 2, 24, 8]
    const { said } = analyseMidi('tempo: 120\n| Dm7 |', fileOf(quarters(38, 41, 45, 44), slow))
    expect(said.slice(1)).toEqual([
      'The file is in 3/4 and the chart in 4/4: bars are counted as in the chart.',
      'The file is played at 60 quarters a minute and the chart asks for 120.',
    ])
  })

  it('has one voice: of chords the lowest note is read', () => {
    const chord = fileOf([
      [0, 38, 90],
      [0, 45, 90],
      [96, 38, 0],
      [0, 45, 0],
    ])
    const { analysis, said } = analyseMidi('| Dm7 |', chord)
    expect(analysis!.notes.map(({ heard }) => heard.pitch)).toEqual([38])
    expect(said[1]).toBe('Of notes struck together the lowest is read; 1 other is left out.')
  })
})

describe('Never throws', () => {
  const chart = fc
    .tuple(
      fc.constantFrom('4/4', '3/4', '6/8', '7/8', '12/8', '2/4'),
      fc.array(fc.constantFrom('C', 'Dm7', 'G7b9/F', 'N.C.', 'F#m7b5', '%', 'x'), { minLength: 1, maxLength: 6 }),
    )
    .map(([metre, bars]) => `time: ${metre}\n| ${bars.join(' | ')} |`)
  const runs = { numRuns: process.env['SOAK'] ? 5000 : 100 }

  it('a file of any notes at any times', () => {
    const event = fc.tuple(fc.nat(127), fc.nat(127), fc.constantFrom(0, 20, 90, 127))
    fc.assert(
      fc.property(chart, fc.array(event, { maxLength: 80 }), (text, events) => {
        const { analysis, message, form } = analyseMidi(text, fileOf(events))
        for (const { heard } of analysis?.notes ?? []) expect(heard.startTick).toBeLessThan(form.ticks)
        expect(analysis !== undefined || message !== undefined || !form.changes.some(({ chord }) => chord)).toBe(true)
      }),
      runs,
    )
  })

  it('a line of any words', () => {
    const word = fc.constantFrom('D2', 'A3', 'G1', '|', '1 2 3:', '1 2& 4~:', '~1 3:', '1 trip let:', '%', 'b7', '1')
    fc.assert(
      fc.property(chart, fc.array(word, { maxLength: 14 }), (text, words) => {
        const { analysis, lineDiagnostics, form } = analyseTyped(text, words.join(' '))
        expect(analysis !== undefined || lineDiagnostics.length > 0 || !form.changes.some(({ chord }) => chord)).toBe(
          true,
        )
      }),
      runs,
    )
  })
})
