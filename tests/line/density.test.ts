import { describe, expect, it } from 'vitest'
import { compose } from '../../src/compose.ts'
import type { Settings } from '../../src/settings.ts'

const CHART = '| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |'

/** How many notes are struck in each bar, dead ones apart. */
function counts(settings: Settings, chart = CHART): readonly number[] {
  const { form, lines, clash, diagnostics } = compose(chart, settings)
  if (clash) throw new Error(clash.message)
  expect(diagnostics.filter(({ code }) => code.startsWith('rule/'))).toEqual([])
  return form.bars.map(
    ({ index }) => lines[0]!.notes.filter(({ slot }) => slot.barIndex === index && !slot.ghost).length,
  )
}

describe.each(['swing-medium', 'bossa-nova', 'funk-sixteenths', 'shuffle'])('Bars of rest in %s', (feel) => {
  it('have no note and nothing tied into them; the others go on', () => {
    const { lines, form } = compose(CHART, {
      feel,
      rules: ['Bars 3-4, 8: rest', 'Bar 2: push into the next bar (gently)'],
    })
    const { notes } = lines[0]!
    const sounding = form.bars.map(({ startTick, ticks }) =>
      notes.some(({ slot }) => slot.startTick < startTick + ticks && slot.startTick + slot.ticks > startTick),
    )
    expect(sounding).toEqual([true, true, false, false, true, true, true, false])
  })

  it('are only those that are named, though the bar is played again', () => {
    const aa = '|: Dm7 | G7 | Cmaj7 | A7 :|'
    expect(counts({ feel, rules: ['Bar 7: drop out'] }, aa).map((count) => count > 0)).toEqual([
      ...[true, true, true, true],
      ...[true, true, false, true],
    ])
  })

  it('may be all there are', () => {
    expect(counts({ feel, rules: ['rest'] })).toEqual(new Array(8).fill(0))
  })

  it('clash with bars that stay', () => {
    const rules = ['Bar 3: keep C2 G2 on 1 3', 'Section A: rest']
    const { clash } = compose(`[A]\n${CHART}`, { feel, rules })
    expect(clash?.rules).toEqual(['Bar 3: keep C2 G2 on 1 3 (must)', 'Section A: rest (must)'])
    expect(clash?.loosen).not.toContain('Section A: rest (weight 20)')
  })
})

describe('Rules about rhythm', () => {
  it('leave bars of rest and the ending alone', () => {
    const rules = ['in four', 'at least four notes a bar', 'Bar 4: rest', 'end with a held root']
    for (const feel of ['swing-medium', 'shuffle']) {
      const struck = counts({ feel, rules })
      expect([struck[3], struck[7]]).toEqual([0, 1])
      expect([...struck.slice(0, 3), ...struck.slice(4, 7)].every((count) => count >= 4)).toBe(true)
    }
  })
})

describe('A pick-up', () => {
  it('may rest', () => {
    expect(counts({ rules: ['Bar 0: rest'] }, 'pickup: yes\n(1/4) A7 | (4/4) Dm7 | G7 |')[0]).toBe(0)
  })
})

describe('Notes a bar', () => {
  it('are few where few are asked for, in a walking line too', () => {
    const few = counts({ rules: ['Bars 1-4: at most two notes a bar'] })
    expect(few.slice(0, 4).every((count) => count <= 2)).toBe(true)
    expect(few.slice(4).every((count) => count >= 3)).toBe(true)
    expect(counts({ feel: 'bossa-nova', rules: ['at most two notes a bar'] })).toEqual(new Array(8).fill(2))
  })

  it('are one where one is asked for, in any feel and metre', () => {
    for (const [feel, time] of [
      ['rock-eighths', '4/4'],
      ['waltz', '3/4'],
      ['six-eight', '6/8'],
      ['gospel-twelve', '12/8'],
    ]) {
      const few = counts(
        { feel: feel!, rules: ['Bars 1-2: at most one note a bar'] },
        `time: ${time}\n| Dm | G7 | C | A7 |`,
      )
      expect(few.slice(0, 2).every((count) => count <= 1)).toBe(true)
      expect(few.slice(2).some((count) => count > 1)).toBe(true)
    }
  })

  it('are many where many are asked for', () => {
    expect(counts({ rules: ['at least five notes a bar', 'no pushes'] }).every((count) => count >= 5)).toBe(true)
    const { clash } = compose(CHART, { rules: ['at least nine notes a bar'] })
    expect(clash?.loosen[0]).toMatch(/^at least (five|six) notes a bar \(must\)$/)
  })

  it('follow the beats', () => {
    expect(counts({}).some((count) => count > 4)).toBe(true)
    expect(counts({ rules: ['at most a note a beat'] }).every((count) => count <= 4)).toBe(true)
    const busy = counts({ rules: ['more notes than beats'] }, 'time: 3/4\n| Dm7 | G7 | Cmaj7 | % |')
    expect(busy.every((count) => count > 3)).toBe(true)
  })

  it('count a cell that fills a bar twice as a bar', () => {
    const chart = `cells: "2/4: 1 2" "1 2 3"\n${CHART}`
    expect(counts({ rules: ['at most three notes a bar'] }, chart)).toEqual(new Array(8).fill(3))
  })
})

describe('Pushes', () => {
  const pushed = (settings: Settings): number => {
    const { lines } = compose(CHART, settings)
    return lines[0]!.notes.filter(({ slot }) => slot.pushed).length
  }

  it('are as many as a section asks for', () => {
    const loop = true
    expect(pushed({ loop, rules: ['push into the next bar'] })).toBe(8)
    expect(pushed({ loop, rules: ['push into the next bar (weight 3)'] })).toBeGreaterThan(pushed({ loop }))
    expect(pushed({ loop, rules: ['no pushes'] })).toBe(0)
  })
})
