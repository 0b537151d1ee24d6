import { spawn } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished, vi } from 'vitest'

// Each call is a process of its own; on a busy machine several of them take a while.
vi.setConfig({ testTimeout: 60_000 })

const ROOT = join(import.meta.dirname, '..', '..')
/** The command, built. */
export const BUILT = join(ROOT, 'dist', 'cli', 'linewright.js')

/** The path of one of our examples. */
export function example(name: string): string {
  return join(ROOT, 'examples', `${name}.changes.txt`)
}

/** The names of all examples. */
export const EXAMPLES: readonly string[] = readdirSync(join(ROOT, 'examples'))
  .filter((name) => name.endsWith('.changes.txt'))
  .map((name) => name.replace('.changes.txt', ''))

/** What a call of the built command came to. */
export interface Outcome {
  readonly status: number | null
  readonly out: string
  readonly err: string
}

/** Runs the built command as a user would, with what is typed into it, in a folder. */
export function linewright(
  args: readonly string[],
  { input = '', folder = ROOT }: { readonly input?: string | Uint8Array; readonly folder?: string } = {},
): Promise<Outcome> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [BUILT, ...args], { cwd: folder })
    const heard = { out: '', err: '' }
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      heard.out += text
    })
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      heard.err += text
    })
    child.on('error', reject)
    child.on('close', (status) => resolve({ status, ...heard }))
    // A command that does not want its input closes it.
    child.stdin.on('error', () => undefined)
    child.stdin.end(input)
  })
}

/** A folder that is there for one test, with files in it. */
export function folderWith(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const folder = mkdtempSync(join(tmpdir(), 'linewright-test-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content)
  return folder
}
