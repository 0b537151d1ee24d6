import { type Browser, type BrowserContext, chromium, type Page } from 'playwright'
import { afterAll, afterEach, beforeAll, expect } from 'vitest'
import { type StaticServer, serveBuilt } from './static-server.ts'

/** The three sizes that the page is made for: a desk, a tablet, a phone. */
export const SIZES = {
  desktop: { width: 1440, height: 900, touch: false },
  tablet: { width: 820, height: 1180, touch: true },
  phone: { width: 390, height: 844, touch: true },
} as const

export type Size = keyof typeof SIZES

export const SIZE_NAMES = Object.keys(SIZES) as Size[]

/** How the page is visited. */
export interface Visit {
  /** a desk where nothing is said */
  readonly size?: Size
  /** what the system asks for: paper where nothing is said */
  readonly theme?: 'paper' | 'stage'
  /** the server that it comes from: the file's own where nothing is said */
  readonly server?: StaticServer
  /** run in the page before anything of it: the world that it finds */
  readonly world?: (() => void) | readonly (() => void)[]
  /** a page with messages on the console is what is tested */
  readonly mayComplain?: boolean
}

/** An open page, and what it did that nobody sees. */
export interface Visited {
  readonly page: Page
  readonly context: BrowserContext
  /** errors on the console and uncaught ones */
  readonly complaints: readonly string[]
  /** addresses asked for, in order */
  readonly requests: readonly string[]
}

/** The browser of these tests: without a sound card it plays into nothing. */
export function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--autoplay-policy=no-user-gesture-required'],
  })
}

/**
 * One browser and one server for all tests of a file; what is visited is closed after its test.
 *
 * After every test: nothing was complained about on the console, and nothing was asked for but from the page's own server.
 *
 * @returns a function that opens the built page and waits until the line is drawn
 */
export function builtPage(): (visit?: Visit) => Promise<Visited> {
  let browser: Browser
  let server: StaticServer
  const open: { visited: Visited; visit: Visit; address: string }[] = []
  beforeAll(async () => {
    server = await serveBuilt()
    browser = await launch()
  })
  afterAll(async () => {
    await browser?.close()
    await server?.stop()
  })
  afterEach(async () => {
    const done = open.splice(0)
    for (const { visited } of done) await visited.context.close()
    for (const { visited, visit, address } of done) {
      if (!visit.mayComplain) expect(visited.complaints).toEqual([])
      const { origin } = new URL(address)
      const foreign = visited.requests.filter((url) => !/^(data|blob):/.test(url) && new URL(url).origin !== origin)
      expect(foreign).toEqual([])
    }
  })
  return async (visit = {}) => {
    const { width, height, touch } = SIZES[visit.size ?? 'desktop']
    const context = await browser.newContext({
      viewport: { width, height },
      hasTouch: touch,
      isMobile: touch,
      colorScheme: visit.theme === 'stage' ? 'dark' : 'light',
      reducedMotion: 'reduce',
      acceptDownloads: true,
    })
    for (const world of [visit.world ?? []].flat()) await context.addInitScript(world)
    context.setDefaultTimeout(15_000)
    const page = await context.newPage()
    const complaints: string[] = []
    const requests: string[] = []
    page.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
    })
    page.on('pageerror', (error) => complaints.push(String(error)))
    context.on('request', (request) => requests.push(request.url()))
    const address = (visit.server ?? server).address
    const visited = { page, context, complaints, requests }
    open.push({ visited, visit, address })
    await page.goto(address)
    await drawn(page)
    return visited
  }
}

/** Waits until the part shows the newest line, notes and all. */
export async function drawn(page: Page): Promise<void> {
  await page.locator('drawn-part svg .figure').first().waitFor({ state: 'attached' })
  await page.locator('drawn-part').evaluate((part) => (part as HTMLElement & { readonly drawn: Promise<void> }).drawn)
}
