import type { ChordSymbol } from './chord-symbol.ts'
import type { Key } from './key.ts'
import { pitchClassOfName } from './note-name.ts'
import { type PitchClass, pitchClassOf } from './pitch.ts'
import { bitsOf, type Scale } from './scale.ts'
import { scaleOf } from './scales.ts'

/** The mode on each step of a key, by semitones above the tonic: major; natural, harmonic and melodic minor. */
const MODES: Readonly<Record<Key['mode'], readonly (readonly (readonly [PitchClass, string])[])[]>> = {
  major: [
    [
      [0, 'major'],
      [2, 'dorian'],
      [4, 'phrygian'],
      [5, 'lydian'],
      [7, 'mixolydian'],
      [9, 'aeolian'],
      [11, 'locrian'],
    ],
  ],
  minor: [
    [
      [0, 'aeolian'],
      [2, 'locrian'],
      [3, 'major'],
      [5, 'dorian'],
      [7, 'phrygian'],
      [8, 'lydian'],
      [10, 'mixolydian'],
    ],
    [
      [0, 'harmonic-minor'],
      [2, 'locrian-natural-6'],
      [3, 'ionian-augmented'],
      [5, 'dorian-sharp-4'],
      [7, 'phrygian-dominant'],
      [8, 'lydian-sharp-2'],
      [11, 'altered-diminished'],
    ],
    [
      [0, 'melodic-minor'],
      [2, 'dorian-flat-2'],
      [3, 'lydian-augmented'],
      [5, 'lydian-dominant'],
      [7, 'mixolydian-flat-6'],
      [9, 'locrian-natural-2'],
      [11, 'altered'],
    ],
  ],
}

/**
 * The scale of a chord at its place: the mode of its step where it belongs to the key; phrygian dominant where a dominant falls a
 * fifth to a minor chord; mixolydian for I7 and IV7 of the key, unless they fall a half-step; lydian dominant where a dominant does
 * not fall a fifth; else the default of its quality. A scale that lacks a tone of the chord is never taken.
 *
 * Source: common practice, no source.
 *
 * @param next  the chord after it, if it is another one
 */
export function chooseScale(
  symbol: ChordSymbol,
  place: { key?: Key | undefined; next?: ChordSymbol | undefined },
): Scale {
  const { quality } = symbol
  const usual = scaleOf(quality.scale)!
  const tones = bitsOf(symbol.degrees)
  const holds = (id: string): Scale | undefined => {
    const scale = scaleOf(id)!
    return (bitsOf(scale.degrees) & tones) === tones ? scale : undefined
  }
  const rootPc = pitchClassOfName(symbol.root)
  const dominant = quality.family === 'dominant'
  const fall = place.next && pitchClassOf(rootPc - pitchClassOfName(place.next.root))
  if (place.key) {
    const step = pitchClassOf(rootPc - pitchClassOfName(place.key.tonic))
    for (const family of MODES[place.key.mode]) {
      const mode = family.find(([at]) => at === step)
      const scale = mode && holds(mode[1])
      if (scale) return scale
    }
    // F7 before E7 stands for B7, whatever the key.
    if (dominant && fall !== 1 && (step === 0 || step === 5)) return holds('mixolydian') ?? usual
  }
  if (!dominant || !place.next) return usual
  if (fall === 7) {
    const minor = ['minor', 'half-diminished', 'minor-major'].includes(place.next.quality.family)
    return (minor && holds('phrygian-dominant')) || usual
  }
  return fall === 0 ? usual : (holds('lydian-dominant') ?? usual)
}
