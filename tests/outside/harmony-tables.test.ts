import { Interval, Note, Scale, Key as TonalKey } from 'tonal'
import { describe, expect, test } from 'vitest'
import { parseDegree, semitonesOf } from '../../src/music/degree.ts'
import { parseKey, signatureOf } from '../../src/music/key.ts'
import { formatNoteName, letterAbove, nameUnder } from '../../src/music/note-name.ts'
import { pitchClassOf } from '../../src/music/pitch.ts'
import { chooseScale } from '../../src/music/scale-choice.ts'
import { SCALES, scaleOf } from '../../src/music/scales.ts'
import { spellPitch } from '../../src/music/spelling.ts'
import { chordOf, symbolOf } from '../support/chord-form.ts'

/** Sharps, major, minor on it, its scale, accidentals in their order. */
const KEYS = [
  [-7, 'Cb', 'Ab', 'Cb Db Eb Fb Gb Ab Bb', 'Bb Eb Ab Db Gb Cb Fb'],
  [-6, 'Gb', 'Eb', 'Gb Ab Bb Cb Db Eb F', 'Bb Eb Ab Db Gb Cb'],
  [-5, 'Db', 'Bb', 'Db Eb F Gb Ab Bb C', 'Bb Eb Ab Db Gb'],
  [-4, 'Ab', 'F', 'Ab Bb C Db Eb F G', 'Bb Eb Ab Db'],
  [-3, 'Eb', 'C', 'Eb F G Ab Bb C D', 'Bb Eb Ab'],
  [-2, 'Bb', 'G', 'Bb C D Eb F G A', 'Bb Eb'],
  [-1, 'F', 'D', 'F G A Bb C D E', 'Bb'],
  [0, 'C', 'A', 'C D E F G A B', ''],
  [1, 'G', 'E', 'G A B C D E F#', 'F#'],
  [2, 'D', 'B', 'D E F# G A B C#', 'F# C#'],
  [3, 'A', 'F#', 'A B C# D E F# G#', 'F# C# G#'],
  [4, 'E', 'C#', 'E F# G# A B C# D#', 'F# C# G# D#'],
  [5, 'B', 'G#', 'B C# D# E F# G# A#', 'F# C# G# D# A#'],
  [6, 'F#', 'D#', 'F# G# A# B C# D# E#', 'F# C# G# D# A# E#'],
  [7, 'C#', 'A#', 'C# D# E# F# G# A# B#', 'F# C# G# D# A# E# B#'],
] as const

// The circle of fifths, as any handbook prints it, and tonal 6.4.3 (https://github.com/tonaljs/tonal), Key.majorKey and minorKey.
describe('keys against the circle of fifths and tonal 6.4.3', () => {
  test.each(KEYS)('%i sharps: %s and %s minor', (sharps, major, minor, scale, accidentals) => {
    const key = parseKey(major)!
    expect(key.sharps).toBe(sharps)
    expect(parseKey(`${minor}m`)!.sharps).toBe(sharps)
    const names = signatureOf(key).map(formatNoteName)
    expect([...names].sort()).toEqual(scale.split(' ').sort())
    expect(names.filter((name) => name.length > 1).sort()).toEqual(accidentals.split(' ').filter(Boolean).sort())
    expect(signatureOf(parseKey(`${minor}m`)!)).toEqual(signatureOf(key))

    expect(TonalKey.majorKey(major).alteration).toBe(sharps)
    expect(TonalKey.majorKey(major).scale.join(' ')).toBe(scale)
    expect([...TonalKey.minorKey(minor).natural.scale].sort()).toEqual([...names].sort())
  })
})

