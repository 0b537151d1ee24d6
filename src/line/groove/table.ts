/** A place in the bar as a groove sees it; `last` is any onset of the last beat that is not `one` or `mid`. */
export type Role = 'one' | 'mid' | 'back' | 'off' | 'fine' | 'last' | 'push'

/** What a role prices: degrees, an approach, any onset at all, and its own emptiness. `8` is the root in another octave, `4` is 2, 4 or 9, `x` is outside. */
export type RoleKind = '1' | '8' | '5' | '3' | '6' | '7' | '4' | 'x' | 'ap' | 'any' | 'none'

/** How the tokens of a pattern are dealt to the onsets of a cell. */
export type Deal = 'each' | 'run' | 'beat' | 'beatrun' | 'half' | 'tail' | 'low-high'

/** A figure at a phrase end (fill) or into a change (walk): a cell in cell notation, a token for each sounded onset. */
export interface Figure {
  readonly id: string
  readonly cell: string
  readonly tokens: string
  readonly points: number
  /** `f` small fill, `F` large fill, `F12` the twelfth bar of a blues, `change` a walk */
  readonly when: 'f' | 'F' | 'F12' | 'change'
  /** of the chord under it, or of the next chord where the tokens use `>b7`; `any` */
  readonly families: readonly string[] | 'any'
}

/** What makes the cheapest line over cells and degree patterns a groove. Whole points >= 0, comparable within one feel only. */
export interface GrooveTable {
  readonly roles: Readonly<Record<Role, Readonly<Record<RoleKind, number>>>>
  /** onsets a bar that the groove wants, points for each one missing and each one too many */
  readonly notes: number
  readonly under: number
  readonly over: number
  /** by number of different degrees in the bar: 1, 2, 3, 4, 5 and more */
  readonly degrees: readonly number[]
  /** two equal halves of a bar */
  readonly halves: number
  /** the pattern begins again on the middle, on a beat, off the beat */
  readonly restart: readonly [number, number, number]
  /** the last round of the pattern is not finished */
  readonly cut: number
  /** a pair of cell and pattern that the table does not list */
  readonly unlisted: number
  /** an approach taking over the last onset before a root moves */
  readonly approach: number
  /** bars of a phrase of eight that lead on before the ear tires of it; all eight where the lead is the figure itself */
  readonly mostLeads: number
  /** weight of the step from the last note into an arrival */
  readonly lead: number
  /** by size in semitones, 0 to 12, then `wide` for each semitone above 9 */
  readonly intervals: readonly number[]
  readonly wide: number
  /** the hand moves at all, and each 40 mm of the move, about a fret low on the neck */
  readonly shift: number
  readonly shiftStep: number
  readonly skip: number
  readonly open: number
  /** each fret away from the home hand, beyond one */
  readonly home: number
  /** semitones above the register's lowest note where the zone of twelve wants to start, and points a semitone off */
  readonly zone: number
  readonly zoneMove: number
  readonly fold: number
  readonly adapt: number
  readonly change: number
  readonly noWalk: number
  /** a lead that lands an octave off its target; 0 in feels that list the drop */
  readonly leadDrop: number
  /** listed pairs; `cell` is an id, `id*n`, or ids separated by blanks that tile the bar */
  readonly pairs: readonly {
    readonly cell: string
    readonly pattern: string
    readonly deal: Deal
    readonly lead: string | undefined
    readonly points: number
  }[]
  /** lead patterns that may go with unlisted pairs */
  readonly leads: readonly { readonly pattern: string; readonly points: number }[]
  /** the pattern that takes a pattern's place over these chord families */
  readonly relatives: readonly {
    readonly pattern: string
    readonly instead: string
    readonly families: readonly string[]
  }[]
  /** a letter a bar over the phrase of eight: `A A A f A A A F` */
  readonly schemes: readonly { readonly letters: readonly string[]; readonly points: number }[]
  readonly fills: readonly Figure[]
  readonly walks: readonly Figure[]
  /** dead notes beside those of the cells: places of the bar, the most wanted first, how many a bar, and what each costs */
  readonly ghosts: { readonly places: readonly string[]; readonly most: number; readonly points: number } | undefined
  /** places at which a note ends that sounds into them: the space before the snare */
  readonly releases: readonly string[]
  /** where the drums of the feel strike the kick; points for each that the bass misses, and for each note off the beat that is against it */
  readonly kick: { readonly places: readonly string[]; readonly missed: number; readonly against: number } | undefined
  /** what must never happen, for tests and for a player who is strict */
  readonly never: readonly string[]
}
