// Prints "N passed, N failed[, N skipped]" from the test run's record. The record may call a run good that ended badly (an
// unhandled rejection, a file that cannot be loaded), so the exit status has the last word.
import { readFileSync } from 'node:fs'

const [file, status] = process.argv.slice(2)
let passed = 0
let failed = 0
let skipped = 0
try {
  const run = JSON.parse(readFileSync(file, 'utf8'))
  const brokenFiles = run.testResults.filter(
    (result) => result.status === 'failed' && !result.assertionResults.some((test) => test.status === 'failed'),
  )
  passed = run.numPassedTests
  skipped = run.numPendingTests + run.numTodoTests
  failed = run.numFailedTests + brokenFiles.length
} catch {
  // No record: the run stopped before its tests.
}
if (status !== '0' && failed === 0) failed = 1
process.stdout.write(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}\n`)
