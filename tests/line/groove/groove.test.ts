import { describe, expect, it } from 'vitest'
import { FEELS, feelOf } from '../../../src/feels/feels.ts'
import { buildGrooves, type GrooveLine, type GrooveRequest, startGrooves } from '../../../src/line/groove/groove.ts'
import { enforce } from '../../../src/line/rule.ts'
import { BETWEEN_FRETS } from '../../../src/line/rules/between-frets.ts'
import { CHANGE_OFF_ROOT } from '../../../src/line/rules/change-off-root.ts'
import { CHANGE_ON_ROOT } from '../../../src/line/rules/change-on-root.ts'
import { INSIDE_RANGE } from '../../../src/line/rules/inside-range.ts'
import { NO_LEAP_OVER } from '../../../src/line/rules/no-leap-over.ts'
import { instrumentOf } from '../../../src/music/instruments.ts'
import { changes } from '../../support/changes.ts'
import { atMostInARow } from '../../support/groove-rules.ts'
import { scoreGroove } from '../../support/groove-scorer.ts'
import {
  barText,
  FOUR_STRINGS,
  GROOVE_FEELS,
  grooveRequest,
  groovesOf,
  patternIn,
  pitchesText,
} from '../../support/grooves.ts'
import { cellsOf } from '../../support/walking.ts'

const BLUES = 'A7 | D7 | A7 | % | D7 | % | A7 | % | E7 | D7 | A7 | E7'
const TURNED = 'C7 | F7 | C7 | % | F7 | % | C7 | A7 | Dm7 | G7 | C7 A7 | Dm7 G7'
const SLASHED = 'F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7/C | D7b9 | Gm7 | C7 | F7 D7 | Gm7 C7'
const SOUL = 'C | Am7 | F | G7 | C | Am7 | Dm7 | G7'
const LATIN = 'Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Em7 | A7'
const MINOR = 'Am7 | % | Bm7b5 | E7 | Am7 | D7 | Dm7 G7 | Cmaj7'
const BROKEN = 'Em7 | N.C. | A7 / N.C. / | (3/4) Am7 | (2/4) D7 | (4/4) G | % | %'
const STRANGE = 'Caug | Csus4 | C5 | Cm(maj7) | Fm6 | C6'
const CHARTS = [BLUES, TURNED, SLASHED, SOUL, LATIN, MINOR, BROKEN, STRANGE]

const lineOf = (request: GrooveRequest): GrooveLine => groovesOf(request)[0]!
const one = (text: string) => ({ pattern: patternIn(text), weight: 1 })

