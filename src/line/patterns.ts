import type { ChordFamily } from '../music/chord-qualities.ts'
import { ownPattern, type Pattern, parsePattern } from './pattern.ts'

/**
 * The degree patterns, three rows each: id and tokens, then families | level | feels, then what it is for.
 *
 * Families are the chords it may stand over, `any` for all; feels are those that offer it, `all` for every one, `technique` for
 * exercises. `3 5 7 9` stands here three times and differs by family: over a minor chord it is the major-seventh shape on the
 * flat third, over a major chord a minor-seventh shape, over a dominant a half-diminished shape.
 *
 * Source: shapes that every handbook of walking and groove bass has; names, levels and feels are common practice, no source.
 */
const TABLE = `
root-only: 1
  any | beginner | all
  holds time and form; what every other pattern is measured against
root-octave: 1 8
  any | beginner | disco-octaves funk-sixteenths gospel-twelve half-time-shuffle rock-eighths seven-eight soul-eighths
  lift without changing the harmony
octave-root: 8 1
  any | intermediate | disco-octaves funk-sixteenths
  starts high and falls to the root: a fill, or a lighter downbeat
root-fifth-up: 1 5
  any | beginner | ballad-two bossa-nova cha-cha-cha country-two gospel-twelve samba six-eight
  the plainest two-note line; the fifth above
root-fifth-down: 1 v5
  any | beginner | ballad-two country-two samba second-line waltz
  the fifth below gives weight and room for the voice
root-fifth-both: 1 5 1 v5
  any | beginner | ballad-two bossa-nova cha-cha-cha country-two
  two bars of root and fifth without sameness
root-fifth-octave: 1 5 8
  any | beginner | ballad-two bossa-nova cha-cha-cha five-four gospel-twelve half-time rock-eighths samba seven-eight six-eight
  open and strong; no third, so it fits any chord with a plain fifth
root-octave-fifth: 1 8 5
  any | beginner | disco-octaves one-drop rock-eighths steppers
  drops back inside the octave
root-fifth-octave-fifth: 1 5 8 5
  any | beginner | ballad-two disco-octaves five-four jazz-waltz second-line seven-eight six-eight soul-eighths
  rocking figure for slow chords
triad-up: 1 3 5
  major minor diminished augmented dominant half-diminished minor-major suspended | beginner | cha-cha-cha country-two jazz-waltz one-drop second-line steppers technique waltz
  says the chord in three notes
triad-down: 8 5 3
  major minor diminished augmented dominant half-diminished minor-major | beginner | country-two one-drop steppers waltz
  says the chord from the top
triad-octave: 1 3 5 8
  major minor diminished augmented dominant half-diminished minor-major | beginner | cha-cha-cha country-two five-four second-line shuffle six-eight soul-eighths swing-fast swing-medium technique
  full triad; ends ready to step on
triad-and-back: 1 3 5 3
  major minor dominant minor-major | beginner | cha-cha-cha country-two one-drop shuffle six-eight steppers
  a closed four-note figure that loops
triad-first-inversion: 3 5 8
  major minor dominant minor-major | intermediate | ballad-two gospel-twelve soul-eighths
  avoids the root on top of a bass pedal or a held root
triad-second-inversion: 5 8 10
  major minor dominant minor-major | intermediate | ballad-two gospel-twelve soul-eighths
  high-register answer to a low root
seventh-arpeggio-up: 1 3 5 7
  major minor dominant half-diminished diminished minor-major | beginner | bossa-nova swing-fast swing-medium technique
  the chord in four quarters: first walking bar everyone learns
seventh-arpeggio-down: 7 5 3 1
  major minor dominant half-diminished diminished minor-major | beginner | swing-fast swing-medium technique
  the same chord falling to its root
octave-seventh-down: 8 7 5 3
  minor dominant half-diminished diminished | intermediate | shuffle swing-fast swing-medium
  falls from the octave; leaves a third or step to the next root
seventh-broken: 1 5 3 7
  major minor dominant half-diminished | intermediate | swing-fast swing-medium technique
  breaks the ladder: wider motion, same notes
seventh-below: 1 v7 v5 v3
  minor dominant half-diminished | intermediate | ballad-two swing-fast swing-medium
  arpeggio down from the root, for roots that lie high
ninth-arpeggio: 1 3 5 7 9
  major minor dominant half-diminished | intermediate | hip-hop jazz-waltz technique
  extends the arpeggio a third past the octave
sixth-arpeggio: 1 3 5 6
  major minor dominant | beginner | rock-eighths second-line shuffle slow-blues soul-eighths swing-fast swing-medium
  major sixth instead of a seventh: bright and stable (6 is the scale's: major over dorian minor)
rocking-sixth: 1 5 6 5
  major dominant minor | beginner | country-two gospel-twelve rock-eighths shuffle soul-eighths
  fifth and sixth rock over one chord
soul-sixth-fall: 1 6 5 3
  major dominant | intermediate | gospel-twelve soul-eighths
  leaps to the sixth and falls through the chord
octave-sixth-fall: 8 6 5 3
  major dominant | intermediate | gospel-twelve rock-eighths shuffle soul-eighths
  the same fall from the octave
fifth-sixth: 5 6
  major dominant minor | beginner | country-two rock-eighths soul-eighths
  pick-up pair under the octave or before the root
fifth-sixth-root: v5 v6 1
  major dominant minor | beginner | country-two gospel-twelve soul-eighths
  pentatonic walk-up into the root
sixth-fifth-root: 1 v6 v5
  major dominant minor | beginner | gospel-twelve rock-eighths soul-eighths
  pentatonic walk-down away from the root
root-flat-seven-fifth: 1 vb7 v5
  minor dominant | beginner | funk-sixteenths hip-hop one-drop rock-eighths steppers
  drops from the root through the flat seventh to the fifth
octave-flat-seven-fifth: 8 b7 5
  minor dominant | beginner | funk-sixteenths half-time-shuffle shuffle soul-eighths
  the same shape from the octave
root-fifth-flat-seven-octave: 1 5 b7 8
  minor dominant power | intermediate | five-four funk-sixteenths half-time-shuffle hip-hop rock-eighths seven-eight
  climbs without a third
box-shape: 1 4 5 b7 8
  minor dominant power suspended | beginner | funk-sixteenths rock-eighths shuffle
  four frets by three strings without a shift: no third, so it fits minor, blues and suspended chords
flat-seven-neighbour: 1 vb7 1
  minor dominant power | beginner | funk-sixteenths half-time rock-eighths soul-eighths
  a dip of a whole step under the root
funk-pickup: v5 vb7 1
  minor dominant | intermediate | funk-sixteenths soul-eighths
  pick-up of fifth and flat seventh into the root
octave-seven-funk: 1 8 b7 8
  minor dominant | intermediate | disco-octaves funk-sixteenths hip-hop
  keeps the octave alive with its lower neighbour
major-seventh-on-flat-three: 3 5 7 9
  minor | advanced | funk-sixteenths hip-hop jazz-waltz swing-fast swing-medium
  b3 5 b7 9 of a minor chord: a major-seventh shape from the flat third that leaves the root out
minor-seventh-on-third: 3 5 7 9
  major | advanced | bossa-nova hip-hop swing-fast swing-medium
  3 5 7 9 of a major chord: a minor-seventh shape from the third
half-diminished-on-third: 3 5 7 9
  dominant | advanced | hip-hop swing-fast swing-medium
  3 5 b7 9 of a dominant: a half-diminished shape from the third
flat-five-shape-on-third: 3 5 7 b9
  dominant | advanced | bossa-nova swing-fast swing-medium
  3 5 b7 b9: a diminished seventh from the third, pulling to a chord a fourth up
walk-up-four: 1 2 3 4
  major minor dominant | beginner | country-two gospel-twelve swing-fast swing-medium
  scale walk to a chord a fifth up (its root is the next step)
walk-up-three: 1 2 3
  major minor dominant | beginner | country-two gospel-twelve jazz-waltz seven-eight waltz
  scale walk to a chord a fourth up
walk-to-fifth: 1 2 3 4 5
  major minor dominant | beginner | country-two technique
  five-finger scale
walk-down-three: 1 v7 v6
  major minor dominant | beginner | ballad-two country-two rock-eighths soul-eighths
  scale walk to a chord a fourth down (same name as a fifth up)
walk-down-two: 1 v7
  major minor dominant | beginner | ballad-two country-two rock-eighths
  links a chord to the one a third below (a minor third under major)
leading-tone-walk: v5 v6 vn7 1
  major dominant | intermediate | country-two gospel-twelve
  fifth, sixth and leading tone into the root
digital-one-two-three-five: 1 2 3 5
  major minor dominant | beginner | bossa-nova soul-eighths swing-fast swing-medium technique
  four-note cell that outlines the chord and fills the bar
digital-five-three-two-one: 5 3 2 1
  major minor dominant | beginner | swing-fast swing-medium technique
  the same cell falling
pentatonic-major-run: 1 2 3 5 6 8
  major dominant | beginner | country-two gospel-twelve rock-eighths soul-eighths
  fill that cannot clash with a major chord
pentatonic-minor-run: 1 b3 4 5 b7 8
  minor power | beginner | funk-sixteenths rock-eighths shuffle steppers
  fill over a minor chord or a power chord
pentatonic-minor-fall: 8 b7 5 4 b3 1
  minor power | intermediate | funk-sixteenths half-time half-time-shuffle one-drop rock-eighths slow-blues
  the same run falling, across two positions
blues-run: 1 b3 4 b5 5 b7 8
  minor dominant | intermediate | rock-eighths shuffle slow-blues
  blues scale: b5 is passed through, not held
minor-to-major-third: 1 b3 n3 5
  dominant major | intermediate | funk-sixteenths gospel-twelve rock-eighths shuffle slow-blues
  the blue third slides into the major third
boogie: 1 3 5 6 b7 6 5 3
  dominant | beginner | rock-eighths second-line shuffle slow-blues
  two half bars, up and back, the flat seventh at the top
boogie-octave: 1 3 5 6 8 6 5 3
  major dominant | beginner | rock-eighths shuffle
  the same with the octave at the top: fits plain major
boogie-two-bar: 1 3 5 6 8 b7 6 5
  dominant | intermediate | shuffle
  octave, then the flat seventh on the way back
minor-boogie: 1 b3 4 5 b7 5 4 b3
  minor | intermediate | rock-eighths shuffle slow-blues
  the boogie arch with minor notes
shuffle-walk: 1 3 4 #4 5
  dominant major | intermediate | shuffle slow-blues
  chromatic climb to the fifth
gospel-climb: 1 b3 n3 5 6 8
  major dominant | intermediate | gospel-twelve rock-eighths shuffle soul-eighths
  run up with the blue third as a slip note
gospel-walk-to-four: 1 2 #2 n3
  major dominant | intermediate | country-two gospel-twelve slow-blues swing-fast swing-medium
  chromatic walk to the chord a fourth up
gospel-walk-to-five: 1 3 4 #4
  major dominant | intermediate | gospel-twelve slow-blues swing-fast swing-medium
  chromatic walk to the chord a fifth up
walking-below: 1 3 5 h-
  major minor dominant half-diminished minor-major | intermediate | five-four shuffle slow-blues swing-fast swing-medium
  arpeggio, then half a step under the next root
walking-above: 1 3 5 h+
  major minor dominant half-diminished minor-major | intermediate | swing-fast swing-medium
  arpeggio, then half a step over the next root
walking-dominant: 1 3 5 d+
  major minor dominant half-diminished | intermediate | shuffle swing-fast swing-medium
  arpeggio, then the fifth of the next chord
walking-scale-step: 1 3 5 s+
  major minor dominant | beginner | country-two swing-fast swing-medium
  arpeggio, then a scale step over the next root
walking-scale-below: 1 2 3 h-
  major minor dominant | intermediate | swing-fast swing-medium
  scale steps, then a half-step from below
walking-double-below: 1 5 w- h-
  major minor dominant half-diminished | advanced | swing-fast swing-medium
  two chromatic steps up into the next root
walking-double-above: 1 3 w+ h+
  major minor dominant half-diminished | advanced | swing-fast swing-medium
  two chromatic steps down into the next root
walking-enclosure: 1 5 s+ h-
  major minor dominant half-diminished | advanced | swing-fast swing-medium
  over, under, then the next root
two-beat-below: 1 h-
  any | intermediate | ballad-two swing-fast swing-medium
  two beats to a chord: root and half-step under the next
two-beat-above: 1 h+
  any | intermediate | ballad-two bossa-nova swing-fast swing-medium
  two beats to a chord: root and half-step over the next
two-beat-dominant: 1 d+
  any | intermediate | ballad-two country-two swing-fast swing-medium
  two beats to a chord: root and the next chord's fifth
third-approached: 1 h- 3 5
  major minor dominant | intermediate | shuffle soul-eighths swing-fast swing-medium
  half-step under the third on a weak beat
fifth-approached: 1 3 h- 5
  major minor dominant | intermediate | shuffle soul-eighths swing-fast swing-medium
  half-step under the fifth
fifth-enclosed: 1 s+ h- 5
  major minor dominant | advanced | swing-fast swing-medium technique
  the fifth heard from both sides
third-enclosed: 1 s+ h- 3
  major minor dominant | advanced | swing-fast swing-medium technique
  the third heard from both sides
root-enclosed: s+ h- 1
  major minor dominant half-diminished | advanced | swing-fast swing-medium technique
  pick-up round the root from both sides
chromatic-root-pickup: w- h- 1
  any | intermediate | disco-octaves funk-sixteenths gospel-twelve soul-eighths swing-fast swing-medium
  slide of two half-steps into the root
tumbao-anticipated: 5 >1
  major minor dominant suspended | advanced | cha-cha-cha tumbao
  no downbeat: fifth on the and of two, next root on four, tied over
tumbao-octave: 5 8 >1
  major minor dominant | advanced | tumbao
  fifth, octave, then the next root early
tumbao-third: 3 5 >1
  major minor dominant | advanced | ballad-two tumbao
  third and fifth, then the next root early
tumbao-approached: 5 h- >1
  major minor dominant | advanced | tumbao
  the anticipation itself approached from below
bossa-root-fifth: 1 5 5 1
  any | beginner | bossa-nova
  root, fifth before the middle, fifth, root before the bar line
bossa-low-fifth: 1 v5 v5 1
  any | beginner | bossa-nova samba
  the same with the fifth below
bossa-anticipated: 1 5 5 >1
  any | intermediate | bossa-nova samba
  the last note belongs to the next chord
samba-surdo: v5 1
  any | beginner | samba
  low note on two: fifth first, root on the heavy beat
reggae-triad-drop: 8 5 3 1
  major minor dominant | intermediate | one-drop steppers
  falls through the triad after an empty downbeat
reggae-low-answer: 1 v5 v7 1
  minor dominant | intermediate | one-drop steppers
  answers the root from below
reggae-fifth-first: 5 3 1
  major minor | intermediate | one-drop steppers
  starts away from the root, lands on it late
waltz-root-fifth-fifth: 1 5 5
  any | beginner | jazz-waltz waltz
  the plainest three
waltz-root-fifth-third: 1 v5 v3
  major minor dominant | beginner | jazz-waltz waltz
  three that leads on by step
waltz-approach: 1 5 h-
  any | intermediate | jazz-waltz
  two for the chord, one for the next
country-walk-up: 1 v5 2 3
  major dominant | beginner | country-two
  root and fifth, then a walk to the chord a fourth up
rock-four-five: 1 4 5
  major minor power dominant | beginner | half-time rock-eighths shuffle
  riff on the fourth and fifth
phrygian-neighbour: 1 b2 1
  minor power | intermediate | half-time rock-eighths
  half-step over the root: dark and narrow
tenth: 1 10
  major minor dominant | intermediate | ballad-two soul-eighths
  root and the third above the octave: wide and sweet
root-fifth-tenth: 1 5 10
  major minor dominant | intermediate | ballad-two gospel-twelve six-eight soul-eighths
  open triad over an octave and a third
root-fifth-ninth: 1 5 9
  major minor | advanced | ballad-two hip-hop
  stacked fifths: no third, modern colour
guide-tones-up: 3 7
  major minor dominant half-diminished minor-major | advanced | ballad-two swing-fast swing-medium technique
  the two notes that name the chord
guide-tones-down: 7 3
  major minor dominant half-diminished minor-major | advanced | ballad-two swing-fast swing-medium technique
  the same, for the chord a fifth on
line-down-minor: 8 n7 b7 n6
  minor minor-major | intermediate | ballad-two bossa-nova
  chromatic inner line over a standing minor chord
line-up-major: 5 #5 6 #5
  major | intermediate | ballad-two bossa-nova rock-eighths
  chromatic inner line over a standing major chord
diminished-climb: 1 3 5 7 8
  diminished | intermediate | swing-fast swing-medium technique
  minor thirds to the octave
whole-tone-climb: 1 2 3 #4 #5
  augmented | advanced | swing-fast swing-medium technique
  whole steps over an augmented chord
arpeggio-up-scale-down: 1 3 5 7 6 5 4 3
  major minor dominant half-diminished | intermediate | technique
  one bar of eighths a chord; the last note steps to the next root of the scale
arpeggio-up-scale-down-octave: 1 3 5 7 8 7 6 5 4 3 2 1
  major minor dominant half-diminished | beginner | technique
  up the seventh chord to the octave, down the mode
arpeggio-to-ninth-scale-down: 1 3 5 7 9 8 7 6 5 4 3 2
  major minor dominant half-diminished | advanced | technique
  the same with the ninth at the top
scale-up-arpeggio-down: 1 2 3 4 5 6 7 8 7 5 3 1
  major minor dominant half-diminished | intermediate | technique
  the reverse exercise
scale-up: 1 2 3 4 5 6 7 8
  major minor dominant half-diminished minor-major | beginner | country-two technique
  one octave of the chord's scale
scale-down: 8 7 6 5 4 3 2 1
  major minor dominant half-diminished minor-major | beginner | swing-fast swing-medium technique
  one octave down
scale-in-thirds-up: 1 3 2 4 3 5 4 6 5 7 6 8 7 9 8
  major minor dominant half-diminished | intermediate | technique
  every third of the scale, ending on the octave
scale-in-thirds-down: 8 6 7 5 6 4 5 3 4 2 3 1 2 v7 1
  major minor dominant half-diminished | intermediate | technique
  the same falling
scale-in-fourths: 1 4 2 5 3 6 4 7 5 8
  major minor dominant | advanced | technique
  fourths across neighbouring strings
scale-in-sixths: 1 6 2 7 3 8
  major minor dominant | advanced | technique
  string skipping
scale-in-threes: 1 2 3 2 3 4 3 4 5 4 5 6 5 6 7 6 7 8
  major minor dominant | intermediate | technique
  groups of three, for triplets
scale-in-fours: 1 2 3 4 2 3 4 5 3 4 5 6 4 5 6 7 5 6 7 8
  major minor dominant | intermediate | technique
  groups of four, for sixteenths
bebop-dominant-fall: 8 n7 b7 6 5 4 3 2
  dominant | advanced | swing-fast swing-medium technique
  eight-note scale: 8 b7 5 3 fall on the beats in eighths
altered-fall: 8 b7 b6 b5 3 #2 b2 1
  dominant | advanced | swing-fast swing-medium
  altered scale down to the root of a dominant that resolves
`

