import { type Degree, parseDegree } from './degree.ts'

/** What a chord is at heart, for patterns and approaches that ask no more. */
export type ChordFamily =
  | 'major'
  | 'minor'
  | 'dominant'
  | 'half-diminished'
  | 'diminished'
  | 'augmented'
  | 'suspended'
  | 'power'
  | 'minor-major'

/** A chord quality with everything that the builder asks of it. */
export interface ChordQuality {
  readonly id: string
  /** the one suffix we print, in ASCII; one that begins with an accidental stands in parentheses, so that it cannot stick to the root */
  readonly suffix: string
  readonly name: string
  /** the tones of the chord, rising */
  readonly degrees: readonly Degree[]
  readonly family: ChordFamily
  /** the third (or what stands for it) and the seventh (or the sixth); none in a power chord */
  readonly guideTones: readonly Degree[]
  /** the chord's tones, best first, for a bass line */
  readonly bassRank: readonly Degree[]
  /** what the default scale adds without a clash */
  readonly tensions: readonly Degree[]
  /** tensions in use that the default scale does not hold */
  readonly tensionsOutside: readonly Degree[]
  /** notes of the default scale that clash when held */
  readonly avoid: readonly Degree[]
  /** the third or seventh that the chord leaves open and the scale supplies */
  readonly open: readonly Degree[]
  /** id of the default scale, when key and function are unknown */
  readonly scale: string
  /** ids of other scales in use */
  readonly scalesAlso: readonly string[]
}

/**
 * The qualities: id = suffix | degrees | family | scale | other scales, and under it guide tones | bass rank | tensions |
 * tensions outside | avoid | open | name.
 *
 * Source: degrees of the common qualities as MusicXML 4.0 words its `kind` values (w3c/musicxml, musicxml.xsd); avoid notes by the
 * usual definition, a scale note a half-step above a chord tone, but for b9, #9 and b13 over a dominant; ranks, families and default
 * scales are common practice, no source.
 */
