import type { Page } from 'playwright'
import { expect, test } from 'vitest'
import { builtPage } from '../support/built-page.ts'
import { playButton, press, searched, tabTo, writeChanges } from '../support/player.ts'
import { randomFrom } from '../support/random.ts'
import { heardLevel, leftSounding, listening, sent, withPort } from '../support/world.ts'

const visit = builtPage()

const SEED = 7
const ACTIONS = 200
const TEXTS = [
  '| Dm7 | G7 | Cmaj7 |',
  'tempo: 220\n| F7 | Bb7 |',
  'feel: soul-eighths\n| Am7 | D7 |',
  '| C |',
  'time: 3/4\n| Fmaj7 | Em7 |',
]

/** Presses and edits, the next one before the last has been answered. */
async function anything(page: Page): Promise<void> {
  const random = randomFrom(SEED)
  const one = <Item>(items: readonly Item[]): Item => items[random(items.length)]!
  for (let action = 0; action < ACTIONS; action++) {
    const key = one(['play', 'play', 'play', 'l', ']', '[', '+', '-', 'Control+z', 'text'])
    if (key === 'text') {
      await writeChanges(page, one(TEXTS))
      await press(page, 'Escape')
    } else if (key === 'play') await playButton(page).click()
    else await press(page, key)
    await page.waitForTimeout(random(80))
  }
  if ((await playButton(page).getAttribute('aria-label')) === 'stop') await playButton(page).click()
}

test(`After ${ACTIONS} presses and edits in any order every note at the port has ended (seed ${SEED})`, async () => {
  const { page } = await visit({ world: withPort })
  await searched(page)
  await tabTo(page, /^sound goes to/)
  await press(page, 'Enter')
  await page.getByRole('button', { name: 'look for MIDI ports' }).click()
  await page.getByRole('button', { name: 'Loft Module' }).click()
  await anything(page)
  expect((await sent(page)).filter(({ bytes }) => bytes[0]! >> 4 === 9).length).toBeGreaterThan(20)
  await expect.poll(() => leftSounding(page)).toEqual([])
})

test(`After ${ACTIONS} presses and edits in any order the built-in sound is silent, and plays again (seed ${SEED})`, async () => {
  const { page } = await visit({ world: listening })
  await searched(page)
  await anything(page)
  await expect.poll(() => heardLevel(page)).toBeLessThan(-80)
  await playButton(page).click()
  await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
})
