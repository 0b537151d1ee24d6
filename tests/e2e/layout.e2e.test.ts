import type { Page } from 'playwright'
import { describe, expect, test } from 'vitest'
import { builtPage, drawn } from '../support/built-page.ts'
import { type Finding, overTheEdge, smallTargets } from '../support/page-measures.ts'
import { openLeaf, searched } from '../support/player.ts'

const visit = builtPage()

/** Opens the page on a screen of that size. */
async function onScreen(screen: Screen): Promise<Page> {
  const { page } = await visit({ size: screen.touch ? 'tablet' : 'desktop' })
  await page.setViewportSize({ width: screen.width, height: screen.height })
  await settled(page)
  return page
}

interface Screen {
  readonly width: number
  readonly height: number
  readonly touch: boolean
}

/** Waits until the page is laid out for what was changed last, and drawn. */
async function settled(page: Page): Promise<void> {
  await page.evaluate(
    () => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve, 50)))),
  )
  await drawn(page)
}

/** Texts of the first system that are not in sight: cut, covered, or faded away at the foot. */
function unseenOfFirstSystem(page: Page): Promise<readonly Finding[]> {
  return page.locator('drawn-part').evaluate((part) => {
    const unseen: { what: string; where: string }[] = []
    const root = part.getRootNode() as ShadowRoot
    part.parentElement!.scrollTop = 0
    const texts = part.shadowRoot!.querySelector('.system')!.querySelectorAll('.figure, .degree, .symbol text')
    for (const text of texts) {
      const { left, right, top, bottom } = text.getBoundingClientRect()
      const isHit = [(top + bottom) / 2, bottom + 8].every((y) =>
        part.contains(root.elementFromPoint((left + right) / 2, y)),
      )
      if (!isHit) unseen.push({ what: text.textContent!, where: `${left.toFixed(0)}, ${top.toFixed(0)}` })
    }
    return texts.length === 0 ? [{ what: 'no text at all', where: 'in the first system' }] : unseen
  })
}

/** Words in sight, outside the drawn part, that stand on one another or are cut at the side of what holds them. */
function crampedWords(page: Page): Promise<readonly Finding[]> {
  return page.evaluate(() => {
    const words: { text: string; box: DOMRect }[] = []
    const cramped: { what: string; where: string }[] = []
    const deepHit = (x: number, y: number): Element | null => {
      let hit = document.elementFromPoint(x, y)
      while (hit?.shadowRoot) {
        const inner = hit.shadowRoot.elementFromPoint(x, y)
        if (!inner || inner === hit) break
        hit = inner
      }
      return hit
    }
    const above = (node: Node): Node[] => {
      const chain: Node[] = []
      for (let at: Node | null = node; at; at = at.parentNode ?? (at as ShadowRoot).host ?? null) chain.push(at)
      return chain
    }
    const measure = (node: Text) => {
      const holder = node.parentElement
      const text = node.data.trim()
      if (text === '' || !holder?.checkVisibility() || holder.closest('svg, .unseen')) return
      const range = document.createRange()
      range.selectNodeContents(node)
      for (const { left, top, width, height } of range.getClientRects()) {
        // Above and below the letters a box of text has air, where its neighbours may stand.
        const box = new DOMRect(left, top + height / 5, width, (height * 3) / 5)
        const hit = deepHit((box.left + box.right) / 2, (box.top + box.bottom) / 2)
        // What is scrolled away lies under something else.
        if (!hit || !(above(node).includes(hit) || above(hit).includes(holder))) continue
        words.push({ text, box })
        const leaf = above(node).find((at) => at instanceof Element && at.matches('aside, nav, footer, main'))
        const side = leaf instanceof Element ? leaf.getBoundingClientRect() : undefined
        if (side && (box.right > side.right + 1 || box.left < side.left - 1)) {
          cramped.push({ what: `“${text}” is cut`, where: `${box.left.toFixed(0)} to ${box.right.toFixed(0)}` })
        }
      }
    }
    const visitNode = (node: Node) => {
      if (node instanceof Text) measure(node)
      if (!(node instanceof Element || node instanceof ShadowRoot || node instanceof Document)) return
      if (node instanceof Element && node.matches('drawn-part, style, script, noscript')) return
      if (node instanceof Element && node.shadowRoot) visitNode(node.shadowRoot)
      for (const child of node.childNodes) visitNode(child)
    }
    visitNode(document.body)
    for (const [i, one] of words.entries()) {
      for (const other of words.slice(i + 1)) {
        const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left)
        const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top)
        if (across > 1 && down > 1) {
          cramped.push({
            what: `“${one.text}” and “${other.text}”`,
            where: `${across.toFixed(0)} × ${down.toFixed(0)} px`,
          })
        }
      }
    }
    return words.length < 5 ? [{ what: 'hardly a word', where: 'on the page' }] : cramped
  })
}

