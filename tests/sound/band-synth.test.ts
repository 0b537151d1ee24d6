import { beforeAll, expect, test } from 'vitest'
import type { PartName } from '../../src/music/arrangement.ts'
import type { BandNote } from '../../src/sound/band-messages.ts'
import type { BandSynth } from '../../src/sound/band-synth.ts'
import { LOOK_AHEAD_FRAMES } from '../../src/sound/limiter.ts'
import { loadBand, notesOf, rendered, SAMPLE_RATE, soundsOf, twelveBars } from '../support/band.ts'
import { randomFrom } from '../support/random.ts'

const MS = SAMPLE_RATE / 1000

/** What each part plays where a test needs but one note. */
const KEYS: Readonly<Record<PartName, number>> = { bass: 33, chords: 60, drums: 38, click: 76 }
/** −100 dB of full scale: what is under this is silence. Reverberation never ends altogether. */
const SILENCE = 1e-5

const PARTS = Object.keys(KEYS) as readonly PartName[]

let band: BandSynth
beforeAll(async () => {
  band = await loadBand()
})

/** Stops it, lets it ring out, and starts it again. */
function afresh(ringMs = 2500): void {
  band.stop()
  rendered(band, ringMs * MS)
  for (const part of PARTS) band.setLevel(part, 0)
  band.start([
    { part: 'bass', program: 33 },
    { part: 'chords', program: 4 },
  ])
}

function note(part: PartName, afterMs: number, ms: number, pitch: number = KEYS[part], velocity = 100): BandNote {
  const startFrame = band.frame + Math.round(afterMs * MS)
  return { part, pitch, velocity, startFrame, endFrame: startFrame + Math.round(ms * MS) }
}

function peakOf(...channels: readonly Float32Array[]): number {
  return channels.reduce((peak, sound) => sound.reduce((most, height) => Math.max(most, Math.abs(height)), peak), 0)
}

/** The edges of a sound: its changes of direction, where the attack stands out from what still rings. */
function edges(sound: Float32Array): Float32Array {
  return sound.map((height, at) => height - 2 * (sound[at - 1] ?? 0) + (sound[at - 2] ?? 0))
}

/** By how many frames a sound lies later than another, within 100: where they differ least. */
function lateness(sound: Float32Array, at: number, alone: Float32Array): number {
  let [least, lag] = [Number.POSITIVE_INFINITY, 0]
  for (let shift = -100; shift <= 100; shift++) {
    let difference = 0
    for (let frame = 0; frame < alone.length; frame++) difference += (sound[at + shift + frame]! - alone[frame]!) ** 2
    if (difference < least) [least, lag] = [difference, shift]
  }
  return lag
}

test.each(PARTS)('At 40 to 300 beats a minute every note of the %s starts at its very frame', (part) => {
  afresh()
  band.play([note(part, 10, 150)])
  const alone = edges(rendered(band, 100 * MS)[0]).subarray(10 * MS + LOOK_AHEAD_FRAMES, 50 * MS)
  for (const bpm of [40, 60, 83, 111, 144, 187, 240, 300]) {
    afresh(300)
    const [from, beatMs] = [band.frame, 60_000 / bpm]
    const notes = Array.from({ length: 8 }, (_, beat) => note(part, 20 + beat * beatMs, Math.min(150, beatMs * 0.6)))
    band.play(notes)
    const left = edges(rendered(band, 8 * beatMs * MS + 100 * MS)[0])
    const late = notes.map(({ startFrame }) => lateness(left, startFrame - from + LOOK_AHEAD_FRAMES, alone))
    expect(late, `${bpm} bpm`).toEqual(notes.map(() => 0))
  }
})

test('Blocks of any length give the same notes at the same frames', () => {
  afresh()
  band.play([note('click', 1, 20)])
  const [left] = rendered(band, 128)
  expect(peakOf(left)).toBeLessThan(SILENCE)
  const first = (sound: Float32Array) => sound.findIndex((height) => Math.abs(height) > SILENCE)
  const whole = first(rendered(band, 200 * MS)[0])
  afresh()
  band.play([note('click', 1, 20)])
  band.render(new Float32Array(128), new Float32Array(128))
  const pieces = new Float32Array(200 * MS)
  for (let at = 0; at < pieces.length; at += 60) {
    const piece = pieces.subarray(at, at + 60)
    band.render(piece, piece.slice())
  }
  expect(first(pieces)).toBe(whole)
})

test('A note taken back before it starts is not heard; one that sounds keeps its end', () => {
  afresh()
  const long = note('bass', 10, 500)
  band.play([long, note('chords', 300, 200), note('chords', 400, 200)])
  rendered(band, 100 * MS)
  band.takeBackFrom(band.frame)
  expect(band.counts.voices).toBeGreaterThan(0)
  band.setLevel('bass', undefined)
  rendered(band, 100 * MS)
  expect(peakOf(...rendered(band, 50 * MS))).toBeLessThan(0.001)
  band.setLevel('bass', 0)
  rendered(band, 2000 * MS)
  expect(band.counts.voices).toBe(0)
})

