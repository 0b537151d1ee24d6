import { describe, expect, it } from 'vitest'
import type { DrumLane, DrumPattern } from '../../src/band/band-table.ts'
import { FEEL_BY_METRE, FEELS, feelOf, playedAs } from '../../src/feels/feels.ts'
import { parsePattern } from '../../src/line/pattern.ts'
import { patternOf } from '../../src/line/patterns.ts'
import { barTicks, METRES, type Metre, metreOf } from '../../src/music/metre.ts'
import { parseCell } from '../../src/rhythm/cell.ts'
import { cellOf, cellsOfTiling } from '../../src/rhythm/cells.ts'
import { startsIn, tile } from '../../src/rhythm/join.ts'

const FAMILIES = 'major minor dominant half-diminished diminished augmented suspended power minor-major'.split(' ')
const ROLES = ['one', 'mid', 'back', 'off', 'fine', 'last', 'push']
const ROLE_KINDS = ['1', '8', '5', '3', '6', '7', '4', 'x', 'ap', 'any', 'none']
const DEALS = ['each', 'run', 'beat', 'beatrun', 'half', 'tail', 'low-high']

const GROOVES = FEELS.flatMap((feel) => (feel.line.kind === 'groove' ? [{ ...feel, table: feel.line.table }] : []))
const WALKS = FEELS.flatMap((feel) => (feel.line.kind === 'walk' ? [{ ...feel, table: feel.line.table }] : []))

function metre(text: string): Metre {
  return metreOf(text)!
}

/** All numbers of a table, however deep. */
function numbersOf(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value]
  return value !== null && typeof value === 'object' ? Object.values(value).flatMap(numbersOf) : []
}

describe('the feels', () => {
  it('are three that walk and 23 grooves, no two by one id or name', () => {
    expect(WALKS.map(({ id }) => id)).toEqual(['swing-medium', 'swing-fast', 'jazz-waltz'])
    expect(GROOVES).toHaveLength(23)
    expect(new Set(FEELS.flatMap(({ id, name }) => [id, name])).size).toBe(
      FEELS.reduce((sum, { id, name }) => sum + (id === name ? 1 : 2), 0),
    )
  })

  it('are found by id, and by metre where a chart names none', () => {
    expect(feelOf('shuffle')?.name).toBe('shuffle')
    expect(feelOf('polka')).toBeUndefined()
    for (const [text, feel] of FEEL_BY_METRE) expect(feel.metre).toBe(text)
    expect(METRES.map((text) => `${text} ${FEEL_BY_METRE.get(playedAs(text))?.id}`)).toEqual([
      '2/4 swing-medium',
      '3/4 jazz-waltz',
      '4/4 swing-medium',
      '5/4 five-four',
      '6/8 six-eight',
      '7/8 seven-eight',
      '9/8 six-eight',
      '12/8 slow-blues',
    ])
  })

  it.each(FEELS)('$id has its usual tempo in its range, and a register on the neck', ({ tempo, register }) => {
    expect(tempo.from).toBeLessThanOrEqual(tempo.usual)
    expect(tempo.usual).toBeLessThanOrEqual(tempo.to)
    expect(register.lowest).toBeGreaterThanOrEqual(28)
    expect(register.highest - register.lowest).toBeGreaterThanOrEqual(15)
    expect(register.highest).toBeLessThanOrEqual(63)
  })

  it.each(FEELS)('$id is touched within range, its accents too', ({ touch }) => {
    for (const velocity of Object.values(touch.velocities)) {
      expect(velocity).toBeGreaterThan(touch.ghostVelocity)
      expect(velocity + touch.accentAdd).toBeLessThanOrEqual(127)
    }
    // Asynchronies reduced below 19 ms were liked as much as none.
    expect(Math.abs(touch.placementMs)).toBeLessThanOrEqual(19)
    for (const share of [touch.lengthOnBeat, touch.lengthOffBeat]) {
      expect(share).toBeGreaterThan(0)
      expect(share).toBeLessThanOrEqual(1)
    }
  })

  it.each(FEELS)('$id names cells of its metre that name it, three of them a whole bar', (feel) => {
    const cells = feel.cells.map(({ id, weight }) => {
      const cell = cellOf(id)
      expect(cell, id).toBeDefined()
      expect(weight, id).toBeGreaterThan(0)
      expect(startsIn(cell!, metre(feel.metre)), id).not.toEqual([])
      return cell!
    })
    const whole = cells.filter((cell) => cell.ticks === barTicks(metre(feel.metre)))
    expect(whole.length).toBeGreaterThanOrEqual(3)
    expect(new Set(cells).size).toBe(cells.length)
  })

  it.each(FEELS)('$id names patterns that name it', (feel) => {
    for (const { id, weight } of feel.patterns) {
      const pattern = patternOf(id)
      expect(pattern, id).toBeDefined()
      expect(weight, id).toBeGreaterThan(0)
      if (pattern!.feels !== 'all') expect(pattern!.feels, id).toContain(feel.id)
    }
    expect(new Set(feel.patterns.map(({ id }) => id)).size).toBe(feel.patterns.length)
  })

  it.each(FEELS)('$id is priced in whole points, none below nothing', ({ line }) => {
    for (const points of numbersOf(line.table)) {
      expect(Number.isInteger(points)).toBe(true)
      expect(points).toBeGreaterThanOrEqual(0)
    }
  })
})