const LOW_SCREENS: readonly (Screen & { what: string })[] = [
  { what: 'a phone laid on its side', width: 844, height: 390, touch: true },
  { what: 'a small phone laid on its side', width: 667, height: 375, touch: true },
  { what: 'a window of a desk at twice its size', width: 720, height: 450, touch: false },
  { what: 'a low window', width: 1000, height: 700, touch: false },
  { what: 'a wide and low window', width: 1440, height: 540, touch: false },
  { what: 'a phone', width: 390, height: 844, touch: true },
]

describe.each(LOW_SCREENS)('On $what, $width × $height', (screen) => {
  test('a whole system with its tab and degrees is in sight, and stays so beside every leaf', async () => {
    const page = await onScreen(screen)
    expect.soft(await unseenOfFirstSystem(page), 'without a leaf').toEqual([])
    for (const leaf of screen.width > 1100 ? [] : (['Changes', 'Idea', 'Balance', 'Take away'] as const)) {
      await openLeaf(page, leaf)
      await settled(page)
      expect.soft(await unseenOfFirstSystem(page), leaf).toEqual([])
      const { height } = (await page.getByRole('complementary').boundingBox())!
      if (screen.width < screen.height) expect.soft(height / screen.height, leaf).toBeLessThanOrEqual(0.66)
      expect.soft(await overTheEdge(page), leaf).toEqual([])
      if (screen.touch) expect.soft(await smallTargets(page, 44), leaf).toEqual([])
    }
  })
})

test('The row under the part of a low screen is one, and slim', async () => {
  const page = await onScreen({ width: 844, height: 390, touch: true })
  const [index, transport] = await Promise.all([
    page.getByRole('navigation').boundingBox(),
    page.getByRole('contentinfo').boundingBox(),
  ])
  expect(index!.y).toBe(transport!.y)
  expect(transport!.height).toBeLessThanOrEqual(56)
})

const SCREENS: readonly Screen[] = [
  { width: 320, height: 640, touch: true },
  { width: 390, height: 844, touch: true },
  { width: 820, height: 1180, touch: true },
  { width: 1180, height: 820, touch: true },
  { width: 1440, height: 900, touch: false },
]

describe.each(SCREENS)('At $width × $height', (screen) => {
  test('nothing reaches over the side, and what is pressed is as large as a fingertip', async () => {
    const page = await onScreen(screen)
    expect.soft(await overTheEdge(page)).toEqual([])
    expect.soft(await crampedWords(page)).toEqual([])
    if (screen.touch) expect.soft(await smallTargets(page, 44)).toEqual([])
  })

  test('text of twice the size runs into nothing and is cut nowhere', async () => {
    const page = await onScreen(screen)
    await page.evaluate(() => {
      document.documentElement.style.fontSize = '32px'
    })
    await searched(page)
    await settled(page)
    expect.soft(await crampedWords(page), 'just opened').toEqual([])
    expect.soft(await overTheEdge(page), 'just opened').toEqual([])
    for (const leaf of screen.width > 1100 ? [] : (['Changes', 'Idea', 'Balance', 'Take away'] as const)) {
      await openLeaf(page, leaf)
      await settled(page)
      expect.soft(await crampedWords(page), leaf).toEqual([])
      expect.soft(await overTheEdge(page), leaf).toEqual([])
    }
    await openLeaf(page, 'Changes')
    const typed = await page
      .getByRole('textbox', { name: 'Changes' })
      .evaluate((field) => Number.parseFloat(getComputedStyle(field).fontSize))
    expect(typed).toBeGreaterThanOrEqual(31)
  })

  test('the last system of the part does not stand in what fades above the foot', async () => {
    const page = await onScreen(screen)
    const left = await page.locator('drawn-part').evaluate(async (part) => {
      const scroller = part.parentElement!
      scroller.scrollTop = scroller.scrollHeight
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)))
      return scroller.getBoundingClientRect().bottom - part.getBoundingClientRect().bottom
    })
    expect(left).toBeGreaterThanOrEqual(18)
  })
})

