import { describe, expect, test } from 'vitest'
import { builtPage } from '../support/built-page.ts'
import { playButton, searched, symbols, tab, writeChanges } from '../support/player.ts'
import { serveBuilt } from '../support/static-server.ts'
import {
  heardLevel,
  listening,
  noAudioDevice,
  noPort,
  noWebMidi,
  plug,
  portsRefused,
  sent,
  soundHeldBack,
  withPort,
} from '../support/world.ts'

const visit = builtPage()

/** Two octaves at a time, which no walking line goes. */
const NO_LINE = 'feel: swing-medium\npatterns: "1 15"\n\n| C | F | C | G7 |'

describe('Where ports are asked for, and there are none', () => {
  test.each([
    { world: noWebMidi, why: 'the browser has no MIDI', says: /This browser has no MIDI/ },
    { world: portsRefused, why: 'the browser does not let the page', says: /does not let this page use MIDI/ },
    { world: noPort, why: 'nothing is plugged in', says: /No MIDI port is plugged in/ },
  ])('$why: a sentence says so, and the built-in sound stays', async ({ world, says }) => {
    const { page } = await visit({ world })
    await searched(page)
    await page.getByRole('button', { name: /sound goes to/ }).click()
    await page.getByRole('button', { name: 'look for MIDI ports' }).click()
    await page.getByText(says).waitFor()
    await page.getByRole('button', { name: 'sound goes to: built-in sound' }).waitFor()
    await playButton(page).click()
    await page.getByRole('button', { name: 'stop' }).waitFor()
  })
})

test('A port is pulled out while it plays: a sentence says so, and the built-in sound goes on', async () => {
  const { page } = await visit({ world: [withPort, listening] })
  await searched(page)
  await page.getByRole('button', { name: /sound goes to/ }).click()
  await page.getByRole('button', { name: 'look for MIDI ports' }).click()
  await page.getByRole('button', { name: 'Loft Module' }).click()
  await playButton(page).click()
  await expect.poll(async () => (await sent(page)).length).toBeGreaterThan(8)
  expect(await heardLevel(page)).toBeLessThan(-80)
  await plug(page, false)
  await page.getByText(/The MIDI port is gone/).waitFor()
  await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
})

test('The browser holds sound back: a sentence asks for another press', async () => {
  const { page } = await visit({ world: soundHeldBack })
  await searched(page)
  await playButton(page).click()
  await page.getByText('The browser holds the sound back. Press play once more.').waitFor()
  await page.getByRole('button', { name: 'play' }).first().waitFor()
})

test('No audio device: a sentence says so, and the line can still be read', async () => {
  const { page } = await visit({ world: noAudioDevice })
  await searched(page)
  await playButton(page).click()
  await page.getByText(/No sound device was found/).waitFor()
  await writeChanges(page, '| Gm7 | C7 |')
  await expect.poll(() => symbols(page)).toEqual(['G minor seven', 'C seven'])
})

test('The bank is missing: a sentence says so, and it can be loaded again', async () => {
  const server = await serveBuilt('/', /\.sf2$|\.sf3$|bank/)
  try {
    const { page } = await visit({ server, mayComplain: true })
    await searched(page)
    await playButton(page).click()
    await page.getByText(/built-in sound could not be loaded/).waitFor()
    await page.getByRole('button', { name: 'load again' }).waitFor()
  } finally {
    await server.stop()
  }
})

test('Any text while it plays: it goes on, and nothing breaks', async () => {
  const { page } = await visit({ world: listening })
  await searched(page)
  await playButton(page).click()
  await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
  const texts = [
    '| C | H9 | |||| %%% ||:',
    '“key”: 7/13\n\u0000\u200b | C | H9 |',
    'rules: "\n| C |',
    `| ${'C '.repeat(40)}|`,
    'form: A A A\n[A]\n| C |',
    '🎸 | Dm7 | 𝄫 |',
    'time: 99/64\n| C |',
    'tempo: -4\ncells: nonsense\n| C7 |',
  ]
  for (const text of texts) await writeChanges(page, text)
  await writeChanges(page, '| F7 | Bb7 | F7 | C7 |')
  await expect.poll(() => symbols(page)).toEqual(['F seven', 'B flat seven', 'F seven', 'C seven'])
  await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
})

test('All of the text is taken away while it plays: it stops, and an example is one press away', async () => {
  const { page } = await visit({ world: listening })
  await searched(page)
  await playButton(page).click()
  await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
  await writeChanges(page, ' ')
  await page.getByText('Type some chords').first().waitFor()
  await expect.poll(() => heardLevel(page)).toBeLessThan(-80)
  await page.getByRole('button', { name: 'example' }).click()
  await expect.poll(async () => (await symbols(page)).length).toBeGreaterThan(8)
})

test('A chord that cannot be read: the sentence stands below it, with what to write instead, one press away', async () => {
  const { page } = await visit()
  await writeChanges(page, '| F7 | Bdmi7 | F7 | C7 |')
  await page.getByText('"Bdmi7" is not a chord').first().waitFor()
  await page.getByRole('group', { name: 'Put right' }).getByRole('button', { name: 'Bm7', exact: true }).click()
  await expect.poll(() => page.getByText('"Bdmi7" is not a chord').count()).toBe(0)
  await expect.poll(() => symbols(page)).toEqual(['F seven', 'B minor seven', 'F seven', 'C seven'])
})

test('Words that leave no line: the bar and the reason are said, and the last line stays', async () => {
  const { page } = await visit()
  await writeChanges(page, '| C | F | C | G7 |')
  await searched(page)
  const before = await tab(page)
  await writeChanges(page, NO_LINE)
  await page
    .getByText(/No line at bar \d/)
    .first()
    .waitFor()
  await page.getByText('The last line stays.').first().waitFor()
  expect(await tab(page)).toEqual(before)
})

test('Rules clash: a press puts a milder one in place of one of them, and undo takes it back', async () => {
  const { page } = await visit()
  await searched(page)
  await writeChanges(
    page,
    'feel: swing-medium\nrule: arrive on the root\nrule: Bar 2: do not arrive on the root\n\n| Dm7 | G7 | Cmaj7 | A7 |',
  )
  await page.getByText(/No line at bar 2: .*cannot hold together/).waitFor()
  await page.getByRole('button', { name: 'Bar 2: do not arrive on the root (weight 10)' }).click()
  await expect.poll(() => symbols(page)).toEqual(['D minor seven', 'G seven', 'C major seven', 'A seven'])
  await page.getByText(/No line at bar 2/).waitFor({ state: 'hidden' })
  await page.getByRole('button', { name: 'undo' }).click()
  await page.getByText(/No line at bar 2: .*cannot hold together/).waitFor()
})
