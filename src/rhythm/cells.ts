import { type NamedCell, parseCell, placesOfLength } from './cell.ts'

/**
 * The rhythm cells: under the name of each group (from plain to dense) two rows a cell, id and notation, then name | level |
 * feels that use it | touch.
 *
 * The level, 1 to 5, is an order of teaching. Names are trade words or plain descriptions. Source: common practice, no source;
 * every rhythm is written for this table from practice, none is transcribed.
 */
const TABLE = `
# long
whole-note: 1
  whole note | 1 | ballad-two half-time hip-hop | long, mf
half-notes: 1 3
  half notes | 1 | ballad-two swing-fast country-two bossa-nova half-time | long, 1 a little over 3
half-and-two: 1 3 4
  half and two quarters | 1 | ballad-two swing-medium cha-cha-cha country-two | lead into the next bar with 4
two-and-half: 1 2 3
  two quarters and half | 1 | ballad-two half-time soul-eighths | let 3 ring
bar-rest: (1)
  bar of rest | 1 | one-drop hip-hop half-time | silence is played too
# quarter
two-beat: 1. (2) 3. (4)
  two-beat, short | 1 | country-two second-line | short, 1 over 3
two-beat-walk-up: 1. (2) 3 4
  two-beat with a walk-up | 1 | country-two | 3 and 4 long, rising
two-beat-skip: 1 3 4&
  two-beat with a skip | 2 | ballad-two country-two swing-medium | skip soft
four-quarters: 1 2 3 4
  four in the bar | 1 | swing-medium swing-fast shuffle soul-eighths half-time-shuffle second-line rock-eighths disco-octaves steppers ballad-two | long, 2 and 4 slightly over
short-quarters: 1. 2. 3. 4.
  short quarters | 1 | soul-eighths steppers disco-octaves | short and even
quarters-on-two-and-four: (1) 2 (3) 4
  two and four only | 2 | one-drop soul-eighths | short
rest-on-one: (1) 2 3 4
  rest on one | 2 | one-drop | weight on 3
rest-on-four: 1 2 3 (4)
  rest on four | 1 | rock-eighths one-drop second-line steppers | stop 3 cleanly
one-and-four: 1 (2) 4
  one and four | 2 | half-time hip-hop second-line | 4 leads over the bar
walk-skip-four: 1 2 3 4 &
  walk, skip after four | 2 | swing-medium swing-fast shuffle steppers | skip soft or ghosted
walk-skip-three: 1 2 3 & 4
  walk, skip after three | 2 | swing-medium swing-fast | skip soft
walk-skip-two: 1 2 & 3 4
  walk, skip after two | 2 | swing-medium swing-fast shuffle | skip soft or ghosted
walk-skip-one: 1 & 2 3 4
  walk, skip after one | 2 | swing-medium swing-fast shuffle | skip soft
walk-ghost-two: 1 2 &x 3 4
  walk, raked ghost before three | 3 | swing-medium swing-fast | ghost on an open string
walk-triplet-four: 1 2 3 4 trip let
  walk, triplet on four | 3 | swing-medium shuffle | even triplet, falling in volume
walk-triplet-two: 1 2 tripx letx 3 4
  walk, pulled triplet on two | 4 | swing-medium | two ghosts raked downwards
# dotted quarter
dotted-pair: 2/4: 1 2&
  dotted quarter and eighth | 1 | bossa-nova soul-eighths rock-eighths half-time country-two | eighth leads on
dotted-pair-twice: 1 2& 3 4&
  dotted pair, twice | 1 | bossa-nova rock-eighths soul-eighths samba | even, soft fingers
dotted-then-half: 1 2& 3
  dotted quarter, eighth, half | 1 | bossa-nova half-time soul-eighths ballad-two | let 3 ring
quarters-then-dotted: 1 2 3 4&
  two quarters, dotted pair | 2 | soul-eighths rock-eighths half-time | 4& leads on
charleston: 1 2&. (3)
  Charleston | 2 | half-time soul-eighths hip-hop | two shorts, then space
charleston-held: 1 2&
  Charleston, held | 2 | half-time hip-hop ballad-two | second note rings
reverse-charleston: (1) &. 3. (4)
  reverse Charleston | 3 | soul-eighths one-drop | short
# eighth
eighth-pair: 1/4: 1 &
  pair of eighths | 1 | rock-eighths soul-eighths shuffle | even
eight-eighths: 1 & 2 & 3 & 4 &
  driving eighths | 1 | rock-eighths shuffle disco-octaves steppers | even, no accent
eighths-backbeat: 1 & 2> & 3 & 4> &
  eighths, leaning on two and four | 1 | rock-eighths | accent with the snare
short-eighths: 1. &. 2. &. 3. &. 4. &.
  short eighths | 2 | rock-eighths disco-octaves | palm or muted
eighths-stop-four: 1 & 2 & 3 & (4)
  eighths, stop on four | 1 | rock-eighths half-time | stop on the snare
eighths-gap-three: 1 & 2 & (3) & 4 &
  eighths, gap on three | 2 | rock-eighths soul-eighths
eighths-gap-two: 1 & (2) & 3 & (4) &
  eighths, gap on two | 2 | rock-eighths soul-eighths | leave the snare alone
quarter-and-eighths: 1 2 & 3 4 &
  quarter, two eighths, twice | 1 | steppers soul-eighths second-line rock-eighths | eighths lighter
eighths-and-quarter: 1 & 2 3 & 4
  two eighths, quarter, twice | 1 | rock-eighths soul-eighths steppers | quarters short
soul-line: 1. (&) 2 & (3) & 4 &
  soul line | 3 | soul-eighths | first short, the rest connected
soul-lift: 1 2. & (3) & 4.
  soul lift | 3 | soul-eighths | 2 and 4 short
soul-answer: (1) & 2 & 3. (4)
  soul answer | 3 | soul-eighths | answers the bar before
pick-up-four: (1) 4 &
  two eighths into the bar | 1 | rock-eighths half-time one-drop hip-hop | crescendo
pick-up-three: (1) 3 & 4 &
  four eighths into the bar | 2 | rock-eighths soul-eighths disco-octaves | crescendo
# off-beat
off-beats: (1) & (2) & (3) & (4) &
  off-beats | 2 | disco-octaves steppers | short, on top
one-then-off-beats: 1 (2) & (3) & (4) &
  one, then off-beats | 2 | disco-octaves soul-eighths | one long, off-beats short
octave-off-beats: 1 &. 2 &. 3 &. 4 &.
  octaves, off-beats up | 2 | disco-octaves | low long, high short
off-beats-late-bar: 1 2 (3) & (4) &
  beats, then off-beats | 2 | soul-eighths rock-eighths
# syncopated eighth
short-long-short: 2/4: 1 & 2&
  short, long, short | 2 | second-line soul-eighths samba | middle note leans
short-long-short-twice: 1 & 2& 3 & 4&
  short, long, short, twice | 2 | second-line soul-eighths samba | middle note leans
push-into-three-full: 1 & 2 & ~3 & 4 &
  eighths, push into three | 2 | rock-eighths | accent 2&
sync-chain: 1 & 2& 3& 4&
  chain of off-beats from one | 3 | soul-eighths second-line | do not rush
cinquillo: 1 2 & 3& 4
  cinquillo | 3 | tumbao second-line | even
late-two: 1 (2) & 3 (4)
  one, late two, three | 2 | half-time soul-eighths
# push
push-over: 1 2 3 4&~
  push over the bar | 2 | rock-eighths soul-eighths half-time | 4& carries the next one
push-over-from: ~1 2 3 4&~
  held from the push, push again | 3 | rock-eighths soul-eighths
push-eighths: 1 & 2 & 3 & 4 &~
  eighths with push over the bar | 2 | rock-eighths | accent the push
push-eighths-from: ~1 & 2 & 3 & 4 &~
  held, eighths, push again | 3 | rock-eighths | accent the push
push-both: ~1 2 & 4 &~
  push into three and over the bar | 4 | soul-eighths bossa-nova | both pushes firm
push-walk: 1 2 3 4 &~
  walk, push over the bar | 3 | swing-medium swing-fast ballad-two | short 4, firm push
push-sixteenth: 1 2& 3 4a~
  sixteenth push over the bar | 4 | funk-sixteenths hip-hop | push late enough
held-then-three: ~1 2 3 4
  held over, three quarters | 2 | rock-eighths soul-eighths swing-medium
# sixteenth
four-sixteenths: 1/4: 1 e & a
  four sixteenths | 2 | funk-sixteenths disco-octaves | lead from the first
gallop: 1/4: 1 & a
  eighth and two sixteenths | 2 | rock-eighths disco-octaves funk-sixteenths | eighth over
reverse-gallop: 1/4: 1 e &
  two sixteenths and eighth | 2 | funk-sixteenths disco-octaves
dotted-eighth-pair: 1/4: 1 a
  dotted eighth and sixteenth | 2 | funk-sixteenths hip-hop samba | sixteenth light
snap: 1/4: 1 e
  sixteenth and dotted eighth | 3 | funk-sixteenths | second note rings
sixteenth-eighth-sixteenth: 1/4: 1 e a
  sixteenth, eighth, sixteenth | 3 | funk-sixteenths | e leans
e-and-a: 1/4: (1) e & a
  e and a | 3 | funk-sixteenths
and-a: 1/4: (1) & a
  and a | 2 | funk-sixteenths hip-hop disco-octaves | leads into the beat
e-and-last: 1/4: (1) e (&) a
  e and last sixteenth | 4 | funk-sixteenths | short
last-sixteenth: 1/4: (1) a
  last sixteenth | 3 | funk-sixteenths hip-hop | leads into the beat
beat-with-ghosts: 1/4: 1 ex & ax
  beat with ghosts | 3 | funk-sixteenths | ghosts far under
ghost-pick-up: 1/4: (1) &x ax
  ghosts into the beat | 3 | funk-sixteenths soul-eighths | ghosts far under
on-the-one: 1>. (e) (2) &. a (3) & (4) e &.
  on the one, answer late | 4 | funk-sixteenths | one heavy, the rest light
one-and-space: 1> e. (&) (2) (3) 4 e &. (a)
  on the one, then space | 4 | funk-sixteenths hip-hop | one heavy
funk-ladder: 1 a 2& 3e 4
  threes over the beat | 4 | funk-sixteenths | keep the pulse in the foot
funk-broken: 1 (e) & ax 2. (e) (&) a ~3 & ax 4. (e) & (a)
  broken sixteenths | 5 | funk-sixteenths
funk-two-beat: 2/4: 1. (e) & a (2) e & (a)
  two-beat sixteenth cell | 4 | funk-sixteenths
sixteenth-tresillo: 2/4: 1 a 2&
  3+3+2 sixteenths | 2 | funk-sixteenths hip-hop samba
hip-hop-drop: 1 (2) a ~3 (&) 4& (a)
  drop with late answer | 3 | hip-hop | heavy, late
hip-hop-bounce: 1 a (2) & 3 (&) a (4)
  bounce | 3 | hip-hop
hip-hop-sparse: 1 (&) (2) 3e (4)
  one and late three | 3 | hip-hop
# clave family
tresillo: 1 2& 4
  tresillo (also: push into three) | 1 | cha-cha-cha second-line tumbao half-time bossa-nova rock-eighths soul-eighths | equal weight
habanera: 1 2& 3 4
  habanera | 2 | cha-cha-cha second-line tumbao soul-eighths rock-eighths bossa-nova | 3 light; 3 and 4 short in straight feels
habanera-two: 2/4: 1 a 2 &
  habanera in two | 2 | funk-sixteenths hip-hop
son-clave-three-two: 1 2& 4 | (1) 2 3 (4)
  son clave, three-two | 3 | tumbao second-line | clap it before playing
son-clave-two-three: (1) 2 3 (4) | 1 2& 4
  son clave, two-three | 3 | tumbao | clap it before playing
rumba-clave-three-two: 1 2& 4& | (1) 2 3 (4)
  rumba clave, three-two | 4 | tumbao | clap it before playing
bossa-clave: 1 2& 4 | (1) 2 3& (4)
  bossa clave | 3 | bossa-nova | comping, not bass
tumbao-first: 1 2& 4~
  tumbao, first bar | 3 | tumbao | 4 carries the next chord
tumbao: ~1 2& 4~
  tumbao | 4 | tumbao | no attack on 1; 4 carries the next chord
tumbao-last: ~1 2& 4
  tumbao, last bar | 3 | tumbao
tumbao-three-four: ~1 3 4~
  tumbao on three and four | 3 | tumbao | no attack on 1; 4 carries the next chord
tumbao-with-three: ~1 2& 3 4~
  tumbao with three | 4 | tumbao | 3 lighter
cha-cha-walk: 1 (2) 3 4
  one, three, four | 2 | cha-cha-cha | short, 4 pushes
cha-cha-eighths: 1. (2) 3. 4 &
  one, three, four-and | 3 | cha-cha-cha
samba-low-drum: 1 2& 3> 4&
  samba low drum | 2 | samba | 3 over 1, 1 a little damped
samba-damped: 1. (2) & 3> 4&
  samba, damped one | 3 | samba | 1 short, 3 long
samba-push: ~1 2& 3> 4&~
  samba, push over the bar | 4 | samba
baiao: 2/4: 1 a
  dotted drum in two (baião) | 2 | samba hip-hop | second note rings
# triplet
triplet: 1/4: 1 trip let
  triplet | 2 | shuffle swing-medium half-time-shuffle | even
shuffle-pair: 1/4: 1 let
  shuffle pair, written out | 1 | half-time-shuffle | long, short
triplet-without-first: 1/4: (1) trip let
  triplet without its first | 3 | half-time-shuffle shuffle
triplet-without-last: 1/4: 1 trip (let)
  triplet without its last | 3 | half-time-shuffle shuffle
quarter-triplet: 2/4: 1 let 2trip
  quarter triplet | 3 | swing-medium half-time-shuffle
half-triplet: 1 2trip 3let
  half triplet | 4 | swing-medium ballad-two
shuffle-box: 1. & 2. & 3. & 4. &
  shuffle, every eighth | 1 | shuffle | swung in performance; beats short, skips lead on
shuffle-quarters-skip: 1 2 3 4. &
  shuffle quarters, skip into one | 2 | shuffle | swung in performance
shuffle-two-skip: 1 2. & 3 4. &
  shuffle, skip after two and four | 2 | shuffle half-time-shuffle | swung in performance
half-shuffle-line: 1 let (2) let 3 (4) let
  half-time shuffle line | 4 | half-time-shuffle | on the triplet grid
half-shuffle-drop: 1 (2) let 3 let (4)
  half-time shuffle, drop | 3 | half-time-shuffle | on the triplet grid
# twelve-eight
twelve-dotted: 12/8: 1 4 7 10
  four dotted quarters | 1 | slow-blues gospel-twelve | long
twelve-long-short: 12/8: 1 3 4 6 7 9 10 12
  long, short, four times | 1 | slow-blues | short notes lead on
twelve-run-out: 12/8: 1 4 7 10 11 12
  three beats and a run | 2 | slow-blues gospel-twelve | run grows
twelve-mid-run: 12/8: 1 4 5 6 7 10
  run in the middle | 2 | slow-blues gospel-twelve
twelve-rolling: 12/8: 1 2 3 4 5 6 7 8 9 10 11 12
  all twelve | 3 | gospel-twelve slow-blues | groups of three
twelve-lead-in: 12/8: 1 6 7 12
  halves with a lead-in | 2 | gospel-twelve slow-blues | lead-ins soft
twelve-lead-in-one: 12/8: 1 7 12
  long one, lead-in to one | 2 | gospel-twelve
twelve-half: 12/8: 1 7
  dotted halves | 1 | gospel-twelve slow-blues | long
twelve-push: 12/8: 1 4 6 7 10 12~
  push over the bar | 4 | gospel-twelve
twelve-bell: 12/8: 1 3 5 6 8 10 12
  twelve-eight bell | 5 | gospel-twelve | clap it before playing
# three
waltz-one: 3/4: 1
  dotted half | 1 | waltz jazz-waltz | long
waltz-three: 3/4: 1 2 3
  three in the bar | 1 | jazz-waltz waltz
waltz-one-three: 3/4: 1 3
  half and quarter | 1 | jazz-waltz waltz | 3 leads on
waltz-short-one: 3/4: 1. (2)
  one, short | 1 | waltz
waltz-dotted-pair: 3/4: 1 2&
  two dotted quarters | 2 | jazz-waltz | two against three
waltz-skip-two: 3/4: 1 2 & 3
  walk, skip after two | 2 | jazz-waltz | skip soft
waltz-skip-three: 3/4: 1 2 3 &
  walk, skip after three | 2 | jazz-waltz waltz | skip soft
waltz-late-three: 3/4: 1 (2) & 3
  one and late two | 3 | jazz-waltz
waltz-push: 3/4: 1 2 3&~
  walk, push over the bar | 3 | jazz-waltz
waltz-hemiola: 3/4: 1 3 | ~1 2
  halves over two bars | 4 | jazz-waltz waltz | three against two bars
# six
six-two: 6/8: 1 4
  two dotted quarters | 1 | six-eight | long
six-long-short: 6/8: 1 3 4 6
  long, short, twice | 1 | six-eight
six-all: 6/8: 1 2 3 4 5 6
  six eighths | 2 | six-eight
six-lead-in: 6/8: 1 6
  long one, lead-in | 1 | six-eight
six-run: 6/8: 1 4 5 6
  one and a run | 2 | six-eight | run grows
six-three: 6/8: 1 3 5
  three quarters | 3 | six-eight | three against two
six-push: 6/8: 1 4 6~
  push over the bar | 3 | six-eight
# nine
nine-three: 9/8: 1 4 7
  three dotted quarters | 2 | six-eight
nine-long-short: 9/8: 1 3 4 6 7 9
  long, short, three times | 2 | six-eight
nine-two-two-two-three: 9/8: 1 3 5 7
  2+2+2+3 | 4 | seven-eight
# five
five-quarters: 5/4: 1 2 3 4 5
  five in the bar | 2 | five-four
five-three-two: 5/4: 1 4
  3+2, long | 1 | five-four
five-two-three: 5/4: 1 3
  2+3, long | 2 | five-four | only where the groups are 2+3
five-vamp: 5/4: 1 2& 4 5
  dotted pair and two | 2 | five-four
five-vamp-skip: 5/4: 1 2& 4 5 &
  dotted pair, two, skip | 3 | five-four
five-eighths: 5/4: 1 & 2 & 3 & 4 & 5 &
  ten eighths | 3 | five-four
# seven
seven-groups: 7/8: 1 3 5
  2+2+3, long | 2 | seven-eight
seven-groups-lead: 7/8: 1 3 5 7
  2+2+2+1 | 2 | seven-eight | 7 leads on
seven-all: 7/8: 1 2 3 4 5 6 7
  seven eighths | 3 | seven-eight
seven-drive: 7/8: 1 2 3 4 5 7
  pairs and a three | 3 | seven-eight
seven-three-two-two: 7/8: 1 4 6
  3+2+2, long | 3 | seven-eight | only where the groups are 3+2+2
seven-push: 7/8: 1 3 5 7~
  push over the bar | 4 | seven-eight
# two
two-in-two: 2/4: 1 2
  two in the bar | 1 | country-two second-line
two-in-two-skip: 2/4: 1 2 &
  two with a skip | 1 | country-two second-line
# reggae
drop-line: (1) 2 3 & 4
  two, three, lead out | 2 | one-drop | round, 3 heaviest
drop-line-low: (1) 3
  three only | 2 | one-drop | round
drop-melody: (1) & 2 & 3 (4) &
  melody with rest on one | 3 | one-drop | round, behind
drop-two-bars: 1 & 2 & 3 (4) | (1) 3 & 4 &
  call and rest | 3 | one-drop steppers
steppers-line: 1 (2) & 3 4 &
  long one, moving end | 2 | steppers one-drop
`

