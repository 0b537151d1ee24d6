import { describe, expect, test } from 'vitest'
import { type Degree, formatDegree, semitonesOf } from '../../src/music/degree.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { spellPitch } from '../../src/music/spelling.ts'
import { chordOf } from '../support/chord-form.ts'

/** Move, from, to, how the guide tones go by degrees and by names, semitones in all, common tones. */
const MOVES = [
  ['ii to V, major', 'Dm7', 'G7', 'b3>b7 b7>3', 'F>F C>B', 1, 'D F'],
  ['V to I, major', 'G7', 'Cmaj7', '3>7 b7>3', 'B>B F>E', 1, 'G B'],
  ['V to I sixth', 'G7', 'C6', '3>6 b7>3', 'B>A F>E', 3, 'G'],
  ['ii to V, minor', 'Dm7b5', 'G7b9', 'b3>b7 b7>3', 'F>F C>B', 1, 'D F Ab'],
  ['V to i, minor', 'G7b9', 'Cm(maj7)', '3>7 b7>b3', 'B>B F>Eb', 2, 'G B'],
  ['V to i seventh', 'G7', 'Cm7', '3>b7 b7>b3', 'B>Bb F>Eb', 3, 'G'],
  ['I to vi', 'Cmaj7', 'Am7', '3>b7 7>b3', 'E>G B>C', 4, 'C E G'],
  ['vi to ii', 'Am7', 'Dm7', 'b3>b7 b7>b3', 'C>C G>F', 2, 'A C'],
  ['iii to vi', 'Em7', 'Am7', 'b3>b7 b7>b3', 'G>G D>C', 2, 'E G'],
  ['I to IV', 'Cmaj7', 'Fmaj7', '3>7 7>3', 'E>E B>A', 2, 'C E'],
  ['IV to iv', 'Fmaj7', 'Fm7', '3>b3 7>b7', 'A>Ab E>Eb', 2, 'F C'],
  ['IV to V', 'Fmaj7', 'G7', '3>3 7>b7', 'A>B E>F', 3, 'F'],
  ['V of V to V', 'D7', 'G7', '3>b7 b7>3', 'F#>F C>B', 2, 'D'],
  ['VI7 to ii', 'A7', 'Dm7', '3>b7 b7>b3', 'C#>C G>F', 3, 'A'],
  ['blues I to IV', 'C7', 'F7', '3>b7 b7>3', 'E>Eb Bb>A', 2, 'C'],
  ['blues IV to I', 'F7', 'C7', '3>b7 b7>3', 'A>Bb Eb>E', 2, 'C'],
  ['blues V to IV', 'G7', 'F7', '3>3 b7>b7', 'B>A F>Eb', 4, 'F'],
  ['substitute to I', 'Db7', 'Cmaj7', '3>3 b7>7', 'F>E Cb>B', 1, 'B'],
  ['ii to substitute', 'Dm7', 'Db7', 'b3>3 b7>b7', 'F>F C>Cb', 1, 'F'],
  ['I to #I diminished', 'Cmaj7', 'C#dim7', '3>b3 7>bb7', 'E>E B>Bb', 1, 'E G'],
  ['#I diminished to ii', 'C#dim7', 'Dm7', 'b3>b3 bb7>b7', 'E>F Bb>C', 3, ''],
  ['IV to #IV diminished', 'F7', 'F#dim7', '3>b3 b7>bb7', 'A>A Eb>Eb', 0, 'A C Eb'],
  ['bVII to I', 'Bb7', 'Cmaj7', '3>3 b7>7', 'D>E Ab>B', 5, ''],
  ['bVI to V, minor', 'Abmaj7', 'G7', '3>3 7>b7', 'C>B G>F', 3, 'G'],
  ['V to vi', 'G7', 'Am7', '3>b3 b7>b7', 'B>C F>G', 3, 'G'],
  ['suspension resolves', 'G7sus4', 'G7', '4>3 b7>b7', 'C>B F>F', 1, 'G D F'],
  ['I to bIII', 'Cmaj7', 'Ebmaj7', '3>3 7>7', 'E>G B>D', 6, 'G'],
  ['whole step down ii to ii', 'Dm7', 'Cm7', 'b3>b3 b7>b7', 'F>Eb C>Bb', 4, 'C'],
  ['half-step up', 'Cm7', 'C#m7', 'b3>b3 b7>b7', 'Eb>E Bb>B', 2, ''],
] as const

