import { defineConfig } from 'vitest/config'

export default defineConfig({
  // Everything inside one file, so that the built command needs no node_modules beside it.
  ssr: { noExternal: true },
  build: {
    ssr: 'src/cli.ts',
    outDir: 'dist/cli',
    target: 'node20',
    minify: false,
    sourcemap: true,
    rolldownOptions: { output: { entryFileNames: 'linewright.js' } },
  },
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    benchmark: { include: ['tests/**/*.bench.ts'] },
    reporters: ['default', ['json', { outputFile: '.vitest/results.json' }]],
  },
})
