import { pitchName } from '../line/rule-blank.ts'
import type { FileTrack } from './midi-reader.ts'

/** The track of a file that the bass plays, or a sentence that asks for it. */
export type BassTrack =
  | { readonly ok: true; readonly track: FileTrack; readonly number: number }
  | { readonly ok: false; readonly message: string }

/** The percussion channel, and the programs of basses as sent. Source: General MIDI System Level 1: 33 to 40 as people count. */
const DRUMS = 10
const isBassProgram = ({ program }: FileTrack): boolean => program !== undefined && program >= 32 && program <= 39

/** A name that says bass, and not a bass drum or a bassoon. */
const isBassName = ({ name }: FileTrack): boolean =>
  /\bbass?\b|\bbs\b/i.test((name ?? '').replace(/bass[ -]?drum/i, ''))

/** Where most lines lie, by the middle note: up to E3. Source: common use of four strings, no source. */
const HIGHEST_MIDDLE = 52

/** So many notes in a hundred may sound together with the one before. */
const MOST_TOGETHER = 5

const MOST_NAMED = 6

/**
 * Finds the bass: the one track with a bass program; else the one that is called so; else the one that is low and plays one note at a time;
 * else the only one that is no percussion. Where several are left, or none, it is asked for.
 *
 * @param asked  a track's number, from 1, in the order of the file, those without notes left out
 */
export function bassTrackOf(tracks: readonly FileTrack[], asked: number | undefined): BassTrack {
  const found = (track: FileTrack): BassTrack => ({ ok: true, track, number: tracks.indexOf(track) + 1 })
  if (asked !== undefined) {
    const track = tracks[asked - 1]
    if (track) return found(track)
    const has = tracks.length === 1 ? 'one track' : `${tracks.length} tracks`
    return {
      ok: false,
      message: `There is no track ${asked}: the file has ${has} with notes, ${namedFrom(tracks, tracks)}.`,
    }
  }
  const pitched = tracks.filter(({ channel }) => channel !== DRUMS)
  if (pitched.length === 0) {
    const what = tracks.length > 0 ? 'nothing but percussion' : 'no note'
    return { ok: false, message: `The file holds ${what}, so there is no bass line in it.` }
  }
  let left: readonly FileTrack[] = pitched
  for (const isBass of [isBassProgram, isBassName, isLowAndAlone]) {
    const some = left.filter(isBass)
    if (some.length === 1) return found(some[0]!)
    if (some.length > 1) left = some
  }
  if (left.length === 1) return found(left[0]!)
  const message = `Which track is the bass: ${namedFrom(left, tracks)}? Say it with --track ${tracks.indexOf(left[0]!) + 1}.`
  return { ok: false, message }
}

/** Low, and one note at a time. */
function isLowAndAlone({ notes }: FileTrack): boolean {
  const pitches = notes.map(({ pitch }) => pitch).sort((a, b) => a - b)
  return pitches[pitches.length >> 1]! <= HIGHEST_MIDDLE && 100 * togetherIn(notes) <= MOST_TOGETHER * notes.length
}

/** How many notes begin while the one before sounds on for more than half of their own length. */
function togetherIn(notes: FileTrack['notes']): number {
  return notes.filter((note, i) => {
    const before = notes[i - 1]
    return before !== undefined && before.startTick + before.ticks > note.startTick + note.ticks / 2
  }).length
}

/** Tracks by number and name, as far as a sentence holds them. */
function namedFrom(some: readonly FileTrack[], all: readonly FileTrack[]): string {
  const named = some.slice(0, MOST_NAMED).map((track) => {
    const pitches = track.notes.map(({ pitch }) => pitch)
    const lowest = pitches.reduce((a, b) => Math.min(a, b))
    const highest = pitches.reduce((a, b) => Math.max(a, b))
    const name = track.name === undefined ? '' : ` "${track.name}"`
    return `${all.indexOf(track) + 1}${name} (${track.notes.length} notes, ${pitchName(lowest)} to ${pitchName(highest)})`
  })
  if (some.length > MOST_NAMED) named.push(`${some.length - MOST_NAMED} more`)
  return named.length < 2 ? named.join('') : `${named.slice(0, -1).join(', ')} or ${named.at(-1)}`
}
