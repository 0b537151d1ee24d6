import { describe, expect, it } from 'vitest'
import { highestPitch, lowestPitch } from '../../src/music/instrument.ts'
import { INSTRUMENTS, instrumentOf } from '../../src/music/instruments.ts'

const LETTERS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }

/** The pitch of a note name with its octave, C4 = 60. */
function pitch(name: string): number {
  const [, letter, accidental, octave] = /^([A-G])([#b]?)(\d)$/.exec(name)!
  const alter = accidental === '#' ? 1 : accidental === 'b' ? -1 : 0
  return LETTERS[letter!]! + alter + 12 * (Number(octave) + 1)
}

/** Id, open strings low to high, highest note, octaves from written to sounding, kind of hand. */
const ROWS: readonly (readonly [id: string, open: string, highest: string, octave: number, hand: string])[] = [
  ['four-string', 'E1 A1 D2 G2', 'Eb4', -1, 'one-finger-per-fret'],
  ['four-string-21', 'E1 A1 D2 G2', 'E4', -1, 'one-finger-per-fret'],
  ['four-string-24', 'E1 A1 D2 G2', 'G4', -1, 'one-finger-per-fret'],
  ['four-string-fretless', 'E1 A1 D2 G2', 'Eb4', -1, 'one-finger-per-fret'],
  ['four-string-short-scale', 'E1 A1 D2 G2', 'D4', -1, 'one-finger-per-fret'],
  ['four-string-drop-d', 'D1 A1 D2 G2', 'Eb4', -1, 'one-finger-per-fret'],
  ['four-string-bead', 'B0 E1 A1 D2', 'Bb3', -1, 'one-finger-per-fret'],
  ['four-string-half-step-down', 'Eb1 Ab1 Db2 Gb2', 'D4', -1, 'one-finger-per-fret'],
  ['four-string-whole-step-down', 'D1 G1 C2 F2', 'Db4', -1, 'one-finger-per-fret'],
  ['five-string', 'B0 E1 A1 D2 G2', 'Eb4', -1, 'one-finger-per-fret'],
  ['five-string-24', 'B0 E1 A1 D2 G2', 'G4', -1, 'one-finger-per-fret'],
  ['five-string-high-c', 'E1 A1 D2 G2 C3', 'C5', -1, 'one-finger-per-fret'],
  ['five-string-fretless', 'B0 E1 A1 D2 G2', 'G4', -1, 'one-finger-per-fret'],
  ['six-string', 'B0 E1 A1 D2 G2 C3', 'C5', -1, 'one-finger-per-fret'],
  ['tenor', 'A1 D2 G2 C3', 'C5', -1, 'one-finger-per-fret'],
  ['piccolo', 'E2 A2 D3 G3', 'G5', 0, 'one-finger-per-fret'],
  ['double-bass', 'E1 A1 D2 G2', 'G4', -1, 'three-finger'],
  ['double-bass-low-c', 'C1 A1 D2 G2', 'G4', -1, 'three-finger'],
  ['double-bass-five-string', 'B0 E1 A1 D2 G2', 'G4', -1, 'three-finger'],
  ['double-bass-solo', 'F#1 B1 E2 A2', 'A4', -1, 'three-finger'],
]

/** Hertz of open strings by equal temperament at A4 = 440. */
const HERTZ: readonly (readonly [note: string, hertz: number])[] = [
  ['E1', 41.203],
  ['A1', 55],
  ['D2', 73.416],
  ['G2', 97.999],
  ['D1', 36.708],
  ['B0', 30.868],
  ['Eb1', 38.891],
  ['Ab1', 51.913],
  ['Db2', 69.296],
  ['Gb2', 92.499],
  ['G1', 48.999],
  ['C2', 65.406],
  ['F2', 87.307],
  ['C3', 130.813],
  ['E2', 82.407],
  ['A2', 110],
  ['D3', 146.832],
  ['G3', 195.998],
  ['C1', 32.703],
  ['F#1', 46.249],
  ['B1', 61.735],
]

describe('the basses', () => {
  it('are those of the list below, the standard one first', () => {
    expect(INSTRUMENTS.map(({ id }) => id)).toEqual(ROWS.map(([id]) => id))
    expect(INSTRUMENTS).toHaveLength(20)
  })

  it.each(ROWS)('%s has the strings %s and goes up to %s', (id, open, highest, octave, hand) => {
    const bass = instrumentOf(id)!
    const strings = open.split(' ').map(pitch)
    expect(bass.open).toEqual(strings)
    expect(lowestPitch(bass)).toBe(strings[0])
    expect(highestPitch(bass)).toBe(pitch(highest))
    expect(bass.octaveWritten).toBe(octave)
    expect(bass.hand).toBe(hand)
  })

  it.each(HERTZ)('the open string %s sounds at %d Hz', (note, hertz) => {
    expect(440 * 2 ** ((pitch(note) - 69) / 12)).toBeCloseTo(hertz, 2)
  })

  it('are not guessed at', () => {
    expect(instrumentOf('harp')).toBeUndefined()
  })
})