/** All degree patterns, in the order of the table. */
export const PATTERNS: readonly Pattern[] = TABLE.trim()
  .split(/\n(?! )/)
  .map((card) => {
    const [head, facts, purpose] = card.split('\n  ') as [string, string, string]
    const [id, text] = head.split(': ') as [string, string]
    const [families, level, feels] = facts.split(' | ') as [string, Pattern['level'], string]
    const reading = parsePattern(text)
    if (!reading.ok) throw new RangeError(`pattern ${id}: ${reading.message}`)
    return {
      id,
      text,
      tokens: reading.tokens,
      families: families === 'any' ? 'any' : (families.split(' ') as ChordFamily[]),
      feels: feels === 'all' ? 'all' : feels.split(' '),
      level,
      purpose,
    }
  })

const BY_ID: ReadonlyMap<string, Pattern> = new Map(PATTERNS.map((pattern) => [pattern.id, pattern]))

/** The pattern with an id; `undefined` if there is none. */
export function patternOf(id: string): Pattern | undefined {
  return BY_ID.get(id)
}

/** The pattern that a name says: an id, or a pattern of the player's own in its notation; `undefined` if it is neither. */
export function patternNamed(name: string): Pattern | undefined {
  const known = patternOf(name)
  if (known) return known
  const reading = parsePattern(name)
  return reading.ok ? ownPattern(name, reading.tokens) : undefined
}