describe('a walking feel', () => {
  it.each(WALKS)('$id prices every interval up to the octave, a repeat no less than a step', ({ table }) => {
    expect(table.intervals).toHaveLength(13)
    expect(table.intervals[0]).toBeGreaterThanOrEqual(table.intervals[2]!)
  })

  it.each(WALKS)('$id likes the root best wherever it stands, and arrives on no chromatic note', ({ table }) => {
    for (const place of ['arrival', 'barStart', 'middle', 'other'] as const) {
      expect(table[place].root).toBe(0)
      for (const points of Object.values(table[place])) expect(points ?? 0).toBeGreaterThanOrEqual(0)
    }
    expect(table.arrival.chromatic).toBeUndefined()
  })

  it('swing leaves the beat as often as trio bassists do at its tempo', () => {
    const offBeats = (feel: string) => {
      let [notes, weights] = [0, 0]
      for (const { id, weight } of feelOf(feel)!.cells) {
        notes += weight * cellOf(id)!.onsets.filter((onset) => onset.tick % 480 !== 0).length
        weights += weight
      }
      return notes / weights
    }
    // Medians of automatic onsets of 1,200 trio tracks: 1.22 a bar at 130 to 160 beats a minute, 0.47 at 240 to 320.
    expect(offBeats('swing-medium')).toBeGreaterThan(0.47)
    expect(offBeats('swing-medium')).toBeLessThan(1.22)
    expect(offBeats('swing-fast')).toBeCloseTo(0.47, 1)
  })
})

