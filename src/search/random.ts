/**
 * Chance that is the same on every machine: a 32-bit generator of three shifts and two multiplications in whole numbers (the
 * finaliser of MurmurHash3 over a Weyl sequence, Steele, Lea & Flood 2014, "Fast splittable pseudorandom number generators", cited
 * from memory).
 *
 * @param seed  any whole number; equal seeds give equal numbers
 * @returns     the next number each time, 0 up to but not with 2^32
 */
export function randomFrom(seed: number): () => number {
  let state = seed | 0
  return () => {
    state = (state + 0x9e3779b9) | 0
    let mixed = Math.imul(state ^ (state >>> 16), 0x85ebca6b)
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35)
    return (mixed ^ (mixed >>> 16)) >>> 0
  }
}
