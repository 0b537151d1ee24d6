import { expect, test } from 'vitest'
import { CEILING, Limiter, LOOK_AHEAD_FRAMES } from '../../src/sound/limiter.ts'
import { randomFrom } from '../support/random.ts'

const SAMPLE_RATE = 48_000

function limited(left: Float32Array, right: Float32Array = left.slice()): readonly [Float32Array, Float32Array] {
  const out = [left.slice(), right.slice()] as const
  new Limiter(SAMPLE_RATE).run(...out)
  return out
}

function sine(hertz: number, height: number, frames: number): Float32Array {
  return Float32Array.from(
    { length: frames },
    (_, frame) => height * Math.sin((2 * Math.PI * hertz * frame) / SAMPLE_RATE),
  )
}

test('A sound under the ceiling passes unchanged, later by the look-ahead', () => {
  const sound = sine(110, CEILING, 4800)
  const [left] = limited(sound)
  expect(left.subarray(LOOK_AHEAD_FRAMES)).toEqual(sound.subarray(0, -LOOK_AHEAD_FRAMES))
  expect(left.subarray(0, LOOK_AHEAD_FRAMES).every((height) => height === 0)).toBe(true)
})

test('No sample is over the ceiling, whatever comes', () => {
  const random = randomFrom(1)
  const bursts = Float32Array.from({ length: 48_000 }, (_, frame) =>
    Math.floor(frame / 480) % 3 === 0 ? (random(2001) - 1000) / 100 : (random(2001) - 1000) / 2000,
  )
  for (const channel of limited(bursts, sine(55, 3, 48_000))) {
    const highest = channel.reduce((most, height) => Math.max(most, Math.abs(height)), 0)
    expect(highest).toBeLessThan(CEILING * 1.000001)
  }
})

test('Both channels are turned down alike, so that nothing moves to the side', () => {
  const [left, right] = limited(sine(220, 2, 9600), sine(220, 0.5, 9600))
  const moved = right.reduce((most, height, frame) => Math.max(most, Math.abs(height - left[frame]! / 4)), 0)
  expect(moved).toBeLessThan(1e-6)
})

test('It turns down along a ramp as long as the look-ahead and comes back by two thirds in 120 ms', () => {
  const steady = new Float32Array(24_000).fill(0.4)
  steady[4800] = 1.6
  const [left] = limited(steady)
  const gain = (frame: number) => left[frame + LOOK_AHEAD_FRAMES]! / 0.4
  expect(gain(4800 - LOOK_AHEAD_FRAMES - 2)).toBeCloseTo(1, 6)
  for (let frame = 4800 - LOOK_AHEAD_FRAMES; frame < 4799; frame++) {
    expect(gain(frame) - gain(frame + 1)).toBeLessThan(1.5 / LOOK_AHEAD_FRAMES)
  }
  expect(left[4800 + LOOK_AHEAD_FRAMES]).toBeCloseTo(CEILING, 5)
  // Half was taken; after 120 ms, and the mean's 1 ms, a third of the half is still missing.
  const ms = SAMPLE_RATE / 1000
  expect(1 - gain(4800 + LOOK_AHEAD_FRAMES + 120 * ms)).toBeCloseTo(0.5 / Math.E, 2)
})