describe('a groove feel', () => {
  it.each(GROOVES)('$id prices every role and every kind of degree', ({ table }) => {
    expect(Object.keys(table.roles).sort()).toEqual([...ROLES].sort())
    for (const kinds of Object.values(table.roles)) {
      expect(Object.keys(kinds).sort()).toEqual([...ROLE_KINDS].sort())
      expect(Object.values(kinds).every(Number.isInteger)).toBe(true)
    }
    expect(table.intervals).toHaveLength(13)
    expect(table.degrees).toHaveLength(5)
    expect(table.restart).toHaveLength(3)
  })

  it.each(GROOVES)('$id pairs patterns with cells that fill the bar', (feel) => {
    const bar = barTicks(metre(feel.metre))
    const rows = feel.table.pairs.map(({ cell, pattern, deal, lead }) => {
      const cells = cellsOfTiling(cell)
      expect(
        cells?.reduce((sum, { ticks }) => sum + ticks, 0),
        cell,
      ).toBe(bar)
      let at = 0
      const laid = cells!.map((one) => {
        at += one.ticks
        return { cell: one, startTick: at - one.ticks }
      })
      for (const one of laid) expect(startsIn(one.cell, metre(feel.metre)), cell).toContain(one.startTick)
      expect(tile(laid).length, cell).toBeGreaterThan(0)
      expect(patternOf(pattern), pattern).toBeDefined()
      expect(DEALS).toContain(deal)
      if (lead !== undefined) expect(patternOf(lead)?.tokens.at(-1), lead).toMatchObject({ kind: 'degree', number: 1 })
      return [cell, pattern, deal, lead].join()
    })
    expect(rows.length).toBeGreaterThan(2)
    expect(new Set(rows).size).toBe(rows.length)
  })

  it.each(GROOVES)('$id leads in patterns that end on the root', ({ table }) => {
    for (const { pattern } of table.leads) {
      const last = patternOf(pattern)?.tokens.at(-1)
      expect(last, pattern).toMatchObject({ kind: 'degree', number: 1, next: false, octave: 0, accidental: undefined })
    }
  })

  it.each(GROOVES)('$id lays its letters over eight bars, the cheapest for nothing', ({ table }) => {
    for (const { letters } of table.schemes) {
      expect(letters).toHaveLength(8)
      for (const letter of letters) expect(['A', 'B', 'f', 'F', 'w']).toContain(letter)
      expect(letters[0]).toBe('A')
    }
    expect(Math.min(...table.schemes.map(({ points }) => points))).toBe(0)
  })

  it.each(GROOVES)('$id fills with one token for each struck onset', (feel) => {
    expect(feel.table.fills.length).toBeGreaterThanOrEqual(feel.id === 'waltz' ? 2 : 3)
    for (const { id, cell, tokens, when, families } of [...feel.table.fills, ...feel.table.walks]) {
      const reading = parseCell(cell)
      // A fill may be silence.
      const read = tokens === '' ? { ok: true as const, tokens: [] } : parsePattern(tokens)
      if (!reading.ok || !read.ok) throw new Error(`${id} does not read`)
      const struck = reading.cell.onsets.filter((onset) => !onset.ghost && !onset.continues)
      expect(read.tokens.length, id).toBe(struck.length)
      expect(reading.cell.ticks, id).toBeLessThanOrEqual(barTicks(metre(feel.metre)))
      expect(['f', 'F', 'F12', 'change'], id).toContain(when)
      if (families !== 'any') for (const family of families) expect(FAMILIES, id).toContain(family)
    }
    const sizes = new Set(feel.table.fills.map(({ when }) => when))
    for (const { letters } of feel.table.schemes)
      for (const letter of letters) if (letter === 'f' || letter === 'F') expect(sizes).toContain(letter)
  })

  it.each(GROOVES)('$id knows what takes a pattern’s place over other chords', ({ table }) => {
    for (const { pattern, instead, families } of table.relatives) {
      const [from, to] = [patternOf(pattern), patternOf(instead)]
      expect(from, pattern).toBeDefined()
      expect(to, instead).toBeDefined()
      for (const family of families) {
        expect(FAMILIES).toContain(family)
        if (to!.families !== 'any') expect(to!.families, `${instead} over ${family}`).toContain(family)
      }
    }
  })

  it.each(GROOVES)('$id says what never happens in the grammar of that', ({ table }) => {
    const kind = '(1|8|5|3|6|7|4|x|ap)'
    const role = '(one|mid|back|off|fine|last|push|four)'
    const grammar = new RegExp(
      `^(leap-over \\d+|notes-over \\d+|degree ${kind} ${role}|only ${kind} ${role}|rest ${role}|strike one|finer-than eighth|push|one-degree)$`,
    )
    expect(table.never.length).toBeGreaterThan(0)
    for (const row of table.never) expect(row).toMatch(grammar)
    for (const place of table.ghosts?.places ?? []) expect(place).toMatch(/^[1-4](e|&|a|trip|let)?$/)
  })

  it('lets a lead land an octave off for nothing only where the low root is the style', () => {
    const drops = GROOVES.filter(({ table }) => table.leadDrop === 0).map(({ id }) => id)
    expect(drops).toEqual(['half-time-shuffle', 'funk-sixteenths', 'disco-octaves'])
    expect(GROOVES.filter(({ table }) => table.leadDrop === 12)).toHaveLength(GROOVES.length - drops.length)
  })
})

