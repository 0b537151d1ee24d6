import { chordAt } from '../../music/chord.ts'
import { parseChordSymbol } from '../../music/chord-symbol.ts'
import { type Ending, endingOver, type LastBar } from '../endings.ts'
import type { Rule, RuleTest } from '../rule.ts'
import { oneOf } from '../rule-blank.ts'
import { phrasing } from '../rule-phrase.ts'

const ENDING = oneOf<Ending>('an ending, as in a held root', 'held', {
  held: 'a held root',
  fifth: 'the fifth between two roots',
  up: 'a walk up to the root',
  down: 'a walk down to the root',
  stop: 'a stop on the and of two',
})

/** The last bar as a test: it stands by itself, even where it is a bar that was played before. */
export function lastBarTest(bar: LastBar): RuleTest {
  return { looksAt: 'kept-bar', ...bar, apart: true }
}

/** By itself a sentence about an ending is read over C, in 4/4. */
function overC(ending: Ending): LastBar {
  const reading = parseChordSymbol('C')
  if (reading.kind !== 'chord') throw new RangeError('C is no chord')
  return endingOver(ending, chordAt(reading.symbol), { upper: 4, lower: 4 }, 28)!
}

/** The tune ends in one of the ways that tunes end; in a loop it does not end. */
export const ENDS_WITH: Rule<Ending> = {
  id: 'ends-with',
  phrasings: [
    phrasing(
      ['end|ends with', ENDING],
      (ending) => ending,
      (ending) => [ending],
    ),
  ],
  defaultWeight: 20,
  test: (ending) => lastBarTest(overC(ending)),
  keeps: [
    { value: 'held', changes: 'C', line: 'C2', cells: ['1'] },
    { value: 'fifth', changes: 'C', line: 'C2 G1 C2', cells: ['1 2 3'] },
    { value: 'up', changes: 'C', line: 'C2 G1 A1 C2', cells: ['1 2 & 3'] },
    { value: 'down', changes: 'C', line: 'C3 A2 G2 C2', cells: ['1 2 & 3'] },
    { value: 'stop', changes: 'C', line: 'C2 C2', cells: ['1 2&. (3)'] },
  ],
  breaks: [
    { value: 'held', changes: 'C', line: 'C2 E2 G2 E2' },
    { value: 'held', changes: 'C', line: 'G2', cells: ['1'] },
    { value: 'fifth', changes: 'C', line: 'C2 G2 C2', cells: ['1 2 3'] },
    { value: 'up', changes: 'C', line: 'C2 G1 A1 C2' },
    { value: 'down', changes: 'C', line: 'C3 A2 G2 E2', cells: ['1 2 & 3'] },
    { value: 'stop', changes: 'C', line: 'C2 C2', cells: ['1 2&'] },
  ],
}
