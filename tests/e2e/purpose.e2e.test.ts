import { Midi } from '@tonejs/midi'
import type { Page } from 'playwright'
import { describe, expect, test } from 'vitest'
import { builtPage, drawn, SIZE_NAMES } from '../support/built-page.ts'
import {
  changesField,
  inWords,
  lineShown,
  openLeaf,
  playButton,
  searched,
  symbols,
  tab,
  writeChanges,
} from '../support/player.ts'
import { heardLevel, leftSounding, listening, sent, withPort } from '../support/world.ts'

const visit = builtPage()

/** Silence, to an ear that hears noise below this. */
const SILENT = -80
const AUDIBLE = -50

/** Pitches that the port was told to sound on the bass's channel, in order. */
async function bassAtPort(page: Page): Promise<readonly number[]> {
  const messages = await sent(page)
  return messages.filter(({ bytes }) => bytes[0] === 0x90 && bytes[2]! > 0).map(({ bytes }) => bytes[1]!)
}

async function goToPort(page: Page, size: string): Promise<void> {
  if (size !== 'desktop') await openLeaf(page, 'Balance')
  await page.getByRole('button', { name: /sound goes to/ }).click()
  await page.getByRole('button', { name: 'look for MIDI ports' }).click()
  await page.getByRole('button', { name: 'Loft Module' }).click()
}

