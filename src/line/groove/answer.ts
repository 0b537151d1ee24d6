import { pitchClassOf } from '../../music/pitch.ts'
import type { LaidBar, LaidSlot } from './bar.ts'

/** Whether two layings of one bar are heard as the same: the same tones at the same places, in whatever octave. */
export function soundsLike(one: LaidBar, other: LaidBar): boolean {
  return (
    one.slots.length === other.slots.length &&
    one.slots.every((slot, index) => {
      const like = other.slots[index]!
      return slot.onset.tick === like.onset.tick && soundOf(one, slot) === soundOf(other, like)
    })
  )
}

/** A tone's pitch class; a written step into its target as it is written. */
function soundOf({ context: { parts, next } }: LaidBar, { tone, reference }: LaidSlot): number | string {
  const { bassPc } = (parts[reference] ?? next!).chord
  if (tone.kind === 'kept') return pitchClassOf(tone.pitch)
  if (tone.kind === 'degree') return pitchClassOf(bassPc + tone.tone.semitones)
  const { by, from } = tone.token
  return by === 'dominant' ? pitchClassOf(bassPc + 7) : `${by} ${from} ${bassPc}`
}
