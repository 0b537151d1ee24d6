import '../../../styles/page.css'
import axe from 'axe-core'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import type { Part } from '../../../src/notation/part.ts'
import { DrawnPart, type SymbolChosen } from '../../../src/ui/part/drawn-part.ts'
import { printedRows } from './printed-rows.ts'
import { randomPart } from './random-part.ts'

const BLUES = printedRows(
  [
    'F7: -4q -2q 0q 1q | Bb7: -1q 1q 3q 4e 4ex | F7: 3q 2bq 0q -2q | Cm7 F7: 0q 2bq -4q -2q',
    'Bb7: -1q 1q 3q 1e 1ex | B°7: -1nq 1q 3q 1bq | F7/C: 0q -2q -3q -4q | D7b9: -6#q -2q 0q 2bq',
    'Gm7: 1q -1q -3q -1nq | C7: 0q 2q 4q 6q | F7 D7: 5q 3q 3#q 0q | Gm7 C7: -1q -3q -5q -3e -3be',
  ].join(' | '),
  { key: 'F', sections: { 0: 'A' } },
)
/** Random parts at each width; 188 of them at each of four widths have been tried. */
const RANDOM_PARTS = 6

beforeEach(() => page.viewport(1040, 2400))
afterEach(() => document.body.replaceChildren())

/** A part drawn at a width, notes and all. */
async function drawn(music: Part | undefined, widthPx: number): Promise<DrawnPart> {
  const element = new DrawnPart()
  element.music = music
  element.style.width = `${widthPx}px`
  document.body.append(element)
  await element.drawn
  return element
}

const inside = (element: DrawnPart, selector: string): Element[] => [...element.renderRoot.querySelectorAll(selector)]
const systems = (element: DrawnPart) => inside(element, '.system')
const centre = (element: Element) => {
  const { left, right } = element.getBoundingClientRect()
  return (left + right) / 2
}

interface Interval {
  readonly left: number
  readonly right: number
}

const boxOf = (elements: readonly Element[]): Interval => {
  const boxes = elements.map((element) => element.getBoundingClientRect())
  return { left: Math.min(...boxes.map(({ left }) => left)), right: Math.max(...boxes.map(({ right }) => right)) }
}

/** What stands in each row of a system, left to right. A degree is its sign and its numeral. */
function rowsOf(system: Element): Readonly<Record<string, readonly Interval[]>> {
  const each = (selector: string) => [...system.querySelectorAll(selector)]
  const degrees = each('.degree').map((numeral) => {
    const sign = numeral.previousElementSibling
    return boxOf(sign?.matches('.sign[class*=f-]') ? [sign, numeral] : [numeral])
  })
  return {
    symbols: each('.symbol').map((symbol) => boxOf([...symbol.children])),
    figures: each('.figure').map((figure) => boxOf([figure])),
    degrees,
    heads: each('.vf-notehead').map((head) => boxOf([...head.querySelectorAll('text')])),
  }
}

/** Least air between neighbours of a row, in pixels; the boxes of small signs are whole pixels wide. */
function leastAir(row: readonly Interval[]): number {
  return Math.min(...row.slice(1).map(({ left }, index) => left - row[index]!.right))
}

