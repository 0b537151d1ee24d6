import { expect, test } from 'vitest'
import { builtPage, drawn } from '../support/built-page.ts'
import { playButton, symbols, writeChanges } from '../support/player.ts'
import { serveBuilt } from '../support/static-server.ts'
import { heardLevel, listening } from '../support/world.ts'

const visit = builtPage()

test('With the server gone the page opens again, composes, draws and sounds', async () => {
  const server = await serveBuilt()
  try {
    const { page } = await visit({ server, world: listening })
    await page.evaluate(() => navigator.serviceWorker.ready)
    await server.stop()
    await page.reload()
    await drawn(page)
    await writeChanges(page, '| Ebmaj7 | % | Abm6 | % |')
    await expect.poll(() => symbols(page)).toEqual(['E flat major seven', 'A flat minor six'])
    await playButton(page).click()
    await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
    // The licences are a page of their own: the notices go with every copy.
    await page.getByRole('button', { name: 'keys' }).click()
    const address = await page.getByRole('link', { name: /^Licences/ }).evaluate((link: HTMLAnchorElement) => link.href)
    const licences = await page.context().newPage()
    await licences.goto(address)
    expect(await licences.locator('body').innerText()).toContain('Copyright (c) 2000-2002, 2008 Frank Wen')
  } finally {
    await server.stop()
  }
})

test('The page runs in a folder of a web space', async () => {
  const server = await serveBuilt('/music/tools/linewright/')
  try {
    const { page, requests } = await visit({ server, world: listening })
    await playButton(page).click()
    await expect.poll(() => heardLevel(page)).toBeGreaterThan(-50)
    const outside = requests.filter((url) => !url.startsWith(server.address) && !/^(data|blob):/.test(url))
    expect(outside).toEqual([])
  } finally {
    await server.stop()
  }
})
