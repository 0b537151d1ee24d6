import { describe, expect, it } from 'vitest'
import { WALKING_WEIGHTS } from '../../../src/feels/walking-weights.ts'
import type { Line, LineNote } from '../../../src/line/line.ts'
import { neckOf } from '../../../src/line/neck.ts'
import { PATTERNS, patternOf } from '../../../src/line/patterns.ts'
import { walk } from '../../../src/line/walk/walk.ts'
import { changes as formOf } from '../../support/changes.ts'
import { lineText } from '../../support/line-text.ts'
import { scoreWalk } from '../../support/walk-scorer.ts'
import { cellsOf, FOUR_STRINGS, linesOf, walkRequest } from '../../support/walking.ts'

const BLUES = 'Bb7 | Eb7 | Bb7 | % | Eb7 | % | Bb7 | G7 | Cm7 | F7 | Bb7 G7 | Cm7 F7'

const CHARTS = [
  BLUES,
  'Dm7 | G7 | Cmaj7 | %',
  '[A] Am7b5 | D7b9 | Gm7 | % | [B] Cm7 | F7 | Bbmaj7 | Ebmaj7',
  'Cmaj7 Am7 | Dm7 G7 | Em7 A7 | Dm7 G7',
  'C/E | F | D7/F# | G7sus4 | N.C. | C',
  'Fm7 | (3/4) Bb7 | Ebmaj7 | (4/4) Abmaj7 | %',
  'E7#9 | % | A7alt | Dm(maj7) | Bdim7 | C5 | Gmaj7#11 | F#m7',
  'Cm7 F7 Bb7 Eb7 | Abmaj7 | G7',
]

const sounded = (line: Line) => line.notes.filter((note) => !note.slot.ghost)

const termsOf = (line: Line) => [...line.terms, ...line.notes.flatMap((note) => note.terms)]

describe('a walking line', () => {
  it('walks a blues in quarters: over the third and back, up by steps into the change, over the fifth and up into the octave', () => {
    const request = walkRequest(formOf(BLUES), { cells: cellsOf('1 2 3 4'), loop: true })
    const [line] = linesOf(request)
    expect(lineText(line!).split(' | ').slice(0, 4)).toEqual([
      'Bb1 D2 C2 Bb1',
      'Eb2 F2 G2 A2',
      'Bb2 F2 G2 Ab2',
      'Bb2 C3 D3 Bb2',
    ])
  })

  it('strikes a repeated note again in its place, also where an open string would free the hand', () => {
    const form = formOf('Em7 | A7 | Dmaj7 | G7 | Cmaj7 | F#m7b5 B7 | Em7 | %')
    for (const cells of [cellsOf('1 2 3 4'), cellsOf('1 2& 3 4'), cellsOf('1 2& 3& 4&')]) {
      const notes = linesOf(walkRequest(form, { cells, loop: true }))[0]!.notes
      const again = notes.filter((note, i) => note.pitch === notes.at(i - 1)!.pitch)
      for (const note of again) expect(note.string).toBe(notes.at(notes.indexOf(note) - 1)!.string)
    }
  })

  it('costs what its sentences say, counted apart from the search', () => {
    for (const chart of CHARTS) {
      for (const loop of [false, true]) {
        const request = walkRequest(formOf(chart), { loop })
        const [line] = linesOf(request)
        const plan = request.planTerms.reduce((sum, term) => sum + term.points, 0)
        const scored = scoreWalk(request.form, line!.notes, WALKING_WEIGHTS, loop)
        expect(scored + plan, `${chart}, ${loop ? 'looped' : 'once'}`).toBe(line!.cost)
      }
    }
  })

  it('costs the sum of its terms, each of them more than nothing', () => {
    for (const chart of CHARTS) {
      const [line] = linesOf(walkRequest(formOf(chart)))
      expect(termsOf(line!).reduce((sum, term) => sum + term.points, 0)).toBe(line!.cost)
      for (const term of termsOf(line!)) expect(term.points).toBeGreaterThan(0)
    }
  })

  it('is the cheapest of all lines on a short neck', () => {
    for (const chart of ['Gm7 C7', 'F7 | Bb7', 'A7/C# Dm7']) {
      const form = formOf(chart)
      const request = walkRequest(form, { cells: cellsOf('1 3'), frets: { from: 0, to: 4 } })
      const [line] = linesOf(request)
      const neck = neckOf(FOUR_STRINGS, { from: 0, to: 4 })
      const states = neck.places.map((place) => ({ ...place, hand: place.lowestHand }))
      const notes = sounded(line!)
      if (notes.length > 4) throw new Error('too long to try every line')
      let least = Number.POSITIVE_INFINITY
      const trying: LineNote[] = []
      const tryFrom = (index: number): void => {
        if (index === notes.length) {
          const score = scoreWalk(form, trying, WALKING_WEIGHTS, false)
          if (score < least) least = score
          return
        }
        for (const state of states) {
          const before = trying.at(-1)
          if (before && Math.abs(before.pitch - state.pitch) > 12) continue
          trying.push({ ...notes[index]!, ...state })
          tryFrom(index + 1)
          trying.pop()
        }
      }
      // The neck is one hand wide, so a place is a state. Chromatic arrivals are never, and score as not a number.
      tryFrom(0)
      const plan = request.planTerms.reduce((sum, term) => sum + term.points, 0)
      expect(line!.cost - plan, chart).toBe(least)
    }
  })

  it('has notes inside the neck, each within reach of the hand', () => {
    for (const chart of CHARTS) {
      for (const note of sounded(linesOf(walkRequest(formOf(chart)))[0]!)) {
        expect(FOUR_STRINGS.open[note.string]! + note.fret).toBe(note.pitch)
        expect(note.fret).toBeLessThanOrEqual(12)
        if (note.fret > 0) expect(note.fret - note.hand).toBeGreaterThanOrEqual(0)
        if (note.fret > 0) expect(note.fret - note.hand).toBeLessThan(4)
      }
    }
  })

  it('rests where no chord sounds', () => {
    const [line] = linesOf(walkRequest(formOf('C | N.C. | F | G7 N.C.'), { cells: cellsOf('1 2 3 4') }))
    expect(
      lineText(line!)
        .split(' | ')
        .map((bar) => bar.split(' ').filter(Boolean).length),
    ).toEqual([4, 0, 4, 2])
  })

  it('is moved with its changes where the neck and the arch move too', () => {
    const up = { ...FOUR_STRINGS, open: FOUR_STRINGS.open.map((pitch) => pitch + 2) }
    const { contour, above } = WALKING_WEIGHTS
    const table = {
      ...WALKING_WEIGHTS,
      contour: { ...contour, low: contour.low + 2, high: contour.high + 2 },
      above: { ...above, pitch: above.pitch + 2 },
    }
    const [low] = linesOf(walkRequest(formOf('Dm7 | G7 | Cmaj7 | A7b9')))
    const [high] = linesOf(walkRequest(formOf('Em7 | A7 | Dmaj7 | B7b9'), { instrument: up, table }))
    expect(sounded(high!).map((note) => note.pitch - 2)).toEqual(sounded(low!).map((note) => note.pitch))
    expect(high!.cost).toBe(low!.cost)
  })

  it('is the same every time', () => {
    const texts = [1, 2].map(() => linesOf(walkRequest(formOf(BLUES), { variations: 3 })).map(lineText))
    expect(texts[0]).toEqual(texts[1])
  })
})

