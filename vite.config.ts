import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
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

/** What the page brings along and is not ours: packages, and folders that hold a licence of their own. */
const BORROWED = [
  ...['src/sound/bank', 'styles/signs'],
  ...[
    ...['spessasynth_core', 'stb-vorbis', 'vexflow', '@vexflow-fonts/bravura', 'webmidi', 'lit', 'tonal'],
    ...[
      '@codemirror/state',
      '@codemirror/view',
      '@codemirror/language',
      '@codemirror/autocomplete',
      '@codemirror/commands',
    ],
    ...['@lezer/highlight', '@fontsource-variable/besley', '@fontsource-variable/vollkorn'],
    ...['@fontsource/courier-prime', '@fontsource/noto-music'],
  ].map((name) => `node_modules/${name}`),
]

/** Lays every licence beside the page: the notices go with each copy. */
function licences(): Plugin {
  return {
    name: 'licences',
    apply: 'build',
    generateBundle() {
      const texts = ['.', ...BORROWED].map((folder) => {
        const file = readdirSync(folder).find((name) => /^(licen[cs]e|ofl)(\.(txt|md))?$/i.test(name))
        if (!file) throw new Error(`${folder} has no licence`)
        const name = folder === '.' ? 'Linewright' : folder.replace('node_modules/', '')
        return `${name}\n${'='.repeat(name.length)}\n\n${readFileSync(`${folder}/${file}`, 'utf8').trim()}\n`
      })
      this.emitFile({ type: 'asset', fileName: 'licences.txt', source: texts.join('\n\n') })
    },
  }
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
const KNOWN = new Set(FILES.map((name) => new URL(name, self.registration.scope).href))
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
  const isPage = event.request.mode === 'navigate' && !KNOWN.has(event.request.url)
  const wanted = isPage ? './' : event.request
  const kept = caches.match(wanted, { ignoreSearch: true, ignoreVary: true, cacheName: CACHE })
  event.respondWith(kept.then((response) => response ?? fetch(event.request)))
})
`
      this.emitFile({ type: 'asset', fileName: 'service-worker.js', source })
    },
  }
}

/**
 * Binds what a file of ours imports once, when it is loaded.
 *
 * The test runner reads an imported name from its module at each use, which makes a search nearly twice as slow as in the
 * build. Nothing of ours changes after it is exported, and no file imports itself by way of others.
 */
function bindImports(): Plugin {
  return {
    name: 'bind-imports',
    enforce: 'post',
    transform(code, id) {
      if (!/\/(src|tests)\/.*\.ts$/.test(id)) return
      return code.replace(/^import \{([^}]*)\} from (["']\.[^"']*["']);?$/gm, (_, names: string, from: string) => {
        const pairs = names
          .split(',')
          .map((name) => name.trim().split(/\s+as\s+/))
          .filter(([name]) => name)
        const taken = pairs.map(([name, own = name]) => `${name} as ${own}$bound`)
        const bound = pairs.map(([name, own = name]) => `${own} = ${own}$bound`)
        return `import { ${taken.join(', ')} } from ${from};${bound.length > 0 ? ` const ${bound.join(', ')};` : ''}`
      })
    },
  }
}

/** The page: runs from any static folder. */
const page = {
  base: './',
  plugins: [licences(), offline()],
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
        plugins: [bindImports()],
        test: {
          name: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.{browser,e2e}.test.ts'],
          // All cores, and first: what has a browser is alone afterwards.
          maxWorkers: '100%',
          sequence: { groupOrder: 0 },
          benchmark: { include: ['tests/**/*.bench.ts'], exclude: ['tests/**/*.{browser,e2e}.bench.ts'] },
        },
      },
      {
        extends: true as const,
        test: {
          name: 'browser',
          include: ['tests/**/*.browser.test.ts'],
          sequence: { groupOrder: 1 },
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
          sequence: { groupOrder: 2 },
          expect: { poll: { timeout: 10_000 } },
          benchmark: { include: ['tests/**/*.e2e.bench.ts'] },
        },
      },
    ],
  },
}))