/** Cells that ask for beat groups of their own. */
const GROUPS_ASKED: Readonly<Record<string, readonly number[]>> = {
  'five-two-three': [2, 3],
  'seven-three-two-two': [3, 2, 2],
}

/** All cells, in the order of the table. */
export const CELLS: readonly NamedCell[] = TABLE.split('\n# ')
  .slice(1)
  .flatMap((section) => {
    const [group, ...rows] = section.trimEnd().split(/\n(?! )/) as [string, ...string[]]
    return rows.map((row) => namedCell(group, row))
  })

function namedCell(group: string, row: string): NamedCell {
  const [, id, notation, facts] = /^(\S+): (.+)\n {2}(.+)$/.exec(row) as unknown as [string, string, string, string]
  const [name, level, feels, touch] = facts.split(' | ') as [string, string, string, string?]
  const reading = parseCell(notation)
  if (!reading.ok) throw new RangeError(`cell ${id}: ${reading.message}`)
  const { cell } = reading
  const places = placesOfLength(cell)
  return {
    ...cell,
    ...places,
    groups: GROUPS_ASKED[id],
    id,
    name,
    group,
    notation,
    level: Number(level),
    feels: feels.split(' '),
    touch: touch ?? '',
  }
}

const BY_ID: ReadonlyMap<string, NamedCell> = new Map(CELLS.map((cell) => [cell.id, cell]))

/** The cell with an id; `undefined` if there is none. */
export function cellOf(id: string): NamedCell | undefined {
  return BY_ID.get(id)
}

/**
 * The cells of a tiling, in order of time: ids separated by blanks, `id*n` for the same cell n times. `undefined` if an id is
 * unknown.
 *
 * @example
 * cellsOfTiling('gallop*4')?.length // => 4
 * cellsOfTiling('dotted-pair no-such-cell') // => undefined
 */
export function cellsOfTiling(tiling: string): readonly NamedCell[] | undefined {
  const cells = tiling.split(' ').flatMap((part) => {
    const [id, times] = part.split('*') as [string, string?]
    return Array.from({ length: Number(times ?? 1) }, () => cellOf(id))
  })
  return cells.every((cell) => cell !== undefined) ? cells : undefined
}