/** Name, degree, semitones, short name, the note it is above C. */
const INTERVALS = [
  ['perfect unison', '1', 0, 'P1', 'C'],
  ['minor second', 'b2', 1, 'm2', 'Db'],
  ['major second', '2', 2, 'M2', 'D'],
  ['augmented second', '#2', 3, 'A2', 'D#'],
  ['minor third', 'b3', 3, 'm3', 'Eb'],
  ['major third', '3', 4, 'M3', 'E'],
  ['perfect fourth', '4', 5, 'P4', 'F'],
  ['augmented fourth', '#4', 6, 'A4', 'F#'],
  ['diminished fifth', 'b5', 6, 'd5', 'Gb'],
  ['perfect fifth', '5', 7, 'P5', 'G'],
  ['augmented fifth', '#5', 8, 'A5', 'G#'],
  ['minor sixth', 'b6', 8, 'm6', 'Ab'],
  ['major sixth', '6', 9, 'M6', 'A'],
  ['diminished seventh', 'bb7', 9, 'd7', 'Bbb'],
  ['minor seventh', 'b7', 10, 'm7', 'Bb'],
  ['major seventh', '7', 11, 'M7', 'B'],
  ['perfect octave', '8', 12, 'P8', 'C'],
  ['minor ninth', 'b9', 13, 'm9', 'Db'],
  ['major ninth', '9', 14, 'M9', 'D'],
  ['augmented ninth', '#9', 15, 'A9', 'D#'],
  ['minor tenth', 'b10', 15, 'm10', 'Eb'],
  ['major tenth', '10', 16, 'M10', 'E'],
  ['perfect eleventh', '11', 17, 'P11', 'F'],
  ['augmented eleventh', '#11', 18, 'A11', 'F#'],
  ['perfect twelfth', '12', 19, 'P12', 'G'],
  ['minor thirteenth', 'b13', 20, 'm13', 'Ab'],
  ['major thirteenth', '13', 21, 'M13', 'A'],
  ['two octaves', '15', 24, 'P15', 'C'],
] as const

// Interval names of the handbooks, and tonal 6.4.3, Interval and Note.transpose.
describe('degrees against named intervals and tonal 6.4.3', () => {
  test.each(INTERVALS)('%s: %s', (_, degree, semitones, short, above) => {
    const ours = parseDegree(degree)!
    expect(semitonesOf(ours)).toBe(semitones)
    expect(formatNoteName(nameUnder(letterAbove('C', ours.number - 1), pitchClassOf(semitones), 2)!)).toBe(above)

    const theirs = short.replace(/^(\D)(\d+)$/, '$2$1')
    expect(Interval.semitones(theirs)).toBe(semitones)
    expect(Note.transpose('C', theirs)).toBe(above)
  })
})

/** MIDI note, its name with flats and with sharps, hertz. */
const NOTES = [
  [23, 'B0', 'B0', 30.868],
  [24, 'C1', 'C1', 32.703],
  [25, 'Db1', 'C#1', 34.648],
  [26, 'D1', 'D1', 36.708],
  [27, 'Eb1', 'D#1', 38.891],
  [28, 'E1', 'E1', 41.203],
  [29, 'F1', 'F1', 43.654],
  [30, 'Gb1', 'F#1', 46.249],
  [31, 'G1', 'G1', 48.999],
  [32, 'Ab1', 'G#1', 51.913],
  [33, 'A1', 'A1', 55.0],
  [34, 'Bb1', 'A#1', 58.27],
  [35, 'B1', 'B1', 61.735],
  [36, 'C2', 'C2', 65.406],
  [37, 'Db2', 'C#2', 69.296],
  [38, 'D2', 'D2', 73.416],
  [39, 'Eb2', 'D#2', 77.782],
  [40, 'E2', 'E2', 82.407],
  [41, 'F2', 'F2', 87.307],
  [42, 'Gb2', 'F#2', 92.499],
  [43, 'G2', 'G2', 97.999],
  [44, 'Ab2', 'G#2', 103.826],
  [45, 'A2', 'A2', 110.0],
  [46, 'Bb2', 'A#2', 116.541],
  [47, 'B2', 'B2', 123.471],
  [48, 'C3', 'C3', 130.813],
  [49, 'Db3', 'C#3', 138.591],
  [50, 'D3', 'D3', 146.832],
  [51, 'Eb3', 'D#3', 155.563],
  [52, 'E3', 'E3', 164.814],
  [53, 'F3', 'F3', 174.614],
  [54, 'Gb3', 'F#3', 184.997],
  [55, 'G3', 'G3', 195.998],
  [56, 'Ab3', 'G#3', 207.652],
  [57, 'A3', 'A3', 220.0],
  [58, 'Bb3', 'A#3', 233.082],
  [59, 'B3', 'B3', 246.942],
  [60, 'C4', 'C4', 261.626],
  [61, 'Db4', 'C#4', 277.183],
  [62, 'D4', 'D4', 293.665],
  [63, 'Eb4', 'D#4', 311.127],
  [64, 'E4', 'E4', 329.628],
  [65, 'F4', 'F4', 349.228],
  [66, 'Gb4', 'F#4', 369.994],
  [67, 'G4', 'G4', 391.995],
  [68, 'Ab4', 'G#4', 415.305],
  [69, 'A4', 'A4', 440.0],
  [70, 'Bb4', 'A#4', 466.164],
  [71, 'B4', 'B4', 493.883],
  [72, 'C5', 'C5', 523.251],
] as const