/** The shortest way from one pitch class to another, -5 to 6. */
const nearest = (from: number, to: number): number => ((to - from + 17) % 12) - 5

function namesOf(text: string, degrees: readonly Degree[]): readonly string[] {
  const chord = chordOf(text)
  return degrees.map((degree) => {
    const pitch = 36 + pitchClassOf(chord.rootPc + semitonesOf(degree))
    return spellPitch(pitch, { chord }).replace(/\d/, '')
  })
}

/** Guide tones in the cheaper of their two pairings. */
function lead(from: string, to: string) {
  const [a, b] = [chordOf(from), chordOf(to)]
  const [left, right] = [a.symbol.quality.guideTones, b.symbol.quality.guideTones]
  const pairings = [right, right.toReversed()].map((order) => {
    const ways = left.map((degree, at) =>
      nearest(pitchClassOf(a.rootPc + semitonesOf(degree)), pitchClassOf(b.rootPc + semitonesOf(order[at]!))),
    )
    return { order, distance: ways.reduce((sum, way) => sum + Math.abs(way), 0) }
  })
  const best = pairings[0]!.distance <= pairings[1]!.distance ? pairings[0]! : pairings[1]!
  const names = [namesOf(from, left), namesOf(to, best.order)]
  return {
    degrees: left.map((degree, at) => `${formatDegree(degree)}>${formatDegree(best.order[at]!)}`).join(' '),
    names: left.map((_, at) => `${names[0]![at]}>${names[1]![at]}`).join(' '),
    distance: best.distance,
  }
}

// The seventh of a chord falls by step to the third of a chord a fifth below, whose seventh is the third before it: every harmony
// handbook (http://ininet.org/lesson-ggg--seventh-chords-introduction/, http://www.odu.edu/al/wbartolo/mod40a.html).
describe('guide tones go the shortest way', () => {
  test.each(MOVES)('%s: %s %s by %s', (_, from, to, degrees, names, distance) => {
    expect(lead(from, to)).toEqual({ degrees, names, distance })
  })

  test.each(MOVES)('%s: %s and %s have their tones in common', (_, from, to, __, ___, ____, common) => {
    const [before, after] = [chordOf(from), chordOf(to)]
    const held = before.tones.map((tone) => pitchClassOf(before.rootPc + semitonesOf(tone)))
    const shared = after.tones.filter((tone) => held.includes(pitchClassOf(after.rootPc + semitonesOf(tone))))
    expect([...namesOf(to, shared)].sort()).toEqual(common.split(' ').filter(Boolean).sort())
  })

  test.each(
    MOVES.filter(([move]) => ['ii to V, major', 'V to I, major', 'V of V to V', 'blues I to IV'].includes(move)),
  )('%s: the seventh falls by step, the third stays or falls a half-step', (_, from, to) => {
    const [a, b] = [chordOf(from), chordOf(to)]
    const [third, seventh] = a.symbol.quality.guideTones.map((degree) => pitchClassOf(a.rootPc + semitonesOf(degree)))
    const [nextThird, nextSeventh] = b.symbol.quality.guideTones.map((degree) =>
      pitchClassOf(b.rootPc + semitonesOf(degree)),
    )
    expect([-1, -2]).toContain(nearest(seventh!, nextThird!))
    expect([0, -1]).toContain(nearest(third!, nextSeventh!))
  })
})