describe('a groove', () => {
  it.each(GROOVE_FEELS)('in %s costs what its terms add up to, and what the definitions say', (feel) => {
    for (const [index, chart] of CHARTS.entries()) {
      const request = grooveRequest(feel, chart, { loop: index % 2 === 0 })
      const line = lineOf(request)
      const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
      expect(
        terms.reduce((sum, term) => sum + term.points, 0),
        chart,
      ).toBe(line.cost)
      expect(scoreGroove(request, line), chart).toBe(line.cost)
      expect(line.provenWithin, chart).toBe(0)
    }
  })

  it.each(FEELS.filter(({ line }) => line.kind === 'groove'))(
    'in $id has a note for every chord that arrives inside a bar',
    ({ id, metre }) => {
      const request = grooveRequest(id, changes(`(${metre}) C F | G | Am Dm | G7 C | C7/E | F | Dm G7 | C`))
      const { form } = request
      const { notes } = lineOf(request)
      const arriving = form.changes.filter(({ startTick, barIndex }) => startTick > form.bars[barIndex]!.startTick)
      expect(arriving).toHaveLength(4)
      for (const { startTick } of arriving)
        expect(
          notes.map(({ slot }) => slot.startTick),
          `tick ${startTick}`,
        ).toContain(startTick)
    },
  )

  it.each(GROOVE_FEELS)('in %s does nothing that must never happen', (feel) => {
    const { line: data } = feelOf(feel)!
    const never = data.kind === 'groove' ? data.table.never : []
    expect(never.length).toBeGreaterThan(0)
    for (const chart of [BLUES, TURNED, SOUL, LATIN]) {
      const request = grooveRequest(feel, chart)
      const line = lineOf(request)
      for (const bar of request.form.bars) {
        const notes = line.notes.filter((note) => note.slot.barIndex === bar.index)
        const figured = line.plan.figures[bar.index] !== undefined
        for (const row of never) {
          const [what, size] = row.split(' ')
          const leaps = notes.slice(1).map((note, index) => Math.abs(note.pitch - notes[index]!.pitch))
          if (what === 'leap-over') expect(Math.max(0, ...leaps), row).toBeLessThanOrEqual(Number(size))
          if (what === 'notes-over') expect(notes.length, row).toBeLessThanOrEqual(Number(size))
          if (what === 'one-degree' && !figured)
            expect(new Set(notes.map((note) => note.pitch % 12)).size, row).toBeGreaterThan(1)
          if (what === 'degree' && !figured) {
            const chord = request.form.changes[notes[0]!.slot.changeIndex]!.chord!
            expect((notes[0]!.pitch - chord.bassPc) % 12, row).toBe(0)
          }
        }
      }
    }
  })

  it('lies under the notes it is given: a figure in its place, root and fifth and octave in their shape', () => {
    const request = grooveRequest('shuffle', BLUES, { loop: true })
    const bars = [0, 1, 2].map((bar) => barText(lineOf(request), request.form, bar, FOUR_STRINGS))
    expect(bars).toEqual([
      '1 A1 E5 · 2 Db2 A4 · 2& Db2 A4 · 3 E2 A7 · 4 F#2 D4 · 4& F#2 D4',
      '1 D2 A5 · 2 F#2 D4 · 2& F#2 D4 · 3 A2 D7 · 4 B2 G4 · 4& E2 A7*',
      '1 A1 E5 · 2 Db2 A4 · 2& Db2 A4 · 3 E2 A7 · 4 F#2 D4 · 4& F#2 D4',
    ])
  })

  it('returns to the same frets with the same figure under the same chord', () => {
    for (const [feel, chart] of [
      ['shuffle', BLUES],
      ['shuffle', TURNED],
      ['soul-eighths', SOUL],
      ['bossa-nova', LATIN],
    ] as const) {
      const request = grooveRequest(feel, chart, { loop: true })
      const line = lineOf(request)
      const places = new Map<string, string>()
      for (const bar of request.form.bars) {
        const notes = line.notes.filter(
          (note) => note.slot.barIndex === bar.index && note.kind === 'pattern' && note.source === 'pattern',
        )
        for (const note of notes) {
          const key = `${request.form.changes[note.slot.changeIndex]!.chord!.symbol.text} ${note.pitch}`
          const place = `${note.string} ${note.fret}`
          expect(places.get(key) ?? place, `${feel} bar ${bar.number}`).toBe(place)
          places.set(key, place)
        }
      }
    }
  })

  it('is the same every time', () => {
    const request = grooveRequest('bossa-nova', MINOR, { variations: 3 })
    expect(groovesOf(request)).toEqual(groovesOf(request))
  })

  it('moves with the key when strings and register move too', () => {
    const up = (semitones: number): GrooveRequest => {
      const request = grooveRequest('bossa-nova', semitones === 0 ? 'Dm7 | G7 | Cmaj7 | %' : 'Fm7 | Bb7 | Ebmaj7 | %')
      return {
        ...request,
        instrument: { ...FOUR_STRINGS, open: FOUR_STRINGS.open.map((open) => open + semitones) },
        register: { lowest: request.register.lowest + semitones, highest: request.register.highest + semitones },
      }
    }
    const [low, high] = [lineOf(up(0)), lineOf(up(3))]
    expect(high.notes.map((note) => note.pitch - 3)).toEqual(low.notes.map((note) => note.pitch))
    expect(high.cost).toBe(low.cost)
  })

  it('gives each of two chords in a bar its root where it arrives', () => {
    const request = grooveRequest('soul-eighths', 'C Am7 | Dm7 G7 | C F | G7', { loop: true })
    const line = lineOf(request)
    for (const change of request.form.changes) {
      const note = line.notes.find((each) => each.slot.startTick === change.startTick)
      expect(note && (note.pitch - change.chord!.bassPc) % 12).toBe(0)
    }
  })

  it('rests where there is no chord, and begins afresh after it', () => {
    const request = grooveRequest('shuffle', 'A7 | N.C. | D7 | A7 / N.C. /')
    const line = lineOf(request)
    expect(line.notes.some((note) => note.slot.barIndex === 1)).toBe(false)
    expect(line.notes.every((note) => note.slot.startTick < 3 * 1920 + 960)).toBe(true)
    const first = line.notes.find((note) => note.slot.barIndex === 2)!
    expect(first.terms.map((term) => term.rule)).not.toContain('interval')
  })

  it('of nothing but silence is a line without a note', () => {
    expect(lineOf(grooveRequest('shuffle', 'N.C. | N.C.')).notes).toEqual([])
  })

  it('calls a slash bass the root', () => {
    const request = grooveRequest('bossa-nova', 'C/E | F | C/G | %', { loop: true })
    const roots = request.form.bars.map(
      (bar) => lineOf(request).notes.find((note) => note.slot.startTick === bar.startTick)!.pitch % 12,
    )
    expect(roots).toEqual([4, 5, 7, 7])
  })

  it('plays a bar of another metre plainly, and half a bar as the first half of its own', () => {
    const request = grooveRequest('bossa-nova', 'Dm7 | (3/4) G7 | (2/4) Cmaj7 | (4/4) Dm7')
    expect(pitchesText(lineOf(request), request.form)).toBe('D2 A2 A2 D2 | G1 D2 D2 | C2 G2 | D2 A2 A2 Eb2')
  })

  it('closes the loop: the last note leads into the first', () => {
    const open = lineOf(grooveRequest('soul-eighths', SOUL))
    const closed = lineOf(grooveRequest('soul-eighths', SOUL, { loop: true }))
    expect(open.notes[0]!.terms.map((term) => term.rule)).not.toContain('shift')
    expect(closed.cost).toBeGreaterThanOrEqual(open.cost)
    expect(Math.abs(closed.notes.at(-1)!.pitch - closed.notes[0]!.pitch)).toBeLessThanOrEqual(2)
  })
})

