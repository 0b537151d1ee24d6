import { expect, test } from 'vitest'
import { builtPage } from '../support/built-page.ts'
import { focused, lineShown, press, searched, symbols, tab, tabTo } from '../support/player.ts'
import { heardLevel, listening, sent, withPort } from '../support/world.ts'

const visit = builtPage()

test('Without a mouse: play and stop', async () => {
  const { page } = await visit({ world: listening })
  await searched(page)
  await press(page, 'Space')
  await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
  await press(page, 'Space')
  await expect.poll(() => heardLevel(page), { timeout: 2_000 }).toBeLessThan(-80)
})

test('Without a mouse: change a chord in the text, and leave it', async () => {
  const { page } = await visit()
  await searched(page)
  await press(page, 'c')
  expect(await focused(page)).toContain('Changes')
  await press(page, 'Control+a')
  await page.keyboard.insertText('| Dm7 | G7 | Cmaj7 | % |')
  await expect.poll(() => symbols(page)).toEqual(['D minor seven', 'G seven', 'C major seven'])
  await press(page, 'Escape')
  expect(await focused(page)).not.toContain('Changes')
})

test('Without a mouse: change a chord on the part', async () => {
  const { page } = await visit()
  await searched(page)
  const [first] = await symbols(page)
  await tabTo(page, new RegExp(`^${first}, bar 1$`))
  await press(page, 'Enter', 'Control+a')
  await page.keyboard.type('Abm7')
  await press(page, 'Enter')
  await expect.poll(async () => (await symbols(page))[0]).toBe('A flat minor seven')
})

test('Without a mouse: pick a feel, a cell and a pattern', async () => {
  const { page } = await visit()
  await searched(page)
  const first = await tab(page)
  await press(page, 'i')
  await tabTo(page, /feel|bossa|waltz|shuffle|soul|swing/i)
  await expect.poll(() => page.getByRole('button', { pressed: true }).count()).toBeGreaterThan(1)
  const cell = page.getByRole('group', { name: /cells/ }).getByRole('button')
  const pattern = page.getByRole('group', { name: /patterns/ }).getByRole('button')
  for (const choices of [cell, pattern]) {
    const choice = choices.first()
    const before = await choice.getAttribute('aria-pressed')
    await choice.focus()
    await press(page, 'Enter')
    await expect.poll(() => choice.getAttribute('aria-pressed')).not.toBe(before)
  }
  await searched(page)
  expect(await tab(page)).not.toEqual(first)
  await press(page, 'Control+z', 'Control+z')
  await expect.poll(() => tab(page)).toEqual(first)
})

test('Without a mouse: step to another line', async () => {
  const { page } = await visit()
  await expect.poll(() => lineShown(page)).toBe('1 of 6')
  await press(page, ']', ']')
  expect(await lineShown(page)).toBe('3 of 6')
  await press(page, '[')
  expect(await lineShown(page)).toBe('2 of 6')
})

test('Without a mouse: send it to a MIDI port', async () => {
  const { page } = await visit({ world: withPort })
  await searched(page)
  await tabTo(page, /^sound goes to/)
  await press(page, 'Enter')
  if (!/look for MIDI ports/.test(await focused(page))) await tabTo(page, /look for MIDI ports/)
  await press(page, 'Enter')
  await page.getByRole('button', { name: 'Loft Module' }).waitFor()
  for (let step = 0; step < 4 && (await focused(page)) !== 'Loft Module'; step++) await press(page, 'ArrowDown')
  await press(page, 'Enter')
  await tabTo(page, /^play$/)
  await press(page, 'Enter')
  await expect.poll(async () => (await sent(page)).length).toBeGreaterThan(8)
})

test('Without a mouse: take a MIDI file away', async () => {
  const { page } = await visit()
  await searched(page)
  await press(page, 'w')
  const coming = page.waitForEvent('download')
  await tabTo(page, /player/)
  await press(page, 'Enter')
  expect((await coming).suggestedFilename()).toMatch(/\.mid$/)
})

test('A letter typed in the changes is a letter', async () => {
  const { page } = await visit({ world: listening })
  await searched(page)
  await press(page, 'c', 'Control+a')
  await page.keyboard.type('| C l d ] | F |')
  expect(await page.locator('html').getAttribute('data-theme')).not.toBe('stage')
  expect(await heardLevel(page)).toBeLessThan(-80)
})
