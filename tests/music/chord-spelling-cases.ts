/** A typed chord symbol and what must come of it. */
export interface ChordSpelling {
  readonly symbol: string
  readonly root: string
  /** tones over the root, rising */
  readonly degrees: string
  /** id of the quality; `undefined` where no row has these tones */
  readonly quality: string | undefined
  /** names of the tones */
  readonly notes: string
  readonly bass: string | undefined
  readonly hint: string | undefined
  /** what tonal 6.4.3 makes of it: the same, the same with the bass as one more tone, or anything else */
  readonly tonal: 'same' | 'bass-counted-in' | undefined
  /** what chord-symbol 4.0.0 makes of it: the same, the same on a root named otherwise, or anything else */
  readonly chordSymbol: 'same' | 'root-renamed' | undefined
}

/**
 * Symbols that are read: symbol | root | degrees | quality | notes | bass | hint | libraries.
 *
 * Source: spellings from common practice, no source; degrees as MusicXML 4.0 words its kinds, decisions between writers our own;
 * the last column was found by running tonal 6.4.3 and chord-symbol 4.0.0 (`+bass`, `~root`: see above).
 */
const READ = `
# triads
C | C | 1 3 5 | major | C E G | - | - | tonal chord-symbol
CM | C | 1 3 5 | major | C E G | - | - | tonal chord-symbol
Cma | C | 1 3 5 | major | C E G | - | - | chord-symbol
Cmaj | C | 1 3 5 | major | C E G | - | - | tonal chord-symbol
CMaj | C | 1 3 5 | major | C E G | - | - | chord-symbol
CMAJ | C | 1 3 5 | major | C E G | - | - | chord-symbol
Cmajor | C | 1 3 5 | major | C E G | - | - | tonal chord-symbol
Cm | C | 1 b3 5 | minor | C Eb G | - | - | tonal chord-symbol
Cmi | C | 1 b3 5 | minor | C Eb G | - | - | chord-symbol
Cmin | C | 1 b3 5 | minor | C Eb G | - | - | tonal chord-symbol
CMIN | C | 1 b3 5 | minor | C Eb G | - | - | chord-symbol
CMi | C | 1 b3 5 | minor | C Eb G | - | - | chord-symbol
Cminor | C | 1 b3 5 | minor | C Eb G | - | - | tonal chord-symbol
C- | C | 1 b3 5 | minor | C Eb G | - | - | tonal chord-symbol
C− | C | 1 b3 5 | minor | C Eb G | - | - | -
C– | C | 1 b3 5 | minor | C Eb G | - | - | -
Cdim | C | 1 b3 b5 | diminished | C Eb Gb | - | - | tonal chord-symbol
CDIM | C | 1 b3 b5 | diminished | C Eb Gb | - | - | chord-symbol
Co | C | 1 b3 b5 | diminished | C Eb Gb | - | - | tonal chord-symbol
C° | C | 1 b3 b5 | diminished | C Eb Gb | - | - | tonal chord-symbol
Cº | C | 1 b3 b5 | diminished | C Eb Gb | - | - | -
C0 | C | 1 b3 b5 | diminished | C Eb Gb | - | - | chord-symbol
Cmb5 | C | 1 b3 b5 | diminished | C Eb Gb | - | - | chord-symbol
Cm(b5) | C | 1 b3 b5 | diminished | C Eb Gb | - | - | chord-symbol
Caug | C | 1 3 #5 | augmented | C E G# | - | - | tonal chord-symbol
C+ | C | 1 3 #5 | augmented | C E G# | - | - | tonal chord-symbol
C+5 | C | 1 3 #5 | augmented | C E G# | - | - | tonal chord-symbol
C(#5) | C | 1 3 #5 | augmented | C E G# | - | - | chord-symbol
C(+5) | C | 1 3 #5 | augmented | C E G# | - | - | chord-symbol
C(b5) | C | 1 3 b5 | major-flat-five | C E Gb | - | - | chord-symbol
C-5 | C | 1 3 b5 | major-flat-five | C E Gb | - | minus-five | chord-symbol
C(-5) | C | 1 3 b5 | major-flat-five | C E Gb | - | - | chord-symbol
Cm#5 | C | 1 b3 #5 | minor-sharp-five | C Eb G# | - | - | tonal chord-symbol
Cm(#5) | C | 1 b3 #5 | minor-sharp-five | C Eb G# | - | - | chord-symbol
C5 | C | 1 5 | power | C G | - | - | tonal chord-symbol
C(no3) | C | 1 5 | power | C G | - | - | chord-symbol
Cno3 | C | 1 5 | power | C G | - | - | chord-symbol
Comit3 | C | 1 5 | power | C G | - | - | chord-symbol
Comit3rd | C | 1 5 | power | C G | - | - | -
# suspended and added
Csus | C | 1 4 5 | sus4 | C F G | - | - | tonal chord-symbol
Csus4 | C | 1 4 5 | sus4 | C F G | - | - | tonal chord-symbol
CSUS4 | C | 1 4 5 | sus4 | C F G | - | - | chord-symbol
Csus(4) | C | 1 4 5 | sus4 | C F G | - | - | -
C4 | C | 1 4 5 | sus4 | C F G | - | - | chord-symbol
C(sus4) | C | 1 4 5 | sus4 | C F G | - | - | chord-symbol
C(sus) | C | 1 4 5 | sus4 | C F G | - | - | chord-symbol
Csus2 | C | 1 2 5 | sus2 | C D G | - | - | tonal chord-symbol
C2 | C | 1 3 5 9 | add-9 | C E G D | - | two-is-add-nine | tonal chord-symbol
Cadd9 | C | 1 3 5 9 | add-9 | C E G D | - | - | tonal chord-symbol
C(add9) | C | 1 3 5 9 | add-9 | C E G D | - | - | chord-symbol
Cadd2 | C | 1 3 5 9 | add-9 | C E G D | - | - | tonal chord-symbol
C(9) | C | 1 3 5 9 | add-9 | C E G D | - | - | -
C/9 | C | 1 3 5 9 | add-9 | C E G D | - | - | -
Cmadd9 | C | 1 b3 5 9 | minor-add-9 | C Eb G D | - | - | tonal chord-symbol
Cm(add9) | C | 1 b3 5 9 | minor-add-9 | C Eb G D | - | - | chord-symbol
Cm(9) | C | 1 b3 5 9 | minor-add-9 | C Eb G D | - | - | -
Cm add9 | C | 1 b3 5 9 | minor-add-9 | C Eb G D | - | - | chord-symbol
Cadd4 | C | 1 3 5 11 | add-11 | C E G F | - | - | chord-symbol
Cadd11 | C | 1 3 5 11 | add-11 | C E G F | - | - | chord-symbol
C(add11) | C | 1 3 5 11 | add-11 | C E G F | - | - | chord-symbol
Cmadd11 | C | 1 b3 5 11 | minor-add-11 | C Eb G F | - | - | chord-symbol
Cadd#11 | C | 1 3 5 #11 | add-sharp-11 | C E G F# | - | - | chord-symbol
C(#11) | C | 1 3 5 #11 | add-sharp-11 | C E G F# | - | - | chord-symbol
C(#4) | C | 1 3 5 #11 | add-sharp-11 | C E G F# | - | - | -
Csus2sus4 | C | 1 2 4 5 | sus2-sus4 | C D F G | - | - | chord-symbol
Csus24 | C | 1 2 4 5 | sus2-sus4 | C D F G | - | - | tonal chord-symbol
Csus4add9 | C | 1 4 5 9 | - | C F G D | - | - | tonal chord-symbol
C5add9 | C | 1 2 5 | sus2 | C D G | - | - | -
Cadd9no3 | C | 1 2 5 | sus2 | C D G | - | - | chord-symbol
Cadd9(no3) | C | 1 2 5 | sus2 | C D G | - | - | chord-symbol
Cmb6 | C | 1 b3 5 b6 | minor-flat-6 | C Eb G Ab | - | - | chord-symbol
Cm(b6) | C | 1 b3 5 b6 | minor-flat-6 | C Eb G Ab | - | - | chord-symbol
# sixths
C6 | C | 1 3 5 6 | major-6 | C E G A | - | - | tonal chord-symbol
CM6 | C | 1 3 5 6 | major-6 | C E G A | - | - | tonal chord-symbol
Cmaj6 | C | 1 3 5 6 | major-6 | C E G A | - | - | chord-symbol
Cadd6 | C | 1 3 5 6 | major-6 | C E G A | - | - | tonal chord-symbol
C(add6) | C | 1 3 5 6 | major-6 | C E G A | - | - | chord-symbol
Cm6 | C | 1 b3 5 6 | minor-6 | C Eb G A | - | - | tonal chord-symbol
C-6 | C | 1 b3 5 6 | minor-6 | C Eb G A | - | - | tonal chord-symbol
Cmin6 | C | 1 b3 5 6 | minor-6 | C Eb G A | - | - | chord-symbol
Cmi6 | C | 1 b3 5 6 | minor-6 | C Eb G A | - | - | chord-symbol
C6/9 | C | 1 3 5 6 9 | six-nine | C E G A D | - | - | tonal chord-symbol
C69 | C | 1 3 5 6 9 | six-nine | C E G A D | - | - | tonal chord-symbol
C6(9) | C | 1 3 5 6 9 | six-nine | C E G A D | - | - | -
C(6/9) | C | 1 3 5 6 9 | six-nine | C E G A D | - | - | chord-symbol
C6add9 | C | 1 3 5 6 9 | six-nine | C E G A D | - | - | tonal chord-symbol
C6(add9) | C | 1 3 5 6 9 | six-nine | C E G A D | - | - | chord-symbol
Cm6/9 | C | 1 b3 5 6 9 | minor-six-nine | C Eb G A D | - | - | chord-symbol
Cm69 | C | 1 b3 5 6 9 | minor-six-nine | C Eb G A D | - | - | tonal chord-symbol
C-6/9 | C | 1 b3 5 6 9 | minor-six-nine | C Eb G A D | - | - | chord-symbol
C6#11 | C | 1 3 5 6 #11 | - | C E G A F# | - | - | tonal chord-symbol
C6/9#11 | C | 1 3 5 6 9 #11 | six-nine-sharp-11 | C E G A D F# | - | - | chord-symbol
C6/E | C | 1 3 5 6 | major-6 | C E G A | E | - | tonal chord-symbol
C6/9/E | C | 1 3 5 6 9 | six-nine | C E G A D | E | - | chord-symbol
Cb6 | Cb | 1 3 5 6 | major-6 | Cb Eb Gb Ab | - | - | tonal chord-symbol~root
# major sevenths
Cmaj7 | C | 1 3 5 7 | major-7 | C E G B | - | - | tonal chord-symbol
CMaj7 | C | 1 3 5 7 | major-7 | C E G B | - | - | tonal chord-symbol
CMAJ7 | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
Cma7 | C | 1 3 5 7 | major-7 | C E G B | - | - | tonal chord-symbol
CMA7 | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
CM7 | C | 1 3 5 7 | major-7 | C E G B | - | - | tonal chord-symbol
Cmajor7 | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
CΔ | C | 1 3 5 7 | major-7 | C E G B | - | - | tonal chord-symbol
CΔ7 | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
C△7 | C | 1 3 5 7 | major-7 | C E G B | - | - | -
C∆7 | C | 1 3 5 7 | major-7 | C E G B | - | - | -
C^ | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
C^7 | C | 1 3 5 7 | major-7 | C E G B | - | - | tonal chord-symbol
C(maj7) | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
Cj7 | C | 1 3 5 7 | major-7 | C E G B | - | - | -
C7M | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
C7maj | C | 1 3 5 7 | major-7 | C E G B | - | - | chord-symbol
Cmaj9 | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | tonal chord-symbol
CM9 | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | chord-symbol
CΔ9 | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | tonal chord-symbol
C^9 | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | tonal chord-symbol
Cma9 | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | chord-symbol
Cmaj7(9) | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | -
Cmaj7/9 | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | -
Cmaj7add9 | C | 1 3 5 7 9 | major-9 | C E G B D | - | - | chord-symbol
Cmaj11 | C | 1 3 5 7 9 11 | major-11 | C E G B D F | - | - | -
Cmaj13 | C | 1 3 5 7 9 13 | major-13 | C E G B D A | - | - | tonal chord-symbol
CΔ13 | C | 1 3 5 7 9 13 | major-13 | C E G B D A | - | - | chord-symbol
CM13 | C | 1 3 5 7 9 13 | major-13 | C E G B D A | - | - | chord-symbol
Cmaj7#11 | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | tonal chord-symbol
Cmaj7(#11) | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | chord-symbol
CΔ#11 | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | tonal chord-symbol
CΔ7#11 | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | chord-symbol
Cmaj7#4 | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | -
CM7(+11) | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | -
Clyd | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | -
Clydian | C | 1 3 5 7 #11 | major-7-sharp-11 | C E G B F# | - | - | -
Cmaj#11 | C | 1 3 5 #11 | add-sharp-11 | C E G F# | - | - | chord-symbol
Cmaj9#11 | C | 1 3 5 7 9 #11 | major-9-sharp-11 | C E G B D F# | - | - | tonal chord-symbol
Cmaj9(#11) | C | 1 3 5 7 9 #11 | major-9-sharp-11 | C E G B D F# | - | - | chord-symbol
Cmaj13#11 | C | 1 3 5 7 9 #11 13 | major-13-sharp-11 | C E G B D F# A | - | - | tonal chord-symbol
Cmaj7#5 | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | tonal chord-symbol
Cmaj7(#5) | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
CM7+5 | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
CM7#5 | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
C+maj7 | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | tonal chord-symbol
C+M7 | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
C+Δ7 | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
CaugMaj7 | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
C+(maj7) | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
Cmaj7+ | C | 1 3 #5 7 | major-7-sharp-5 | C E G# B | - | - | chord-symbol
Cmaj9#5 | C | 1 3 #5 7 9 | major-9-sharp-5 | C E G# B D | - | - | tonal chord-symbol
Cmaj7b5 | C | 1 3 b5 7 | major-7-flat-5 | C E Gb B | - | - | chord-symbol
Cmaj7(b5) | C | 1 3 b5 7 | major-7-flat-5 | C E Gb B | - | - | chord-symbol
Cmaj7-5 | C | 1 3 b5 7 | major-7-flat-5 | C E Gb B | - | - | chord-symbol
Cmaj7sus4 | C | 1 4 5 7 | major-7-sus4 | C F G B | - | - | chord-symbol
# minor sevenths
Cm7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | tonal chord-symbol
Cmi7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | tonal chord-symbol
Cmin7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | tonal chord-symbol
CMI7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | chord-symbol
CMin7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | chord-symbol
Cminor7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | chord-symbol
C-7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | tonal chord-symbol
C−7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | -
C‑7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | -
C min7 | C | 1 b3 5 b7 | minor-7 | C Eb G Bb | - | - | tonal chord-symbol
Cm9 | C | 1 b3 5 b7 9 | minor-9 | C Eb G Bb D | - | - | tonal chord-symbol
C-9 | C | 1 b3 5 b7 9 | minor-9 | C Eb G Bb D | - | - | tonal chord-symbol
Cmin9 | C | 1 b3 5 b7 9 | minor-9 | C Eb G Bb D | - | - | chord-symbol
Cm7(9) | C | 1 b3 5 b7 9 | minor-9 | C Eb G Bb D | - | - | chord-symbol
Cm7/9 | C | 1 b3 5 b7 9 | minor-9 | C Eb G Bb D | - | - | -
Cm11 | C | 1 b3 5 b7 9 11 | minor-11 | C Eb G Bb D F | - | - | tonal chord-symbol
C-11 | C | 1 b3 5 b7 9 11 | minor-11 | C Eb G Bb D F | - | - | tonal chord-symbol
Cm9(11) | C | 1 b3 5 b7 9 11 | minor-11 | C Eb G Bb D F | - | - | chord-symbol
Cm7(9,11) | C | 1 b3 5 b7 9 11 | minor-11 | C Eb G Bb D F | - | - | chord-symbol
Cm13 | C | 1 b3 5 b7 9 11 13 | minor-13 | C Eb G Bb D F A | - | - | chord-symbol
C-13 | C | 1 b3 5 b7 9 11 13 | minor-13 | C Eb G Bb D F A | - | - | chord-symbol
Cm7add11 | C | 1 b3 5 b7 11 | minor-7-add-11 | C Eb G Bb F | - | - | tonal chord-symbol
Cm7(add11) | C | 1 b3 5 b7 11 | minor-7-add-11 | C Eb G Bb F | - | - | chord-symbol
Cm7(11) | C | 1 b3 5 b7 11 | minor-7-add-11 | C Eb G Bb F | - | - | -
Cm7/11 | C | 1 b3 5 b7 11 | minor-7-add-11 | C Eb G Bb F | - | - | -
Cm7add4 | C | 1 b3 5 b7 11 | minor-7-add-11 | C Eb G Bb F | - | - | tonal chord-symbol
Cm7#5 | C | 1 b3 #5 b7 | minor-7-sharp-5 | C Eb G# Bb | - | - | tonal chord-symbol
Cm7+5 | C | 1 b3 #5 b7 | minor-7-sharp-5 | C Eb G# Bb | - | - | chord-symbol
Cm7b13 | C | 1 b3 5 b7 b13 | minor-7-flat-13 | C Eb G Bb Ab | - | - | -
Cm7(b6) | C | 1 b3 5 b7 b13 | minor-7-flat-13 | C Eb G Bb Ab | - | - | chord-symbol
# half-diminished and diminished
Cø | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | tonal chord-symbol
CØ | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
Cø7 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
CØ7 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
C∅7 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | -
Ch | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | tonal chord-symbol
Ch7 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | tonal chord-symbol
Chdim7 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | -
Chalfdim | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | -
Cm7b5 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | tonal chord-symbol
Cm7(b5) | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
Cm7♭5 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
Cm7-5 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
C-7b5 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | tonal chord-symbol
C-7(b5) | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
C-7-5 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
Cmi7b5 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
Cmin7b5 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
Cm7(-5) | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | chord-symbol
Cmb5b7 | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | - | - | -
Cm9b5 | C | 1 b3 b5 b7 9 | half-diminished-9 | C Eb Gb Bb D | - | - | tonal chord-symbol
Cø9 | C | 1 b3 b5 b7 9 | half-diminished-9 | C Eb Gb Bb D | - | - | chord-symbol
Cm11b5 | C | 1 b3 b5 b7 9 11 | half-diminished-11 | C Eb Gb Bb D F | - | - | chord-symbol
Cø11 | C | 1 b3 b5 b7 9 11 | half-diminished-11 | C Eb Gb Bb D F | - | - | chord-symbol
Cdim7 | C | 1 b3 b5 bb7 | diminished-7 | C Eb Gb Bbb | - | - | tonal chord-symbol
Co7 | C | 1 b3 b5 bb7 | diminished-7 | C Eb Gb Bbb | - | - | tonal chord-symbol
C07 | C | 1 b3 b5 bb7 | diminished-7 | C Eb Gb Bbb | - | - | chord-symbol
C°7 | C | 1 b3 b5 bb7 | diminished-7 | C Eb Gb Bbb | - | - | tonal chord-symbol
Cº7 | C | 1 b3 b5 bb7 | diminished-7 | C Eb Gb Bbb | - | - | -
C°9 | C | 1 b3 b5 bb7 9 | diminished-9 | C Eb Gb Bbb D | - | - | -
Cdim9 | C | 1 b3 b5 bb7 9 | diminished-9 | C Eb Gb Bbb D | - | - | -
Cdim(maj7) | C | 1 b3 b5 7 | diminished-major-7 | C Eb Gb B | - | - | chord-symbol
C°M7 | C | 1 b3 b5 7 | diminished-major-7 | C Eb Gb B | - | - | chord-symbol
CoMaj7 | C | 1 b3 b5 7 | diminished-major-7 | C Eb Gb B | - | - | chord-symbol
CmM7b5 | C | 1 b3 b5 7 | diminished-major-7 | C Eb Gb B | - | - | chord-symbol
# minor with major seventh
Cm(maj7) | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
Cm/maj7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | tonal
CmMaj7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | tonal chord-symbol
Cmmaj7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
CmM7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | tonal chord-symbol
CminMaj7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
CMIMA7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
C-maj7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | tonal chord-symbol
C-M7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
C-Δ | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
C-Δ7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | tonal chord-symbol
C-^7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | tonal chord-symbol
CmΔ | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | tonal chord-symbol
Cm(M7) | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
Cm7M | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | chord-symbol
Cm#7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | -
Cm(#7) | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | - | -
Cm+7 | C | 1 b3 5 7 | minor-major-7 | C Eb G B | - | plus-seven-after-minor | -
CmMaj9 | C | 1 b3 5 7 9 | minor-major-9 | C Eb G B D | - | - | tonal chord-symbol
Cm(maj9) | C | 1 b3 5 7 9 | minor-major-9 | C Eb G B D | - | - | chord-symbol
CmM9 | C | 1 b3 5 7 9 | minor-major-9 | C Eb G B D | - | - | tonal chord-symbol
# dominants
C7 | C | 1 3 5 b7 | dominant-7 | C E G Bb | - | - | tonal chord-symbol
Cdom7 | C | 1 3 5 b7 | dominant-7 | C E G Bb | - | - | -
C⁷ | C | 1 3 5 b7 | dominant-7 | C E G Bb | - | - | -
C9 | C | 1 3 5 b7 9 | dominant-9 | C E G Bb D | - | - | tonal chord-symbol
C7(9) | C | 1 3 5 b7 9 | dominant-9 | C E G Bb D | - | - | chord-symbol
C7/9 | C | 1 3 5 b7 9 | dominant-9 | C E G Bb D | - | - | -
C7add9 | C | 1 3 5 b7 9 | dominant-9 | C E G Bb D | - | - | chord-symbol
C11 | C | 1 5 b7 9 11 | dominant-11 | C G Bb D F | - | - | tonal chord-symbol
C13 | C | 1 3 5 b7 9 13 | dominant-13 | C E G Bb D A | - | - | tonal chord-symbol
C9(13) | C | 1 3 5 b7 9 13 | dominant-13 | C E G Bb D A | - | - | chord-symbol
C7(9,13) | C | 1 3 5 b7 9 13 | dominant-13 | C E G Bb D A | - | - | chord-symbol
C7/13 | C | 1 3 5 b7 13 | dominant-7-add-13 | C E G Bb A | - | - | -
C7(13) | C | 1 3 5 b7 13 | dominant-7-add-13 | C E G Bb A | - | - | -
C7add13 | C | 1 3 5 b7 13 | dominant-7-add-13 | C E G Bb A | - | - | tonal chord-symbol
C7add6 | C | 1 3 5 b7 13 | dominant-7-add-13 | C E G Bb A | - | - | tonal chord-symbol
C7add11 | C | 1 3 5 b7 11 | dominant-7-add-11 | C E G Bb F | - | - | chord-symbol
C7sus4 | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | - | tonal chord-symbol
C7sus | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | - | tonal chord-symbol
Csus7 | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | - | chord-symbol
C7(sus4) | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | - | chord-symbol
C7(4) | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | - | chord-symbol
C7/4 | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | - | -
Cm7sus4 | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | suspended-minor | chord-symbol
C9sus4 | C | 1 4 5 b7 9 | dominant-9-sus4 | C F G Bb D | - | - | tonal chord-symbol
C9sus | C | 1 4 5 b7 9 | dominant-9-sus4 | C F G Bb D | - | - | tonal chord-symbol
Csus9 | C | 1 4 5 b7 9 | dominant-9-sus4 | C F G Bb D | - | - | chord-symbol
C13sus4 | C | 1 4 5 b7 9 13 | dominant-13-sus4 | C F G Bb D A | - | - | tonal chord-symbol
C13sus | C | 1 4 5 b7 9 13 | dominant-13-sus4 | C F G Bb D A | - | - | tonal chord-symbol
C7sus2 | C | 1 2 5 b7 | dominant-7-sus2 | C D G Bb | - | - | chord-symbol
C7sus4b9 | C | 1 4 5 b7 b9 | suspended-flat-9 | C F G Bb Db | - | - | chord-symbol
C7susb9 | C | 1 4 5 b7 b9 | suspended-flat-9 | C F G Bb Db | - | - | chord-symbol
C7b9sus | C | 1 4 5 b7 b9 | suspended-flat-9 | C F G Bb Db | - | - | tonal chord-symbol
C7b9sus4 | C | 1 4 5 b7 b9 | suspended-flat-9 | C F G Bb Db | - | - | tonal chord-symbol
C7sus4(b9) | C | 1 4 5 b7 b9 | suspended-flat-9 | C F G Bb Db | - | - | chord-symbol
Csusb9 | C | 1 4 5 b7 b9 | suspended-flat-9 | C F G Bb Db | - | - | -
Cphryg | C | 1 4 5 b7 b9 | suspended-flat-9 | C F G Bb Db | - | - | tonal
C13sus4b9 | C | 1 4 5 b7 b9 13 | suspended-13-flat-9 | C F G Bb Db A | - | - | chord-symbol
C7b5 | C | 1 3 b5 b7 | dominant-7-flat-5 | C E Gb Bb | - | - | tonal chord-symbol
C7(b5) | C | 1 3 b5 b7 | dominant-7-flat-5 | C E Gb Bb | - | - | chord-symbol
C7-5 | C | 1 3 b5 b7 | dominant-7-flat-5 | C E Gb Bb | - | - | chord-symbol
C7#5 | C | 1 3 #5 b7 | dominant-7-sharp-5 | C E G# Bb | - | - | tonal chord-symbol
C7(#5) | C | 1 3 #5 b7 | dominant-7-sharp-5 | C E G# Bb | - | - | chord-symbol
C7+5 | C | 1 3 #5 b7 | dominant-7-sharp-5 | C E G# Bb | - | - | chord-symbol
C+7 | C | 1 3 #5 b7 | dominant-7-sharp-5 | C E G# Bb | - | - | tonal chord-symbol
Caug7 | C | 1 3 #5 b7 | dominant-7-sharp-5 | C E G# Bb | - | - | tonal chord-symbol
C7aug | C | 1 3 #5 b7 | dominant-7-sharp-5 | C E G# Bb | - | - | tonal chord-symbol
C7+ | C | 1 3 #5 b7 | dominant-7-sharp-5 | C E G# Bb | - | - | tonal chord-symbol
C9b5 | C | 1 3 b5 b7 9 | dominant-9-flat-5 | C E Gb Bb D | - | - | tonal chord-symbol
C9#5 | C | 1 3 #5 b7 9 | dominant-9-sharp-5 | C E G# Bb D | - | - | tonal chord-symbol
C9+5 | C | 1 3 #5 b7 9 | dominant-9-sharp-5 | C E G# Bb D | - | - | chord-symbol
C+9 | C | 1 3 #5 b7 9 | dominant-9-sharp-5 | C E G# Bb D | - | - | chord-symbol
Caug9 | C | 1 3 #5 b7 9 | dominant-9-sharp-5 | C E G# Bb D | - | - | chord-symbol
C9+ | C | 1 3 #5 b7 9 | dominant-9-sharp-5 | C E G# Bb D | - | - | tonal chord-symbol
C7b9 | C | 1 3 5 b7 b9 | dominant-7-flat-9 | C E G Bb Db | - | - | tonal chord-symbol
C7(b9) | C | 1 3 5 b7 b9 | dominant-7-flat-9 | C E G Bb Db | - | - | chord-symbol
C7♭9 | C | 1 3 5 b7 b9 | dominant-7-flat-9 | C E G Bb Db | - | - | chord-symbol
C7-9 | C | 1 3 5 b7 b9 | dominant-7-flat-9 | C E G Bb Db | - | - | -
C7(-9) | C | 1 3 5 b7 b9 | dominant-7-flat-9 | C E G Bb Db | - | - | -
C7#9 | C | 1 3 5 b7 #9 | dominant-7-sharp-9 | C E G Bb D# | - | - | tonal chord-symbol
C7(#9) | C | 1 3 5 b7 #9 | dominant-7-sharp-9 | C E G Bb D# | - | - | chord-symbol
C7♯9 | C | 1 3 5 b7 #9 | dominant-7-sharp-9 | C E G Bb D# | - | - | chord-symbol
C7+9 | C | 1 3 5 b7 #9 | dominant-7-sharp-9 | C E G Bb D# | - | - | -
C7b10 | C | 1 3 5 b7 #9 | dominant-7-sharp-9 | C E G Bb D# | - | - | -
C7b9#9 | C | 1 3 5 b7 b9 #9 | dominant-7-flat-9-sharp-9 | C E G Bb Db D# | - | - | tonal chord-symbol
C7(b9,#9) | C | 1 3 5 b7 b9 #9 | dominant-7-flat-9-sharp-9 | C E G Bb Db D# | - | - | chord-symbol
C7#11 | C | 1 3 5 b7 #11 | dominant-7-sharp-11 | C E G Bb F# | - | - | tonal chord-symbol
C7(#11) | C | 1 3 5 b7 #11 | dominant-7-sharp-11 | C E G Bb F# | - | - | chord-symbol
C7+11 | C | 1 3 5 b7 #11 | dominant-7-sharp-11 | C E G Bb F# | - | - | -
C7#4 | C | 1 3 5 b7 #11 | dominant-7-sharp-11 | C E G Bb F# | - | - | tonal
C9#11 | C | 1 3 5 b7 9 #11 | dominant-9-sharp-11 | C E G Bb D F# | - | - | tonal chord-symbol
C9(#11) | C | 1 3 5 b7 9 #11 | dominant-9-sharp-11 | C E G Bb D F# | - | - | chord-symbol
C9+11 | C | 1 3 5 b7 9 #11 | dominant-9-sharp-11 | C E G Bb D F# | - | - | -
C13#11 | C | 1 3 5 b7 9 #11 13 | dominant-13-sharp-11 | C E G Bb D F# A | - | - | tonal chord-symbol
C13(#11) | C | 1 3 5 b7 9 #11 13 | dominant-13-sharp-11 | C E G Bb D F# A | - | - | chord-symbol
C7b13 | C | 1 3 b7 b13 | dominant-7-flat-13 | C E Bb Ab | - | - | tonal chord-symbol
C7(b13) | C | 1 3 b7 b13 | dominant-7-flat-13 | C E Bb Ab | - | - | chord-symbol
C7b6 | C | 1 3 b7 b13 | dominant-7-flat-13 | C E Bb Ab | - | - | -
C9b13 | C | 1 3 b7 9 b13 | dominant-9-flat-13 | C E Bb D Ab | - | - | tonal chord-symbol
C13b9 | C | 1 3 5 b7 b9 13 | dominant-13-flat-9 | C E G Bb Db A | - | - | tonal chord-symbol
C13(b9) | C | 1 3 5 b7 b9 13 | dominant-13-flat-9 | C E G Bb Db A | - | - | chord-symbol
C7(b9,13) | C | 1 3 5 b7 b9 13 | dominant-13-flat-9 | C E G Bb Db A | - | - | chord-symbol
C13#9 | C | 1 3 5 b7 #9 13 | dominant-13-sharp-9 | C E G Bb D# A | - | - | tonal chord-symbol
C7b9#11 | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | tonal chord-symbol
C7#11b9 | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | chord-symbol
C7(b9,#11) | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | chord-symbol
C7(b9, #11) | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | chord-symbol
C7(b9#11) | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | chord-symbol
C7(b9)(#11) | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | chord-symbol
C7b9,#11 | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | -
C7(b9/#11) | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | -
C7(-9,+11) | C | 1 3 5 b7 b9 #11 | dominant-7-flat-9-sharp-11 | C E G Bb Db F# | - | - | -
C7#9#11 | C | 1 3 5 b7 #9 #11 | dominant-7-sharp-9-sharp-11 | C E G Bb D# F# | - | - | tonal chord-symbol
C13b9#11 | C | 1 3 5 b7 b9 #11 13 | dominant-13-flat-9-sharp-11 | C E G Bb Db F# A | - | - | tonal chord-symbol
C13#9#11 | C | 1 3 5 b7 #9 #11 13 | dominant-13-sharp-9-sharp-11 | C E G Bb D# F# A | - | - | tonal chord-symbol
C7b5b9 | C | 1 3 b5 b7 b9 | dominant-7-flat-5-flat-9 | C E Gb Bb Db | - | - | chord-symbol
C7b9b5 | C | 1 3 b5 b7 b9 | dominant-7-flat-5-flat-9 | C E Gb Bb Db | - | - | chord-symbol
C7b5#9 | C | 1 3 b5 b7 #9 | dominant-7-flat-5-sharp-9 | C E Gb Bb D# | - | - | chord-symbol
C7#5b9 | C | 1 3 #5 b7 b9 | dominant-7-sharp-5-flat-9 | C E G# Bb Db | - | - | tonal chord-symbol
C7b9#5 | C | 1 3 #5 b7 b9 | dominant-7-sharp-5-flat-9 | C E G# Bb Db | - | - | tonal chord-symbol
C7+5-9 | C | 1 3 #5 b7 b9 | dominant-7-sharp-5-flat-9 | C E G# Bb Db | - | - | -
C+7b9 | C | 1 3 #5 b7 b9 | dominant-7-sharp-5-flat-9 | C E G# Bb Db | - | - | chord-symbol
C7#5#9 | C | 1 3 #5 b7 #9 | dominant-7-sharp-5-sharp-9 | C E G# Bb D# | - | - | tonal chord-symbol
C7#9#5 | C | 1 3 #5 b7 #9 | dominant-7-sharp-5-sharp-9 | C E G# Bb D# | - | - | tonal chord-symbol
C7(#5,#9) | C | 1 3 #5 b7 #9 | dominant-7-sharp-5-sharp-9 | C E G# Bb D# | - | - | chord-symbol
C+7#9 | C | 1 3 #5 b7 #9 | dominant-7-sharp-5-sharp-9 | C E G# Bb D# | - | - | chord-symbol
C7b9b13 | C | 1 3 b7 b9 b13 | dominant-7-flat-9-flat-13 | C E Bb Db Ab | - | - | chord-symbol
C7(b9b13) | C | 1 3 b7 b9 b13 | dominant-7-flat-9-flat-13 | C E Bb Db Ab | - | - | chord-symbol
C7♭9♭13 | C | 1 3 b7 b9 b13 | dominant-7-flat-9-flat-13 | C E Bb Db Ab | - | - | chord-symbol
C7#9b13 | C | 1 3 b7 #9 b13 | dominant-7-sharp-9-flat-13 | C E Bb D# Ab | - | - | chord-symbol
C7b5#5 | C | 1 3 b5 #5 b7 | - | C E Gb G# Bb | - | - | chord-symbol
C7b9#11b13 | C | 1 3 b7 b9 #11 b13 | - | C E Bb Db F# Ab | - | - | chord-symbol
C7alt | C | 1 3 b5 #5 b7 b9 #9 | altered | C E Gb G# Bb Db D# | - | - | chord-symbol
Calt | C | 1 3 b5 #5 b7 b9 #9 | altered | C E Gb G# Bb Db D# | - | - | chord-symbol
C7(alt) | C | 1 3 b5 #5 b7 b9 #9 | altered | C E Gb G# Bb Db D# | - | - | chord-symbol
Caltered | C | 1 3 b5 #5 b7 b9 #9 | altered | C E Gb G# Bb Db D# | - | - | chord-symbol
# omissions
C7no3 | C | 1 5 b7 | - | C G Bb | - | - | chord-symbol
C7(no3) | C | 1 5 b7 | - | C G Bb | - | - | chord-symbol
C7omit3 | C | 1 5 b7 | - | C G Bb | - | - | chord-symbol
C7no5 | C | 1 3 b7 | - | C E Bb | - | - | tonal chord-symbol
C7(no5) | C | 1 3 b7 | - | C E Bb | - | - | chord-symbol
C7(omit5) | C | 1 3 b7 | - | C E Bb | - | - | chord-symbol
C9no5 | C | 1 3 b7 9 | - | C E Bb D | - | - | tonal chord-symbol
C7(no3,no5) | C | 1 b7 | - | C Bb | - | - | chord-symbol
Cmaj7(no5) | C | 1 3 7 | - | C E B | - | - | chord-symbol
Cm7(no5) | C | 1 b3 b7 | - | C Eb Bb | - | - | chord-symbol
C13(no5) | C | 1 3 b7 9 13 | - | C E Bb D A | - | - | chord-symbol
C7noroot | C | 3 5 b7 | - | E G Bb | - | - | -
C7sus4(no3) | C | 1 4 5 b7 | dominant-7-sus4 | C F G Bb | - | nothing-to-omit | chord-symbol
Cmino5 | C | 1 b3 | - | C Eb | - | - | chord-symbol
Cminomit5 | C | 1 b3 | - | C Eb | - | - | chord-symbol
# literal alterations without a seventh
C(b9) | C | 1 3 5 b9 | - | C E G Db | - | altered-ninth-without-seventh | chord-symbol
C(#9) | C | 1 3 5 #9 | - | C E G D# | - | altered-ninth-without-seventh | chord-symbol
# roots
Bb7 | Bb | 1 3 5 b7 | dominant-7 | Bb D F Ab | - | - | tonal chord-symbol
B♭7 | Bb | 1 3 5 b7 | dominant-7 | Bb D F Ab | - | - | chord-symbol
Ebmaj7 | Eb | 1 3 5 7 | major-7 | Eb G Bb D | - | - | tonal chord-symbol
E♭Δ7 | Eb | 1 3 5 7 | major-7 | Eb G Bb D | - | - | chord-symbol
F#m7b5 | F# | 1 b3 b5 b7 | half-diminished | F# A C E | - | - | tonal chord-symbol
F♯m7b5 | F# | 1 b3 b5 b7 | half-diminished | F# A C E | - | - | chord-symbol
F#dim7 | F# | 1 b3 b5 bb7 | diminished-7 | F# A C Eb | - | - | tonal chord-symbol
Ebm7b5 | Eb | 1 b3 b5 b7 | half-diminished | Eb Gb Bbb Db | - | - | tonal chord-symbol
Abdim7 | Ab | 1 b3 b5 bb7 | diminished-7 | Ab Cb Ebb Gbb | - | - | tonal chord-symbol
Ab7#9 | Ab | 1 3 5 b7 #9 | dominant-7-sharp-9 | Ab C Eb Gb B | - | - | tonal chord-symbol
Dbmaj7#11 | Db | 1 3 5 7 #11 | major-7-sharp-11 | Db F Ab C G | - | - | tonal chord-symbol
G#m7 | G# | 1 b3 5 b7 | minor-7 | G# B D# F# | - | - | tonal chord-symbol
A#dim | A# | 1 b3 b5 | diminished | A# C# E | - | - | tonal chord-symbol
Cbmaj7 | Cb | 1 3 5 7 | major-7 | Cb Eb Gb Bb | - | - | tonal chord-symbol~root
E#m7 | E# | 1 b3 5 b7 | minor-7 | E# G# B# D# | - | - | tonal chord-symbol~root
B#7 | B# | 1 3 5 b7 | dominant-7 | B# D## F## A# | - | - | tonal chord-symbol~root
Fb7 | Fb | 1 3 5 b7 | dominant-7 | Fb Ab Cb Ebb | - | - | tonal chord-symbol~root
Bbb7 | Bbb | 1 3 5 b7 | dominant-7 | Bbb Db Fb Abb | - | - | tonal
Ebbmaj7 | Ebb | 1 3 5 7 | major-7 | Ebb Gb Bbb Db | - | - | tonal
Abbm7 | Abb | 1 b3 5 b7 | minor-7 | Abb Cbb Ebb Gbb | - | - | tonal
F##dim7 | F## | 1 b3 b5 bb7 | diminished-7 | F## A# C# E | - | - | tonal
Fxdim7 | F## | 1 b3 b5 bb7 | diminished-7 | F## A# C# E | - | - | tonal
Cxm7b5 | C## | 1 b3 b5 b7 | half-diminished | C## E# G# B# | - | - | tonal
C##m7b5 | C## | 1 b3 b5 b7 | half-diminished | C## E# G# B# | - | - | tonal
G𝄪°7 | G## | 1 b3 b5 bb7 | diminished-7 | G## B# D# F# | - | - | -
B𝄫6 | Bbb | 1 3 5 6 | major-6 | Bbb Db Fb Gb | - | - | -
# the accidental belongs to the root
Bb5 | Bb | 1 5 | power | Bb F | - | - | tonal chord-symbol
F#5 | F# | 1 5 | power | F# C# | - | - | tonal chord-symbol
Cb5 | Cb | 1 5 | power | Cb Gb | - | accidental-is-the-roots | tonal chord-symbol~root
Cb 5 | Cb | 1 5 | power | Cb Gb | - | - | tonal chord-symbol~root
C b5 | C | 1 3 b5 | major-flat-five | C E Gb | - | - | chord-symbol
Bbb5 | Bbb | 1 5 | power | Bbb Fb | - | accidental-is-the-roots | tonal
E#5 | E# | 1 5 | power | E# B# | - | accidental-is-the-roots | tonal chord-symbol~root
Cb9 | Cb | 1 3 5 b7 9 | dominant-9 | Cb Eb Gb Bbb Db | - | accidental-is-the-roots | tonal chord-symbol~root
C#9 | C# | 1 3 5 b7 9 | dominant-9 | C# E# G# B D# | - | - | tonal chord-symbol
Eb9 | Eb | 1 3 5 b7 9 | dominant-9 | Eb G Bb Db F | - | - | tonal chord-symbol
Db11 | Db | 1 5 b7 9 11 | dominant-11 | Db Ab Cb Eb Gb | - | - | tonal chord-symbol
# slash basses
C/E | C | 1 3 5 | major | C E G | E | - | tonal chord-symbol
C/G | C | 1 3 5 | major | C E G | G | - | tonal chord-symbol
C/Bb | C | 1 3 5 | major | C E G | Bb | - | tonal+bass chord-symbol
C/B♭ | C | 1 3 5 | major | C E G | Bb | - | chord-symbol
D/F# | D | 1 3 5 | major | D F# A | F# | - | tonal chord-symbol
D/F♯ | D | 1 3 5 | major | D F# A | F# | - | chord-symbol
D/E | D | 1 3 5 | major | D F# A | E | - | tonal+bass chord-symbol
D/Eb | D | 1 3 5 | major | D F# A | Eb | - | tonal+bass chord-symbol
Dm7/G | D | 1 b3 5 b7 | minor-7 | D F A C | G | - | tonal+bass chord-symbol
F/G | F | 1 3 5 | major | F A C | G | - | tonal+bass chord-symbol
Bb/C | Bb | 1 3 5 | major | Bb D F | C | - | tonal+bass chord-symbol
D7/C | D | 1 3 5 b7 | dominant-7 | D F# A C | C | - | tonal chord-symbol
Dm7b5/Ab | D | 1 b3 b5 b7 | half-diminished | D F Ab C | Ab | - | tonal chord-symbol
Cmaj7/C# | C | 1 3 5 7 | major-7 | C E G B | C# | - | tonal+bass chord-symbol
Cm7b5/Gb | C | 1 b3 b5 b7 | half-diminished | C Eb Gb Bb | Gb | - | tonal chord-symbol
C7(b9)/E | C | 1 3 5 b7 b9 | dominant-7-flat-9 | C E G Bb Db | E | - | chord-symbol
C7b9/Db | C | 1 3 5 b7 b9 | dominant-7-flat-9 | C E G Bb Db | Db | - | tonal chord-symbol
Am/maj7/G# | A | 1 b3 5 7 | minor-major-7 | A C E G# | G# | - | -
Ebm/Gb | Eb | 1 b3 5 | minor | Eb Gb Bb | Gb | - | tonal chord-symbol
F#7/A# | F# | 1 3 5 b7 | dominant-7 | F# A# C# E | A# | - | tonal chord-symbol
C/F## | C | 1 3 5 | major | C E G | F## | - | tonal
C/Fx | C | 1 3 5 | major | C E G | F## | - | tonal
Abm/Cb | Ab | 1 b3 5 | minor | Ab Cb Eb | Cb | - | tonal chord-symbol
Gb/Cb | Gb | 1 3 5 | major | Gb Bb Db | Cb | - | tonal+bass chord-symbol
G7sus4/D | G | 1 4 5 b7 | dominant-7-sus4 | G C D F | D | - | tonal chord-symbol
Csus2/E | C | 1 2 5 | sus2 | C D G | E | - | tonal+bass chord-symbol
C7alt/Gb | C | 1 3 b5 #5 b7 b9 #9 | altered | C E Gb G# Bb Db D# | Gb | - | chord-symbol
# refused, with a suggestion
C7add13b13 | C | 1 3 b7 b13 13 | - | C E Bb Ab A | - | - | -
C7b13add13 | C | 1 3 b7 b13 13 | - | C E Bb Ab A | - | - | -
Cmaj7(13) | C | 1 3 5 7 13 | - | C E G B A | - | - | -
C6/9(#11) | C | 1 3 5 6 9 #11 | six-nine-sharp-11 | C E G A D F# | - | - | chord-symbol
`

