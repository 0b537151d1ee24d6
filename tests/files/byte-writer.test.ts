import { describe, expect, test } from 'vitest'
import { ByteWriter, LARGEST_QUANTITY } from '../../src/files/byte-writer.ts'

function quantity(value: number): string {
  const out = new ByteWriter()
  out.quantity(value)
  return [...out.done()].map((byte) => byte.toString(16).padStart(2, '0')).join(' ')
}

// Source: SMF 1.0, table of examples of variable-length quantities.
const QUANTITIES: readonly (readonly [number, string])[] = [
  [0x00, '00'],
  [0x40, '40'],
  [0x7f, '7f'],
  [0x80, '81 00'],
  [0x2000, 'c0 00'],
  [0x3fff, 'ff 7f'],
  [0x4000, '81 80 00'],
  [0x100000, 'c0 80 00'],
  [0x1fffff, 'ff ff 7f'],
  [0x200000, '81 80 80 00'],
  [0x8000000, 'c0 80 80 00'],
  [0xfffffff, 'ff ff ff 7f'],
]

describe('bytes of a file', () => {
  test.each(QUANTITIES)('the variable-length quantity %i is %s', (value, bytes) => {
    expect(quantity(value)).toBe(bytes)
  })

  test.each([-1, 0.5, Number.NaN, LARGEST_QUANTITY + 1])('%d is refused as a quantity', (value) => {
    expect(() => quantity(value)).toThrow(RangeError)
  })

  test('bytes keep their order over many growths', () => {
    const out = new ByteWriter()
    for (let at = 0; at < 5000; at++) out.byte(at & 0xff)
    out.bytes(new Uint8Array(9000).fill(7))
    out.bigEndian(0x01020304, 4)
    const bytes = out.done()
    expect(bytes.length).toBe(14004)
    expect([bytes[255], bytes[4999], bytes[5000], bytes[13999]]).toEqual([255, 4999 & 0xff, 7, 7])
    expect([...bytes.slice(-4)]).toEqual([1, 2, 3, 4])
  })
})
