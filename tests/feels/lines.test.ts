import { describe, expect, it } from 'vitest'
import type { Form } from '../../src/chart/form.ts'
import { compose, performanceOf, read } from '../../src/compose.ts'
import { FEELS, feelOf } from '../../src/feels/feels.ts'
import { writeMidi } from '../../src/files/midi-writer.ts'
import type { GrooveLine, GrooveRequest } from '../../src/line/groove/groove.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { scoreGroove } from '../support/groove-scorer.ts'
import { grooveRequest, groovesOf } from '../support/grooves.ts'
import { breachesOf } from '../support/never.ts'

/** For each groove a plain chart and one with two chords in a bar, slash and diminished chords, in another key. */
const CHARTS: Readonly<Record<string, readonly [string, string]>> = {
  'rock-eighths': ['Em | % | C | % | G | % | D | %', 'A5 | F#m | D/F# E | A | Bm D | E/G# G#dim7 | A F#m | D E'],
  'funk-sixteenths': [
    'Em7 | % | % | % | A7 | % | Em7 | B7',
    'Gm7 | % | C7 | C9/E | Gm7 Bb7 | Ebmaj7 Edim7 | D7sus4 D7 | Gm7 D7#9',
  ],
  'soul-eighths': [
    'C | Am7 | F | G7 | C | Am7 | Dm7 | G7',
    'Fm7 | Bb7 | Ab/C Bbm7 | C7 | Dbmaj7 Ddim7 | Eb7 | Ab Fm7 | Bbm7/Ab C7',
  ],
  shuffle: [
    'A7 | D7 | A7 | % | D7 | % | A7 | % | E7 | D7 | A7 | E7',
    'Cm7 | Fm7 | Cm7 | C7/E | Fm7 | F#dim7 | Cm7/G | Ab7 G7 | Dm7b5 | G7b9 | Cm7 Fm7 | Cm7 G7',
  ],
  'half-time-shuffle': [
    'Am7 | % | D7 | % | Am7 | % | F7 | E7',
    'Bbmaj7 | Bdim7 | Cm7 F7 | Bb/D | Ebmaj7 | Ebm6 | Bb/F Gm7 | Cm7 F7',
  ],
  'slow-blues': [
    'G7 | C7 | G7 | % | C7 | % | G7 | E7 | Am7 | D7 | G7 C7 | G7 D7',
    'Dm7 | Gm7 | Dm7 | D7/F# | Gm7 | G#dim7 | Dm7/A | Bb7 A7 | Em7b5 | A7b9 | Dm7 Bb7 | Em7b5 A7',
  ],
  'bossa-nova': [
    'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7',
    'F#m7 | Fdim7 | Em7 A7 | Dmaj7/F# | Gm6 | C7 | F#m7 B7 | E7sus4 A7',
  ],
  samba: [
    'C6 | % | A7 | % | Dm7 | % | G7 | %',
    'Gm7 | C7 | Fmaj7/A | Abdim7 | Gm7 C7 | Am7b5 D7 | Gm7/F Em7b5 | A7 D7',
  ],
  tumbao: ['Am7 | % | Dm7 | E7 | Am7 | % | Dm7 | E7', 'F | Bb C7 | F/A | Bb Bdim7 | C7 | Gm7 C7 | F/C D7 | Gm7 C7'],
  'cha-cha-cha': ['Dm | A7 | % | Dm | Gm | Dm | A7 | Dm', 'F | C7 | F/A Bb | C7 | Dm Gm | Bdim7 | F/C D7 | Gm7 C7'],
  'half-time': ['Bm | % | G | A | Bm | % | Em | F#', 'C | G/B | Am | F G | Dm7 | F#dim7 | C/E F | G5'],
  'second-line': ['F7 | % | Bb7 | F7 | C7 | Bb7 | F7 | C7', 'G | E7 | A7 D7 | G/B | C C#dim7 | G/D E7 | Am7 D7 | G D7'],
  'one-drop': ['Am | Dm | Am | Em | Am | Dm | F | G', 'Bb | Gm | Eb/G F | Bb | Cm7 F | Dm Gm | Ebmaj7 Edim7 | F7'],
  steppers: ['Em | D | Em | D | Em | G | D | Em', 'Fm | Bbm | Eb Ab/C | Dbmaj7 | Gm7b5 C7 | Fm | Bbm/Db Ddim7 | C7'],
  'country-two': ['G | % | C | G | D | % | C | G', 'Em | B7 | Em/G Am | E/G# | Am A#dim7 | Em/B | C D7 | G B7'],
  'gospel-twelve': [
    'C | C7 | F | C | Am7 | D7 | G7 | C',
    'Cm7 | Fm7 | Eb/G Abmaj7 | Bb7 | Cm7 C7/E | Fm7 F#dim7 | Cm/G G7 | Cm7',
  ],
  'disco-octaves': [
    'Am7 | Dm7 | G7 | Cmaj7 | Fmaj7 | Bm7b5 | E7 | Am7',
    'Eb | Gm7 | Ab Bb | Cm7 | Abmaj7/C Fm7 | Adim7 | Eb/Bb Cm7 | Fm7 Bb7',
  ],
  'hip-hop': [
    'Dm7 | % | Bbmaj7 | A7 | Dm7 | % | Gm7 | A7',
    'Abmaj9 | Gm7 | Cm9 | Cm9/Bb | Fm7 Gm7 | Abmaj7 Adim7 | Bb13 | Eb/G G7',
  ],
  'ballad-two': [
    'Cmaj7 | Am7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7',
    'Cm7 | Ab7 G7 | Cm/Bb | Am7b5 D7 | Gm7 | C7/E Fm7 | F#dim7 G7 | Cm6 G7',
  ],
  'six-eight': ['G | Em | C | D | G | Em | Am D | G', 'Fm | Db | Ab/C Bbm7 | C7 | Fm Eb | Db Ddim7 | Eb/G Ab | C7'],
  waltz: ['D | % | A7 | % | G | D | A7 | D', 'Gm | Cm/Eb | D7 | Gm | Eb | Edim7 Bb/F | Am7b5 D7 | Gm'],
  'five-four': [
    'Em7 | % | Am7 | Em7 | C7 | B7 | Em7 | %',
    'Bbmaj7 | Bdim7 | Cm7 F7 | Dm7/F | Gm7 Gb7 | Fm7 Bb7 | Eb/G Edim7 | F7',
  ],
  'seven-eight': ['Am | % | F | G | Am | % | Dm | E7', 'Eb | Cm Bb/D | Ab | Bb7 | Eb/G Ab | Adim7 | Bb7 | Cm Bb'],
}

