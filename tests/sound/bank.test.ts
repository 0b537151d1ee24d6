import { readFileSync } from 'node:fs'
import { BasicSoundBank, SoundBankLoader } from 'spessasynth_core'
import { beforeAll, expect, test } from 'vitest'
import { readLane } from '../../src/band/drums.ts'
import { FEELS } from '../../src/feels/feels.ts'
import type { PartName } from '../../src/music/arrangement.ts'
import { INSTRUMENTS } from '../../src/music/instruments.ts'
import { BandSynth } from '../../src/sound/band-synth.ts'
import { BANK_PROGRAMS, bankKeyOf, bankProgramOf, STAND_IN_KEYS, STAND_IN_PROGRAMS } from '../../src/sound/stand-in.ts'
import { bankBytes, SAMPLE_RATE } from '../support/band.ts'
import { randomFrom } from '../support/random.ts'

let bank: BasicSoundBank
beforeAll(async () => {
  await BasicSoundBank.isSF3DecoderReady
  bank = SoundBankLoader.fromArrayBuffer(bankBytes())
})

/** Whether the bank itself sounds a key of a program. */
function sounds(part: PartName, program: number, key: number): boolean {
  const isKit = part === 'drums' || part === 'click'
  const preset = bank.presets.find((one) => one.program === program && one.isGMGSDrum === isKit)
  return preset !== undefined && preset.getVoiceParameters(key, 100).length > 0
}

const range = (lowest: number, highest: number) =>
  Array.from({ length: highest - lowest + 1 }, (_, index) => lowest + index)

test.each(FEELS)('The bank sounds all that the band of $id plays', ({ band }) => {
  for (const { program, register } of band.comping) {
    const plays = bankProgramOf('chords', program)
    expect(plays === program || STAND_IN_PROGRAMS.get(program) === plays, `program ${program}`).toBe(true)
    for (const key of range(register.lowest, register.highest))
      expect(sounds('chords', plays, key), `${key}`).toBe(true)
  }
  expect(bankProgramOf('bass', band.bassProgram)).toBe(band.bassProgram)
  for (const { open, frets } of INSTRUMENTS) {
    for (const key of range(Math.min(...open), Math.max(...open) + frets)) {
      expect(sounds('bass', band.bassProgram, key), `${key}`).toBe(true)
    }
  }
  const lanes = [...band.grooves, ...band.fills].flatMap(({ lanes }) => lanes)
  const struck = [...lanes, ...band.fills.flatMap(({ nextBar }) => nextBar)].flatMap((lane) => readLane(lane, 120))
  for (const { pitch } of struck) {
    for (const kit of BANK_PROGRAMS.drums)
      expect(sounds('drums', kit, bankKeyOf('drums', pitch)), `key ${pitch}`).toBe(true)
  }
})

test('The bank sounds the keys of the click: high and low wood block', () => {
  for (const key of [76, 77]) expect(sounds('click', bankProgramOf('click', undefined), key)).toBe(true)
})

test('A stand-in is what the bank has, for what it lacks', () => {
  for (const [lacking, instead] of STAND_IN_PROGRAMS) {
    expect(BANK_PROGRAMS.chords).not.toContain(lacking)
    expect(BANK_PROGRAMS.chords).toContain(instead)
  }
  for (const [lacking, instead] of STAND_IN_KEYS) {
    expect(sounds('drums', 0, lacking)).toBe(false)
    expect(sounds('drums', 0, instead)).toBe(true)
  }
})

test.each([
  ['bass', 7, 33],
  ['chords', 127, 4],
  ['drums', 48, 0],
  ['chords', undefined, 4],
] as const)('For the %s, program %s is played by the usual one, %i', (part, program, usual) => {
  expect(bankProgramOf(part, program)).toBe(usual)
})

test('The names in the bank are those of General MIDI, or numbers: no brand among them', () => {
  // General MIDI System Level 1 and Level 2, names of instruments and of drum sets.
  expect(bank.presets.map(({ name }) => name).sort()).toEqual([
    'Acoustic Bass',
    'Acoustic Guitar (nylon)',
    'Brush Kit',
    'Drawbar Organ',
    'Electric Bass (finger)',
    'Electric Bass (pick)',
    'Electric Guitar (clean)',
    'Electric Guitar (jazz)',
    'Electric Piano 1',
    'Fretless Bass',
    'Jazz Kit',
    'Slap Bass 1',
    'Slap Bass 2',
    'Standard Kit',
    'Synth Bass 1',
    'Synth Bass 2',
  ])
  for (const { name } of bank.samples) expect(name).toMatch(/^s\d{3}$/)
  for (const { name } of bank.instruments) expect(name).toMatch(/^i\d{2}$/)
  const { creationDate: _date, version: _version, ...info } = bank.soundBankInfo
  expect(info).toEqual({
    name: 'Linewright band',
    software: 'cut-bank',
    soundEngine: 'wavetable',
    engineer: 'cut from Fluid (R3) by its authors',
    copyright: 'Copyright (c) 2000-2002, 2008 Frank Wen; MIT licence',
    comment: 'See LICENCE beside this file.',
  })
})

test('The licence of the samples lies beside the bank, with its copyright and its permission', () => {
  const licence = readFileSync(new URL('../../src/sound/bank/LICENCE', import.meta.url), 'utf8')
  for (const words of ['Frank Wen', 'Permission is hereby granted, free of charge', 'WITHOUT WARRANTY OF ANY KIND']) {
    expect(licence).toContain(words)
  }
})

const load = (bytes: ArrayBuffer) => BandSynth.load(SAMPLE_RATE, bytes)
const whole = new Uint8Array(bankBytes())

test.each([0, 1, 11, 12, 100, 4096, 1_000_000, whole.length - 1])(
  'A bank that is cut off after %i bytes is refused',
  async (length) => {
    expect(await load(whole.slice(0, length).buffer)).toMatchObject({ ok: false })
  },
)

test('A page instead of a bank is refused', async () => {
  expect(await load(new TextEncoder().encode('<!doctype html><title>Not found</title>').buffer)).toMatchObject({
    ok: false,
  })
})

test('Bytes by chance are refused, with and without the head of a bank', async () => {
  const random = randomFrom(4)
  const bytes = Uint8Array.from({ length: 65_536 }, () => random(256))
  expect(await load(bytes.slice().buffer)).toMatchObject({ ok: false })
  bytes.set(whole.subarray(0, 12))
  new DataView(bytes.buffer).setUint32(4, bytes.length - 8, true)
  expect(await load(bytes.buffer)).toMatchObject({ ok: false })
})

test('A bank with a sample that cannot be decoded is refused', async () => {
  const bytes = whole.slice()
  bytes.fill(0, 100_000, 300_000)
  expect(await load(bytes.buffer)).toMatchObject({ ok: false, message: expect.stringContaining('cannot be decoded') })
})

test('A bank with some bytes changed in its tables is refused or loaded, but never waited for in vain', async () => {
  const tables = whole.length - 60_000
  for (const seed of [5, 6, 7, 8]) {
    const random = randomFrom(seed)
    const bytes = whole.slice()
    for (let change = 0; change < 200; change++) bytes[tables + random(60_000)] = random(256)
    expect((await load(bytes.buffer)).ok, `seed ${seed}`).toBeTypeOf('boolean')
  }
})