describe('a part drawn', () => {
  it.each([360, 390, 820, 1440])('leaves air in every row, whatever the music, at %i px', async (width) => {
    await page.viewport(width, 6000)
    const element = await drawn(undefined, width - 32)
    for (let seed = 1; seed <= RANDOM_PARTS; seed++) {
      element.music = randomPart(seed)
      await element.drawn
      for (const system of systems(element)) {
        for (const [row, intervals] of Object.entries(rowsOf(system))) {
          const air = leastAir(intervals)
          expect.soft(air, `${row} of part ${seed}`).toBeGreaterThan(row === 'symbols' ? 4 : 0.5)
        }
        const ink = system.querySelector('svg')!.getBoundingClientRect()
        expect.soft(ink.right, `part ${seed}`).toBeLessThanOrEqual(element.getBoundingClientRect().right + 0.5)
      }
    }
  })

  it('has every head and figure on the same column, to 0.3 px', async () => {
    const element = await drawn(BLUES, 944)
    let pairs = 0
    for (const bar of inside(element, '.bar')) {
      const heads = [...bar.querySelectorAll('.vf-notehead')].map((head) => head.querySelector('text')!)
      const figures = [...bar.querySelectorAll('.figure')]
      expect(figures).toHaveLength(heads.length)
      for (const [index, figure] of figures.entries()) {
        expect(Math.abs(centre(heads[index]!) - centre(figure))).toBeLessThan(0.3)
        pairs++
      }
    }
    expect(pairs).toBe(51)
  })

  it('puts heads on the lines and spaces they are written for', async () => {
    const element = await drawn(printedRows('F7: 4q 0q -4q 8q | 0w | 0w'), 944)
    const [top, , middle, , bottom] = inside(element, '.staff').map((line) => line.getBoundingClientRect().top)
    const heads = inside(element, '.vf-notehead text').map((head) => Number(head.getAttribute('y')))
    expect(heads.slice(0, 4)).toEqual([0, 20, 40, -20])
    expect(middle! - top!).toBeCloseTo(bottom! - middle!, 0)
  })

  it('shows staff lines, clefs and chord symbols before the notes', async () => {
    const element = new DrawnPart()
    element.music = BLUES
    element.style.width = '944px'
    document.body.append(element)
    await new Promise((resolve) => {
      const look = () => (inside(element, '.symbol').length > 0 ? resolve(undefined) : requestAnimationFrame(look))
      look()
    })
    expect(inside(element, '.staff')).toHaveLength(15)
    await element.drawn
    expect(inside(element, '.vf-notehead')).toHaveLength(51)
  })

  it('is a staff of four empty bars without music', async () => {
    const element = await drawn(undefined, 944)
    expect(systems(element)).toHaveLength(1)
    expect(inside(element, '.bar')).toHaveLength(4)
    expect(inside(element, '.staff')).toHaveLength(5)
  })

  it('breaks anew when its width changes', async () => {
    const element = await drawn(BLUES, 944)
    expect(systems(element)).toHaveLength(3)
    element.style.width = '358px'
    await new Promise((resolve) => setTimeout(resolve, 100))
    expect(systems(element)).toHaveLength(6)
  })

  it('moves no note and draws no system anew where another system changes', async () => {
    const element = await drawn(BLUES, 944)
    const before = systems(element).map((system) => system.querySelector('.bar'))
    const places = inside(element, '.vf-notehead').map(centre)
    const bars = BLUES.bars.map((bar, index) =>
      index === 9
        ? { ...bar, signs: bar.signs.map((sign) => (sign.kind === 'note' ? { ...sign, step: 1 } : sign)) }
        : bar,
    )
    element.music = { ...structuredClone(BLUES), bars: structuredClone(bars) }
    await element.drawn
    const after = systems(element).map((system) => system.querySelector('.bar'))
    expect(after.map((bar, index) => bar === before[index])).toEqual([true, true, false])
    expect(inside(element, '.vf-notehead').map(centre)).toEqual(places)
    expect(inside(element, '.changed')).toHaveLength(1)
  })
})

describe('the lamp', () => {
  it('lights a bar and the column of the note that sounds, and draws nothing anew', async () => {
    const element = await drawn(BLUES, 944)
    const bar = inside(element, '.bar')[1]!
    const figures = [...bar.querySelectorAll('.figure')]
    element.lamp = { barIndex: 1, noteIndex: 5 }
    await element.updateComplete
    expect(inside(element, '.bar')[1]).toBe(bar)
    const [wash] = inside(element, '.lamp-bar')
    const [note] = inside(element, '.lamp-note')
    expect(centre(note!)).toBeCloseTo(centre(figures[1]!), 0)
    expect(wash!.getBoundingClientRect().left).toBeLessThan(figures[0]!.getBoundingClientRect().left)
    expect(bar.classList.contains('lit')).toBe(true)
    element.lamp = { barIndex: 4, noteIndex: undefined }
    await element.updateComplete
    expect(inside(element, '.lamp-bar')).toHaveLength(1)
    expect(inside(element, '.lamp-note')).toHaveLength(0)
    expect(bar.classList.contains('lit')).toBe(false)
    element.lamp = undefined
    await element.updateComplete
    expect(inside(element, '.lamp-bar')).toHaveLength(0)
  })

  it('is followed so that its system is the second from above', async () => {
    await page.viewport(1040, 500)
    const element = await drawn(BLUES, 944)
    const below = document.createElement('div')
    below.style.height = '2000px'
    document.body.append(below)
    element.follow = true
    element.lamp = { barIndex: 8, noteIndex: undefined }
    await new Promise((resolve) => setTimeout(resolve, 900))
    const tops = systems(element).map((system) => system.getBoundingClientRect().top)
    expect(tops[1]).toBeGreaterThan(-1)
    expect(tops[1]).toBeLessThan(20)
    window.scrollTo(0, 0)
  })
})

