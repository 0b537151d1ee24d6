/** Whole numbers from 0 below `limit`, always the same for a seed (mulberry32, a public-domain generator). */
export function randomFrom(seed: number): (limit: number) => number {
  let a = seed >>> 0
  return (limit) => {
    a = (a + 0x6d2b79f5) >>> 0
    let t = a
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) % limit
  }
}
