import { describe, expect, test } from 'vitest'
import { readSource, type SourceFile, sourceFiles } from './support/source.ts'

/** A file imports from its own room or from rooms before it. */
const ROOMS = [
  ...[
    'search',
    'music',
    'chart',
    'rhythm',
    'line',
    'band',
    'feels',
    'settings',
    'vocabulary',
    'notation',
    'compose',
    'files',
    'analyse',
  ],
  ...['compose-messages', 'compose-worker', 'sound', 'play', 'ui', 'app', 'main', 'cli'],
]

/** The rooms that run anywhere: in a worker, in a terminal, in a test. */
const PURE = ROOMS.slice(0, ROOMS.indexOf('compose-worker'))

/** Names by which code reaches the world: the clock, chance, the screen, the machine. */
const WORLD = [
  ...['Date', 'Math.random', 'performance.now', 'crypto', 'setTimeout', 'setInterval', 'queueMicrotask'],
  ...['console', 'process', 'Buffer', 'require', 'globalThis', 'window', 'document', 'navigator', 'fetch', 'self'],
]

const files = sourceFiles()

/** Imports of a later room, as `line/walk/walk.ts imports compose.ts`. */
function wrongWays(among: readonly SourceFile[]): string[] {
  const rooms = new Map(files.map((file) => [file.path, file.room]))
  return among.flatMap((file) =>
    file.imports
      .filter((path) => ROOMS.indexOf(rooms.get(path) ?? readSource(path, '').room) > ROOMS.indexOf(file.room))
      .map((path) => `${file.path} imports ${path}`),
  )
}

/** What a file takes from the world, as `music/key.ts uses Date`. */
function worldly(among: readonly SourceFile[]): string[] {
  return among.flatMap((file) => [
    ...WORLD.filter((name) => file.names.has(name)).map((name) => `${file.path} uses ${name}`),
    ...file.packages.filter((name) => name.startsWith('node:')).map((name) => `${file.path} uses ${name}`),
  ])
}

/** The first import cycle met, as a row of paths; empty if there is none. */
function cycle(among: readonly SourceFile[]): readonly string[] {
  const byPath = new Map(among.map((file) => [file.path, file]))
  const done = new Set<string>()
  const look = (path: string, way: readonly string[]): readonly string[] => {
    if (way.includes(path)) return [...way.slice(way.indexOf(path)), path]
    if (done.has(path)) return []
    for (const next of byPath.get(path)?.imports ?? []) {
      const found = look(next, [...way, path])
      if (found.length > 0) return found
    }
    done.add(path)
    return []
  }
  for (const file of among) {
    const found = look(file.path, [])
    if (found.length > 0) return found
  }
  return []
}

describe('The rooms', () => {
  test('hold every file', () => {
    expect(files.filter((file) => !ROOMS.includes(file.room)).map((file) => file.path)).toEqual([])
    expect(files.length).toBeGreaterThan(20)
  })

  test('import from themselves and from rooms before them', () => {
    expect(wrongWays(files)).toEqual([])
  })

  test('import in no circle', () => {
    expect(cycle(files)).toEqual([])
  })
})

test('Search knows no music: it imports nothing from outside its room', () => {
  const search = files.filter((file) => file.room === 'search')
  expect(search.length).toBeGreaterThan(0)
  for (const file of search) {
    expect(file.packages, file.path).toEqual([])
    expect(
      file.imports.filter((path) => !path.startsWith('search/')),
      file.path,
    ).toEqual([])
  }
})

test('Nothing before the command line touches the world', () => {
  expect(worldly(files.filter((file) => PURE.includes(file.room)))).toEqual([])
})

describe('These tests see', () => {
  const file = (path: string, text: string) => readSource(path, text)

  test('an import of a later room, of a type too', () => {
    expect(wrongWays([file('music/key.ts', "import type { Line } from '../line/line.ts'")])).toEqual([
      'music/key.ts imports line/line.ts',
    ])
    expect(wrongWays([file('chart/form.ts', "export { compose } from '../compose.ts'")])).toEqual([
      'chart/form.ts imports compose.ts',
    ])
  })

  test('a look at the clock, at chance and at the machine, but not a member or a key of that name', () => {
    const text = "import 'node:fs'\nexport const a = { process: Math.random(), b: Date.now(), c: a.window }"
    expect(worldly([file('music/key.ts', text)])).toEqual([
      'music/key.ts uses Date',
      'music/key.ts uses Math.random',
      'music/key.ts uses node:fs',
    ])
  })

  test('a circle of imports', () => {
    const circle = [file('music/a.ts', "import './b.ts'"), file('music/b.ts', "import './a.ts'")]
    expect(cycle(circle)).toEqual(['music/a.ts', 'music/b.ts', 'music/a.ts'])
  })
})
