import { describe, expect, it } from 'vitest'
import { smallestConflict } from '../../src/search/conflict.ts'
import { randomFrom } from '../support/random.ts'

describe('a smallest conflict', () => {
  it('cannot hold together, and can with any one of its demands removed', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const random = randomFrom(seed)
      const demands = Array.from({ length: 12 }, (_, i) => i)
      const clashes = Array.from({ length: 1 + random(3) }, () => demands.filter(() => random(4) === 0))
      const feasible = (some: readonly number[]) => !clashes.some((clash) => clash.every((one) => some.includes(one)))
      const conflict = smallestConflict(demands, feasible)
      if (feasible(demands)) expect(conflict).toBeUndefined()
      else {
        expect(feasible(conflict!), `seed ${seed}`).toBe(false)
        for (const one of conflict!) expect(feasible(conflict!.filter((other) => other !== one))).toBe(true)
      }
    }
  })

  it('is empty where nothing holds even without demands', () => {
    expect(smallestConflict([1, 2], () => false)).toEqual([])
  })

  it('blames the later of two demands that each clash alone', () => {
    expect(smallestConflict(['old', 'new'], (some) => some.length === 0)).toEqual(['new'])
  })
})
