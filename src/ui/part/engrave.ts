import bravuraUrl from '@vexflow-fonts/bravura/bravura.woff2?url'
import {
  Accidental,
  Beam,
  Dot,
  Font,
  Formatter,
  Stave,
  StaveNote,
  Stem,
  SVGContext,
  VexFlow,
  Voice,
  VoiceMode,
} from 'vexflow/core'
import type { PartBar, PrintedNote, PrintedRest } from '../../notation/part.ts'
import { UNITS } from './draw-system.ts'
import { staffKey } from './drawing-key.ts'
import type { SystemHeights } from './heights.ts'
import { type BeamLine, beamedNotes, beamLine, STEM, stemDirections } from './stems.ts'
import type { Engraver } from './system-piece.ts'
import type { System, SystemBar } from './systems.ts'

// The library draws what stands on the staff: heads, stems, beams, flags, rests, accidentals, dots, ledger lines. Where each
// sign stands, which notes a beam joins and how it runs is decided here: two spacings would fight.

const MUSIC_FACE = 'Bravura'
/** The library's step names, from C. */
const LETTERS = 'cdefgab'
/** Diatonic number of D3, the middle line of the bass clef. */
const MIDDLE_LINE = 3 * 7 + 1
const LEDGER_LINE = 1.6
/** Length of a stem as the library counts it. */
const LIBRARY_STEM = 35
/** Between an accidental and its head. */
const ACCIDENTAL_GAP = 2.2

/** Loads the whole music font; rejects when it cannot be had. Nothing may be measured before. */
export async function loadEngraver(): Promise<Engraver> {
  await Font.load(MUSIC_FACE, bravuraUrl)
  VexFlow.setFonts(MUSIC_FACE)
  return engrave
}

/** Draws without hit boxes and ids, and keeps its state cheaply. */
class PartContext extends SVGContext {
  private readonly kept: (readonly [SVGContext['state'], SVGContext['attributes']])[] = []

  override pointerRect(): this {
    return this
  }

  override openGroup(className?: string): SVGGElement {
    return super.openGroup(className)
  }

  override save(): this {
    this.kept.push([{ ...this.state }, { ...this.attributes }])
    return this
  }

  override restore(): this {
    const kept = this.kept.pop()
    if (kept) [this.state, this.attributes] = kept
    return this
  }
}

/** A beam that runs where it is told, in sp from the bar line and from the top line of the staff. */
class PlacedBeam extends Beam {
  private readonly line: BeamLine

  constructor(notes: StaveNote[], line: BeamLine) {
    super(notes)
    this.line = line
  }

  override calculateSlope(): void {
    const { from, to } = this.line
    this.slope = (to.y - from.y) / (to.x - from.x)
    const first = this.notes[0]
    if (first) this.yShift = from.y * UNITS - first.getStemExtents().topY
  }
}

/** Bars engraved before, newest last. Most bars of an edit are old ones, and copying is a hundred times cheaper. */
const ENGRAVED = new Map<string, SVGGElement>()
const KEPT_BARS = 400

function engrave(system: System, heights: SystemHeights): readonly SVGGElement[] {
  return system.bars.map((placed) => {
    const key = staffKey(placed)
    const known = ENGRAVED.get(key) ?? engraveBar(placed)
    ENGRAVED.delete(key)
    ENGRAVED.set(key, known)
    if (ENGRAVED.size > KEPT_BARS) ENGRAVED.delete(ENGRAVED.keys().next().value!)
    const group = known.cloneNode(true) as SVGGElement
    group.setAttribute('transform', `translate(${placed.x * UNITS} ${heights.staff * UNITS})`)
    return group
  })
}

/** A bar from its bar line and the top line of the staff. */
function engraveBar({ bar, layout, width }: SystemBar): SVGGElement {
  const context = new PartContext(document.createElement('div'))
  context.setFillStyle('currentColor').setStrokeStyle('currentColor')
  const group = context.openGroup()
  group.setAttribute('class', 'engraved')
  // The library leaves out what its own root says already.
  group.setAttribute('font-family', MUSIC_FACE)
  if (bar.signs.length === 0) return group
  const stave = new Stave(0, 0, width * UNITS, { spaceAboveStaffLn: 0 })
  stave.setContext(context).setDefaultLedgerLineStyle({ strokeStyle: 'currentColor', lineWidth: LEDGER_LINE })
  const directions = stemDirections(bar)
  const notes = bar.signs.map((sign, index) => staveNote(sign, directions[index]!))
  const voice = new Voice().setMode(VoiceMode.SOFT).addTickables(notes)
  const formatter = new Formatter()
  formatter.joinVoices([voice])
  const contexts = formatter.createTickContexts([voice])
  for (const [index, note] of notes.entries()) {
    note.setStave(stave)
    const tick = contexts.map[contexts.list[index]!]!
    tick.preFormat()
    tick.setX(0)
    const centre = note.getAbsoluteX() + note.getGlyphWidth() / 2
    tick.setX(layout.x[index]! * UNITS - centre)
  }
  const beams = beamsOf(bar, notes, layout.x)
  for (const note of notes) {
    settle(note)
    note.setContext(context).draw()
  }
  for (const beam of beams) beam.setContext(context).draw()
  return group
}

function staveNote(sign: PrintedNote | PrintedRest, direction: 'up' | 'down'): StaveNote {
  const { part, dots } = sign.value
  const rest = sign.kind === 'rest'
  const note = new StaveNote({
    keys: [rest ? 'r/4' : keyOf(sign.step)],
    clef: 'bass',
    duration: String(part),
    dots,
    type: rest ? 'r' : sign.kind === 'note' && sign.head === 'ghost' ? 'x' : 'n',
    stemDirection: direction === 'up' ? Stem.UP : Stem.DOWN,
  })
  if (!rest && sign.accidental) note.addModifier(new Accidental(sign.accidental), 0)
  for (let dot = 0; dot < dots; dot++) Dot.buildAndAttach([note], { all: true })
  return note
}

/** The library's name of a place on the staff: `d/3` for the middle line. */
function keyOf(step: number): string {
  const number = MIDDLE_LINE + step
  return `${LETTERS[number % 7]}/${Math.floor(number / 7)}`
}

function beamsOf(bar: PartBar, notes: readonly StaveNote[], x: readonly number[]): readonly PlacedBeam[] {
  return bar.beams.flatMap((group) => {
    const joined = beamedNotes(bar, group, x)
    const printed = group.filter((index) => bar.signs[index]?.kind === 'note').map((index) => notes[index]!)
    return printed.length > 1 ? [new PlacedBeam(printed, beamLine(joined.notes, joined.x))] : []
  })
}

/** The last of a note: its stem at our length, its accidental at our distance. */
function settle(note: StaveNote): void {
  const stem = note.getStem()
  if (stem && !note.hasBeam()) stem.setExtension(stem.getExtension() + STEM * UNITS - LIBRARY_STEM)
  for (const modifier of note.getModifiersByType('Accidental')) {
    const right = note.getModifierStartXY(modifier.getPosition(), 0).x
    modifier.setXShift(right - (note.getAbsoluteX() - ACCIDENTAL_GAP))
  }
}
