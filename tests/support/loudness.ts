// Loudness and true peak after ITU-R BS.1770-4, for 48,000 frames a second and two channels.

const SAMPLE_RATE = 48_000

/** Annex 1, tables 1 and 2: the head's shelf and the low cut, as b0 b1 b2 a1 a2. */
const WEIGHTING = [
  [1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585],
  [1, -2, 1, -1.99004745483398, 0.99007225036621],
] as const

/** Annex 1: blocks of 400 ms, a new one each 100 ms; gates at −70 LUFS and 10 LU under what passes that. */
const BLOCK = { frames: 0.4 * SAMPLE_RATE, step: 0.1 * SAMPLE_RATE }
const GATE = { absolute: -70, relative: -10 }

/** Annex 2: the interpolator of four phases; the other two are these backwards. */
const PHASES = [
  [
    0.001708984375, 0.010986328125, -0.0196533203125, 0.033203125, -0.0594482421875, 0.1373291015625, 0.97216796875,
    -0.102294921875, 0.047607421875, -0.026611328125, 0.014892578125, -0.00830078125,
  ],
  [
    -0.0291748046875, 0.029296875, -0.0517578125, 0.089111328125, -0.16650390625, 0.465087890625, 0.77978515625,
    -0.2003173828125, 0.1015625, -0.0582275390625, 0.0330810546875, -0.0189208984375,
  ],
]

function weighted(sound: Float32Array): Float64Array {
  let out = Float64Array.from(sound)
  for (const [b0, b1, b2, a1, a2] of WEIGHTING) {
    const next = new Float64Array(out.length)
    let [x1, x2, y1, y2] = [0, 0, 0, 0]
    for (let index = 0; index < out.length; index++) {
      const x = out[index]!
      const y = b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2
      next[index] = y
      ;[x2, x1, y2, y1] = [x1, x, y1, y]
    }
    out = next
  }
  return out
}

const lufsOf = (power: number) => -0.691 + 10 * Math.log10(power)
const meanOf = (powers: readonly number[]) => powers.reduce((sum, power) => sum + power, 0) / powers.length

/** Integrated loudness in LUFS of a sound at 48 kHz. */
export function loudness(left: Float32Array, right: Float32Array): number {
  const powers: number[] = []
  const channels = [weighted(left), weighted(right)]
  for (let from = 0; from + BLOCK.frames <= left.length; from += BLOCK.step) {
    let power = 0
    for (const channel of channels) {
      for (let index = from; index < from + BLOCK.frames; index++) power += channel[index]! ** 2 / BLOCK.frames
    }
    powers.push(power)
  }
  const audible = powers.filter((power) => lufsOf(power) > GATE.absolute)
  const floor = lufsOf(meanOf(audible)) + GATE.relative
  return lufsOf(meanOf(audible.filter((power) => lufsOf(power) > floor)))
}

/** The highest true peak of some channels, in decibels of full scale. */
export function truePeak(...channels: readonly Float32Array[]): number {
  const phases = [...PHASES, ...PHASES.map((phase) => phase.toReversed())]
  let highest = 0
  for (const channel of channels) {
    for (let index = 0; index + 12 <= channel.length; index++) {
      for (const phase of phases) {
        let height = 0
        for (let tap = 0; tap < 12; tap++) height += phase[tap]! * channel[index + 11 - tap]!
        highest = Math.max(highest, Math.abs(height))
      }
    }
  }
  return 20 * Math.log10(highest)
}
