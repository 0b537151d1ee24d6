import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Page } from 'playwright'
import { describe, expect, test } from 'vitest'
import { builtPage, drawn, SIZE_NAMES, type Size } from '../support/built-page.ts'
import { EXAMPLES } from '../support/command.ts'
import { readExample } from '../support/example.ts'
import { overTheEdge, smallTargets, touchingTexts } from '../support/page-measures.ts'
import { openLeaf, playButton, symbols, writeChanges } from '../support/player.ts'

const visit = builtPage()
/** The ground of the stage, as a browser says it. */
const STAGE = 'rgb(20, 25, 23)'
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

/** What axe-core 4.14 finds fault with: its rules for WCAG 2.2 A and AA, and for good practice. */
async function faults(page: Page): Promise<readonly string[]> {
  await page.evaluate(AXE)
  return page.evaluate(async () => {
    interface Axe {
      run(): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }>
    }
    const { violations } = await (window as unknown as { axe: Axe }).axe.run()
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} (${failureSummary.slice(0, 300)})`),
    )
  })
}

/** A state of the page, and how a player gets there. */
const STATES: readonly { state: string; reach: (page: Page, size: Size) => Promise<void> }[] = [
  { state: 'just opened', reach: async () => undefined },
  {
    state: 'playing',
    reach: async (page) => {
      await playButton(page).click()
      await page.getByRole('button', { name: 'stop' }).waitFor()
    },
  },
  { state: 'with the changes open', reach: (page) => openLeaf(page, 'Changes') },
  { state: 'with the idea open', reach: (page) => openLeaf(page, 'Idea') },
  {
    state: 'with the balance open',
    reach: (page, size) => (size === 'desktop' ? Promise.resolve() : openLeaf(page, 'Balance')),
  },
  { state: 'with Take away open', reach: (page) => openLeaf(page, 'Take away') },
  {
    state: 'with a chord that cannot be read',
    reach: async (page) => {
      await writeChanges(page, '| F7 | Bdmi7 | F7 | C7 |')
      await page.getByText('is not a chord').first().waitFor()
    },
  },
  {
    state: 'with words that leave no line',
    reach: async (page) => {
      await writeChanges(page, NO_LINE)
      await page
        .getByText(/No line at bar/)
        .first()
        .waitFor()
    },
  },
  {
    state: 'without any changes',
    reach: async (page) => {
      await openLeaf(page, 'Changes')
      await page.getByRole('textbox', { name: 'Changes' }).click()
      await page.keyboard.press('Control+a')
      await page.keyboard.press('Delete')
    },
  },
]

/** Two octaves at a time, which no walking line goes. */
const NO_LINE = 'feel: swing-medium\npatterns: "1 15"\n\n| C | F | C | G7 |'

describe.each(SIZE_NAMES)('On a %s', (size) => {
  test.each(STATES)(
    '$state: nobody is shut out, nothing reaches over the side, nothing is too small for a finger',
    async ({ reach }) => {
      const { page } = await visit({ size })
      await reach(page, size)
      expect.soft(await faults(page), 'on paper').toEqual([])
      await page.emulateMedia({ colorScheme: 'dark' })
      await expect
        .poll(() => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor))
        .toBe(STAGE)
      expect.soft(await faults(page), 'on stage').toEqual([])
      expect.soft(await overTheEdge(page), 'over the side').toEqual([])
      if (size !== 'desktop') expect.soft(await smallTargets(page, 44), 'smaller than 44 px').toEqual([])
    },
  )

  test('no two texts of the part touch, in any example', async () => {
    const { page } = await visit({ size })
    const found: Record<string, unknown> = {}
    for (const name of EXAMPLES) {
      const before = await symbols(page)
      await writeChanges(page, readExample(name))
      await expect.poll(() => symbols(page)).not.toEqual(before)
      await drawn(page)
      // Systems below the window are drawn when they come near.
      await page.locator('drawn-part').evaluate(async (part) => {
        for (const system of part.shadowRoot!.querySelectorAll('.system')) {
          system.scrollIntoView({ behavior: 'instant' })
          await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)))
        }
      })
      const touching = await touchingTexts(page)
      if (touching.length > 0) found[name] = touching
    }
    expect(found).toEqual({})
  })
})
