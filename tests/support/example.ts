import { readFileSync } from 'node:fs'
import { example } from './command.ts'

/** The text of one of our examples. */
export function readExample(name: string): string {
  return readFileSync(example(name), 'utf8')
}
