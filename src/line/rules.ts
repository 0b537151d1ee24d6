import type { Rule } from './rule.ts'
import { say } from './rule-phrase.ts'
import { ARRIVAL_NOT_GIVEN_AWAY } from './rules/arrival-not-given-away.ts'
import { AT_MOST_IN_A_ROW } from './rules/at-most-in-a-row.ts'
import { BAR_OFF_ROOT } from './rules/bar-off-root.ts'
import { BAR_ON_CHORD_TONE } from './rules/bar-on-chord-tone.ts'
import { BAR_ON_DEGREE } from './rules/bar-on-degree.ts'
import { BAR_ON_ROOT } from './rules/bar-on-root.ts'
import { BAR_PUSHED_OVER } from './rules/bar-pushed-over.ts'
import { BAR_RESTED } from './rules/bar-rested.ts'
import { BETWEEN_FRETS } from './rules/between-frets.ts'
import { CHANGE_APPROACHED_BY } from './rules/change-approached-by.ts'
import { CHANGE_NOT_APPROACHED } from './rules/change-not-approached.ts'
import { CHANGE_OFF_ROOT } from './rules/change-off-root.ts'
import { CHANGE_ON_CHORD_TONE } from './rules/change-on-chord-tone.ts'
import { CHANGE_ON_DEGREE } from './rules/change-on-degree.ts'
import { CHANGE_ON_ROOT } from './rules/change-on-root.ts'
import { CHORD_SOUNDS_DEGREE } from './rules/chord-sounds-degree.ts'
import { CHORD_TONE_ON_STRONG_BEAT } from './rules/chord-tone-on-strong-beat.ts'
import { CHROMATIC_NOTE_LEADS } from './rules/chromatic-note-leads.ts'
import { CONTOUR_FOLLOWED } from './rules/contour-followed.ts'
import { ENDS_WITH } from './rules/ends-with.ts'
import { FELT_IN } from './rules/felt-in.ts'
import { FIRST_NOTE_ON } from './rules/first-note-on.ts'
import { HAND_IN_POSITION } from './rules/hand-in-position.ts'
import { INSIDE_RANGE } from './rules/inside-range.ts'
import { INSIDE_SCALE } from './rules/inside-scale.ts'
import { KEEPS_BAR } from './rules/keeps-bar.ts'
import { LAST_NOTE_ON } from './rules/last-note-on.ts'
import { LEADS_BACK } from './rules/leads-back.ts'
import { LINE_AT_REPEATS } from './rules/line-at-repeats.ts'
import { MOTIF_THROUGHOUT } from './rules/motif-throughout.ts'
import { NO_GHOST_NOTE } from './rules/no-ghost-note.ts'
import { NO_LEAP_OVER } from './rules/no-leap-over.ts'
import { NO_OPEN_STRING } from './rules/no-open-string.ts'
import { NO_PUSH } from './rules/no-push.ts'
import { NON_CHORD_TONE_RESOLVES } from './rules/non-chord-tone-resolves.ts'
import { NOTES_A_BAR } from './rules/notes-a-bar.ts'
import { OPEN_STRING_WHERE_POSSIBLE } from './rules/open-string-where-possible.ts'
import { OPENS_WITH } from './rules/opens-with.ts'
import { PATTERN_SO_MANY_TIMES } from './rules/pattern-so-many-times.ts'
import { PATTERN_THROUGHOUT } from './rules/pattern-throughout.ts'
import { PEDAL_HELD } from './rules/pedal-held.ts'
import { PHRASE_OFF_ROOT } from './rules/phrase-off-root.ts'
import { PHRASE_ON_CHORD_TONE } from './rules/phrase-on-chord-tone.ts'
import { PHRASE_ON_DEGREE } from './rules/phrase-on-degree.ts'
import { PHRASE_ON_ROOT } from './rules/phrase-on-root.ts'
import { REGION_OF_THE_NECK } from './rules/region-of-the-neck.ts'
import { SHIFT_IN_TIME } from './rules/shift-in-time.ts'

/** Every rule, in the order in which they are listed. Where two can read a sentence, the earlier does. */
export const RULES: readonly Rule<unknown>[] = [
  INSIDE_RANGE,
  BETWEEN_FRETS,
  REGION_OF_THE_NECK,
  HAND_IN_POSITION,
  SHIFT_IN_TIME,
  NO_OPEN_STRING,
  OPEN_STRING_WHERE_POSSIBLE,
  NO_LEAP_OVER,
  CHANGE_ON_ROOT,
  CHANGE_ON_CHORD_TONE,
  CHANGE_OFF_ROOT,
  CHANGE_ON_DEGREE,
  BAR_ON_ROOT,
  BAR_ON_CHORD_TONE,
  BAR_OFF_ROOT,
  BAR_ON_DEGREE,
  PHRASE_ON_ROOT,
  PHRASE_ON_CHORD_TONE,
  PHRASE_OFF_ROOT,
  PHRASE_ON_DEGREE,
  CHANGE_APPROACHED_BY,
  CHANGE_NOT_APPROACHED,
  CHORD_TONE_ON_STRONG_BEAT,
  NON_CHORD_TONE_RESOLVES,
  INSIDE_SCALE,
  CHROMATIC_NOTE_LEADS,
  CHORD_SOUNDS_DEGREE,
  ARRIVAL_NOT_GIVEN_AWAY,
  PEDAL_HELD,
  AT_MOST_IN_A_ROW,
  CONTOUR_FOLLOWED,
  PATTERN_SO_MANY_TIMES,
  PATTERN_THROUGHOUT,
  FIRST_NOTE_ON,
  LAST_NOTE_ON,
  OPENS_WITH,
  ENDS_WITH,
  LEADS_BACK,
  LINE_AT_REPEATS,
  MOTIF_THROUGHOUT,
  FELT_IN,
  NOTES_A_BAR,
  KEEPS_BAR,
  BAR_RESTED,
  NO_GHOST_NOTE,
  NO_PUSH,
  BAR_PUSHED_OVER,
]

/** A sentence for each form that a rule has: those that its examples say. */
export function examplesOf(rule: Rule<unknown>): readonly string[] {
  const said = new Set(rule.keeps.map(({ value }) => say(rule.phrasings, value)))
  return said.size > 0 ? [...said] : [say(rule.phrasings, undefined)]
}
