// Run by hand, after a build: pictures of the built page at three sizes on both grounds, to look at.
//     node tests/support/screenshots.mjs FOLDER
import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { chromium } from 'playwright'
import { preview } from 'vite'

const folder = process.argv[2]
if (folder === undefined) {
  process.stderr.write('Usage: node tests/support/screenshots.mjs FOLDER\n')
  process.exit(2)
}
mkdirSync(folder, { recursive: true })

const SIZES = { desktop: [1440, 900], tablet: [820, 1180], phone: [390, 844] }

const server = await preview({ preview: { port: 4600, strictPort: false }, logLevel: 'silent' })
const address = server.resolvedUrls.local[0]
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
})

/** What is pressed, by its name to a reader, before the picture is taken. */
const STATES = {
  '': async () => undefined,
  '-playing': async (page) => {
    await page.getByRole('button', { name: /^play/i }).click()
    await page.waitForTimeout(2500)
  },
}

for (const [size, [width, height]] of Object.entries(SIZES)) {
  for (const [theme, colorScheme] of Object.entries({ paper: 'light', stage: 'dark' })) {
    for (const [state, reach] of Object.entries(STATES)) {
      const touch = size !== 'desktop'
      const scale = size === 'phone' ? 2 : 1
      const view = {
        viewport: { width, height },
        hasTouch: touch,
        isMobile: touch,
        deviceScaleFactor: scale,
        colorScheme,
      }
      const page = await browser.newPage(view)
      await page.goto(address)
      await page
        .locator('drawn-part svg')
        .first()
        .waitFor({ timeout: 10_000 })
        .catch(() => undefined)
      await page.evaluate(() => document.fonts.ready)
      await reach(page).catch((error) => process.stderr.write(`${size} ${theme}${state}: ${error.message}\n`))
      await page.screenshot({ path: join(folder, `${size}-${theme}${state}.png`) })
      await page.close()
    }
  }
}
await browser.close()
await server.close()
