import { analyseMidi, wordsOf } from '../../src/analyse.ts'
import { compose, performanceOf } from '../../src/compose.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { writeMidi } from '../../src/files/midi-writer.ts'
import { PATTERNS } from '../../src/line/patterns.ts'
import { cellOf } from '../../src/rhythm/cells.ts'
import { progression } from './progressions.ts'
import { randomFrom } from './random.ts'

/** Notes of lines of ours, and how many of them are read back as what they were made of. */
export interface GivenBack {
  readonly feel: string
  readonly notes: number
  /** notes whose place and pitch came back */
  readonly places: number
  /** of the notes that a pattern made, those whose pattern is named, or a shorter one that is all that was heard of it */
  readonly patterns: number
  readonly made: number
  /** of the same notes, those whose pattern is the one that is named before others */
  readonly first: number
  /** notes whose cell is named; of a fill's nameless cell, any known cell that strikes there */
  readonly cells: number
  readonly firstCells: number
}

/**
 * Builds a line over a chart of our own, writes it as a MIDI file, and reads that against the chart, which says nothing of patterns and
 * cells. Walking lines are made of six patterns of their feel. Seeds go round the feels.
 */
export function givenBack(seed: number): GivenBack {
  const random = randomFrom(seed)
  const feel = FEELS[seed % FEELS.length]!
  const offered = PATTERNS.filter(({ feels }) => feels === 'all' || feels.includes(feel.id))
  const chosen = Array.from({ length: 6 }, () => offered[random(offered.length)]!.id)
  // Other metres have one chord in a bar.
  const bars = progression(seed)
  const own = feel.metre === '4/4' ? bars : bars.replace(/\| (\S+)(?: [^|\s]+)+(?= \|)/g, '| $1')
  const chart = `feel: ${feel.id}\ntime: ${feel.metre}\n${own}`
  const composition = compose(chart, feel.line.kind === 'walk' ? { patterns: [...new Set(chosen)] } : {})
  const [line] = composition.lines
  if (!line) throw new Error(`${feel.id}, seed ${seed}: no line`)
  const { analysis } = analyseMidi(chart, writeMidi(performanceOf(composition, line), 'player'))
  if (!analysis) throw new Error(`${feel.id}, seed ${seed}: not read`)

  const tokens = new Map([...PATTERNS, ...wordsOf(feel).figures].map(({ id, text }) => [id, text.split(' ')]))
  const heard = new Map(analysis.notes.map((note) => [note.heard.startTick, note]))
  const sounded = line.notes.filter(({ slot }) => !slot.ghost)
  let [places, patterns, made, cells, first, firstCells] = [0, 0, 0, 0, 0, 0]
  for (const { slot, pitch, pattern } of sounded) {
    const note = heard.get(slot.startTick)
    if (note?.heard.pitch === pitch && !note.heard.ghost) places++
    const stretch = note?.stretch === undefined ? undefined : analysis.stretches[note.stretch]
    if (pattern !== undefined) {
      made++
      const own = stretch && typeof stretch.pattern !== 'string' ? [stretch.pattern.id, ...stretch.also] : []
      const named = [...own, ...(note?.also ?? [])]
      const isShorter =
        stretch?.whole &&
        own[0] !== undefined &&
        tokens.get(own[0])!.every((token) => tokens.get(pattern)?.includes(token))
      if (own[0] === pattern) first++
      if (named.includes(pattern) || isShorter) patterns++
    }
    const cell = note?.cell === undefined ? undefined : analysis.cells[note.cell]
    if (cell && ([cell.cell, ...cell.also].includes(slot.cell) || (!cellOf(slot.cell) && cell.known))) cells++
    if (cell && (cellOf(slot.cell) ? cell.cell === slot.cell : cell.known)) firstCells++
  }
  return { feel: feel.id, notes: sounded.length, places, patterns, made, cells, first, firstCells }
}
