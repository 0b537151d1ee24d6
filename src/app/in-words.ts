import type { Key } from '../music/key.ts'
import { formatMetre, type Metre } from '../music/metre.ts'

const NUMBERS = [
  ...[
    'no',
    'one',
    'two',
    'three',
    'four',
    'five',
    'six',
    'seven',
    'eight',
    'nine',
    'ten',
    'eleven',
    'twelve',
    'thirteen',
  ],
  ...['fourteen', 'fifteen', 'sixteen', 'seventeen', 'eighteen', 'nineteen'],
]
const TENS = ['twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety']

/**
 * A number in words, in figures from a hundred on.
 *
 * @example
 * numberInWords(32) // => 'thirty-two'
 * numberInWords(120) // => '120'
 */
export function numberInWords(count: number): string {
  if (count >= 100 || !Number.isInteger(count) || count < 0) return String(count)
  const small = NUMBERS[count]
  if (small) return small
  const tens = TENS[Math.floor(count / 10) - 2]!
  return count % 10 === 0 ? tens : `${tens}-${NUMBERS[count % 10]!}`
}

/**
 * How much there is to play: `Twelve bars in 4/4, played round and round.`
 *
 * @param metres  of the bars as played, at least one
 */
export function lengthInWords(metres: readonly Metre[], loop: boolean): string {
  const words = numberInWords(metres.length)
  const count = `${words[0]!.toUpperCase()}${words.slice(1)} ${metres.length === 1 ? 'bar' : 'bars'}`
  const all = [...new Set(metres.map(formatMetre))].join(' and ')
  return `${count} in ${all}, played ${loop ? 'round and round' : 'once'}.`
}

/**
 * `Key of B♭`, `Key of D minor`; empty where the chart names none.
 *
 * @example
 * keyInWords(undefined) // => ''
 */
export function keyInWords(key: Key | undefined): string {
  if (!key) return ''
  const sign = key.tonic.alter < 0 ? '♭'.repeat(-key.tonic.alter) : '♯'.repeat(key.tonic.alter)
  return `Key of ${key.tonic.letter}${sign}${key.mode === 'minor' ? ' minor' : ''}`
}
