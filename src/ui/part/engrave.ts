import bravuraUrl from '@vexflow-fonts/bravura/bravura.woff2?url'
import {
  Accidental,
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
import type { PrintedNote, PrintedRest } from '../../notation/part.ts'
import { drawBeam } from './draw-beam.ts'
import { UNITS } from './draw-system.ts'
import type { SystemHeights } from './heights.ts'
import { STEM, type StemDirection, stemDirections } from './stems.ts'
import type { Engraver } from './system-piece.ts'
import type { System, SystemBar } from './systems.ts'

// The library draws every sign on the staff: head, stem and flag, accidental, dots, ledger lines, rest. Where the signs stand
// and how beams run is decided here: two spacings would fight. A sign is engraved once and copied, for the library takes
// half a millisecond for a note and a part has some forty kinds of them.

const SVG = 'http://www.w3.org/2000/svg'
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

/** Draws without hit boxes and ids. */
class PartContext extends SVGContext {
  override pointerRect(): this {
    return this
  }

  override openGroup(className?: string): SVGGElement {
    return super.openGroup(className)
  }
}

/** Signs engraved before, with their centre at 0 and the top line of the staff at 0. */
const ENGRAVED = new Map<string, SVGGElement>()

function engrave(system: System, heights: SystemHeights): readonly SVGGElement[] {
  return system.bars.map((placed) => {
    const group = engraveBar(placed)
    group.setAttribute('transform', `translate(${placed.x * UNITS} ${heights.staff * UNITS})`)
    return group
  })
}

function engraveBar({ bar, layout }: SystemBar): SVGGElement {
  const group = document.createElementNS(SVG, 'g')
  group.setAttribute('class', 'engraved')
  group.innerHTML = bar.beams.map((beam) => drawBeam(bar, beam, layout.x)).join('')
  const beamed = new Set(bar.beams.flat())
  const directions = stemDirections(bar)
  for (const [index, sign] of bar.signs.entries()) {
    const copy = signOf(sign, directions[index]!, beamed.has(index)).cloneNode(true) as SVGGElement
    copy.setAttribute('transform', `translate(${Math.round(layout.x[index]! * UNITS * 100) / 100} 0)`)
    group.append(copy)
  }
  return group
}

function signOf(sign: PrintedNote | PrintedRest, direction: StemDirection, beamed: boolean): SVGGElement {
  const { part, dots } = sign.value
  const what =
    sign.kind === 'rest' ? 'rest' : `${sign.step} ${sign.accidental ?? ''} ${sign.head} ${direction} ${beamed}`
  const key = `${part} ${dots} ${what}`
  const known = ENGRAVED.get(key) ?? engraveSign(sign, direction, beamed)
  ENGRAVED.set(key, known)
  return known
}

function engraveSign(sign: PrintedNote | PrintedRest, direction: StemDirection, beamed: boolean): SVGGElement {
  const context = new PartContext(document.createElement('div'))
  context.setFillStyle('currentColor').setStrokeStyle('currentColor')
  const group = context.openGroup()
  group.setAttribute('class', 'sign-on-staff')
  // The library leaves out what its own root says already.
  group.setAttribute('font-family', MUSIC_FACE)
  const stave = new Stave(0, 0, 100, { spaceAboveStaffLn: 0 })
  stave.setContext(context).setDefaultLedgerLineStyle({ strokeStyle: 'currentColor', lineWidth: LEDGER_LINE })
  const note = staveNote(sign, direction, beamed)
  const voice = new Voice().setMode(VoiceMode.SOFT).addTickables([note])
  const formatter = new Formatter()
  formatter.joinVoices([voice])
  const { list, map } = formatter.createTickContexts([voice])
  const tick = map[list[0]!]!
  note.setStave(stave)
  tick.preFormat()
  tick.setX(0)
  tick.setX(-note.getAbsoluteX() - note.getGlyphWidth() / 2)
  settle(note, beamed)
  note.setContext(context).draw()
  return group
}

/** Under a beam the library draws the head alone, which is that of a quarter. */
function staveNote(sign: PrintedNote | PrintedRest, direction: StemDirection, beamed: boolean): StaveNote {
  const { part, dots } = sign.value
  const rest = sign.kind === 'rest'
  const note = new StaveNote({
    keys: [rest ? 'r/4' : keyOf(sign.step)],
    clef: 'bass',
    duration: beamed && !rest ? '4' : String(part),
    dots,
    type: rest ? 'r' : sign.head === 'ghost' ? 'x' : 'n',
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

/** The last of a note: its stem at our length or none, its accidental at our distance. */
function settle(note: StaveNote, beamed: boolean): void {
  const stem = note.getStem()
  if (stem && beamed) stem.setVisibility(false)
  else if (stem) stem.setExtension(stem.getExtension() + STEM * UNITS - LIBRARY_STEM)
  for (const modifier of note.getModifiersByType('Accidental')) {
    const right = note.getModifierStartXY(modifier.getPosition(), 0).x
    modifier.setXShift(right - (note.getAbsoluteX() - ACCIDENTAL_GAP))
  }
}