/**
 * Onsets a bar, and shares of roots and of fifths among them in per cent, of the lines that weights and charts were set with (two
 * charts a feel, these first ones and others; not the same search). Source: our own measurement; found by hand, judged on paper.
 */
const MEASURED: Readonly<Record<string, readonly [onsets: number, roots: number, fifths: number]>> = {
  'rock-eighths': [8.0, 92, 2],
  'funk-sixteenths': [6.1, 38, 27],
  'soul-eighths': [6.3, 24, 33],
  shuffle: [6.0, 18, 17],
  'half-time-shuffle': [5.5, 61, 16],
  'slow-blues': [4.5, 24, 24],
  'bossa-nova': [4.1, 43, 49],
  samba: [4.0, 50, 50],
  tumbao: [2.3, 50, 44],
  'cha-cha-cha': [3.3, 57, 32],
  'half-time': [3.3, 91, 2],
  'second-line': [4.0, 41, 16],
  'one-drop': [3.6, 51, 24],
  steppers: [5.2, 54, 34],
  'country-two': [2.6, 40, 21],
  'gospel-twelve': [5.0, 43, 23],
  'disco-octaves': [8.1, 100, 0],
  'hip-hop': [4.3, 94, 3],
  'ballad-two': [2.4, 42, 39],
  'six-eight': [4.4, 47, 36],
  waltz: [1.5, 63, 4],
  'five-four': [4.3, 48, 44],
  'seven-eight': [4.4, 42, 34],
}

const GROOVES = FEELS.flatMap((feel) =>
  feel.line.kind === 'groove' ? [{ ...feel, never: feel.line.table.never }] : [],
)

/** A chart in the feel and in its metre. */
function chartOf(feel: string, row: string): string {
  return `time: ${feelOf(feel)!.metre}\nfeel: ${feel}\n| ${row} |`
}

function formOf(feel: string, row: string): Form {
  return read(chartOf(feel, row)).form
}

const built = new Map<string, readonly [GrooveRequest, GrooveLine]>()

/** The best line over one of a feel's charts, closed to a loop. */
function lineOver(feel: string, chart: 0 | 1): readonly [GrooveRequest, GrooveLine] {
  const key = `${feel} ${chart}`
  const known = built.get(key)
  if (known) return known
  const request = grooveRequest(feel, formOf(feel, CHARTS[feel]![chart]), { loop: true })
  const made = [request, groovesOf(request)[0]!] as const
  built.set(key, made)
  return made
}