describe('the band of a feel', () => {
  it.each(FEELS)('$id has two grooves, two fills and two chord rhythms', ({ band }) => {
    expect(band.grooves.length).toBeGreaterThanOrEqual(2)
    expect(band.fills.length).toBeGreaterThanOrEqual(2)
    expect(band.comping.length).toBeGreaterThanOrEqual(2)
    const ids = [...band.grooves, ...band.fills, ...band.comping].map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    expect(band.bassProgram).toBeGreaterThanOrEqual(32)
    expect(band.bassProgram).toBeLessThanOrEqual(39)
  })

  it.each(FEELS)('$id drums whole bars, each drum in one row', (feel) => {
    const bar = barTicks(metre(feel.metre))
    for (const pattern of [...feel.band.grooves, ...feel.band.fills]) {
      expect(pattern.metre, pattern.id).toBe(feel.metre)
      const steps = stepsOf(pattern)
      const bars = (steps[0]!.steps.length * pattern.ticksPerStep) / bar
      expect(Number.isInteger(bars), pattern.id).toBe(true)
      const notes = steps.map(({ note }) => note)
      expect(new Set(notes).size, pattern.id).toBe(notes.length)
      for (const lane of steps) {
        expect(lane.steps, pattern.id).toMatch(/^[.1-9]+$/)
        expect(lane.steps.length, pattern.id).toBe(steps[0]!.steps.length)
        expect(lane.bars, pattern.id).toBe(bars)
        expect(lane.note, pattern.id).toBeGreaterThanOrEqual(35)
        expect(lane.note, pattern.id).toBeLessThanOrEqual(81)
      }
      // Closed, pedal and open hi-hat are one instrument.
      const closed = steps.find(({ note }) => note === 42)?.steps
      const open = steps.find(({ note }) => note === 46)?.steps
      if (closed && open)
        for (let step = 0; step < open.length; step++) expect([closed[step], open[step]], pattern.id).toContain('.')
    }
    for (const fill of feel.band.fills) {
      const bars = stepsOf(fill).map(({ bars: count }) => count)
      expect(
        bars.every((count) => count === 1),
        fill.id,
      ).toBe(true)
      for (const stroke of fill.nextBar) expect(stroke).toMatch(/^\d\d=[1-9]$/)
    }
  })

  it.each(FEELS)('$id comps in whole bars of its metre, above the bass', (feel) => {
    for (const row of feel.band.comping) {
      const reading = parseCell(row.cell)
      if (!reading.ok) throw new Error(`${row.id}: ${reading.message}`)
      expect(`${reading.cell.upper}/${reading.cell.lower}`, row.id).toBe(feel.metre)
      expect(reading.cell.onsets.length, row.id).toBeGreaterThan(0)
      expect(row.length, row.id).toBeGreaterThan(0)
      expect(row.length, row.id).toBeLessThanOrEqual(1)
      expect(row.velocity, row.id).toBeLessThanOrEqual(127)
      expect(row.program, row.id).toBeLessThanOrEqual(127)
      expect(row.voices.least, row.id).toBeLessThanOrEqual(row.voices.most)
      // From C3 up; two-note guitars from E2.
      const isTwoNotes = row.voicing === 'fifth-and-sixth' || row.voicing === 'root-and-fifth'
      expect(row.register.lowest, row.id).toBeGreaterThanOrEqual(isTwoNotes ? 40 : 48)
      expect(row.register.highest - row.register.lowest, row.id).toBeGreaterThanOrEqual(12)
    }
  })
})

/** The lanes of a drum pattern: note, steps without blanks and bar lines, number of bars. */
function stepsOf(pattern: DrumPattern): readonly { note: number; steps: string; bars: number }[] {
  return pattern.lanes.map((lane: DrumLane) => {
    const [note, steps] = lane.split('=') as [string, string]
    return { note: Number(note), steps: steps.replace(/[ |]/g, ''), bars: steps.split('|').length }
  })
}