const TABLE = `
major =  | 1 3 5 | major | major | lydian mixolydian major-pentatonic
  3 | 1 5 3 | 9 13 |  | 11 | 7 | major triad
minor = m | 1 b3 5 | minor | aeolian | dorian phrygian harmonic-minor minor-pentatonic
  b3 | 1 5 b3 | 9 11 |  | b13 | b7 | minor triad
augmented = aug | 1 3 #5 | augmented | whole-tone | lydian-augmented augmented-hexatonic
  3 #5 | 1 #5 3 | 9 #11 |  |  | b7 | augmented triad
diminished = dim | 1 b3 b5 | diminished | whole-half | locrian
  b3 b5 | 1 b5 b3 | 9 11 b13 7 |  |  | bb7 | diminished triad
power = 5 | 1 5 | power | minor-pentatonic | major-pentatonic mixolydian aeolian
   | 1 5 | 11 |  |  | b3 b7 | power chord (root and fifth)
major-flat-five = (b5) | 1 3 b5 | major | lydian | whole-tone lydian-dominant
  3 | 1 3 b5 | 9 13 |  |  | 7 | major triad, flat five
minor-sharp-five = m#5 | 1 b3 #5 | minor | aeolian | phrygian
  b3 | 1 b3 #5 | 9 11 |  |  | b7 | minor triad, sharp five
sus4 = sus4 | 1 4 5 | suspended | mixolydian | major aeolian
  4 | 1 5 4 | 9 13 |  |  | 3 b7 | suspended fourth
sus2 = sus2 | 1 2 5 | suspended | major | mixolydian aeolian
  2 | 1 5 2 | 11 13 |  |  | 3 7 | suspended second
sus2-sus4 = sus2sus4 | 1 2 4 5 | suspended | mixolydian | major aeolian
  4 | 1 5 4 2 | 13 |  |  | 3 b7 | suspended second and fourth
add-9 = add9 | 1 3 5 9 | major | major | lydian mixolydian
  3 | 1 5 3 9 | 13 |  | 11 | 7 | major triad, added ninth
minor-add-9 = m(add9) | 1 b3 5 9 | minor | aeolian | dorian melodic-minor
  b3 | 1 5 b3 9 | 11 |  | b13 | b7 | minor triad, added ninth
add-11 = add11 | 1 3 5 11 | major | major | mixolydian
  3 | 1 5 3 11 | 9 13 |  |  | 7 | major triad, added eleventh
minor-add-11 = m(add11) | 1 b3 5 11 | minor | aeolian | dorian
  b3 | 1 5 b3 11 | 9 |  | b13 | b7 | minor triad, added eleventh
add-sharp-11 = (#11) | 1 3 5 #11 | major | lydian | lydian-dominant
  3 | 1 5 3 #11 | 9 13 |  |  | 7 | major triad, added sharp eleventh
minor-flat-6 = m(b6) | 1 b3 5 b6 | minor | aeolian | harmonic-minor phrygian
  b3 | 1 5 b3 b6 | 9 11 |  |  | b7 | minor triad, added flat sixth
major-6 = 6 | 1 3 5 6 | major | major | lydian major-pentatonic bebop-major
  3 6 | 1 5 3 6 | 9 | #11 | 11 | 7 | major sixth
six-nine = 6/9 | 1 3 5 6 9 | major | major | lydian major-pentatonic
  3 6 | 1 5 3 6 9 |  | #11 | 11 | 7 | six-nine
six-nine-sharp-11 = 6/9#11 | 1 3 5 6 9 #11 | major | lydian | 
  3 6 | 1 5 3 6 9 #11 |  |  |  | 7 | six-nine, sharp eleventh
minor-6 = m6 | 1 b3 5 6 | minor | dorian | melodic-minor minor-6-pentatonic
  b3 6 | 1 5 b3 6 | 9 11 |  |  | b7 | minor sixth
minor-six-nine = m6/9 | 1 b3 5 6 9 | minor | dorian | melodic-minor
  b3 6 | 1 5 b3 6 9 | 11 |  |  | b7 | minor six-nine
major-7 = maj7 | 1 3 5 7 | major | major | lydian bebop-major major-pentatonic
  3 7 | 1 5 3 7 | 9 13 | #11 | 11 |  | major seventh
major-9 = maj9 | 1 3 5 7 9 | major | major | lydian
  3 7 | 1 5 3 7 9 | 13 | #11 | 11 |  | major ninth
major-11 = maj11 | 1 3 5 7 9 11 | major | major | 
  3 7 | 1 5 3 7 9 11 | 13 |  |  |  | major eleventh
major-13 = maj13 | 1 3 5 7 9 13 | major | major | lydian
  3 7 | 1 5 3 7 9 13 |  | #11 | 11 |  | major thirteenth
major-7-sharp-11 = maj7#11 | 1 3 5 7 #11 | major | lydian | 
  3 7 | 1 5 3 7 #11 | 9 13 |  |  |  | major seventh, sharp eleventh
major-9-sharp-11 = maj9#11 | 1 3 5 7 9 #11 | major | lydian | 
  3 7 | 1 5 3 7 9 #11 | 13 |  |  |  | major ninth, sharp eleventh
major-13-sharp-11 = maj13#11 | 1 3 5 7 9 #11 13 | major | lydian | 
  3 7 | 1 5 3 7 9 13 #11 |  |  |  |  | major thirteenth, sharp eleventh
major-7-sharp-5 = maj7#5 | 1 3 #5 7 | augmented | lydian-augmented | augmented-hexatonic ionian-augmented
  3 7 | 1 #5 3 7 | 9 #11 |  | 13 |  | major seventh, sharp five
major-9-sharp-5 = maj9#5 | 1 3 #5 7 9 | augmented | lydian-augmented | ionian-augmented
  3 7 | 1 #5 3 7 9 | #11 |  | 13 |  | major ninth, sharp five
major-7-flat-5 = maj7b5 | 1 3 b5 7 | major | lydian | 
  3 7 | 1 3 7 b5 | 9 13 |  |  |  | major seventh, flat five
major-7-sus4 = maj7sus4 | 1 4 5 7 | suspended | major | 
  4 7 | 1 5 4 7 | 9 13 |  |  | 3 | major seventh, suspended fourth
minor-7 = m7 | 1 b3 5 b7 | minor | dorian | aeolian phrygian minor-pentatonic bebop-dorian
  b3 b7 | 1 5 b3 b7 | 9 11 13 |  |  |  | minor seventh
minor-9 = m9 | 1 b3 5 b7 9 | minor | dorian | aeolian
  b3 b7 | 1 5 b3 b7 9 | 11 13 |  |  |  | minor ninth
minor-11 = m11 | 1 b3 5 b7 9 11 | minor | dorian | aeolian
  b3 b7 | 1 5 b3 b7 9 11 | 13 |  |  |  | minor eleventh
minor-13 = m13 | 1 b3 5 b7 9 11 13 | minor | dorian | 
  b3 b7 | 1 5 b3 b7 9 13 11 |  |  |  |  | minor thirteenth
minor-7-add-11 = m7(add11) | 1 b3 5 b7 11 | minor | dorian | aeolian phrygian minor-pentatonic
  b3 b7 | 1 5 b3 b7 11 | 9 13 |  |  |  | minor seventh, added eleventh
minor-7-flat-13 = m7(b13) | 1 b3 5 b7 b13 | minor | aeolian | phrygian
  b3 b7 | 1 5 b3 b7 b13 | 9 11 |  |  |  | minor seventh, flat thirteenth
minor-7-sharp-5 = m7#5 | 1 b3 #5 b7 | minor | aeolian | phrygian
  b3 b7 | 1 b3 b7 #5 | 9 11 |  |  |  | minor seventh, sharp five
half-diminished = m7b5 | 1 b3 b5 b7 | half-diminished | locrian | locrian-natural-2 locrian-natural-6
  b3 b7 | 1 b5 b3 b7 | 11 b13 | 9 | b9 |  | half-diminished seventh
half-diminished-9 = m9b5 | 1 b3 b5 b7 9 | half-diminished | locrian-natural-2 | 
  b3 b7 | 1 b5 b3 b7 9 | 11 b13 |  |  |  | half-diminished, natural ninth
half-diminished-11 = m11b5 | 1 b3 b5 b7 9 11 | half-diminished | locrian-natural-2 | 
  b3 b7 | 1 b5 b3 b7 9 11 | b13 |  |  |  | half-diminished eleventh
diminished-7 = dim7 | 1 b3 b5 bb7 | diminished | whole-half | altered-diminished
  b3 bb7 | 1 b5 b3 bb7 | 9 11 b13 7 |  |  |  | diminished seventh
diminished-9 = dim9 | 1 b3 b5 bb7 9 | diminished | whole-half | 
  b3 bb7 | 1 b5 b3 bb7 9 | 11 b13 7 |  |  |  | diminished seventh, added ninth
diminished-major-7 = dim(maj7) | 1 b3 b5 7 | diminished | whole-half | 
  b3 7 | 1 b5 b3 7 | 9 11 b13 |  |  | bb7 | diminished triad, major seventh
minor-major-7 = m(maj7) | 1 b3 5 7 | minor-major | melodic-minor | harmonic-minor
  b3 7 | 1 5 b3 7 | 9 11 13 |  |  |  | minor, major seventh
minor-major-9 = m(maj9) | 1 b3 5 7 9 | minor-major | melodic-minor | harmonic-minor
  b3 7 | 1 5 b3 7 9 | 11 13 |  |  |  | minor, major seventh and ninth
dominant-7 = 7 | 1 3 5 b7 | dominant | mixolydian | lydian-dominant bebop-dominant half-whole altered whole-tone phrygian-dominant blues
  3 b7 | 1 5 3 b7 | 9 13 | b9 #9 #11 b13 | 11 |  | dominant seventh
dominant-9 = 9 | 1 3 5 b7 9 | dominant | mixolydian | lydian-dominant bebop-dominant
  3 b7 | 1 5 3 b7 9 | 13 | #11 b13 | 11 |  | dominant ninth
dominant-11 = 11 | 1 5 b7 9 11 | suspended | mixolydian | 
  11 b7 | 1 5 11 b7 9 | 13 |  |  | 3 | dominant eleventh (no third)
dominant-13 = 13 | 1 3 5 b7 9 13 | dominant | mixolydian | lydian-dominant bebop-dominant
  3 b7 | 1 5 3 b7 9 13 |  | #11 | 11 |  | dominant thirteenth
dominant-7-add-11 = 7(add11) | 1 3 5 b7 11 | dominant | mixolydian | 
  3 b7 | 1 5 3 b7 11 | 9 13 |  |  |  | dominant seventh, added eleventh
dominant-7-add-13 = 7(add13) | 1 3 5 b7 13 | dominant | mixolydian | lydian-dominant half-whole
  3 b7 | 1 5 3 b7 13 | 9 | b9 #9 #11 | 11 |  | dominant seventh, added thirteenth
dominant-7-sus4 = 7sus4 | 1 4 5 b7 | suspended | mixolydian | dorian phrygian
  4 b7 | 1 5 4 b7 | 9 13 |  |  | 3 | dominant seventh, suspended fourth
dominant-9-sus4 = 9sus4 | 1 4 5 b7 9 | suspended | mixolydian | dorian
  4 b7 | 1 5 4 b7 9 | 13 |  |  | 3 | dominant ninth, suspended fourth
dominant-13-sus4 = 13sus4 | 1 4 5 b7 9 13 | suspended | mixolydian | dorian
  4 b7 | 1 5 4 b7 9 13 |  |  |  | 3 | dominant thirteenth, suspended fourth
dominant-7-sus2 = 7sus2 | 1 2 5 b7 | suspended | mixolydian | dorian
  2 b7 | 1 5 2 b7 | 11 13 |  |  | 3 | dominant seventh, suspended second
suspended-flat-9 = 7sus4b9 | 1 4 5 b7 b9 | suspended | phrygian | dorian-flat-2
  4 b7 | 1 5 4 b7 b9 |  |  | b13 | b3 | dominant seventh, suspended fourth, flat ninth
suspended-13-flat-9 = 13sus4b9 | 1 4 5 b7 b9 13 | suspended | dorian-flat-2 | 
  4 b7 | 1 5 4 b7 13 b9 |  |  |  | b3 | dominant thirteenth, suspended fourth, flat ninth
dominant-7-flat-5 = 7b5 | 1 3 b5 b7 | dominant | whole-tone | lydian-dominant altered half-whole
  3 b7 | 1 3 b7 b5 | 9 b13 | b9 #9 13 |  |  | dominant seventh, flat five
dominant-7-sharp-5 = 7#5 | 1 3 #5 b7 | dominant | whole-tone | altered mixolydian-flat-6
  3 b7 | 1 3 b7 #5 | 9 #11 | b9 #9 |  |  | augmented seventh
dominant-9-flat-5 = 9b5 | 1 3 b5 b7 9 | dominant | whole-tone | lydian-dominant
  3 b7 | 1 3 b7 b5 9 | b13 | 13 |  |  | dominant ninth, flat five
dominant-9-sharp-5 = 9#5 | 1 3 #5 b7 9 | dominant | whole-tone | mixolydian-flat-6
  3 b7 | 1 3 b7 #5 9 | #11 |  |  |  | augmented ninth
dominant-7-flat-9 = 7b9 | 1 3 5 b7 b9 | dominant | half-whole | phrygian-dominant altered
  3 b7 | 1 5 3 b7 b9 | #9 #11 13 | b13 |  |  | dominant seventh, flat ninth
dominant-7-sharp-9 = 7#9 | 1 3 5 b7 #9 | dominant | half-whole | altered minor-pentatonic blues
  3 b7 | 1 5 3 b7 #9 | b9 #11 13 | b13 |  |  | dominant seventh, sharp ninth
dominant-7-flat-9-sharp-9 = 7b9#9 | 1 3 5 b7 b9 #9 | dominant | half-whole | altered
  3 b7 | 1 5 3 b7 b9 #9 | #11 13 | b13 |  |  | dominant seventh, flat and sharp ninth
dominant-7-sharp-11 = 7#11 | 1 3 5 b7 #11 | dominant | lydian-dominant | half-whole
  3 b7 | 1 5 3 b7 #11 | 9 13 | b9 #9 |  |  | dominant seventh, sharp eleventh
dominant-9-sharp-11 = 9#11 | 1 3 5 b7 9 #11 | dominant | lydian-dominant | 
  3 b7 | 1 5 3 b7 9 #11 | 13 |  |  |  | dominant ninth, sharp eleventh
dominant-13-sharp-11 = 13#11 | 1 3 5 b7 9 #11 13 | dominant | lydian-dominant | 
  3 b7 | 1 5 3 b7 9 13 #11 |  |  |  |  | dominant thirteenth, sharp eleventh
dominant-7-flat-13 = 7b13 | 1 3 b7 b13 | dominant | mixolydian-flat-6 | phrygian-dominant altered whole-tone
  3 b7 | 1 3 b7 b13 | 9 | b9 #9 #11 | 11 |  | dominant seventh, flat thirteenth
dominant-9-flat-13 = 9b13 | 1 3 b7 9 b13 | dominant | mixolydian-flat-6 | whole-tone
  3 b7 | 1 3 b7 9 b13 |  | #11 | 11 |  | dominant ninth, flat thirteenth
dominant-13-flat-9 = 13b9 | 1 3 5 b7 b9 13 | dominant | half-whole | 
  3 b7 | 1 5 3 b7 13 b9 | #9 #11 |  |  |  | dominant thirteenth, flat ninth
dominant-13-sharp-9 = 13#9 | 1 3 5 b7 #9 13 | dominant | half-whole | 
  3 b7 | 1 5 3 b7 13 #9 | b9 #11 |  |  |  | dominant thirteenth, sharp ninth
dominant-7-flat-9-sharp-11 = 7b9#11 | 1 3 5 b7 b9 #11 | dominant | half-whole | 
  3 b7 | 1 5 3 b7 #11 b9 | #9 13 |  |  |  | dominant seventh, flat ninth, sharp eleventh
dominant-7-sharp-9-sharp-11 = 7#9#11 | 1 3 5 b7 #9 #11 | dominant | half-whole | 
  3 b7 | 1 5 3 b7 #11 #9 | b9 13 |  |  |  | dominant seventh, sharp ninth, sharp eleventh
dominant-13-flat-9-sharp-11 = 13b9#11 | 1 3 5 b7 b9 #11 13 | dominant | half-whole | 
  3 b7 | 1 5 3 b7 13 #11 b9 | #9 |  |  |  | dominant thirteenth, flat ninth, sharp eleventh
dominant-13-sharp-9-sharp-11 = 13#9#11 | 1 3 5 b7 #9 #11 13 | dominant | half-whole | 
  3 b7 | 1 5 3 b7 13 #11 #9 | b9 |  |  |  | dominant thirteenth, sharp ninth, sharp eleventh
dominant-7-flat-5-flat-9 = 7b5b9 | 1 3 b5 b7 b9 | dominant | altered | half-whole
  3 b7 | 1 3 b7 b5 b9 | #9 b13 |  |  |  | dominant seventh, flat five, flat ninth
dominant-7-flat-5-sharp-9 = 7b5#9 | 1 3 b5 b7 #9 | dominant | altered | half-whole
  3 b7 | 1 3 b7 b5 #9 | b9 b13 |  |  |  | dominant seventh, flat five, sharp ninth
dominant-7-sharp-5-flat-9 = 7#5b9 | 1 3 #5 b7 b9 | dominant | altered | phrygian-dominant
  3 b7 | 1 3 b7 #5 b9 | #9 #11 |  |  |  | augmented seventh, flat ninth
dominant-7-sharp-5-sharp-9 = 7#5#9 | 1 3 #5 b7 #9 | dominant | altered | 
  3 b7 | 1 3 b7 #5 #9 | b9 #11 |  |  |  | augmented seventh, sharp ninth
dominant-7-flat-9-flat-13 = 7b9b13 | 1 3 b7 b9 b13 | dominant | phrygian-dominant | altered
  3 b7 | 1 3 b7 b13 b9 |  |  | 11 |  | dominant seventh, flat ninth, flat thirteenth
dominant-7-sharp-9-flat-13 = 7#9b13 | 1 3 b7 #9 b13 | dominant | altered | 
  3 b7 | 1 3 b7 b13 #9 | b9 #11 |  |  |  | dominant seventh, sharp ninth, flat thirteenth
altered = 7alt | 1 3 b5 #5 b7 b9 #9 | dominant | altered | half-whole
  3 b7 | 1 3 b7 #5 b5 b9 #9 |  |  |  |  | altered dominant
`

