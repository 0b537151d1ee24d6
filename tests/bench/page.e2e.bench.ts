import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import type { Browser, Page } from 'playwright'
import { afterAll, beforeAll, bench, describe } from 'vitest'
import { launch } from '../support/built-page.ts'
import { playButton, writeChanges } from '../support/player.ts'
import { PAGE, type StaticServer, serveBuilt } from '../support/static-server.ts'

// The built page: run `npm run build` before. Must reach: a keystroke to the new line drawn in 150 ms (median of 30, 32 bars of
// walking); the first example visible 1.5 s after a cold opening; the first script at most 200 kB; no task over 50 ms.

const BARS = Array(4).fill('| Dm7 | G7 | Cmaj7 | % |\n| Cm7 | F7 | Bbmaj7 | A7b9 |').join('\n')
const TEXT = `feel: swing-medium\ntempo: 160\n\n${BARS}`

const median = (numbers: readonly number[]) =>
  [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? Number.NaN
const figures = { opening: [] as number[] }

let browser: Browser
let server: StaticServer
let page: Page

/** Times, from inside the page: from a key to the event that tells of a drawn part, and tasks that took over 50 ms. */
function watch(): void {
  const seen = { key: 0, drawn: [] as number[], first: 0, long: [] as number[] }
  Object.assign(window, { seen })
  addEventListener('keydown', () => Object.assign(seen, { key: performance.now() }), true)
  addEventListener('part-drawn', () => {
    if (seen.first === 0) seen.first = performance.now()
    if (seen.key > 0) seen.drawn.push(performance.now() - seen.key)
    seen.key = 0
  })
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) seen.long.push(duration)
  }).observe({ entryTypes: ['longtask'] })
}

interface Seen {
  readonly seen: { readonly key: number; readonly drawn: number[]; readonly first: number; long: number[] }
}

/** Opens the page as for the first time; comes back when the first example stands. */
async function open(): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } })
  await context.addInitScript(watch)
  const opened = await context.newPage()
  await opened.goto(server.address)
  await opened.waitForFunction(() => (window as unknown as Seen).seen.first > 0)
  return opened
}

/** One key in the changes; comes back when the new line is drawn. */
async function strike(key: string): Promise<void> {
  const before = await page.evaluate(() => (window as unknown as Seen).seen.drawn.length)
  await page.keyboard.press(key)
  await page.waitForFunction((count) => (window as unknown as Seen).seen.drawn.length > count, before, { polling: 10 })
}

beforeAll(async () => {
  server = await serveBuilt()
  browser = await launch()
  page = await open()
  await writeChanges(page, TEXT)
  await page.waitForFunction(() => (window as unknown as Seen).seen.drawn.length > 0)
  // Behind the 9 of the last chord: it is taken away and typed again.
  for (const key of ['End', 'ArrowLeft', 'ArrowLeft']) await page.keyboard.press(key)
})

afterAll(async () => {
  const drawn = await page.evaluate(() => (window as unknown as Seen).seen.drawn.slice(-30))
  const long = await longTasksWhilePlaying()
  await browser.close()
  await server.stop()
  const assets = join(PAGE, 'assets')
  const html = readFileSync(join(PAGE, 'index.html'), 'utf8')
  const first = readdirSync(assets).filter((name) => name.endsWith('.js') && html.includes(name))
  const bytes = first.reduce((sum, name) => sum + gzipSync(readFileSync(join(assets, name)), { level: 9 }).length, 0)
  const rows = [
    `keystroke to the new line drawn, 32 bars of walking: ${median(drawn).toFixed(0)} ms (median of ${drawn.length}, worst ${Math.max(...drawn).toFixed(0)})`,
    `cold opening to the first example drawn: ${median(figures.opening).toFixed(0)} ms (median of ${figures.opening.length})`,
    `first script: ${(bytes / 1000).toFixed(0)} kB`,
    `tasks over 50 ms in 8 s of playing and typing, 32 bars: ${long.length}${long.length > 0 ? `, the longest ${Math.max(...long).toFixed(0)} ms` : ''}`,
  ]
  process.stdout.write(`\n${rows.join('\n')}\n`)
})

/** Plays and types for eight seconds. */
async function longTasksWhilePlaying(): Promise<readonly number[]> {
  await playButton(page).click()
  await page.getByRole('textbox', { name: 'Changes' }).focus()
  await page.evaluate(() => {
    ;(window as unknown as Seen).seen.long = []
  })
  const end = Date.now() + 8_000
  for (let turn = 0; Date.now() < end; turn++) {
    await page.keyboard.press(turn % 2 === 0 ? 'Backspace' : '9')
    await page.waitForTimeout(250)
  }
  return page.evaluate(() => (window as unknown as Seen).seen.long)
}

describe('the page', () => {
  let turn = 0
  bench(
    'a key in 32 bars of walking, until the new line is drawn',
    () => strike(turn++ % 2 === 0 ? 'Backspace' : '9'),
    { iterations: 30, time: 0, warmupIterations: 2, warmupTime: 0 },
  )
  bench(
    'a cold opening, until the first example is drawn',
    async () => {
      const opened = await open()
      figures.opening.push(await opened.evaluate(() => (window as unknown as Seen).seen.first))
      await opened.context().close()
    },
    { iterations: 5, time: 0, warmupIterations: 0, warmupTime: 0 },
  )
})
