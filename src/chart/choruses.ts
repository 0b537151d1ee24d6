import { type Change, type Form, type FormBar, soundOf } from './form.ts'

/**
 * A form played so many times over. A pick-up is played once; the first bar after it begins the next time round, and a chord that
 * goes on over the seam is held.
 *
 * @param times  a whole number >= 1
 * @throws RangeError  if it is not
 */
export function choruses(form: Form, times: number): Form {
  if (!(Number.isInteger(times) && times >= 1)) throw new RangeError(`a form is played 1, 2, 3 … times, not ${times}`)
  const bars: FormBar[] = [...form.bars]
  const again = form.bars.filter((bar) => bar.number > 0)
  const last = form.changes.at(-1)
  for (let time = 1; time < times; time++) {
    for (const bar of again) {
      const startTick = bars.at(-1)!.startTick + bars.at(-1)!.ticks
      const index = bars.length
      const changes = bar.changes.map((change, i): Change => {
        const atSeam = bar === again[0] && i === 0
        return {
          ...change,
          startTick: change.startTick - bar.startTick + startTick,
          barIndex: index,
          held: atSeam ? isSame(last, change) : change.held,
        }
      })
      bars.push({ ...bar, index, number: bars.at(-1)!.number + 1, chorus: time, startTick, changes })
    }
  }
  return {
    bars,
    changes: bars.flatMap((bar) => bar.changes),
    ticks: bars.length > 0 ? bars.at(-1)!.startTick + bars.at(-1)!.ticks : 0,
  }
}

function isSame(a: Change | undefined, b: Change): boolean {
  if (!a?.chord || !b.chord) return a?.chord === b.chord
  return soundOf(a.chord.symbol) === soundOf(b.chord.symbol)
}