function degreesOf(text: string): readonly Degree[] {
  return text
    .split(' ')
    .filter((word) => word !== '')
    .map((word) => parseDegree(word)!)
}

/** All qualities that have a row, in the order of the table: triads, sixths, sevenths, dominants. */
export const CHORD_QUALITIES: readonly ChordQuality[] = TABLE.trim()
  .split(/\n(?! )/)
  .map((row) => {
    const [head, tail] = row.split('\n') as [string, string]
    const [id, rest] = split(head, ' = ')
    const [suffix, degrees, family, scale, also] = rest.split('|').map((cell) => cell.trim()) as string[]
    const [guides, rank, tensions, outside, avoid, open, name] = tail.split('|').map((cell) => cell.trim()) as string[]
    return {
      id,
      suffix: suffix!,
      name: name!,
      degrees: degreesOf(degrees!),
      family: family as ChordFamily,
      guideTones: degreesOf(guides!),
      bassRank: degreesOf(rank!),
      tensions: degreesOf(tensions!),
      tensionsOutside: degreesOf(outside!),
      avoid: degreesOf(avoid!),
      open: degreesOf(open!),
      scale: scale!,
      scalesAlso: also!.split(' ').filter((word) => word !== ''),
    }
  })

function split(text: string, at: string): [string, string] {
  const index = text.indexOf(at)
  return [text.slice(0, index), text.slice(index + at.length)]
}
