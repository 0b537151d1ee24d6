import { describe, expect, test } from 'vitest'
import type { ComposeDocument } from '../../src/cli-json.ts'
import { example, linewright } from '../support/command.ts'

const blues = example('third-lift-out-of-order')

async function documentOf(args: readonly string[]): Promise<ComposeDocument> {
  const { out, err, status } = await linewright([...args, '--json'])
  expect([err, status]).toEqual(['', 0])
  const { timing: _, ...document } = JSON.parse(out)
  return document
}

describe('A draw', () => {
  test.each([
    ['a walking line', blues],
    ['a groove', example('biscuit-tin')],
  ])(
    'of %s is the same for the same seed, another for another, and says how far above the best it lies',
    async (_, chart) => {
      const draw = (seed: string) => documentOf(['compose', chart, '--surprise', 'some', '--seed', seed])
      const [one, again, other] = [await draw('7'), await draw('7'), await draw('8')]
      expect(again).toEqual(one)
      expect(other.lines[0]!.notes).not.toEqual(one.lines[0]!.notes)
      const best = (await documentOf(['compose', chart])).lines[0]!.cost
      for (const { lines } of [one, other]) {
        expect(lines[0]!.aboveBest).toBe(lines[0]!.cost - best)
        expect(lines[0]!.provenWithin).toBe(lines[0]!.cost - best)
      }
      const { out } = await linewright(['compose', chart, '--surprise', 'some', '--seed', '7'])
      expect(out).toContain(
        `Line 1 of 1: ${one.lines[0]!.cost} points, drawn ${one.lines[0]!.cost - best} points above`,
      )
    },
  )

  test('is no draw without a surprise: a seed alone changes nothing', async () => {
    expect(await documentOf(['compose', blues, '--seed', '9'])).toEqual(await documentOf(['compose', blues]))
  })
})

describe('Several lines', () => {
  test('say in a few words what makes each of them another', async () => {
    const { lines } = await documentOf(['compose', blues, '--variations', '3'])
    expect(lines[0]!.differs).toBeNull()
    for (const { differs } of lines.slice(1)) expect(differs).toMatch(/^[a-z ]+ (in .*|throughout)$/)
  })
})