describe('variations of a walking line', () => {
  it('differ from each other in a quarter of their slots, cheapest first', () => {
    for (const loop of [false, true]) {
      const lines = linesOf(walkRequest(formOf(BLUES), { variations: 4, loop }))
      expect(lines).toHaveLength(4)
      for (const [i, a] of lines.entries()) {
        for (const b of lines.slice(i + 1)) {
          const [x, y] = [sounded(a), sounded(b)]
          const different = x.filter((note, slot) => note.pitch !== y[slot]!.pitch).length
          expect(different).toBeGreaterThanOrEqual(0.25 * x.length)
          expect(b.cost + b.provenWithin).toBeGreaterThanOrEqual(a.cost)
        }
      }
    }
  })

  it('are fewer than asked where the rules leave no more', () => {
    const request = walkRequest(formOf('C5'), {
      cells: cellsOf('1'),
      variations: 9,
      difference: 1,
      frets: { from: 0, to: 3 },
    })
    const result = walk(request)
    if (!result.ok) throw new Error('no line')
    const pitches = result.lines.map((line) => line.notes[0]!.pitch)
    expect(new Set(pitches).size).toBe(pitches.length)
    expect(pitches.length).toBeLessThan(9)
  })
})

describe('degree patterns in a walking line', () => {
  it('stand on every chord that they name: 3 5 7 9 over minor sevenths', () => {
    const request = walkRequest(formOf('Dm7 | Gm7 | Cm7'), {
      cells: cellsOf('1 2 3 4'),
      patterns: [patternOf('major-seventh-on-flat-three')!],
    })
    const [line] = linesOf(request)
    expect(lineText(line!)).toBe('F1 A1 C2 E2 | Bb1 D2 F2 A2 | Eb2 G2 Bb2 D3')
    expect(line!.notes.map((note) => note.degree).slice(0, 4)).toEqual(['b3', '5', 'b7', '9'])
    for (const note of line!.notes) expect(note.pattern).toBe('major-seventh-on-flat-three')
  })

  it('lead into the next root from below: 1 3 5 and a half step', () => {
    const request = walkRequest(formOf('Dm7 | G7 | Cmaj7 | A7'), {
      cells: cellsOf('1 2 3 4'),
      patterns: [patternOf('walking-below')!],
      loop: true,
    })
    const bars = lineText(linesOf(request)[0]!)
      .split(' | ')
      .map((bar) => bar.split(' '))
    const roots = ['D', 'G', 'C', 'A']
    for (const [i, bar] of bars.entries()) expect(bar[0]!.replace(/\d/, '')).toBe(roots[i])
    const pitches = sounded(linesOf(request)[0]!).map((note) => note.pitch)
    for (let bar = 0; bar < 4; bar++) {
      const last = pitches[4 * bar + 3]!
      const next = pitches[(4 * bar + 4) % 16]!
      // An approach may take over from the pattern at a price; it never leaves the next chord unled.
      expect([-7, -2, -1, 1, 2, 5]).toContain(next - last)
    }
  })

  it('give a line for each of the vocabulary, over a blues with two chords in some bars', () => {
    const form = formOf('F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7b9 | Gm7 | C7 | F7 D7b9 | Gm7 C7')
    for (const pattern of PATTERNS) expect(walk(walkRequest(form, { patterns: [pattern] })).ok, pattern.id).toBe(true)
  })

  it('leave the notes free over chords that they do not name', () => {
    const request = walkRequest(formOf('Dm7 | G7'), {
      cells: cellsOf('1 2 3 4'),
      patterns: [patternOf('major-seventh-on-flat-three')!],
    })
    const notes = linesOf(request)[0]!.notes
    expect(notes.slice(4).map((note) => note.pattern)).toEqual([undefined, undefined, undefined, undefined])
    // From the ninth of Dm7 down a step to the fifth of G7.
    expect(notes.slice(3, 5).map(({ name }) => name.slice(0, 1))).toEqual(['E', 'D'])
  })
})