// Scientific pitch (C4 = MIDI 60, A4 = 440 Hz, ISO 16): open strings of a bass as published, E1 41.20, A1 55.00, D2 73.42, G2 98.00 Hz
// (https://goodnames.eth.limo/wiki/Bass_guitar_tuning.html); names by tonal 6.4.3, Note.fromMidi and fromMidiSharps.
describe('note names and octaves against scientific pitch and tonal 6.4.3', () => {
  test.each(NOTES)('MIDI %i is %s, %s, %f Hz', (midi, flat, sharp, hertz) => {
    expect(Number((440 * 2 ** ((midi - 69) / 12)).toFixed(3))).toBe(hertz)
    expect(Note.fromMidi(midi)).toBe(flat)
    expect(Note.fromMidiSharps(midi)).toBe(sharp)
    for (const name of [flat, sharp]) expect(spellPitch(midi, { chord: chordOf(name.replace(/\d/, '')) })).toBe(name)
  })

  test('a name that is altered past its octave keeps the number of its letter', () => {
    for (const [root, number] of [
      ['Cb', 59],
      ['B#', 60],
      ['Cbb', 58],
    ] as const) {
      const name = spellPitch(number, { chord: chordOf(root) })
      expect(name.startsWith(root)).toBe(true)
      expect(Note.midi(name)).toBe(number)
    }
  })
})

/** Our scale and tonal's name of it. */
const TONAL_SCALES = [
  ['major', 'major'],
  ['dorian', 'dorian'],
  ['phrygian', 'phrygian'],
  ['lydian', 'lydian'],
  ['mixolydian', 'mixolydian'],
  ['aeolian', 'aeolian'],
  ['locrian', 'locrian'],
  ['melodic-minor', 'melodic minor'],
  ['dorian-flat-2', 'dorian b2'],
  ['lydian-augmented', 'lydian augmented'],
  ['lydian-dominant', 'lydian dominant'],
  ['mixolydian-flat-6', 'mixolydian b6'],
  ['locrian-natural-2', 'locrian #2'],
  ['altered', 'altered'],
  ['harmonic-minor', 'harmonic minor'],
  ['locrian-natural-6', 'locrian 6'],
  ['ionian-augmented', 'major augmented'],
  ['dorian-sharp-4', 'dorian #4'],
  ['phrygian-dominant', 'phrygian dominant'],
  ['lydian-sharp-2', 'lydian #9'],
  ['altered-diminished', 'ultralocrian'],
  ['whole-half', 'diminished'],
  ['half-whole', 'half-whole diminished'],
  ['whole-tone', 'whole tone'],
  ['augmented-hexatonic', 'augmented'],
  ['chromatic', 'chromatic'],
  ['major-pentatonic', 'major pentatonic'],
  ['minor-pentatonic', 'minor pentatonic'],
  ['blues', 'blues'],
  ['major-blues', 'major blues'],
  ['minor-6-pentatonic', 'minor six pentatonic'],
  ['suspended-pentatonic', 'egyptian'],
  ['half-diminished-pentatonic', 'locrian pentatonic'],
  ['bebop-major', 'bebop major'],
  ['bebop-dominant', 'bebop'],
  ['bebop-dorian', 'bebop minor'],
  ['bebop-melodic-minor', 'minor six diminished'],
  ['bebop-half-diminished', 'bebop locrian'],
  ['harmonic-major', 'harmonic major'],
  ['spanish-eight', 'spanish heptatonic'],
] as const

