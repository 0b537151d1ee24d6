import { parseDegree } from './degree.ts'
import type { Scale } from './scale.ts'

/**
 * The scales: id = degrees | name.
 *
 * Source: modes of major, melodic minor and harmonic minor by their definitions; pentatonic, blues, symmetric and eight-note scales as
 * public reference pages give them (wikipedia.org, "Bebop scale"; recordingblogs.com); names are common practice, no source.
 */
const TABLE = `
major = 1 2 3 4 5 6 7 | major (ionian)
dorian = 1 2 b3 4 5 6 b7 | dorian
phrygian = 1 b2 b3 4 5 b6 b7 | phrygian
lydian = 1 2 3 #4 5 6 7 | lydian
mixolydian = 1 2 3 4 5 6 b7 | mixolydian
aeolian = 1 2 b3 4 5 b6 b7 | aeolian (natural minor)
locrian = 1 b2 b3 4 b5 b6 b7 | locrian
melodic-minor = 1 2 b3 4 5 6 7 | melodic minor, the same up and down
dorian-flat-2 = 1 b2 b3 4 5 6 b7 | dorian flat 2
lydian-augmented = 1 2 3 #4 #5 6 7 | lydian augmented
lydian-dominant = 1 2 3 #4 5 6 b7 | lydian dominant
mixolydian-flat-6 = 1 2 3 4 5 b6 b7 | mixolydian flat 6
locrian-natural-2 = 1 2 b3 4 b5 b6 b7 | locrian natural 2
altered = 1 b2 #2 3 b5 #5 b7 | altered (superlocrian)
harmonic-minor = 1 2 b3 4 5 b6 7 | harmonic minor
locrian-natural-6 = 1 b2 b3 4 b5 6 b7 | locrian natural 6
ionian-augmented = 1 2 3 4 #5 6 7 | ionian augmented
dorian-sharp-4 = 1 2 b3 #4 5 6 b7 | dorian sharp 4
phrygian-dominant = 1 b2 3 4 5 b6 b7 | phrygian dominant
lydian-sharp-2 = 1 #2 3 #4 5 6 7 | lydian sharp 2
altered-diminished = 1 b2 b3 b4 b5 b6 bb7 | altered diminished
whole-half = 1 2 b3 4 b5 b6 bb7 7 | diminished, whole step first
half-whole = 1 b2 #2 3 #4 5 6 b7 | diminished, half step first
whole-tone = 1 2 3 #4 #5 b7 | whole tone
augmented-hexatonic = 1 #2 3 5 #5 7 | augmented, minor third first
chromatic = 1 b2 2 b3 3 4 b5 5 b6 6 b7 7 | chromatic
major-pentatonic = 1 2 3 5 6 | major pentatonic
minor-pentatonic = 1 b3 4 5 b7 | minor pentatonic
blues = 1 b3 4 b5 5 b7 | blues
major-blues = 1 2 b3 3 5 6 | major blues
minor-6-pentatonic = 1 b3 4 5 6 | minor pentatonic with 6
dominant-pentatonic = 1 2 3 5 b7 | dominant pentatonic
suspended-pentatonic = 1 2 4 5 b7 | suspended pentatonic
half-diminished-pentatonic = 1 b3 4 b5 b7 | half-diminished pentatonic
bebop-major = 1 2 3 4 5 #5 6 7 | bebop major
bebop-dominant = 1 2 3 4 5 6 b7 7 | bebop dominant
bebop-dorian = 1 2 b3 3 4 5 6 b7 | bebop dorian
bebop-melodic-minor = 1 2 b3 4 5 #5 6 7 | bebop melodic minor
bebop-half-diminished = 1 b2 b3 4 b5 5 b6 b7 | bebop half-diminished
harmonic-major = 1 2 3 4 5 b6 7 | harmonic major
spanish-eight = 1 b2 b3 3 4 5 b6 b7 | phrygian with both thirds
`

/** All scales, the seven modes of major first. */
export const SCALES: readonly Scale[] = TABLE.trim()
  .split('\n')
  .map((row) => {
    const [id, degrees, name] = row.split(/ [=|] /) as [string, string, string]
    return { id, name, degrees: degrees.split(' ').map((word) => parseDegree(word)!) }
  })

const BY_ID = new Map(SCALES.map((scale) => [scale.id, scale]))

/** The scale of an id; `undefined` if there is none. */
export function scaleOf(id: string): Scale | undefined {
  return BY_ID.get(id)
}
