import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { builtPage } from '../support/built-page.ts'
import { PAGE } from '../support/static-server.ts'

const visit = builtPage()

const ASSETS = join(PAGE, 'assets')
const read = (name: string) => readFileSync(join(ASSETS, name))
const scripts = () => readdirSync(ASSETS).filter((name) => name.endsWith('.js'))

/** Scripts that are asked for with the page: those of the HTML, and what they import at once. */
function firstScripts(): readonly string[] {
  const html = readFileSync(join(PAGE, 'index.html'), 'utf8')
  const waiting = [...html.matchAll(/(?:src|href)="\.\/assets\/([^"]+\.js)"/g)].map(([, name]) => name!)
  const first = new Set<string>()
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (first.has(name)) continue
    first.add(name)
    // As they are after the build: `import{a as b}from"./c.js"` and `import"./c.js"`, never `import(`.
    for (const [, next] of read(name)
      .toString()
      .matchAll(/(?:\bfrom|\bimport)\s*["']\.\/([^"']+\.js)["']/g))
      waiting.push(next!)
  }
  return [...first]
}

/** What has time until the first line is drawn, each by something that is in it and nowhere else. */
const LATER: readonly { what: string; isIt: (name: string) => boolean }[] = [
  { what: 'the engraver', isIt: (name) => name.endsWith('.js') && read(name).includes('NoTickContext') },
  { what: 'the sound engine', isIt: (name) => name.endsWith('.js') && read(name).includes('registerProcessor') },
  {
    what: 'the bank',
    isIt: (name) =>
      read(name)
        .subarray(0, 12)
        .toString('latin1')
        .match(/^RIFF....sfbk/s) !== null,
  },
  { what: 'the whole music font', isIt: (name) => /bravura/i.test(name) },
]

describe('The first script', () => {
  test('is at most 200 kB to fetch', () => {
    const first = firstScripts()
    expect(first.length).toBeGreaterThan(0)
    const bytes = first.reduce((sum, name) => sum + gzipSync(read(name), { level: 9 }).length, 0)
    expect(bytes).toBeLessThanOrEqual(200_000)
  })

  test.each(LATER.slice(0, 2))('does not hold $what', ({ isIt }) => {
    expect(scripts().filter(isIt).length).toBeGreaterThan(0)
    expect(firstScripts().filter(isIt)).toEqual([])
  })
})

/** Notes when the rows of the part stand first, ms of `performance.now()`. */
function watchRows(): void {
  const found = (root: ParentNode): boolean =>
    [...root.querySelectorAll('*')].some(({ localName, shadowRoot }) =>
      localName === 'drawn-part'
        ? shadowRoot!.querySelector('svg path') !== null
        : shadowRoot !== null && found(shadowRoot),
    )
  const look = () => {
    if (found(document)) Object.assign(window, { rowsStand: performance.now() })
    else requestAnimationFrame(look)
  }
  requestAnimationFrame(look)
}

test('The engraver, the sound engine, the bank and the whole music font are asked for when the rows of the part stand', async () => {
  const { page } = await visit({ world: watchRows })
  await page.waitForLoadState('networkidle')
  const { rowsStand, asked } = await page.evaluate(() => ({
    rowsStand: (window as unknown as { rowsStand: number }).rowsStand,
    asked: performance.getEntriesByType('resource').map(({ name, startTime }) => ({ name, startTime })),
  }))
  const early = asked.filter(({ startTime }) => startTime < rowsStand).map(({ name }) => name.split('/').at(-1)!)
  expect(early.length).toBeGreaterThan(3)
  const files = readdirSync(ASSETS)
  for (const { what, isIt } of LATER) {
    const its = files.filter(isIt)
    expect(its.length, `files of ${what}`).toBeGreaterThan(0)
    const tooEarly = early.filter((name) => its.includes(name))
    expect(tooEarly, what).toEqual([])
  }
})

test('No file is of letters that the page does not write', () => {
  expect(readdirSync(ASSETS).filter((name) => /cyrillic|vietnamese|latin-ext/.test(name))).toEqual([])
})