test('The rows of the opening stand in one line each on a touch screen as wide as a desk', async () => {
  const page = await onScreen({ width: 1180, height: 820, touch: true })
  const rows = await page.getByRole('textbox', { name: 'Changes' }).evaluate((field) =>
    [...field.querySelectorAll('.cm-line')].map((line) => {
      const range = document.createRange()
      range.selectNodeContents(line)
      return new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size
    }),
  )
  expect(Math.max(...rows)).toBe(1)
  const leaf = (await page.getByRole('complementary').boundingBox())!
  const lights = (await page.getByRole('button', { name: 'dim the lights' }).boundingBox())!
  expect(leaf.x + leaf.width - (lights.x + lights.width)).toBeGreaterThanOrEqual(16)
})

test.each([320, 390])('Play stands in the middle of a phone %i wide', async (width) => {
  const page = await onScreen({ width, height: 780, touch: true })
  const play = (await page.getByRole('button', { name: 'play' }).boundingBox())!
  expect(Math.abs(play.x + play.width / 2 - width / 2)).toBeLessThanOrEqual(2)
})

test.each(SCREENS.filter(({ width }) => width <= 1100))(
  'Every place that sound can go to is in reach at $width × $height',
  async (screen) => {
    const page = await onScreen(screen)
    await openLeaf(page, 'Balance')
    await page.getByRole('button', { name: /^sound goes to/ }).click()
    const { top, reachable } = await page.locator('balance-leaf goes-to ul').evaluate((list) => {
      const leaf = list.getRootNode() as ShadowRoot
      let holder: Element | null = leaf.host
      while (holder && !holder.matches('aside'))
        holder = holder.parentElement ?? (holder.getRootNode() as ShadowRoot).host
      holder!.scrollTop = 0
      return {
        top: list.getBoundingClientRect().top - holder!.getBoundingClientRect().top,
        reachable: list.getBoundingClientRect().bottom - holder!.getBoundingClientRect().top <= holder!.scrollHeight,
      }
    })
    expect(top).toBeGreaterThanOrEqual(0)
    expect(reachable).toBe(true)
  },
)

describe('In colours of the player’s own', () => {
  test('the sign on Play differs from its ground, playing and still', async () => {
    const page = await onScreen({ width: 1440, height: 900, touch: false })
    await page.emulateMedia({ forcedColors: 'active' })
    const colours = () =>
      page.getByRole('button', { name: /^(play|stop)$/ }).evaluate((play) => ({
        ground: getComputedStyle(play).backgroundColor,
        sign: getComputedStyle(play.querySelector('svg')!).fill,
      }))
    const still = await colours()
    expect(still.sign).not.toBe(still.ground)
    await page.getByRole('button', { name: 'play' }).click()
    await page.getByRole('button', { name: 'stop' }).waitFor()
    const playing = await colours()
    expect(playing.sign).not.toBe(playing.ground)
    expect(playing.ground).not.toBe(still.ground)
  })

  test('what is chosen keeps a heavy rule: the line, the cells', async () => {
    const page = await onScreen({ width: 1440, height: 900, touch: false })
    await page.emulateMedia({ forcedColors: 'active' })
    const rule = (selector: string, side: 'borderTopWidth' | 'borderBottomWidth') =>
      page
        .locator(selector)
        .first()
        .evaluate((chosen, of) => Number.parseFloat(getComputedStyle(chosen)[of]), side)
    expect(await rule('line-strip button[aria-current="true"]', 'borderTopWidth')).toBeGreaterThanOrEqual(3)
    expect(await rule('idea-leaf button.cell[aria-pressed="true"]', 'borderBottomWidth')).toBeGreaterThanOrEqual(3)
  })
})