const given = (cell: string): string | undefined => (cell === '-' ? undefined : cell)

/** Every symbol that is read. */
export const CHORD_SPELLINGS: readonly ChordSpelling[] = READ.trim()
  .split('\n')
  .filter((row) => !row.startsWith('#'))
  .map((row) => {
    const [symbol, root, degrees, quality, notes, bass, hint, libraries] = row.split(' | ') as Row
    const words = libraries.split(' ')
    return {
      symbol,
      root,
      degrees,
      quality: given(quality),
      notes,
      bass: given(bass),
      hint: given(hint),
      tonal: words.includes('tonal') ? 'same' : words.includes('tonal+bass') ? 'bass-counted-in' : undefined,
      chordSymbol: words.includes('chord-symbol')
        ? 'same'
        : words.includes('chord-symbol~root')
          ? 'root-renamed'
          : undefined,
    }
  })

type Row = [string, string, string, string, string, string, string, string]

/** What is written where no chord sounds. */
export const NO_CHORD: readonly string[] = ['N.C.', 'NC', 'N.C', 'n.c.']

/** Texts that are no chord symbols, with the error each is. */
export const REFUSED: readonly (readonly [text: string, code: string])[] = [
  ['Cm(maj7)9', 'no-such-number'],
  ['c', 'lower-case-root'],
  ['cm7', 'lower-case-root'],
  ['bb7', 'lower-case-root'],
  ['H7', 'german-h'],
  ['C8', 'no-such-number'],
  ['C10', 'no-such-number'],
  ['C3', 'no-such-number'],
  ['C7b3', 'no-such-number'],
  ['C7b11', 'no-such-number'],
  ['C7#13', 'no-such-number'],
  ['Cm5', 'no-such-number'],
  ['C+11', 'plus-number'],
  ['C+6', 'plus-number'],
  ['C7(maj7)', 'two-sevenths'],
  ['C7(b9', 'parenthesis'],
  ['C7b9)', 'parenthesis'],
  ['C()', 'parenthesis'],
  ['C/H', 'bass-not-a-note'],
  ['C/e', 'bass-not-a-note'],
  ['C/', 'bass-not-a-note'],
  ['C/E/G', 'bass-not-a-note'],
  ['C5b9b5', 'no-such-number'],
  ['C7foo', 'unreadable'],
  ['Coda', 'unreadable'],
  ['Cmm7', 'unreadable'],
  ['C#b7', 'too-many-accidentals'],
  ['Cbbb7', 'too-many-accidentals'],
  ['X7', 'no-root'],
  ['%', 'no-root'],
]
