import { describe, expect, it } from 'vitest'
import { FEELS, feelOf } from '../../../src/feels/feels.ts'
import { deadNotes, placeTick } from '../../../src/line/groove/ghost.ts'
import type { GrooveLine } from '../../../src/line/groove/groove.ts'
import type { GrooveTable } from '../../../src/line/groove/table.ts'
import { scoreGroove } from '../../support/groove-scorer.ts'
import { grooveRequest, groovesOf, patternIn } from '../../support/grooves.ts'

const EM = 'Em7 | % | % | %'

function tableOf(feel: string): GrooveTable {
  const { line } = feelOf(feel)!
  if (line.kind !== 'groove') throw new Error(`${feel} is no groove`)
  return line.table
}

/** The dead notes of a bar in ticks from its bar line. */
function deadIn({ ghosts }: GrooveLine, bar: number): readonly number[] {
  return ghosts.filter((slot) => slot.barIndex === bar).map((slot) => slot.startTick - 1920 * bar)
}

describe('Dead notes', () => {
  const ghosts = { places: ['2e', '3e', '1a', '4a'], most: 2, points: 1 }
  const spans = (...ticks: number[]) => ticks.map((tick) => ({ tick, ticks: 120 }))

  it('stand before a note, where nothing is struck, in the order that the feel wants them', () => {
    expect(deadNotes(ghosts, spans(0, 720, 1200), undefined)).toEqual(spans(600, 1080))
    expect(deadNotes(ghosts, spans(0, 480, 600, 1200), undefined)).toEqual(spans(1080, 360))
    expect(deadNotes(ghosts, spans(0, 960), undefined)).toEqual([])
  })

  it('may lead into the next bar, and never come first', () => {
    expect(deadNotes(ghosts, spans(0), 1920)).toEqual(spans(1800))
    expect(deadNotes(ghosts, spans(480), undefined)).toEqual([])
  })

  it('are counted as a teacher counts, or refused', () => {
    expect(['1', '2e', '3&', '4a', '1trip', '3let'].map(placeTick)).toEqual([0, 600, 1200, 1800, 160, 1280])
    expect(() => placeTick('2x')).toThrow(RangeError)
  })
})

describe('Dead notes of a groove', () => {
  const request = grooveRequest('funk-sixteenths', EM, { loop: true })
  const [line] = groovesOf(request) as [GrooveLine]

  it('fill what its bar leaves open, are paid for and say so', () => {
    expect(deadIn(line, 0)).toEqual([600, 1080])
    expect(line.terms).toContainEqual({ rule: 'dead-note', points: 2, barIndex: 0 })
    expect(scoreGroove(request, line)).toBe(line.cost)
  })

  it('stand in one of two bars: in every bar they are a tic', () => {
    const soul = grooveRequest('soul-eighths', 'C | Am7 | F | G7 | C | Am7 | Dm7 | G7', { loop: true })
    const [line] = groovesOf(soul) as [GrooveLine]
    expect([0, 1, 2, 4, 5, 6].map((bar) => deadIn(line, bar))).toEqual([[1800], [], [1800], [1800], [], [1800]])
    expect(scoreGroove(soul, line)).toBe(line.cost)
  })

  it('are fewer where they cost more than the space they fill', () => {
    const { ghosts } = request.table
    const dear = { ...request, table: { ...request.table, ghosts: { ...ghosts!, points: 9 } } }
    const [bare] = groovesOf(dear) as [GrooveLine]
    expect(bare.ghosts.filter(({ barIndex }) => barIndex < 3)).toEqual([])
    expect(scoreGroove(dear, bare)).toBe(bare.cost)
    expect(bare.cost).toBeGreaterThan(line.cost)
  })

  it('end the note that sounds into them', () => {
    const before = line.notes.filter(({ slot }) => slot.barIndex === 0 && slot.startTick < 1080).at(-1)!
    expect(before.slot.startTick + before.slot.ticks).toBeLessThanOrEqual(1080)
  })
})

describe('The space before the snare', () => {
  it('is left by a note that would sound into it, and kept for it in full', () => {
    const feel = feelOf('funk-sixteenths')!
    const cells = grooveRequest(feel.id, EM).cells.filter(({ id }) => id === 'sixteenth-tresillo')
    const patterns = [{ pattern: patternIn('1 5 8'), weight: 1 }]
    const request = grooveRequest(feel.id, EM, { cells, patterns, loop: true })
    const second = ({ notes }: GrooveLine) => notes.find(({ slot }) => slot.startTick === 360)!.slot
    // 1 a 2&: the a of 1 would sound through 2, as far as the dead note on 2e.
    const [line] = groovesOf(request) as [GrooveLine]
    expect(second(line)).toMatchObject({ ticks: 120, length: 'long' })
    const [held] = groovesOf({ ...request, table: { ...request.table, releases: [] } }) as [GrooveLine]
    expect(second(held)).toMatchObject({ ticks: 240, length: undefined })
    expect(held.cost).toBe(line.cost)
  })
})

describe('The kick of a feel’s drums', () => {
  const KICKED = FEELS.filter(({ line }) => line.kind === 'groove' && line.table.kick)

  it.each(KICKED)('is where $id says', ({ id, band }) => {
    const [lane] = band.grooves[0]!.lanes.filter((row) => row.startsWith('36='))
    const [steps] = lane!.slice(3).replaceAll(' ', '').split('|') as [string]
    const struck = [...steps].flatMap((step, at) => (step === '.' ? [] : [at * band.grooves[0]!.ticksPerStep]))
    expect(tableOf(id).kick!.places.map(placeTick)).toEqual(struck)
  })

  it('draws the bass to it: three notes where the drums have three, else the two that they share', () => {
    const request = grooveRequest('second-line', 'F7 | % | % | %', { loop: true })
    const onsets = ({ notes }: GrooveLine) =>
      notes.filter(({ slot }) => slot.barIndex === 0).map(({ slot }) => slot.startTick)
    const [line] = groovesOf(request) as [GrooveLine]
    expect(onsets(line)).toEqual([0, 720, 1440])
    expect(scoreGroove(request, line)).toBe(line.cost)
    const kick = { places: ['1', '3'], missed: 9, against: 9 }
    const other = { ...request, table: { ...request.table, kick } }
    const [moved] = groovesOf(other) as [GrooveLine]
    expect(onsets(moved)).toContain(960)
    expect(onsets(moved)).not.toContain(720)
    expect(scoreGroove(other, moved)).toBe(moved.cost)
  })
})
