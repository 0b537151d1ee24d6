import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { brotliDecompressSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'

const ROOT = join(import.meta.dirname, '../..')
const FONT = join(ROOT, 'styles/signs/linewright-signs.woff2')

/** The tables of a font by name: WOFF File Format 2.0, W3C Recommendation of 2022, section 5 (no table here is transformed). */
function tablesOf(woff: Buffer): ReadonlyMap<string, Buffer> {
  let at = 48
  const byte = () => woff[at++]!
  const four = () => String.fromCharCode(byte(), byte(), byte(), byte())
  const base128 = () => {
    let value = 0
    for (;;) {
      const next = byte()
      value = value * 128 + (next & 127)
      if (next < 128) return value
    }
  }
  // Only the names met in this font need to be known by their number there.
  const KNOWN: Readonly<Record<number, string>> = { 0: 'cmap', 5: 'name' }
  const rows = Array.from({ length: woff.readUInt16BE(12) }, () => {
    const tag = byte() & 63
    const name = tag === 63 ? four() : (KNOWN[tag] ?? `table ${tag}`)
    return { name, length: base128() }
  })
  const data = brotliDecompressSync(woff.subarray(at, at + woff.readUInt32BE(20)))
  let end = 0
  return new Map(
    rows.map(({ name, length }) => {
      end += length
      return [name, data.subarray(end - length, end)]
    }),
  )
}

/** The code points that a font has signs for: OpenType 1.9, cmap, format 4. */
function codePoints(cmap: Buffer): ReadonlySet<number> {
  const points = new Set<number>()
  for (let row = 0; row < cmap.readUInt16BE(2); row++) {
    const table = cmap.subarray(cmap.readUInt32BE(8 + row * 8))
    if (table.readUInt16BE(0) !== 4) continue
    const twice = table.readUInt16BE(6)
    for (let segment = 0; segment < twice; segment += 2) {
      const [end, start] = [table.readUInt16BE(14 + segment), table.readUInt16BE(16 + twice + segment)]
      for (let point = start; point <= end && point !== 0xffff; point++) points.add(point)
    }
  }
  return points
}

/** Private-use characters that the page's own code writes, as `e0a4`, with where. */
function signsWritten(): readonly { sign: string; file: string }[] {
  return ['src/ui', 'src/app', 'src/notation'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .flatMap((name) => {
        const text = readFileSync(join(ROOT, folder, name), 'utf8')
        const points = text.matchAll(/\\u\{?(e[0-9a-f]{3}|f[0-8][0-9a-f]{2})\b/gi)
        return [...points].map(([, sign]) => ({ sign: sign!.toLowerCase(), file: `${folder}/${name}` }))
      }),
  )
}

describe('Linewright Signs', () => {
  const woff = readFileSync(FONT)
  const tables = tablesOf(woff)

  test('has every sign that the page writes', () => {
    const has = codePoints(tables.get('cmap')!)
    expect(has.size).toBeGreaterThan(130)
    const written = signsWritten()
    expect(written.length).toBeGreaterThan(10)
    expect(written.filter(({ sign }) => !has.has(Number.parseInt(sign, 16)))).toEqual([])
  })

  test('does not bear the reserved name of the font that it is cut from', () => {
    const names = tables.get('name')!
    const texts = Array.from({ length: names.readUInt16BE(2) }, (_, row) => {
      const at = 6 + row * 12
      const from = names.readUInt16BE(4) + names.readUInt16BE(at + 10)
      const bytes = Buffer.from(names.subarray(from, from + names.readUInt16BE(at + 8))).swap16()
      return { kind: names.readUInt16BE(at + 6), text: bytes.toString('utf16le') }
    })
    const family = texts.filter(({ kind }) => [1, 3, 4, 6, 16].includes(kind))
    expect(family.map(({ text }) => text)).toContain('Linewright Signs')
    expect(family.filter(({ text }) => /bravura/i.test(text))).toEqual([])
    // The licence asks for its notice to stay with every copy.
    expect(texts.find(({ kind }) => kind === 0)?.text).toMatch(/Steinberg.*Reserved Font Name/)
  })

  test('is small', () => {
    expect(woff.length).toBeLessThan(20_000)
  })
})