describe.each(GROOVES)('a line in $name', ({ id, never, register }) => {
  it('does nothing that must never happen', () => {
    for (const chart of [0, 1] as const) {
      const [{ form }, line] = lineOver(id, chart)
      expect(breachesOf(never, form, line), CHARTS[id]![chart]).toEqual([])
    }
  })

  it('costs what its terms add up to, and what the definitions say', () => {
    for (const chart of [0, 1] as const) {
      const [request, line] = lineOver(id, chart)
      const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
      expect(
        terms.reduce((sum, term) => sum + term.points, 0),
        CHARTS[id]![chart],
      ).toBe(line.cost)
      expect(scoreGroove(request, line), CHARTS[id]![chart]).toBe(line.cost)
    }
  })

  it('strikes in every bar, one note after the other, an octave over its register at the most', () => {
    for (const chart of [0, 1] as const) {
      const [{ form }, line] = lineOver(id, chart)
      for (const bar of form.bars) expect(line.notes.some((note) => note.slot.barIndex === bar.index)).toBe(true)
      for (const [at, { slot, pitch }] of line.notes.entries()) {
        const next = line.notes[at + 1]?.slot.startTick ?? form.ticks + line.notes[0]!.slot.startTick + 960
        expect(slot.startTick + slot.ticks).toBeLessThanOrEqual(next)
        expect(pitch).toBeGreaterThanOrEqual(register.lowest)
        expect(pitch).toBeLessThanOrEqual(register.highest + 12)
      }
    }
  })

  it('has the root of each chord under it, in bars without a fill', () => {
    for (const chart of [0, 1] as const) {
      const [{ form }, line] = lineOver(id, chart)
      for (const change of form.changes) {
        if (change.held || line.plan.figures[change.barIndex] !== undefined) continue
        // One note a bar lets a second chord go by; son takes the chord of the coming bar on four, whatever stands between.
        if ((id === 'tumbao' || id === 'waltz') && change.startTick !== form.bars[change.barIndex]!.startTick) continue
        const end = change.startTick + change.ticks
        const under = line.notes.filter(
          ({ slot }) => slot.startTick < end && slot.startTick + slot.ticks > change.startTick,
        )
        const pushedOver = change.startTick === 0 && line.notes.at(-1)!.slot.pushed
        const isSaid = under.some(({ pitch }) => pitchClassOf(pitch) === change.chord!.bassPc)
        expect(isSaid || pushedOver, `${CHARTS[id]![chart]}: ${change.chord!.symbol.text}`).toBe(true)
      }
    }
  })

  it('is about as full as those it was set with, and has as many roots and fifths', () => {
    const [{ form }, line] = lineOver(id, 0)
    const share = (of: (interval: number) => boolean) => {
      const hits = line.notes.filter(({ slot, pitch }) =>
        of(pitchClassOf(pitch - form.changes[slot.changeIndex]!.chord!.bassPc)),
      )
      return (100 * hits.length) / line.notes.length
    }
    const [onsets, roots, fifths] = MEASURED[id]!
    // Rough: another search over one chart of two. A bar and a half of eight may hold an onset more or less; shares within 15 points.
    expect(Math.abs(line.notes.length / form.bars.length - onsets)).toBeLessThanOrEqual(0.5)
    const slack = id === 'steppers' ? 22 : 15
    expect(Math.abs(share((interval) => interval === 0) - roots)).toBeLessThanOrEqual(slack)
    expect(Math.abs(share((interval) => interval === 7) - fifths)).toBeLessThanOrEqual(slack)
  })

  it('is played by the whole band, and fills its file', () => {
    const composition = compose(chartOf(id, CHARTS[id]![1]))
    const performance = performanceOf(composition, composition.lines[0]!)
    expect(composition.diagnostics).toEqual([])
    expect(performance.parts.map(({ name }) => name)).toEqual(['bass', 'chords', 'drums', 'click'])
    for (const { name, notes } of performance.parts)
      for (const { startTick, ticks } of composition.form.bars)
        expect(
          notes.some((note) => note.endTick > startTick && note.startTick < startTick + ticks),
          `${name} at ${startTick}`,
        ).toBe(true)
    expect(writeMidi(performance, 'player').length).toBeGreaterThan(500)
  })
})
