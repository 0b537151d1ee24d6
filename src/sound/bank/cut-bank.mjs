// Cuts the band's sound bank from a large General MIDI bank: sixteen presets under neutral names, softer notes made darker, the
// samples as Ogg Vorbis. It runs by hand only, and its result is committed, because the source cannot be had from a registry:
//
//   npm install --no-save wasm-media-encoders@0.7.0
//   node src/sound/bank/cut-bank.mjs FluidR3_GM.sf2 src/sound/bank/band.sf3
//
// Source: FluidR3_GM.sf2 of the Debian package fluid-soundfont-gm 3.1-5.3, under the licence that lies beside this file, SHA-256
// 74594e8f4250680adf590507a306655a299935343583256f3b722c48a1bc1cb0. Compare counts and sizes of two results, not their bytes:
// Ogg streams have serial numbers by chance.

import { readFileSync, writeFileSync } from 'node:fs'
import {
  BasicSoundBank,
  GeneratorTypes,
  Modulator,
  ModulatorControllerSources,
  ModulatorCurveTypes,
  ModulatorSource,
  SoundBankLoader,
} from 'spessasynth_core'
import { createOggEncoder } from 'wasm-media-encoders'

/** Names by program as sent. Source: General MIDI System Level 1. */
const BASSES = {
  32: 'Acoustic Bass',
  33: 'Electric Bass (finger)',
  34: 'Electric Bass (pick)',
  35: 'Fretless Bass',
  36: 'Slap Bass 1',
  37: 'Slap Bass 2',
  38: 'Synth Bass 1',
  39: 'Synth Bass 2',
}
const CHORDS = {
  4: 'Electric Piano 1',
  16: 'Drawbar Organ',
  24: 'Acoustic Guitar (nylon)',
  26: 'Electric Guitar (jazz)',
  27: 'Electric Guitar (clean)',
}

/** Names by program as sent. Source: General MIDI Level 2, drum sets. */
const KITS = { 0: 'Standard Kit', 32: 'Jazz Kit', 40: 'Brush Kit' }

/** B0 to G4, E2 to C6, and the percussion that feels use or may use. */
const BASS_KEYS = range(23, 67)
const CHORD_KEYS = range(40, 84)
const KIT_KEYS = [31, ...range(33, 51), ...range(53, 57), ...range(59, 64), 69, 70, 75, 76, 77, 82]

/**
 * Low-pass filter by program: its ceiling at the hardest stroke and how far a soft one is below, in absolute cents and cents. The
 * source has no darker soft notes. Source of the numbers: our measurement of spectral centroids.
 */
const FILTERS = {
  4: [10_500, -2700],
  24: [12_000, -2700],
  26: [11_800, -2700],
  27: [12_000, -2700],
  32: [10_800, -3000],
  33: [9600, -3000],
  34: [10_500, -2700],
  35: [9800, -3000],
  36: [12_500, -3000],
  37: [12_500, -3000],
}

/** Vorbis quality; cymbals have more, or the ride loses its wash above 12 kHz. Source: our measurement. */
const QUALITY = 3
const CYMBAL_QUALITY = 5
const CYMBAL_KEYS = [42, 44, 46, 49, 51, 53, 55, 57, 59]

/** Samples that are fed to the encoder at a time. */
const FEED = 16_384

function range(lowest, highest) {
  return Array.from({ length: highest - lowest + 1 }, (_, index) => lowest + index)
}

/** Name and keys of what is kept of a preset; `undefined`: nothing. */
function kept(preset) {
  const { program, bankMSB, bankLSB, isGMGSDrum } = preset
  if (bankMSB || bankLSB) return undefined
  if (isGMGSDrum) return KITS[program] && { name: KITS[program], keys: KIT_KEYS }
  if (BASSES[program]) return { name: BASSES[program], keys: BASS_KEYS }
  return CHORDS[program] && { name: CHORDS[program], keys: CHORD_KEYS }
}

function darkenSoftNotes(preset) {
  const filter = FILTERS[preset.program]
  if (preset.isGMGSDrum || !filter) return
  const [ceiling, depth] = filter
  for (const instrument of new Set(preset.zones.map((zone) => zone.instrument))) {
    const byVelocity = new ModulatorSource(
      ModulatorControllerSources.noteOnVelocity,
      ModulatorCurveTypes.linear,
      false,
      false,
      true,
    )
    instrument.globalZone.addModulators(
      new Modulator(byVelocity, new ModulatorSource(), GeneratorTypes.initialFilterFc, depth),
    )
    instrument.globalZone.setGenerator(GeneratorTypes.initialFilterFc, ceiling)
    for (const zone of instrument.zones) zone.setGenerator(GeneratorTypes.initialFilterFc, null)
  }
}

/** The samples of the cymbals, by their sound: the encoder is given nothing else. */
function cymbalSounds(bank) {
  const zones = bank.presets
    .filter((preset) => preset.isGMGSDrum)
    .flatMap((preset) => preset.zones)
    .flatMap(({ instrument }) => instrument.zones)
  const struck = zones.filter(({ keyRange }) => CYMBAL_KEYS.some((key) => keyRange.min <= key && key <= keyRange.max))
  return new Set(struck.map(({ sample }) => sample.getAudioData()))
}

/** What makes an Ogg Vorbis file of a sample. */
async function vorbisOf(cymbals) {
  const encoder = await createOggEncoder()
  return async (sound, sampleRate) => {
    encoder.configure({ sampleRate, channels: 1, vbrQuality: cymbals.has(sound) ? CYMBAL_QUALITY : QUALITY })
    const pieces = []
    // The encoder gives the same buffer each time: copy.
    for (let from = 0; from < sound.length; from += FEED)
      pieces.push(encoder.encode([sound.subarray(from, from + FEED)]).slice())
    pieces.push(encoder.finalize().slice())
    return new Uint8Array(Buffer.concat(pieces))
  }
}

const [source, result] = process.argv.slice(2)
if (!source || !result) throw new RangeError('usage: node cut-bank.mjs SOURCE.sf2 RESULT.sf3')

// Cut
await BasicSoundBank.isSF3DecoderReady
const bank = SoundBankLoader.fromArrayBuffer(new Uint8Array(readFileSync(source)).buffer)
const velocities = new Set(range(1, 127))
const wanted = bank.presets.map((preset) => [preset, kept(preset)]).filter(([, keeps]) => keeps)
bank.trim(new Map(wanted.map(([preset, { keys }]) => [preset, new Map(keys.map((key) => [key, velocities]))])))

// Name. The source has brands among its names.
for (const [preset, { name }] of wanted) preset.name = name
for (const [index, sample] of bank.samples.entries()) sample.name = `s${String(index).padStart(3, '0')}`
for (const [index, instrument] of bank.instruments.entries()) instrument.name = `i${String(index).padStart(2, '0')}`
Object.assign(bank.soundBankInfo, {
  name: 'Linewright band',
  engineer: 'cut from Fluid (R3) by its authors',
  copyright: 'Copyright (c) 2000-2002, 2008 Frank Wen; MIT licence',
  comment: 'See LICENCE beside this file.',
  product: '',
  soundEngine: 'wavetable',
})

// Darken, encode, write
for (const preset of bank.presets) darkenSoftNotes(preset)
await bank.setSampleFormat({ format: 'compressed', compressionFunction: await vorbisOf(cymbalSounds(bank)) })
const bytes = new Uint8Array(bank.writeSF2({ software: 'cut-bank' }))
writeFileSync(result, bytes)
process.stdout.write(`${bank.presets.length} presets, ${bank.samples.length} samples, ${bytes.length} bytes\n`)
