import { execFileSync } from 'node:child_process'
import { bench, describe } from 'vitest'

// Must reach: from start to table in 0.6 s for twelve bars, built (`npm run build` first).
describe('the command, from start to table', () => {
  for (const name of ['third-lift-out-of-order', 'biscuit-tin']) {
    bench(`${name}, twelve bars`, () => {
      execFileSync(process.execPath, ['dist/cli/linewright.js', 'compose', `examples/${name}.changes.txt`])
    })
  }
})