// tonal 6.4.3, Scale.get.
describe('scales against tonal 6.4.3', () => {
  const onC = (id: string) =>
    scaleOf(id)!.degrees.map(({ number, alter }) => formatNoteName({ letter: letterAbove('C', number - 1), alter }))

  test.each(TONAL_SCALES)('%s is its %s', (id, theirs) => {
    const notes = Scale.get(`C ${theirs}`).notes
    expect(notes.map(Note.chroma)).toEqual(onC(id).map(Note.chroma))
  })

  test('five are written with other letters, the dominant pentatonic is not there', () => {
    const others = TONAL_SCALES.filter(([id, theirs]) => Scale.get(`C ${theirs}`).notes.join() !== onC(id).join())
    expect(others.map(([id]) => id)).toEqual([
      'altered',
      'whole-half',
      'half-whole',
      'whole-tone',
      'bebop-melodic-minor',
    ])
    const known = TONAL_SCALES.map(([id]): string => id)
    expect(SCALES.map(({ id }) => id).filter((id) => !known.includes(id))).toEqual(['dominant-pentatonic'])
  })
})

/** Key, step, chord, quality, names, degrees, scale: seventh chords of C major and of the three minor scales on A. */
const DIATONIC = [
  ['major', 1, 'Cmaj7', 'major-7', 'C E G B', '1 3 5 7', 'major'],
  ['major', 2, 'Dm7', 'minor-7', 'D F A C', '1 b3 5 b7', 'dorian'],
  ['major', 3, 'Em7', 'minor-7', 'E G B D', '1 b3 5 b7', 'phrygian'],
  ['major', 4, 'Fmaj7', 'major-7', 'F A C E', '1 3 5 7', 'lydian'],
  ['major', 5, 'G7', 'dominant-7', 'G B D F', '1 3 5 b7', 'mixolydian'],
  ['major', 6, 'Am7', 'minor-7', 'A C E G', '1 b3 5 b7', 'aeolian'],
  ['major', 7, 'Bm7b5', 'half-diminished', 'B D F A', '1 b3 b5 b7', 'locrian'],
  ['natural-minor', 1, 'Am7', 'minor-7', 'A C E G', '1 b3 5 b7', 'aeolian'],
  ['natural-minor', 2, 'Bm7b5', 'half-diminished', 'B D F A', '1 b3 b5 b7', 'locrian'],
  ['natural-minor', 3, 'Cmaj7', 'major-7', 'C E G B', '1 3 5 7', 'major'],
  ['natural-minor', 4, 'Dm7', 'minor-7', 'D F A C', '1 b3 5 b7', 'dorian'],
  ['natural-minor', 5, 'Em7', 'minor-7', 'E G B D', '1 b3 5 b7', 'phrygian'],
  ['natural-minor', 6, 'Fmaj7', 'major-7', 'F A C E', '1 3 5 7', 'lydian'],
  ['natural-minor', 7, 'G7', 'dominant-7', 'G B D F', '1 3 5 b7', 'mixolydian'],
  ['harmonic-minor', 1, 'Am(maj7)', 'minor-major-7', 'A C E G#', '1 b3 5 7', 'harmonic-minor'],
  ['harmonic-minor', 2, 'Bm7b5', 'half-diminished', 'B D F A', '1 b3 b5 b7', 'locrian-natural-6'],
  ['harmonic-minor', 3, 'Cmaj7#5', 'major-7-sharp-5', 'C E G# B', '1 3 #5 7', 'ionian-augmented'],
  ['harmonic-minor', 4, 'Dm7', 'minor-7', 'D F A C', '1 b3 5 b7', 'dorian-sharp-4'],
  ['harmonic-minor', 5, 'E7', 'dominant-7', 'E G# B D', '1 3 5 b7', 'phrygian-dominant'],
  ['harmonic-minor', 6, 'Fmaj7', 'major-7', 'F A C E', '1 3 5 7', 'lydian-sharp-2'],
  ['harmonic-minor', 7, 'G#dim7', 'diminished-7', 'G# B D F', '1 b3 b5 bb7', 'altered-diminished'],
  ['melodic-minor', 1, 'Am(maj7)', 'minor-major-7', 'A C E G#', '1 b3 5 7', 'melodic-minor'],
  ['melodic-minor', 2, 'Bm7', 'minor-7', 'B D F# A', '1 b3 5 b7', 'dorian-flat-2'],
  ['melodic-minor', 3, 'Cmaj7#5', 'major-7-sharp-5', 'C E G# B', '1 3 #5 7', 'lydian-augmented'],
  ['melodic-minor', 4, 'D7', 'dominant-7', 'D F# A C', '1 3 5 b7', 'lydian-dominant'],
  ['melodic-minor', 5, 'E7', 'dominant-7', 'E G# B D', '1 3 5 b7', 'mixolydian-flat-6'],
  ['melodic-minor', 6, 'F#m7b5', 'half-diminished', 'F# A C E', '1 b3 b5 b7', 'locrian-natural-2'],
  ['melodic-minor', 7, 'G#m7b5', 'half-diminished', 'G# B D F#', '1 b3 b5 b7', 'altered'],
] as const

