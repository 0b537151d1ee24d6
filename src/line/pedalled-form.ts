import type { Change, Form, FormBar } from '../chart/form.ts'
import { type Chord, overBass } from '../music/chord.ts'
import { formatNoteName, type NoteName } from '../music/note-name.ts'
import { binds, type RuleInForce } from './rule.ts'

const KNOWN = new WeakMap<Form, Map<string, Form>>()

/**
 * A form with the basses that musts put under its chords: over a pedal every chord is a slash chord. A chord that held on over
 * the beginning or the end of a pedal arrives there. The same object for the same basses; the form itself where there are none.
 */
export function pedalledForm(form: Form, rules: readonly RuleInForce[]): Form {
  // A weight leaves the chords as they are: whether there is a line at all must not hang on it.
  const musts = rules.filter(({ bass, strength }) => bass && strength === 'must')
  if (musts.length === 0) return form
  const basses = form.bars.map(({ index }) => musts.findLast((rule) => binds(rule, index))?.bass)
  const known = KNOWN.get(form) ?? new Map<string, Form>()
  KNOWN.set(form, known)
  const key = basses.map((bass) => bass && formatNoteName(bass)).join()
  const made = known.get(key) ?? withBasses(form, basses)
  known.set(key, made)
  return made
}

function withBasses(form: Form, basses: readonly (NoteName | undefined)[]): Form {
  // A chord that comes again is the same object, as it was before.
  const known = new Map<Chord, Map<string, Chord>>()
  const over = (chord: Chord, bass: NoteName): Chord => {
    const ofChord = known.get(chord) ?? new Map<string, Chord>()
    known.set(chord, ofChord)
    const name = formatNoteName(bass)
    const made = ofChord.get(name) ?? overBass(chord, bass)
    ofChord.set(name, made)
    return made
  }
  let before: Chord | undefined
  const bars = form.bars.map((bar): FormBar => {
    const bass = basses[bar.index]
    const changes = bar.changes.map((change): Change => {
      const chord = change.chord && bass ? over(change.chord, bass) : change.chord
      const held = change.held && before?.bassPc === chord?.bassPc
      before = chord
      return chord === change.chord && held === change.held ? change : { ...change, chord, held }
    })
    return { ...bar, changes }
  })
  return { ...form, bars, changes: bars.flatMap((bar) => bar.changes) }
}