test('A key that is struck again while it sounds is ended first, so that nothing is left behind', () => {
  afresh()
  band.play([note('bass', 10, 400), note('bass', 100, 50), note('chords', 20, 300), note('chords', 20, 300)])
  rendered(band, 2000 * MS)
  expect(band.counts.voices).toBe(0)
})

test('After 1,000 replacements with overlapping notes no voice is left', () => {
  afresh()
  const random = randomFrom(2)
  for (let round = 0; round < 1000; round++) {
    if (random(2) === 0) band.takeBackFrom(band.frame + random(400) * MS)
    const part = random(2) === 0 ? 'bass' : 'chords'
    const phrase = Array.from({ length: 3 }, () => note(part, random(500), 1 + random(400), 45 + random(4)))
    band.play(phrase)
    rendered(band, random(20) * MS)
  }
  rendered(band, 3000 * MS)
  expect(band.counts.voices).toBe(0)
})

test('100 stops anywhere are silent within 40 ms, stay so, and leave no voice', () => {
  const performance = twelveBars()
  const random = randomFrom(3)
  band.start(soundsOf(performance))
  for (let round = 0; round < 100; round++) {
    band.start([])
    band.play(notesOf(performance, band.frame + 480).filter(({ startFrame }) => startFrame < band.frame + 60_000))
    const sound = rendered(band, (100 + random(900)) * MS)
    band.stop()
    const ending = rendered(band, 40 * MS)
    const jump = Math.abs(ending[0][0]! - sound[0].at(-1)!)
    expect(jump, 'no click where the gate begins to close').toBeLessThan(0.2)
    expect(peakOf(...rendered(band, 60 * MS)), `stop ${round}`).toBe(0)
    expect(band.counts.voices).toBe(0)
  }
})

test('After a stop nothing is taken until the next start, and a start brings nothing of before back', () => {
  afresh()
  band.play([note('chords', 10, 800), note('bass', 60, 800)])
  rendered(band, 50 * MS)
  band.stop()
  band.play([note('bass', 100, 100)])
  rendered(band, 40 * MS)
  band.start([])
  expect(peakOf(...rendered(band, 500 * MS))).toBe(0)
})

test('Started while it still fades, it plays what comes after the fade', () => {
  afresh()
  band.play([note('chords', 10, 800)])
  rendered(band, 50 * MS)
  band.stop()
  band.start([])
  band.play([note('click', 100, 50)])
  rendered(band, 40 * MS)
  expect(peakOf(...rendered(band, 50 * MS))).toBe(0)
  expect(peakOf(...rendered(band, 100 * MS))).toBeGreaterThan(0.01)
})

test('A note that comes up to 50 ms late is begun at once, a later one is dropped; both are counted', () => {
  afresh()
  rendered(band, 100 * MS)
  const before = band.counts
  band.play([note('click', -49, 100), note('bass', -51, 500)])
  const sound = rendered(band, 20 * MS)
  expect(peakOf(...sound)).toBeGreaterThan(0.01)
  expect(band.counts.late - before.late).toBe(1)
  expect(band.counts.dropped - before.dropped).toBe(1)
})

test.each(PARTS)('The %s is heard alone, 6 dB down, and not at all, as its level says', (part) => {
  const levelAt = (decibels: number | undefined) => {
    afresh()
    for (const other of PARTS) if (other !== part) band.setLevel(other, undefined)
    band.setLevel(part, decibels)
    rendered(band, 100 * MS)
    band.play(PARTS.map((one) => note(one, 10, 100, KEYS[one], 60)))
    const [left] = rendered(band, 200 * MS)
    return Math.sqrt(left.reduce((sum, height) => sum + height ** 2, 0) / left.length)
  }
  const usual = levelAt(0)
  expect(usual).toBeGreaterThan(0.001)
  expect(20 * Math.log10(levelAt(-6) / usual), 'but for a chorus, which never begins alike').toBeCloseTo(-6, 0)
  expect(levelAt(undefined)).toBeLessThan(SILENCE)
})

test('A level that is moved while a note sounds makes no step', () => {
  afresh()
  band.play([note('bass', 10, 1000)])
  const before = rendered(band, 300 * MS)[0]
  const steps = (sound: Float32Array) =>
    sound.slice(1).reduce((most, height, at) => Math.max(most, Math.abs(height - sound[at]!)), 0)
  const usual = steps(before.subarray(-100 * MS))
  band.setLevel('bass', undefined)
  const fading = rendered(band, 300 * MS)[0]
  expect(steps(fading)).toBeLessThan(3 * usual)
  expect(peakOf(fading.subarray(-150 * MS))).toBeLessThan(0.001)
})

test('A note that ends before it starts, or has no velocity, is refused', () => {
  afresh()
  expect(() => band.play([note('bass', 10, 0)])).toThrow(RangeError)
  expect(() => band.play([note('bass', 10, 10, 33, 0)])).toThrow(RangeError)
})
