import { playwright } from '@vitest/browser-playwright'
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

/** The page: runs from any static folder. */
const page = {
  base: './',
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
          benchmark: { include: ['tests/**/*.bench.ts'], exclude: ['tests/**/*.browser.bench.ts'] },
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
        test: { name: 'e2e', include: ['tests/**/*.e2e.test.ts'], fileParallelism: false, benchmark: { include: [] } },
      },
    ],
  },
}))
