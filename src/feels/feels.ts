import { BALLAD_TWO } from './ballad-two.ts'
import { BOSSA_NOVA } from './bossa-nova.ts'
import { CHA_CHA_CHA } from './cha-cha-cha.ts'
import { COUNTRY_TWO } from './country-two.ts'
import { DISCO_OCTAVES } from './disco-octaves.ts'
import type { Feel } from './feel.ts'
import { FIVE_FOUR } from './five-four.ts'
import { FUNK_SIXTEENTHS } from './funk-sixteenths.ts'
import { GOSPEL_TWELVE } from './gospel-twelve.ts'
import { HALF_TIME } from './half-time.ts'
import { HALF_TIME_SHUFFLE } from './half-time-shuffle.ts'
import { HIP_HOP } from './hip-hop.ts'
import { JAZZ_WALTZ } from './jazz-waltz.ts'
import { ONE_DROP } from './one-drop.ts'
import { ROCK_EIGHTHS } from './rock-eighths.ts'
import { SAMBA } from './samba.ts'
import { SECOND_LINE } from './second-line.ts'
import { SEVEN_EIGHT } from './seven-eight.ts'
import { SHUFFLE } from './shuffle.ts'
import { SIX_EIGHT } from './six-eight.ts'
import { SLOW_BLUES } from './slow-blues.ts'
import { SOUL_EIGHTHS } from './soul-eighths.ts'
import { STEPPERS } from './steppers.ts'
import { SWING_FAST } from './swing-fast.ts'
import { SWING_MEDIUM } from './swing-medium.ts'
import { TUMBAO } from './tumbao.ts'
import { WALTZ } from './waltz.ts'

/** All feels, near ones beside each other. */
export const FEELS: readonly Feel[] = [
  SWING_MEDIUM,
  SWING_FAST,
  JAZZ_WALTZ,
  BALLAD_TWO,
  SHUFFLE,
  HALF_TIME_SHUFFLE,
  SLOW_BLUES,
  SECOND_LINE,
  ROCK_EIGHTHS,
  HALF_TIME,
  SOUL_EIGHTHS,
  FUNK_SIXTEENTHS,
  DISCO_OCTAVES,
  HIP_HOP,
  BOSSA_NOVA,
  SAMBA,
  TUMBAO,
  CHA_CHA_CHA,
  ONE_DROP,
  STEPPERS,
  COUNTRY_TWO,
  WALTZ,
  GOSPEL_TWELVE,
  SIX_EIGHT,
  FIVE_FOUR,
  SEVEN_EIGHT,
]

/** The feel of a chart, or of a bar, that names none, by metre as written. */
export const FEEL_BY_METRE: ReadonlyMap<string, Feel> = new Map([
  ['4/4', SWING_MEDIUM],
  ['3/4', JAZZ_WALTZ],
  ['6/8', SIX_EIGHT],
  ['12/8', SLOW_BLUES],
  ['5/4', FIVE_FOUR],
  ['7/8', SEVEN_EIGHT],
])

/** Metres without a feel of their own: half a bar of four, and three beats of six-eight. */
const PLAYED_AS: ReadonlyMap<string, string> = new Map([
  ['2/4', '4/4'],
  ['9/8', '6/8'],
])

/**
 * The metre of the feels that play a metre: nearly always itself.
 *
 * @param metre  as written, one of the metres a chart may have
 *
 * @example
 * playedAs('9/8') // => '6/8'
 * playedAs('3/4') // => '3/4'
 */
export function playedAs(metre: string): string {
  return PLAYED_AS.get(metre) ?? metre
}

/** The feel with an id; `undefined` if there is none. */
export function feelOf(id: string): Feel | undefined {
  return FEELS.find((feel) => feel.id === id)
}
