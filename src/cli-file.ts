import { access, constants, mkdtemp, open, realpath, rename, rm, stat, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'

/** The longest chart that is read, in bytes: some ten thousand bars. Source: our choice. */
export const LONGEST_CHART = 256 * 1024

/** A sentence of what came of a file, or what was made of it. */
export type FileResult<Value> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly message: string }

/** What the system says, in words; its codes are those of POSIX. */
const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EACCES: 'permission is missing',
  EPERM: 'permission is missing',
  EISDIR: 'it is a folder',
  ENOTDIR: 'a part of its path is no folder',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk cannot be written to',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'its links lead round in a circle',
}

function reasonOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'an unknown error'
  return REASONS[code] ?? `the system says ${code}`
}

const tooLong = `it is longer than ${LONGEST_CHART / 1024} kB, the most that a chart may have`

/** The bytes of a stream until its end, or until there are more than allowed. */
async function collect(stream: AsyncIterable<Uint8Array>, longest: number): Promise<Uint8Array | undefined> {
  const chunks: Uint8Array[] = []
  let length = 0
  for await (const chunk of stream) {
    chunks.push(chunk)
    length += chunk.length
    if (length > longest) return undefined
  }
  return Buffer.concat(chunks)
}

/** The longest MIDI file that is read, in bytes. Source: our choice; a long piece for a large band has a tenth of it. */
export const LONGEST_MIDI = 4 * 1024 * 1024

/** The bytes of a file or, for `-`, of standard input; or a sentence that says why there are none. */
export async function readBytes(path: string, longest: number = LONGEST_MIDI): Promise<FileResult<Uint8Array>> {
  const name = path === '-' ? 'Standard input' : path
  const refuse = (reason: string) => ({ ok: false, message: `${name} cannot be read: ${reason}.` }) as const
  let bytes: Uint8Array | undefined
  try {
    if (path === '-') bytes = await collect(process.stdin, longest)
    else {
      const file = await open(path)
      try {
        if ((await file.stat()).isDirectory()) return refuse('it is a folder')
        bytes = await collect(file.createReadStream({ autoClose: false }), longest)
      } finally {
        await file.close()
      }
    }
  } catch (error) {
    return refuse(reasonOf(error))
  }
  if (bytes) return { ok: true, value: bytes }
  if (longest === LONGEST_CHART) return refuse(tooLong)
  return refuse(`it is longer than ${longest / 1024 / 1024} MB, the most that a MIDI file may have`)
}

/**
 * The text of a chart, from a file or, for `-`, from standard input; or a sentence that says why there is none. Text is UTF-8; a
 * byte-order mark is left out.
 */
export async function readChart(path: string): Promise<FileResult<string>> {
  const bytes = await readBytes(path, LONGEST_CHART)
  return bytes.ok ? textOf(path, bytes.value) : bytes
}

/** Bytes as the text that they are. */
export function textOf(path: string, bytes: Uint8Array): FileResult<string> {
  const name = path === '-' ? 'Standard input' : path
  const refuse = (reason: string) => ({ ok: false, message: `${name} cannot be read: ${reason}.` }) as const
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    if (text.includes('\0')) return refuse('it is no text')
    return { ok: true, value: text }
  } catch {
    return refuse('it is no text in UTF-8')
  }
}

/** A file to be written. */
export interface FileToWrite {
  readonly path: string
  readonly bytes: Uint8Array
}

/**
 * Writes all the files or none: each is written aside, in a folder of its own next to its place, and moved there when all of them
 * are complete. A link is followed, so that what it leads to is written.
 *
 * @returns the paths as they were given, or a sentence that names the one that cannot be written
 */
export async function writeFiles(files: readonly FileToWrite[]): Promise<FileResult<readonly string[]>> {
  const aside: string[] = []
  const moves: { from: string; to: string; path: string }[] = []
  let path = ''
  const refuse = (reason: string) => ({ ok: false, message: `${path} cannot be written: ${reason}.` }) as const
  try {
    for (const file of files) {
      path = file.path
      const to = await realpath(path).catch(() => path)
      const standing = await stat(to).catch(() => undefined)
      if (standing?.isDirectory()) return refuse('it is a folder')
      if (standing) await access(to, constants.W_OK)
      const folder = await mkdtemp(join(dirname(to), '.linewright-'))
      aside.push(folder)
      const from = join(folder, basename(to))
      await writeFile(from, file.bytes)
      moves.push({ from, to, path })
    }
    for (const move of moves) {
      path = move.path
      await rename(move.from, move.to)
    }
    return { ok: true, value: files.map((file) => file.path) }
  } catch (error) {
    return refuse(reasonOf(error))
  } finally {
    for (const folder of aside) await rm(folder, { recursive: true, force: true })
  }
}
