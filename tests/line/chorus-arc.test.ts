import { describe, expect, it } from 'vitest'
import { type Composition, compose } from '../../src/compose.ts'
import type { Settings } from '../../src/settings.ts'

const CHART = '[A]\n| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | A7 |'

function built(settings: Settings): Composition {
  const composition = compose(CHART, settings)
  if (composition.clash) throw new Error(composition.clash.message)
  return composition
}

/** By chorus, the pitches that are struck. */
function choruses({ form, lines }: Composition): readonly (readonly number[])[] {
  const pitches: number[][] = []
  for (const { slot, pitch } of lines[0]!.notes) {
    const { chorus } = form.bars[slot.barIndex]!
    pitches[chorus] ??= []
    if (!slot.ghost) pitches[chorus].push(pitch)
  }
  return pitches
}

const mean = (numbers: readonly number[]): number => numbers.reduce((sum, one) => sum + one, 0) / numbers.length

describe('A walking line over several choruses', () => {
  it('climbs, begins plainly, ends busily, and is another one in each', () => {
    const composition = built({ choruses: 4 })
    const all = choruses(composition)
    expect(mean(all[0]!)).toBeLessThan(mean(all[3]!))
    expect(all[0]!.length).toBeLessThan(all[3]!.length)
    expect(new Set(all.map((pitches) => pitches.join())).size).toBe(4)
    expect(composition.rules.map(({ sentence, strength }) => `${sentence} (weight ${strength})`)).toEqual([
      'rise over the choruses (weight 1)',
      'Chorus 1: at most a note a beat (weight 1)',
      'Last chorus: more notes than beats (weight 1)',
    ])
  })

  it('does what rules say of choruses instead, also where they say nothing is to change', () => {
    for (const rule of ['rise over the choruses (off)', 'Chorus 2: no pushes (gently)'])
      expect(built({ choruses: 2, rules: [rule] }).rules.length).toBeLessThan(2)
    const fall = choruses(built({ choruses: 3, rules: ['fall over the choruses'] })).map(mean)
    expect(fall[0]! - fall[1]!).toBeGreaterThan(2)
    expect(fall[1]! - fall[2]!).toBeGreaterThan(2)
  })

  it('keeps each chorus in its band, as a must', () => {
    const all = choruses(built({ choruses: 3, rules: ['rise over the choruses between A1 and A2 within 8 semitones'] }))
    for (const [chorus, middle] of [33, 39, 45].entries()) {
      expect(Math.min(...all[chorus]!)).toBeGreaterThanOrEqual(middle - 8)
      expect(Math.max(...all[chorus]!)).toBeLessThanOrEqual(middle + 8)
    }
  })

  it('has no arc where it is played once, and a groove has none of its own', () => {
    expect(built({}).rules).toEqual([])
    expect(built({ feel: 'bossa-nova', choruses: 3 }).rules).toEqual([])
    const { diagnostics, rules } = compose(`rule: rise over the choruses\n${CHART}`)
    expect(diagnostics.map(({ code, severity }) => `${severity} ${code}`)).toEqual(['hint rule/no-such-chorus'])
    expect(rules).toEqual([])
  })
})

describe('A contour over each section', () => {
  it('begins anew with each of them', () => {
    const rules = ['rise over each section between A1 and A2 within 5 semitones']
    const { form, lines } = compose('[A]\n| Dm7 | G7 | Cmaj7 |\n[B]\n| Am7 | D7 |', { rules })
    for (const { slot, pitch } of lines[0]!.notes) {
      const [from, length] = slot.barIndex < 3 ? [0, 3] : [3, 2]
      const share = (slot.startTick - form.bars[from]!.startTick) / (length * 1920)
      if (!slot.ghost) expect(Math.abs(pitch - 33 - 12 * share)).toBeLessThanOrEqual(5)
    }
  })
})