describe('bars whose rules clash', () => {
  it('are faint under one red wave for each row of them, symbols excepted', async () => {
    const element = await drawn(BLUES, 944)
    element.dimmedBars = [2, 3, 4]
    await element.updateComplete
    expect(inside(element, '.dim')).toHaveLength(3)
    expect(inside(element, '.wave')).toHaveLength(2)
    expect(getComputedStyle(inside(element, '.dim .notes')[0]!).opacity).toBe('0.35')
    expect(getComputedStyle(inside(element, '.dim .symbol')[0]!).opacity).toBe('1')
    element.dimmedBars = []
    await element.updateComplete
    expect(inside(element, '.dim, .wave')).toHaveLength(0)
  })
})

describe('chord symbols', () => {
  it('are one stop for the tab key and are walked with the arrows', async () => {
    const before = document.createElement('button')
    before.textContent = 'before'
    document.body.append(before)
    const element = await drawn(BLUES, 944)
    before.focus()
    await userEvent.keyboard('{Tab}')
    const focused = () => element.shadowRoot!.activeElement?.getAttribute('aria-label')
    expect(focused()).toBe('F7, bar 1')
    await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowRight}{ArrowRight}')
    expect(focused()).toBe('F7, bar 4')
    await userEvent.keyboard('{ArrowDown}')
    expect(focused()).toBe('D7b9, bar 8')
    await userEvent.keyboard('{Home}{ArrowUp}')
    expect(focused()).toBe('F7, bar 1')
    await userEvent.keyboard('{End}')
    expect(focused()).toBe('C7, bar 12')
  })

  it('tell where they are written when they are pressed', async () => {
    const element = await drawn(BLUES, 944)
    const told: SymbolChosen[] = []
    element.addEventListener('symbol-chosen', ({ detail }) => told.push(detail))
    await userEvent.click(inside(element, 'button')[1]!)
    expect(told[0]).toMatchObject({ symbolText: 'Bb7', barIndex: 1, span: { from: 1920, to: 1923 } })
    await userEvent.keyboard('{ArrowRight}{Enter}')
    expect(told[1]).toMatchObject({ symbolText: 'F7', barIndex: 2 })
  })

  it('are targets of 44 px on a phone, without overlapping', async () => {
    const element = await drawn(BLUES, 358)
    for (const system of systems(element)) {
      let free = Number.NEGATIVE_INFINITY
      for (const button of system.querySelectorAll('button')) {
        const { left, right, width, height } = button.getBoundingClientRect()
        expect(height).toBeGreaterThanOrEqual(44)
        expect(width).toBeGreaterThanOrEqual(43.9)
        expect(left).toBeGreaterThanOrEqual(free - 0.1)
        free = right
      }
    }
  })

  it('lie under their buttons', async () => {
    const element = await drawn(BLUES, 944)
    for (const [index, symbol] of inside(element, '.symbol').entries()) {
      const ink = boxOf([...symbol.children])
      const button = inside(element, 'button')[index]!.getBoundingClientRect()
      expect(button.left).toBeLessThanOrEqual(ink.left)
      expect(button.right).toBeGreaterThanOrEqual(ink.right)
    }
  })
})

describe('for readers', () => {
  it('the drawing is silent and a list says bars and chords', async () => {
    const element = await drawn(BLUES, 944)
    await new Promise((resolve) => setTimeout(resolve, 300))
    expect(inside(element, 'svg').every((svg) => svg.getAttribute('aria-hidden') === 'true')).toBe(true)
    const words = inside(element, 'li').map(({ textContent }) => textContent)
    expect(words).toHaveLength(12)
    expect(words[3]).toBe('bar 4, Cm7, F7')
  })

  it.each(['paper', 'stage'])('axe finds nothing wrong on %s', async (theme) => {
    document.documentElement.dataset['theme'] = theme
    await drawn(BLUES, 944)
    await new Promise((resolve) => setTimeout(resolve, 300))
    const { violations } = await axe.run(document.body, { rules: { region: { enabled: false } } })
    delete document.documentElement.dataset['theme']
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  })
})
