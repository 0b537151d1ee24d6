import { describe, expect, test } from 'vitest'
import { colours, type Light, light, THEMES } from '../support/colour.ts'

/** A colour of CIE 1976 L*a*b*. */
type Lab = readonly [lightness: number, a: number, b: number]

/** CIE L*a*b* under D65, two-degree observer: CIE 15:2004, with the sRGB primaries of IEC 61966-2-1. */
function labOf([red, green, blue]: Light): Lab {
  const x = (0.4124564 * red + 0.3575761 * green + 0.1804375 * blue) / 0.95047
  const y = 0.2126729 * red + 0.7151522 * green + 0.072175 * blue
  const z = (0.0193339 * red + 0.119192 * green + 0.9503041 * blue) / 1.08883
  const f = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29)
  return [116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))]
}

/**
 * Colour difference CIEDE2000, all weights 1.
 *
 * G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary Test Data,
 * and Mathematical Observations", Color Research and Application 30 (2005), equations 2 to 22, letters as there.
 */
function ciede2000([L1, a1, b1]: Lab, [L2, a2, b2]: Lab): number {
  const degrees = (radians: number) => ((radians * 180) / Math.PI + 360) % 360
  const cos = (angle: number) => Math.cos((angle * Math.PI) / 180)
  const C = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2
  const G = 0.5 * (1 - Math.sqrt(C ** 7 / (C ** 7 + 25 ** 7)))
  const [A1, A2] = [(1 + G) * a1, (1 + G) * a2]
  const [C1, C2] = [Math.hypot(A1, b1), Math.hypot(A2, b2)]
  const [h1, h2] = [degrees(Math.atan2(b1, A1)), degrees(Math.atan2(b2, A2))]
  const grey = C1 * C2 === 0
  const apart = h2 - h1
  const dh = grey ? 0 : apart > 180 ? apart - 360 : apart < -180 ? apart + 360 : apart
  const dH = 2 * Math.sqrt(C1 * C2) * Math.sin((dh * Math.PI) / 360)
  const sum = h1 + h2
  const h = grey ? sum : Math.abs(apart) <= 180 ? sum / 2 : sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2
  const L = (L1 + L2) / 2
  const Cm = (C1 + C2) / 2
  const T = 1 - 0.17 * cos(h - 30) + 0.24 * cos(2 * h) + 0.32 * cos(3 * h + 6) - 0.2 * cos(4 * h - 63)
  const turn = 30 * Math.exp(-(((h - 275) / 25) ** 2))
  const RC = 2 * Math.sqrt(Cm ** 7 / (Cm ** 7 + 25 ** 7))
  const SL = 1 + (0.015 * (L - 50) ** 2) / Math.sqrt(20 + (L - 50) ** 2)
  const SC = 1 + 0.045 * Cm
  const SH = 1 + 0.015 * Cm * T
  const RT = -Math.sin((2 * turn * Math.PI) / 180) * RC
  const [l, c, s] = [(L2 - L1) / SL, (C2 - C1) / SC, dH / SH]
  return Math.sqrt(l ** 2 + c ** 2 + s ** 2 + RT * c * s)
}

/**
 * What an eye without one kind of cone sees, from light to light.
 *
 * G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation of Color Vision
 * Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), table 1, severity 1.0.
 */
const EYES = {
  'all cones': [1, 0, 0, 0, 1, 0, 0, 0, 1],
  'no red cones': [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  'no green cones': [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  'no blue cones': [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
} as const

function seenBy(eye: keyof typeof EYES, [red, green, blue]: Light): Light {
  const m = EYES[eye]
  const row = (at: 0 | 3 | 6) => Math.min(1, Math.max(0, m[at] * red + m[at + 1]! * green + m[at + 2]! * blue))
  return [row(0), row(3), row(6)]
}

/** Test data of Sharma, Wu and Dalal (2005), table 1: some pairs of each kind, with the four decimals given there. */
const SHARMA: readonly [Lab, Lab, number][] = [
  [[50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425],
  [[50, 3.1571, -77.2803], [50, 0, -82.7485], 2.8615],
  [[50, -1.3802, -84.2814], [50, 0, -82.7485], 1],
  [[50, 0, 0], [50, -1, 2], 2.3669],
  [[50, 2.49, -0.001], [50, -2.49, 0.0009], 7.1792],
  [[50, 2.49, -0.001], [50, -2.49, 0.0011], 7.2195],
  [[50, 2.5, 0], [50, 0, -2.5], 4.3065],
  [[50, 2.5, 0], [73, 25, -18], 27.1492],
  [[50, 2.5, 0], [61, -5, 29], 22.8977],
  [[50, 2.5, 0], [56, -27, -3], 31.903],
  [[50, 2.5, 0], [58, 24, 15], 19.4535],
  [[60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644],
  [[63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.263],
  [[90.8027, -2.0831, 1.441], [91.1528, -1.6435, 0.0447], 1.4441],
  [[2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082],
]

test('The difference of colours is that of the published test data', () => {
  for (const [one, other, difference] of SHARMA) expect(ciede2000(one, other)).toBeCloseTo(difference, 4)
})

/** Motion and ghost share a grey: a ghost has no numeral and a head of its own. */
const FUNCTIONS = ['f-root', 'f-third', 'f-fifth', 'f-seventh', 'f-tension', 'f-motion']

/** A wide margin of our own choice for small signs in bad light: about 1 is just noticeable in large patches side by side. */
const LEAST = 12

describe.each(THEMES)('On the %s theme', (theme) => {
  const palette = colours(theme)
  test.each(Object.keys(EYES) as (keyof typeof EYES)[])('what a note does is told by colour: %s', (eye) => {
    const labs = FUNCTIONS.map((name) => ({ name, lab: labOf(seenBy(eye, light(palette.get(name)!))) }))
    const pairs = labs.flatMap((one, i) =>
      labs.slice(i + 1).map((other) => ({
        pair: `${one.name} and ${other.name}`,
        difference: ciede2000(one.lab, other.lab),
      })),
    )
    expect(pairs.filter(({ difference }) => difference < LEAST)).toEqual([])
  })
})