describe.each(SIZE_NAMES)('A bass player on a %s', (size) => {
  test('opens the page and sees a composed example', async () => {
    const { page } = await visit({ size })
    expect(await page.getByRole('heading', { level: 1 }).innerText()).not.toBe('')
    expect((await symbols(page)).length).toBeGreaterThan(8)
    expect((await tab(page)).length).toBeGreaterThan(16)
    await expect.poll(async () => (await inWords(page)).length).toBeGreaterThan(8)
    await expect.poll(() => page.getByText('Press play. Then change a chord.').isVisible()).toBe(true)
  })

  test('presses play, hears it, and stops it', async () => {
    const { page } = await visit({ size, world: listening })
    await searched(page)
    expect(await heardLevel(page)).toBeLessThan(SILENT)
    await playButton(page).click()
    await expect.poll(() => heardLevel(page)).toBeGreaterThan(AUDIBLE)
    await page.getByRole('button', { name: 'stop' }).click()
    await expect.poll(() => heardLevel(page), { timeout: 2_000 }).toBeLessThan(SILENT)
  })

  test('changes a chord', async () => {
    const { page } = await visit({ size })
    await searched(page)
    const before = await symbols(page)
    await writeChanges(page, '| Dm7 | G7 | Cmaj7 | A7b9 |')
    await expect.poll(() => symbols(page)).toEqual(['D minor seven', 'G seven', 'C major seven', 'A seven flat nine'])
    expect(before).not.toEqual(await symbols(page))
  })

  test('picks a feel, cells and patterns: each choice is a row of the text, and changes the line', async () => {
    const { page } = await visit({ size })
    await searched(page)
    await writeChanges(page, '| F7 | Bb7 | F7 | C7 |')
    await expect.poll(() => symbols(page)).toEqual(['F seven', 'B flat seven', 'F seven', 'C seven'])
    const choices = [
      async () => {
        await page.getByRole('button', { name: 'medium swing, walking', exact: true }).last().click()
        await page.getByRole('button', { name: /bossa/ }).first().click()
        await page.getByRole('button', { name: 'feel: bossa nova' }).waitFor({ state: 'attached' })
      },
      async () => {
        await page.getByRole('button', { name: 'choose cells' }).click()
        await page.getByRole('group', { name: /cells/ }).getByRole('button').last().click()
      },
      async () => {
        await page.getByRole('button', { name: 'choose patterns' }).click()
        await page
          .getByRole('group', { name: /patterns/ })
          .getByRole('button')
          .last()
          .click()
      },
    ]
    let before = await tab(page)
    for (const [index, choose] of choices.entries()) {
      await openLeaf(page, 'Idea')
      await choose()
      await openLeaf(page, 'Changes')
      const rows = [/bossa-nova/, /1 cell\b/, /1 pattern\b/].slice(0, index + 1)
      for (const row of rows) await expect.poll(() => changesField(page).innerText()).toMatch(row)
      await searched(page)
      await expect.poll(() => tab(page)).not.toEqual(before)
      before = await tab(page)
    }
  })

  test('steps to another line', async () => {
    const { page } = await visit({ size })
    await searched(page)
    const first = await tab(page)
    await expect.poll(() => lineShown(page)).toBe('1 of 6')
    await page.getByRole('button', { name: 'line after' }).click()
    expect(await lineShown(page)).toBe('2 of 6')
    await expect.poll(() => tab(page)).not.toEqual(first)
    await page.getByRole('button', { name: 'line before' }).click()
    await expect.poll(() => tab(page)).toEqual(first)
  })

  test('hears it through a MIDI port: each note has its end', async () => {
    const { page } = await visit({ size, world: withPort })
    await searched(page)
    await goToPort(page, size)
    await playButton(page).click()
    await expect.poll(async () => (await bassAtPort(page)).length).toBeGreaterThan(8)
    await page.getByRole('button', { name: 'stop' }).click()
    await expect.poll(() => leftSounding(page)).toEqual([])
  })

  test('takes a MIDI file away that holds what is heard', async () => {
    const { page } = await visit({ size, world: withPort })
    await searched(page)
    // Its last note is tied over the end.
    const blues = '| F7 | Bb7 | F7 | % | Bb7 | F7 | Gm7 | C7 |'
    await writeChanges(page, `title: Round the Yard\nrule: Bar 8: push into the next bar\n${blues}`)
    await searched(page)
    await drawn(page)
    const title = await page.getByRole('heading', { level: 1 }).innerText()
    await openLeaf(page, 'Take away')
    const files = []
    for (const name of [/player/, /sequencer/]) {
      const coming = page.waitForEvent('download')
      await page.getByRole('button', { name }).click()
      const download = await coming
      expect(download.suggestedFilename()).toMatch(/\.mid$/)
      const chunks: Buffer[] = []
      for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer)
      files.push(new Midi(Buffer.concat(chunks)))
    }
    const [forPlayer, forSequencer] = files
    expect(forPlayer!.name).toBe(title)
    const bassOf = (midi: Midi) => midi.tracks.find(({ name }) => name === 'Bass')!
    const pitches = bassOf(forPlayer!).notes.map(({ midi }) => midi)
    expect(pitches.length).toBeGreaterThan(16)
    // A sequencer goes round: what is tied over the end is struck there, and not at the beginning as well.
    const looped = bassOf(forSequencer!).notes.map(({ midi }) => midi)
    expect(looped.at(-1)).toBe(pitches[0])
    expect(looped).toEqual(pitches.slice(1))
    await goToPort(page, size)
    await playButton(page).click()
    await expect.poll(async () => (await bassAtPort(page)).length).toBeGreaterThan(8)
    expect((await bassAtPort(page)).slice(0, 8)).toEqual(pitches.slice(0, 8))
  })

  test('changes chords while it plays, and hears the new ones from the next bar line on', async () => {
    const { page } = await visit({ size, world: withPort })
    await searched(page)
    await goToPort(page, size)
    await writeChanges(page, 'tempo: 240\n| C6 | C6 | C6 | C6 |')
    await searched(page)
    await drawn(page)
    await playButton(page).click()
    await expect.poll(async () => (await bassAtPort(page)).length).toBeGreaterThan(3)
    await writeChanges(page, 'tempo: 240\n| F#6 | D#m6 | F#6 | D#m6 |')
    await expect
      .poll(() => symbols(page))
      .toEqual(['F sharp six', 'D sharp minor six', 'F sharp six', 'D sharp minor six'])
    // F sharp is no note of C6: the first to sound is of the new chords.
    await expect
      .poll(async () => (await bassAtPort(page)).slice(-8).filter((pitch) => pitch % 12 === 6).length, {
        timeout: 15_000,
      })
      .toBeGreaterThan(0)
  })
})