describe('a push', () => {
  it('sounds the next root early, and the downbeat after it is not struck', () => {
    const request = grooveRequest('bossa-nova', 'Dm7 | G7 | Cmaj7 | %', {
      cells: cellsOf('1 2& 4&~'),
      patterns: [one('1 5')],
    })
    const line = lineOf(request)
    const pushed = line.notes.filter((note) => note.slot.pushed)
    expect(pushed.map((note) => [note.slot.startTick, note.pitch % 12])).toEqual([
      [1680, 7],
      [3600, 0],
      [5520, 0],
    ])
    for (const note of pushed) {
      expect(line.notes.some((other) => other.slot.startTick === note.slot.startTick + 240)).toBe(false)
      expect(note.slot.ticks).toBe(240 + 720)
    }
    expect(scoreGroove(request, line)).toBe(line.cost)
  })

  it('may be answered by a continuation, which is struck where nothing was pushed', () => {
    const request = grooveRequest('bossa-nova', 'Am7 | Dm7', { cells: cellsOf('~1 2& 4~'), patterns: [one('5 >1')] })
    const line = lineOf(request)
    const starts = line.notes.map((note) => note.slot.startTick)
    expect(starts.filter((start) => start === 0 || start === 1920)).toEqual([0])
    expect(scoreGroove(request, line)).toBe(line.cost)
  })
})

describe('leads and fills', () => {
  it('land in the octave of their target', () => {
    let leads = 0
    for (const chart of [SOUL, 'Em7 | % | A7 | % | C | D | Em7 | %', 'F | % | Gm7 | C7']) {
      const line = lineOf(grooveRequest('soul-eighths', chart, { loop: true }))
      for (const [index, note] of line.notes.entries()) {
        const next = line.notes[index + 1]
        if (!next || next.slot.barIndex === note.slot.barIndex) continue
        if (note.target === undefined && note.source !== 'lead') continue
        leads++
        const size = Math.abs(next.pitch - note.pitch)
        if ([1, 2, 10, 11].includes(size % 12)) expect(size, chart).toBeLessThanOrEqual(2)
      }
    }
    expect(leads).toBeGreaterThan(6)
  })

  it('stand at the end of half phrases and phrases', () => {
    const figures = lineOf(grooveRequest('shuffle', TURNED, { loop: true })).plan.figures
    expect(figures.map((figure, bar) => (figure ? bar + 1 : 0)).filter(Boolean)).toEqual([4, 8, 12])
  })

  it('never lead into silence', () => {
    const line = lineOf(grooveRequest('soul-eighths', 'C | Am7 | F | G7 | N.C.'))
    const last = line.notes.filter((note) => note.slot.barIndex === 3)
    expect(last.every((note) => note.target === undefined && note.source === 'pattern')).toBe(true)
  })
})

