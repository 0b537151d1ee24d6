import { createHash } from 'node:crypto'
import { playwright } from '@vitest/browser-playwright'
import type { Plugin } from 'vite'
import { defineConfig } from 'vitest/config'

/** The browser of the tests. Without a sound card it plays into nothing, and nobody presses anything first. */
const chromium = {
  executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--autoplay-policy=no-user-gesture-required'],
}

/** The command: everything inside one file, so that it needs no node_modules beside it. */
const command = {
  ssr: { noExternal: true as const },
  build: {
    ssr: 'src/cli.ts',
    outDir: 'dist/cli',
    target: 'node20',
    minify: false,
    sourcemap: true,
    rolldownOptions: { output: { entryFileNames: 'linewright.js' } },
  },
}

/**
 * Writes the service worker that keeps every file of the build, so that the page opens again without a network.
 *
 * A new version waits until the last page of the old one is closed: taking over at once would leave open pages without the
 * files that they have yet to fetch. Servers say `Vary: Origin`, which must not keep a kept file from being found.
 */
function offline(): Plugin {
  return {
    name: 'offline',
    apply: 'build',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const names = Object.keys(bundle).sort()
      const hash = createHash('sha256')
      for (const name of names) {
        const file = bundle[name]!
        hash.update(name).update(file.type === 'chunk' ? file.code : file.source)
      }
      const source = `const OURS = 'linewright ' + self.registration.scope + ' '
const CACHE = OURS + '${hash.digest('hex').slice(0, 16)}'
const FILES = ${JSON.stringify(names.filter((name) => name !== 'index.html'))}
const keep = async () => (await caches.open(CACHE)).addAll([new Request('./', { cache: 'reload' }), ...FILES])
const old = (name) => name.startsWith(OURS) && name !== CACHE
const tidy = async () => {
  for (const name of await caches.keys()) if (old(name)) await caches.delete(name)
  await self.clients.claim()
}
self.addEventListener('install', (event) => event.waitUntil(keep()))
self.addEventListener('activate', (event) => event.waitUntil(tidy()))
self.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET' || new URL(event.request.url).origin !== location.origin) return
  const wanted = event.request.mode === 'navigate' ? './' : event.request
  const kept = caches.match(wanted, { ignoreSearch: true, ignoreVary: true, cacheName: CACHE })
  event.respondWith(kept.then((response) => response ?? fetch(event.request)))
})
`
      this.emitFile({ type: 'asset', fileName: 'service-worker.js', source })
    },
  }
}

/** The page: runs from any static folder. */
const page = {
  base: './',
  plugins: [offline()],
  worker: { format: 'es' as const },
  build: { outDir: 'dist/page', target: 'es2022', chunkSizeWarningLimit: 600 },
}

export default defineConfig(({ mode }) => ({
  ...(mode === 'cli' ? command : page),
  test: {
    testTimeout: 60_000,
    hookTimeout: 60_000,
    reporters: ['default', ['json', { outputFile: '.vitest/results.json' }]],
    projects: [
      {
        extends: true as const,
        test: {
          name: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.{browser,e2e}.test.ts'],
          benchmark: { include: ['tests/**/*.bench.ts'], exclude: ['tests/**/*.{browser,e2e}.bench.ts'] },
        },
      },
      {
        extends: true as const,
        test: {
          name: 'browser',
          include: ['tests/**/*.browser.test.ts'],
          benchmark: { include: ['tests/**/*.browser.bench.ts'] },
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({ launchOptions: chromium }),
            instances: [{ browser: 'chromium' as const }],
          },
        },
      },
      {
        extends: true as const,
        // The built page and one browser: one file after another.
        test: {
          name: 'e2e',
          include: ['tests/**/*.e2e.test.ts'],
          fileParallelism: false,
          expect: { poll: { timeout: 10_000 } },
          benchmark: { include: ['tests/**/*.e2e.bench.ts'] },
        },
      },
    ],
  },
}))
