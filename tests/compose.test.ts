import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Composition, compose, performanceOf, roundsOf } from '../src/compose.ts'
import { FEELS } from '../src/feels/feels.ts'
import { writeMidi } from '../src/files/midi-writer.ts'
import type { Line, LineNote } from '../src/line/line.ts'
import { METRES } from '../src/music/metre.ts'
import type { Settings } from '../src/settings.ts'
import { lineText } from './support/line-text.ts'
import { randomFrom } from './support/random.ts'

const EXAMPLES = readdirSync('examples')
  .filter((name) => name.endsWith('.changes.txt'))
  .map((name) => ({ name, text: readFileSync(`examples/${name}`, 'utf8') }))

/** What holds for every built line, by an independent reading. */
function expectSound(composition: Composition, line: Line, where: string): void {
  const { form, instrument } = composition
  const sounded = line.notes.filter((note) => !note.slot.ghost)

  // It costs what its terms add up to, in whole points.
  const terms = [...line.terms, ...line.notes.flatMap((note) => note.terms)]
  expect(
    terms.reduce((sum, term) => sum + term.points, 0),
    where,
  ).toBe(line.cost)
  for (const { points } of terms) expect(Number.isInteger(points) && points > 0, where).toBe(true)

  // Its notes are on the neck, in order of time, one at a time, inside the form.
  let end = 0
  for (const note of line.notes) {
    const place = `${where}, tick ${note.slot.startTick}`
    expect(note.slot.startTick, place).toBeGreaterThanOrEqual(0)
    expect(note.slot.startTick, place).toBeLessThan(form.ticks)
    expect(note.fret >= 0 && note.fret <= instrument.frets, place).toBe(true)
    if (!note.slot.ghost) expect(instrument.open[note.string]! + note.fret, place).toBe(note.pitch)
  }
  for (const { slot } of sounded) {
    expect(slot.startTick, where).toBeGreaterThanOrEqual(end)
    expect(slot.ticks, where).toBeGreaterThan(0)
    end = slot.startTick + slot.ticks
  }

  // It fills its bars: every change that has a chord is struck, or was struck early, and nothing sounds without one.
  for (const change of form.changes) {
    const from = change.startTick
    const here = sounded.filter(
      ({ slot }) => slot.startTick + slot.ticks > from && slot.startTick < from + change.ticks,
    )
    if (!change.chord)
      expect(
        here.filter(({ slot }) => slot.startTick >= from),
        where,
      ).toEqual([])
  }
  for (const bar of form.bars) {
    if (bar.changes.every((change) => !change.chord)) continue
    const sounds = (note: LineNote) =>
      note.slot.startTick < bar.startTick + bar.ticks && note.slot.startTick + note.slot.ticks > bar.startTick
    expect(sounded.some(sounds), `${where}, bar ${bar.number}`).toBe(true)
  }

  // Every note is explained.
  for (const note of line.notes) {
    expect(note.name, where).toMatch(/^[A-G](#|b){0,2}\d$/)
    expect(note.degree, where).toMatch(/^(bb|b|##|#)?\d{1,2}$/)
  }
}

function expectPlayable(composition: Composition, line: Line, where: string): void {
  for (const reader of ['player', 'sequencer'] as const) {
    const performance = performanceOf(composition, line, { for: reader })
    for (const part of performance.parts) {
      for (const note of part.notes) {
        expect(note.startTick, where).toBeGreaterThanOrEqual(0)
        expect(note.endTick, where).toBeGreaterThan(note.startTick)
        expect(note.endTick, where).toBeLessThanOrEqual(performance.ticks)
      }
    }
    expect(writeMidi(performance, reader).length).toBeGreaterThan(100)
  }
}

describe('every line', () => {
  for (const { name, text } of EXAMPLES) {
    for (const feel of FEELS) {
      it(`is sound: ${name} as ${feel.id}`, () => {
        const settings: Settings = { feel: feel.id }
        const composition = compose(text, settings)
        // An example that chooses its words is played in its own feel; another may not know them.
        const inMetre = composition.form.bars.some((bar) => `${bar.metre.upper}/${bar.metre.lower}` === feel.metre)
        if (!inMetre) return expect(composition.feel?.id).not.toBe(feel.id)
        expect(composition.clash).toBeUndefined()
        expect(composition.lines).toHaveLength(1)
        expectSound(composition, composition.lines[0]!, name)
        expectPlayable(composition, composition.lines[0]!, name)
      })
    }
  }

  const OTHER_BASSES = [
    'five-string',
    'six-string',
    'four-string-drop-d',
    'double-bass',
    'four-string-24',
    'four-string-short-scale',
    'five-string-high-c',
    'tenor',
    'double-bass-low-c',
  ]
  it.each(FEELS.map((feel, order) => [feel.id, feel.metre, order] as const))(
    'is sound on other basses, and stays on the neck that it has: %s',
    (feel, metre, order) => {
      const all = process.env['SOAK'] ? OTHER_BASSES : [OTHER_BASSES[order % OTHER_BASSES.length]!]
      for (const bass of all) {
        const text = `time: ${metre}\n| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | C6 | % |`
        const composition = compose(text, { feel, bass, loop: order % 2 === 0 })
        expect(composition.feel?.id).toBe(feel)
        expect(composition.instrument.id).toBe(bass)
        expect(composition.clash, bass).toBeUndefined()
        expectSound(composition, composition.lines[0]!, `${feel} on ${bass}`)
        expectPlayable(composition, composition.lines[0]!, `${feel} on ${bass}`)
      }
    },
  )

  it('is sound over charts of chance', () => {
    const roots = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']
    const kinds = [
      '7',
      'm7',
      'maj7',
      'm7b5',
      'dim7',
      '6',
      'm6',
      '7b9',
      '7sus4',
      'm(maj7)',
      '',
      'm',
      '5',
      'aug',
      '7alt',
      '13',
      '/E',
    ]
    const tries = process.env['SOAK'] ? 200 : 20
    for (let seed = 1; seed <= tries; seed++) {
      const random = randomFrom(seed)
      const feel = FEELS[seed % FEELS.length]!
      const chord = () => roots[random(12)]! + kinds[random(kinds.length)]!
      const bars = Array.from({ length: 1 + random(8) }, () => {
        if (random(12) === 0) return 'N.C.'
        return Array.from({ length: 1 + random(feel.metre === '3/4' ? 2 : 3) }, chord).join(' ')
      })
      const text = `time: ${feel.metre}\nfeel: ${feel.id}\n| ${bars.join(' | ')} | ${chord()} |`
      const composition = compose(text, { loop: random(2) === 0 })
      expect(composition.lines, text).toHaveLength(1)
      expectSound(composition, composition.lines[0]!, text)
      expectPlayable(composition, composition.lines[0]!, text)
    }
  })

  it('is the same, byte for byte, when it is asked for again', () => {
    for (const { text } of EXAMPLES.slice(0, 4)) {
      const bytes = [1, 2].map(() => {
        const composition = compose(text)
        return writeMidi(performanceOf(composition, composition.lines[0]!), 'player')
      })
      expect(bytes[0]).toEqual(bytes[1])
    }
  })
})

describe('composing', () => {
  const one = (text: string, settings?: Settings) => lineText(compose(text, settings).lines[0]!)

  it('takes settings in place of headers', () => {
    const text = 'feel: shuffle\ntempo: 100\n| Am7 | D7 |'
    expect(compose(text).feel?.id).toBe('shuffle')
    const other = compose(text, { feel: 'bossa-nova', tempoBpm: 140, bass: 'five-string' })
    expect([other.feel?.id, other.tempoBpm, other.instrument.id]).toEqual(['bossa-nova', 140, 'five-string'])
  })

  it('takes the feel of the metre, and its tempo, where nothing is said', () => {
    const { feel, tempoBpm } = compose('time: 3/4\n| C | G7 |')
    expect([feel?.id, tempoBpm]).toEqual(['jazz-waltz', 150])
  })

  it('plays so many choruses of one form', () => {
    const composition = compose('| Dm7 | G7 |', { choruses: 3 })
    expect(composition.form.bars.map((bar) => bar.writtenNumber)).toEqual([1, 2, 1, 2, 1, 2])
    expectSound(composition, composition.lines[0]!, 'three choruses')
  })

  it('walks in the cells that the chart asks for, written out or by name', () => {
    const bars = one('cells: "1 3"\n| Dm7 | G7 |').split(' | ')
    expect(bars.map((bar) => bar.split(' ').length)).toEqual([2, 2])
  })

  it('says what it does not know, names what was meant, and plays', () => {
    const composition = compose('feel: shufle\nbass: four-strin\ncells: four-quarter\npatterns: boogi\n| A7 | D7 |')
    const said = composition.diagnostics.map(({ code, fixes }) => `${code} ${fixes.join()}`)
    expect(said).toEqual([
      'chart/unknown-feel shuffle',
      'chart/unknown-bass four-string',
      'cell/unknown four-quarters',
      'line/unknown-pattern boogie',
    ])
    expect(composition.lines).toHaveLength(1)
  })

  it('leaves out a cell that fits no bar', () => {
    const composition = compose('cells: "3/4: 1 2 3" four-quarters\n| A7 | D7 |')
    expect(composition.diagnostics.map(({ code }) => code)).toEqual(['cell/fits-no-bar'])
    expect(composition.lines[0]!.notes.every((note) => note.slot.cell === 'four-quarters')).toBe(true)
  })

  it('plays bars of another metre as their own metre is played, with one hint for each change', () => {
    const composition = compose('| C | (3/4) F | G7 | (4/4) C |')
    expect(composition.diagnostics.map(({ code, severity }) => `${severity} ${code}`)).toEqual([
      'hint chart/other-metre',
    ])
    expectSound(composition, composition.lines[0]!, 'metre change')
    for (const feel of ['shuffle', 'soul-eighths', 'bossa-nova']) {
      const groove = compose(`feel: ${feel}\n| C | (3/4) F | (2/4) G7 | (4/4) C | (6/8) F | (7/8) C |`)
      expectSound(groove, groove.lines[0]!, feel)
    }
  })

  it('plays a whole chart in any metre, with a hint where it has no feel of its own', () => {
    const said = METRES.map((metre) => {
      const composition = compose(`time: ${metre}\n| C | F G7 | C | % |`)
      expectSound(composition, composition.lines[0]!, metre)
      expectPlayable(composition, composition.lines[0]!, metre)
      return `${metre} ${composition.feel.id} ${composition.diagnostics.map(({ message }) => message).join(' ')}`.trim()
    })
    expect(said).toEqual([
      '2/4 swing-medium medium swing, walking is in 4/4; from here on 2/4 is played as half a bar of it.',
      '3/4 jazz-waltz',
      '4/4 swing-medium',
      '5/4 five-four',
      '6/8 six-eight',
      '7/8 seven-eight',
      '9/8 six-eight six-eight is in 6/8; from here on 9/8 is played plainly, on its beats.',
      '12/8 slow-blues',
    ])
  })

  it('plays three beats of six-eight in 9/8: the root on one and at changes, the fifth between', () => {
    expect(one('time: 9/8\n| G | C / D |')).toBe('G1 D2 D2 | C2 G2 D2')
  })

  it('plays 7/8 in the groups that the chart asks for', () => {
    const starts = (text: string) => {
      const { notes } = compose(`time: 7/8\n${text}\n| Am | % | F | G |`).lines[0]!
      return notes.filter(({ slot }) => slot.barIndex === 0).map(({ slot }) => slot.startTick / 240 + 1)
    }
    expect(starts('')).toEqual([1, 3, 5, 7])
    expect(starts('groups: 3+2+2')).toEqual([1, 3, 4, 6])
    // Four and three are two, two and three.
    expect(starts('groups: 4+3')).toEqual([1, 3, 5, 7])
  })

  it('makes variations that differ by the share asked for, in every feel', () => {
    for (const feel of FEELS) {
      const chart = `time: ${feel.metre}\nfeel: ${feel.id}\n| Am7 | D7 | Gmaj7 | Cmaj7 | F#m7b5 | B7 | Em7 | E7 |`
      const { lines } = compose(chart, { variations: 3, difference: 0.25 })
      expect(lines.length, feel.id).toBeGreaterThan(1)
      const onsets = lines.map((line) => {
        const sounded = line.notes.filter((note) => !note.slot.ghost)
        return new Set(sounded.map((note) => `${note.slot.startTick} ${note.pitch}`))
      })
      for (const [i, a] of onsets.entries()) {
        for (const b of onsets.slice(i + 1)) {
          const ticks = new Set([...a, ...b].map((onset) => onset.split(' ')[0]))
          const alike = [...a].filter((onset) => b.has(onset)).length
          expect((ticks.size - alike) / ticks.size, feel.id).toBeGreaterThanOrEqual(0.25)
        }
      }
    }
  })
})

describe('a loop whose last note is tied over the end', () => {
  const CHARTS = [
    ['a walk that is pushed over the bar', 'feel: swing-medium\ncells: push-over\n| Dm7 | G7 | Cmaj7 | A7 |'],
    ['a walk in three', 'time: 3/4\nfeel: jazz-waltz\ncells: waltz-push\n| Dm7 | G7 | Cmaj7 | A7 |'],
  ] as const

  const bassOf = (text: string) => {
    const composition = compose(text, { loop: true })
    const line = composition.lines[0]!
    const { first, again } = roundsOf(composition, line)
    const bass = ({ parts }: typeof first) => parts.find(({ name }) => name === 'bass')!.notes
    return { line, ticks: composition.form.ticks, first: bass(first), again: bass(again) }
  }

  it.each(CHARTS)('is struck at the start of the first time round only, as long as it is held: %s', (_, text) => {
    const { line, ticks, first, again } = bassOf(text)
    const last = line.notes.at(-1)!
    const over = last.slot.startTick + last.slot.ticks - ticks
    expect(over).toBeGreaterThan(0)
    expect(line.notes[0]!.slot.startTick).toBeGreaterThanOrEqual(over)
    const [downbeat, ...others] = first
    expect(downbeat!.pitch).toBe(last.pitch)
    expect(downbeat!.startTick).toBeLessThan(20)
    expect(downbeat!.endTick).toBeGreaterThan(over / 2)
    expect(downbeat!.endTick).toBeLessThanOrEqual(others[0]!.startTick)
    expect(others).toEqual(again)
  })

  it.each(CHARTS)(
    'is struck at the start of a file that a player opens, and not of one that a sequencer loops: %s',
    (_, text) => {
      const composition = compose(text, { loop: true })
      const line = composition.lines[0]!
      const bassIn = (reader: 'player' | 'sequencer') =>
        performanceOf(composition, line, { for: reader }).parts.find(({ name }) => name === 'bass')!.notes
      expect(bassIn('player')).toEqual(bassOf(text).first)
      const looped = bassIn('sequencer')
      expect(Math.max(...looped.map(({ endTick }) => endTick))).toBeLessThanOrEqual(composition.form.ticks)
    },
  )

  it.each([
    'feel: swing-medium\ncells: four-quarters\n| Dm7 | G7 |',
    // a groove pushes over its bars, and not over the end of the form
    'feel: bossa-nova\ncells: push-both\n| Dm7 | G7 | Cmaj7 | % |',
  ])('is not struck again where the first bar begins with a note: %s', (text) => {
    const { line, first, again } = bassOf(text)
    expect(first).toEqual(again)
    expect(first.length).toBe(line.notes.length)
  })
})