// Stacked thirds on every step, and tonal 6.4.3, Key: majorKey('C') and minorKey('A'). Its melodic i is Am6, stacked thirds give Am(maj7).
describe('diatonic seventh chords against tonal 6.4.3', () => {
  const tonal: Readonly<Record<string, readonly string[]>> = {
    major: TonalKey.majorKey('C').chords,
    'natural-minor': TonalKey.minorKey('A').natural.chords,
    'harmonic-minor': TonalKey.minorKey('A').harmonic.chords,
    'melodic-minor': TonalKey.minorKey('A').melodic.chords,
  }

  test.each(DIATONIC)('%s, step %i: %s', (family, step, symbol, quality, names, degrees, mode) => {
    const read = symbolOf(symbol)
    expect(read.exact && read.quality.id).toBe(quality)
    expect(read.degrees).toEqual(degrees.split(' ').map((word) => parseDegree(word)))
    const chord = chordOf(symbol)
    const spelled = chord.tones.map((tone) => spellPitch(36 + chord.rootPc + semitonesOf(tone), { chord }))
    expect(spelled.map((name) => name.replace(/\d/, '')).join(' ')).toBe(names)

    const theirs = tonal[family]![step - 1]!
    if (family === 'melodic-minor' && step === 1) expect(theirs).toBe('Am6')
    else expect(symbolOf(theirs).degrees).toEqual(read.degrees)

    // The scale of the step is the parent turned to the root, and it holds the chord.
    const parent = family === 'natural-minor' ? 'aeolian' : family
    const tonic = family === 'major' ? 0 : 9
    const notes = scaleOf(parent)!.degrees.map((degree) => pitchClassOf(tonic + semitonesOf(degree)))
    const ofMode = scaleOf(mode)!.degrees.map((degree) => pitchClassOf(chord.rootPc + semitonesOf(degree)))
    expect([...ofMode].sort()).toEqual([...notes].sort())
    expect(pitchClassOf(notes[step - 1]!)).toBe(chord.rootPc)
  })

  test('in major and natural minor each takes the mode of its step', () => {
    for (const [family, , symbol, , , , mode] of DIATONIC)
      if (family === 'major' || family === 'natural-minor')
        expect(chooseScale(symbolOf(symbol), { key: parseKey(family === 'major' ? 'C' : 'Am') }).id).toBe(mode)
  })
})