describe('low tokens', () => {
  it('that leave the neck are folded together, or the whole figure moves', () => {
    const lowFigure = (row: string) => {
      const request = grooveRequest('bossa-nova', row, { cells: cellsOf('1 2 3 4'), patterns: [one('1 v5 v6 1')] })
      return pitchesText(lineOf(request), request.form).split(' | ')[0]
    }
    expect(lowFigure('C | C | C | C')).toBe('C2 G1 A1 C2')
    const moved = lowFigure('E7 | E7 | E7 | E7')
    expect(['E2 B1 Db2 E2', 'E1 B1 Db2 E1']).toContain(moved)
  })
})

describe('a vocabulary of the player', () => {
  it('is played with the pattern that was chosen, whatever the table lists', () => {
    const request = grooveRequest('shuffle', 'Dm7 | G7 | Cmaj7 | A7', {
      cells: cellsOf('1 2 3 4'),
      patterns: [one('3 5 7 9')],
      loop: true,
    })
    const line = lineOf(request)
    expect(line.plan.a.pattern.text).toBe('3 5 7 9')
    expect(line.notes.filter((note) => note.slot.barIndex === 1).map((note) => note.pitch % 12)).toEqual([11, 2, 5, 9])
    expect(line.terms.some((term) => term.rule === 'unlisted')).toBe(true)
    expect(scoreGroove(request, line)).toBe(line.cost)
  })

  it('joins two half bars to one', () => {
    const request = grooveRequest('bossa-nova', 'Dm7 | G7', {
      cells: cellsOf('2/4: 1 2&', '2/4: 1 2'),
      patterns: [one('1 5')],
    })
    expect(lineOf(request).plan.a.onsets.length).toBe(4)
  })

  it('that fits no bar leaves no line', () => {
    const result = buildGrooves(grooveRequest('bossa-nova', 'Dm7 | G7', { cells: cellsOf('3/4: 1 2 3') }))
    expect(result).toEqual({ ok: false, barIndex: 0 })
  })
})

describe('rules', () => {
  it('that are musts hold on every note', () => {
    const rules = [
      enforce(INSIDE_RANGE, { lowest: 31, highest: 45 }),
      enforce(BETWEEN_FRETS, { from: 0, to: 5 }),
      enforce(CHANGE_ON_ROOT, undefined as never),
      enforce(NO_LEAP_OVER, 12),
      atMostInARow(2, 'must'),
    ]
    for (const loop of [false, true]) {
      const line = lineOf(grooveRequest('bossa-nova', LATIN, { rules, loop }))
      const pitches = line.notes.map((note) => note.pitch)
      expect(Math.min(...pitches)).toBeGreaterThanOrEqual(31)
      expect(Math.max(...pitches)).toBeLessThanOrEqual(45)
      expect(Math.max(...line.notes.map((note) => note.fret))).toBeLessThanOrEqual(5)
      expect(pitches.some((pitch, i) => i > 1 && pitch === pitches[i - 1] && pitch === pitches[i - 2])).toBe(false)
    }
  })

  it('that are weights are paid for each breach', () => {
    for (const loop of [false, true]) {
      const rules = [
        enforce(NO_LEAP_OVER, 4, { strength: 3 }),
        enforce(BETWEEN_FRETS, { from: 1, to: 4 }, { strength: 2 }),
      ]
      const request = grooveRequest('bossa-nova', MINOR, { rules, loop })
      const line = lineOf(request)
      expect(line.notes.flatMap((note) => note.terms).some((term) => term.rule === 'no-leap-over')).toBe(true)
      expect(scoreGroove(request, line)).toBe(line.cost)
    }
    const request = grooveRequest('soul-eighths', 'C | Am7', { rules: [atMostInARow(1, 5)], patterns: [one('1')] })
    const line = lineOf(request)
    expect(scoreGroove(request, line)).toBe(line.cost)
  })

  it('that empty a place give it any note of the feel instead', () => {
    const rules = [enforce(CHANGE_OFF_ROOT, undefined as never)]
    const line = lineOf(grooveRequest('bossa-nova', 'Dm7 | G7 | Cmaj7 | A7', { rules }))
    const first = line.notes.filter((note) => note.slot.strength === 'one')
    expect(first.every((note) => note.kind === 'free')).toBe(true)
    expect(first[0]!.terms.map((term) => term.rule)).toContain('unlisted')
  })

  it('that leave no note name the bar', () => {
    const rules = [
      enforce(INSIDE_RANGE, { lowest: 28, highest: 33 }, { bars: [{ from: 2, to: 3 }] }),
      enforce(BETWEEN_FRETS, { from: 9, to: 12 }, { bars: [{ from: 2, to: 3 }] }),
    ]
    expect(buildGrooves(grooveRequest('bossa-nova', 'Dm7 | G7 | Cmaj7 | A7', { rules }))).toEqual({
      ok: false,
      barIndex: 2,
    })
  })
})

