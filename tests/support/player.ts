import type { Locator, Page } from 'playwright'
import { expect } from 'vitest'
import { drawn } from './built-page.ts'

// What a player does and sees on the page, by the names that a reader is told.

/** The button that starts and stops. */
export function playButton(page: Page): Locator {
  return page.getByRole('button', { name: /^(play|stop)$/ })
}

/** Brings a leaf to sight: on a desk it is there, on a touch screen its word lifts it. */
export async function openLeaf(page: Page, name: 'Changes' | 'Idea' | 'Balance' | 'Take away'): Promise<void> {
  const word = page.getByRole('button', { name, exact: true })
  if ((await word.isVisible()) && (await word.getAttribute('aria-expanded')) === 'false') await word.click()
}

/** Where the changes are typed. */
export function changesField(page: Page): Locator {
  return page.getByRole('textbox', { name: 'Changes' })
}

/** Writes another text in place of all that stands there. */
export async function writeChanges(page: Page, text: string): Promise<void> {
  await openLeaf(page, 'Changes')
  await changesField(page).click()
  await page.keyboard.press('Control+a')
  await page.keyboard.insertText(text)
}

/** The chord symbols of the part as they are read out, in order, without their bars. */
export function symbols(page: Page): Promise<readonly string[]> {
  return page
    .locator('drawn-part')
    .evaluate((part) =>
      [...part.shadowRoot!.querySelectorAll('[role="group"] button')].map((button) =>
        button.getAttribute('aria-label')!.replace(/, (bar \d+|the pick-up)$/, ''),
      ),
    )
}

/** The figures of the tab as they stand, left to right, system by system: `0`, `3`, `×`. */
export async function tab(page: Page): Promise<readonly string[]> {
  await drawn(page)
  return page
    .locator('drawn-part')
    .evaluate((part) => [...part.shadowRoot!.querySelectorAll('.figure')].map((figure) => figure.textContent!))
}

/** The part in words, one entry for each bar. */
export function inWords(page: Page): Promise<readonly string[]> {
  return page.getByRole('list', { name: 'The part in words' }).getByRole('listitem').allInnerTexts()
}

/** What the stepper says to a reader: `line 1 of 6`, with `, still looking` while better ones or more may come. */
async function stepperSays(page: Page): Promise<string> {
  const said = await page.locator('line-stepper').evaluate((stepper) => {
    const words = stepper.shadowRoot!.querySelector('.of')!.cloneNode(true) as Element
    for (const hidden of words.querySelectorAll('[aria-hidden="true"]')) hidden.remove()
    return words.textContent!
  })
  return said.trim().replace(/\s+/g, ' ')
}

/** Which line is on the page, and of how many: `1 of 6`. */
export async function lineShown(page: Page): Promise<string> {
  return (await stepperSays(page)).replace(/^line (\d+ of \d+).*$/, '$1')
}

/** Waits until nothing better and nothing more is being looked for. */
export async function searched(page: Page): Promise<void> {
  await expect.poll(() => stepperSays(page), { timeout: 30_000 }).toMatch(/^line [1-9]\d* of \d+$/)
}

/** What is typed by a player's hand on the keyboard, key after key. */
export async function press(page: Page, ...keys: readonly string[]): Promise<void> {
  for (const key of keys) await page.keyboard.press(key)
}

/** What has the focus, by its name to a reader: its label, or what is written on it. */
export function focused(page: Page): Promise<string> {
  return page.evaluate(() => {
    let active = document.activeElement
    while (active?.shadowRoot?.activeElement) active = active.shadowRoot.activeElement
    return active?.getAttribute('aria-label') ?? active?.textContent?.trim() ?? ''
  })
}

/** Presses Tab until something of that name has the focus. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  const met: string[] = []
  for (let stop = 0; stop < 80; stop++) {
    await page.keyboard.press('Tab')
    const here = await focused(page)
    if (name.test(here)) return
    met.push(here)
  }
  throw new Error(`no stop of the Tab key is named ${name}; met were ${[...new Set(met)].join(' · ')}`)
}
