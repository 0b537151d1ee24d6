import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { bench } from 'vitest'

/** The tests that have more to try than time: those that ask for SOAK. */
const files = readdirSync('tests', { recursive: true, encoding: 'utf8' })
  .map((name) => join('tests', name))
  .filter((name) => /(?<!browser|e2e)\.test\.ts$/.test(name) && /SOAK/.test(readFileSync(name, 'utf8')))
  .sort()

// `npm run bench -- soak`: every promise in full, where `npm test` tries a tenth. Hours rather than minutes.
bench(
  `all of ${files.length} files`,
  () => {
    execFileSync('npx', ['vitest', 'run', '--project', 'node', '--reporter', 'verbose', ...files], {
      env: { ...process.env, SOAK: '1' },
      stdio: 'inherit',
    })
  },
  { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 },
)