describe('several lines', () => {
  it('differ from each other in the share that was asked for, the cheapest first', () => {
    for (const [feel, chart, difference] of [
      ['shuffle', TURNED, 0.25],
      ['bossa-nova', LATIN, 0.25],
      ['bossa-nova', LATIN, 0.5],
    ] as const) {
      const lines = groovesOf(grooveRequest(feel, chart, { variations: 4, difference }))
      expect(lines.length).toBeGreaterThan(1)
      const onsets = lines.map((line) => new Map(line.notes.map((note) => [note.slot.startTick, note.pitch])))
      for (const [i, a] of onsets.entries()) {
        for (const b of onsets.slice(i + 1)) {
          const ticks = [...new Set([...a.keys(), ...b.keys()])]
          const different = ticks.filter((tick) => a.get(tick) !== b.get(tick)).length
          expect(different / ticks.length).toBeGreaterThanOrEqual(difference)
        }
      }
      const costs = lines.map((line) => line.cost)
      expect(costs).toEqual([...costs].sort((x, y) => x - y))
    }
  })

  it('are as many as there are', () => {
    const request = grooveRequest('bossa-nova', 'Dm7 | G7', {
      cells: cellsOf('1 3'),
      patterns: [one('1')],
      instrument: { ...FOUR_STRINGS, open: [33] },
      frets: { from: 5, to: 11 },
      variations: 5,
    })
    const result = buildGrooves({ ...request, table: { ...request.table, fills: [], approach: 99 } })
    expect(result.ok && result.lines.length).toBeLessThan(5)
    expect(result.ok && result.exhausted).toBe(false)
  })

  it('of one plan have other notes', () => {
    const request = grooveRequest('bossa-nova', LATIN, { cells: cellsOf('1 3'), patterns: [one('1')], variations: 3 })
    const [first, ...others] = groovesOf(request)
    expect(others.length).toBe(2)
    for (const other of others) {
      expect(other.plan.a).toBe(first!.plan.a)
      const pitches = (line: GrooveLine) => line.notes.map((note) => note.pitch)
      expect(pitches(other)).not.toEqual(pitches(first!))
      expect(scoreGroove(request, other)).toBe(other.cost)
    }
  })
})

describe('a search that is paced', () => {
  it('has a line after its first step, and says how far it may be from the best', () => {
    const search = startGrooves(grooveRequest('soul-eighths', SOUL))
    const first = search.advance(1)
    expect(first.best).toBeDefined()
    while (!search.advance(200).done);
    const result = search.result()
    const best = result.ok ? result.lines[0]!.cost : 0
    expect(first.best!.cost).toBeGreaterThanOrEqual(best)
    expect(first.best!.cost - first.best!.provenWithin).toBeLessThanOrEqual(best)
  })

  it('gives the best so far where it is broken off', () => {
    const search = startGrooves(grooveRequest('soul-eighths', SOUL))
    search.advance(2)
    const result = search.result()
    expect(result.ok && result.exhausted && result.lines[0]!.provenWithin).toBeGreaterThan(0)
  })
})

describe('other basses', () => {
  it.each(['five-string', 'six-string', 'double-bass'])('take a groove: %s', (id) => {
    const instrument = instrumentOf(id)
    if (!instrument) return
    const request = grooveRequest('shuffle', 'E7 | A7 | E7 | B7', { instrument })
    const line = lineOf(request)
    for (const note of line.notes) expect(instrument.open[note.string]! + note.fret).toBe(note.pitch)
    expect(scoreGroove(request, line)).toBe(line.cost)
  })
})

describe('long and odd forms', () => {
  it('have a line at any length', () => {
    for (const bars of [1, 2, 3, 5, 7, 9, 13, 17]) {
      const row = Array.from({ length: bars }, (_, bar) => ['C7', 'F7', 'G7'][bar % 3]).join(' | ')
      const request = grooveRequest('bossa-nova', row, { loop: bars % 2 === 0 })
      expect(lineOf(request).notes.length, `${bars} bars`).toBeGreaterThan(bars)
    }
    const long = Array(128).fill('Dm7 | G7 | Cmaj7 | %').join(' | ')
    const request = grooveRequest('bossa-nova', changes(long))
    expect(lineOf(request).notes.at(-1)!.slot.barIndex).toBe(511)
  })
})
