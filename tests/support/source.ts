import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { parseAst } from 'vite'

const SRC = join(import.meta.dirname, '..', '..', 'src')

/** A file of the program as its tests look at it. */
export interface SourceFile {
  /** from `src`, with forward slashes: `line/walk/walk.ts` */
  readonly path: string
  /** `line`; of a file beside the rooms its own name: `compose` */
  readonly room: string
  readonly text: string
  /** what it imports of our own, as paths from `src` */
  readonly imports: readonly string[]
  /** what it imports from elsewhere, as written */
  readonly packages: readonly string[]
  /** names it uses that are not members, and members as `Math.random` */
  readonly names: ReadonlySet<string>
}

interface Node {
  readonly type: string
  readonly [key: string]: unknown
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string'
}

/** Visits a node and all below it, but for names that are mere members or keys. */
function visit(node: Node, see: (node: Node) => void): void {
  see(node)
  for (const [key, value] of Object.entries(node)) {
    const isMereName =
      (node.type === 'MemberExpression' && key === 'property' && !node['computed']) ||
      (key === 'key' && !node['computed'] && !node['shorthand'])
    if (isMereName) continue
    for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) visit(child, see)
  }
}

function nameOf(value: unknown): string | undefined {
  return isNode(value) && value.type === 'Identifier' && typeof value['name'] === 'string' ? value['name'] : undefined
}

/** What a file of TypeScript imports and which names it uses. */
export function readSource(path: string, text: string): SourceFile {
  const sources: string[] = []
  const names = new Set<string>()
  visit(parseAst(text, { lang: 'ts' }) as unknown as Node, (node) => {
    const source = node['source']
    if (isNode(source) && typeof source['value'] === 'string') sources.push(source['value'])
    const name = nameOf(node)
    if (name !== undefined) names.add(name)
    const object = nameOf(node['object'])
    const member = nameOf(node['property'])
    if (node.type === 'MemberExpression' && object && member) names.add(`${object}.${member}`)
  })
  const own = (source: string) => source.startsWith('.')
  const [first, ...rest] = path.split('/')
  return {
    path,
    room: rest.length > 0 ? first! : path.replace(/\.ts$/, '').replace(/^cli-.*$/, 'cli'),
    text,
    imports: sources.filter(own).map((source) => join(dirname(path), source).replaceAll('\\', '/')),
    packages: sources.filter((source) => !own(source)),
    names,
  }
}

/** Every file of the program, by path. */
export function sourceFiles(): readonly SourceFile[] {
  return readdirSync(SRC, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => relative(SRC, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))
    .sort()
    .map((path) => readSource(path, readFileSync(join(SRC, path), 'utf8')))
}
