import axe from 'axe-core'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { userEvent } from 'vitest/browser'
import '../../styles/page.css'
import type { PartSetting, TransportBar } from '../../src/ui/transport-bar.ts'
import '../../src/ui/transport-bar.ts'

const PARTS: readonly PartSetting[] = [
  { part: 'bass', name: 'Bass', decibels: 0, muted: false, silenced: false },
  { part: 'click', name: 'Click', decibels: -6, muted: true, silenced: false },
]

let bar: TransportBar
let told: { readonly name: string; readonly detail: unknown }[]

beforeEach(async () => {
  told = []
  bar = document.createElement('transport-bar')
  Object.assign(bar, {
    tempoBpm: 120,
    parts: PARTS,
    destinations: [
      { id: 'built-in', name: 'built-in sound' },
      { id: 'p1', name: 'Loft Module' },
    ],
    destination: 'built-in',
    lineIndex: 1,
    lineCount: 3,
  })
  for (const name of [
    ...['play-pressed', 'loop-pressed', 'tempo-wanted', 'tempo-refused', 'line-wanted', 'level-changed', 'solo-wanted'],
    ...['destination-chosen', 'ports-wanted', 'silence-wanted'],
  ])
    bar.addEventListener(name, (event) => told.push({ name, detail: (event as CustomEvent).detail }))
  document.body.append(bar)
  await bar.updateComplete
})

afterEach(() => bar.remove())

/** A button or a field anywhere in the bar, by its name to a reader. */
function named(name: string, within: Element = bar): HTMLElement | undefined {
  for (const element of within.shadowRoot!.querySelectorAll<HTMLElement>('*')) {
    const words = element.getAttribute('aria-label') ?? (element.matches('button') ? element.textContent!.trim() : '')
    if (element.matches('button, input') && words === name) return element
    if (element.shadowRoot) {
      const found = named(name, element)
      if (found) return found
    }
  }
  return undefined
}

describe('The transport', () => {
  test('tells what is pressed', async () => {
    for (const name of ['play', 'loop all bars', 'faster', 'slower', 'line before', 'line after']) named(name)!.click()
    expect(told).toEqual([
      { name: 'play-pressed', detail: null },
      { name: 'loop-pressed', detail: null },
      { name: 'tempo-wanted', detail: { bpm: 121 } },
      { name: 'tempo-wanted', detail: { bpm: 119 } },
      { name: 'line-wanted', detail: { index: 0 } },
      { name: 'line-wanted', detail: { index: 2 } },
    ])
  })

  test('takes a tempo that is written: Enter says so, and the figure is a word again', async () => {
    named('tempo: 120 beats a minute')!.click()
    await expect.poll(() => named('tempo in beats a minute, 20 to 400')).toBeDefined()
    await userEvent.keyboard('96{Enter}')
    await expect.poll(() => named('tempo: 120 beats a minute')).toBeDefined()
    expect(told).toEqual([{ name: 'tempo-wanted', detail: { bpm: 96 } }])
  })

  test.each(['9999', '0', 'allegro'])('refuses "%s" as a tempo, and says what was written', async (text) => {
    named('tempo: 120 beats a minute')!.click()
    await expect.poll(() => named('tempo in beats a minute, 20 to 400')).toBeDefined()
    await userEvent.keyboard(`${text}{Enter}`)
    expect(told).toEqual([{ name: 'tempo-refused', detail: { text } }])
  })

  test('Escape leaves the tempo as it was, and so does an empty field', async () => {
    named('tempo: 120 beats a minute')!.click()
    await userEvent.keyboard('96{Escape}')
    named('tempo: 120 beats a minute')!.click()
    await userEvent.keyboard('{Backspace}{Enter}')
    expect(told).toEqual([])
  })

  test('steps no further than the lines there are', async () => {
    bar.lineIndex = 0
    bar.lineCount = 1
    await bar.updateComplete
    expect((named('line before') as HTMLButtonElement).disabled).toBe(true)
    expect((named('line after') as HTMLButtonElement).disabled).toBe(true)
  })

  test('mutes a part by its name, plays it alone with Shift, and moves its level', async () => {
    named('Bass: mute')!.click()
    named('Click: mute')!.dispatchEvent(new MouseEvent('click', { shiftKey: true, bubbles: true }))
    const slider = named('Bass: level in decibels') as HTMLInputElement
    slider.focus()
    await userEvent.keyboard('{ArrowLeft}')
    expect(told).toEqual([
      { name: 'level-changed', detail: { part: 'bass', decibels: 0, muted: true } },
      { name: 'solo-wanted', detail: { part: 'click' } },
      { name: 'level-changed', detail: { part: 'bass', decibels: -1, muted: false } },
    ])
  })

  test('opens the list of places, and closes it by Escape and by a press elsewhere', async () => {
    const word = () => named('sound goes to: built-in sound')!
    word().click()
    await expect.poll(() => named('Loft Module')).toBeDefined()
    await userEvent.keyboard('{Escape}')
    await expect.poll(() => named('Loft Module')).toBeUndefined()
    word().click()
    await expect.poll(() => named('Loft Module')).toBeDefined()
    document.body.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true }))
    await expect.poll(() => named('Loft Module')).toBeUndefined()
    word().click()
    await expect.poll(() => named('all notes off')).toBeDefined()
    named('all notes off')!.click()
    named('look for MIDI ports')!.click()
    named('Loft Module')!.click()
    expect(told).toEqual([
      { name: 'silence-wanted', detail: null },
      { name: 'ports-wanted', detail: null },
      { name: 'destination-chosen', detail: { id: 'p1' } },
    ])
  })

  test.each(['desktop', 'tablet', 'phone'] as const)('has a name for everything on a %s', async (view) => {
    bar.view = view
    await bar.updateComplete
    const { violations } = await axe.run(bar, { rules: { region: { enabled: false } } })
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
  })
})
