import { join } from 'node:path'
import { transformWithOxc } from 'vite'
import { describe, expect, test } from 'vitest'
import { sourceFiles } from './support/source.ts'

/** `expression // => value` in a docstring. */
const EXAMPLE = /^\s*\*\s*(?<expression>.+?)\s*\/\/ => (?<value>.+?)\s*$/

const examples = sourceFiles().flatMap((file) =>
  file.text
    .split('\n')
    .map((row) => EXAMPLE.exec(row)?.groups)
    .filter((groups) => groups !== undefined)
    .map(({ expression, value }) => ({ path: file.path, expression: expression!, value: value! })),
)

/** The value of a row of TypeScript, with the names of a module at hand. */
async function evaluate(expression: string, names: Readonly<Record<string, unknown>>): Promise<unknown> {
  const { code } = await transformWithOxc(`globalThis.answer = (${expression})`, 'example.ts')
  const body = code.replace('globalThis.answer =', 'return')
  return new Function(...Object.keys(names), body)(...Object.values(names))
}

test('Every row of a docstring that promises a value is read as an example', () => {
  const promised = sourceFiles().flatMap((file) => file.text.split('\n').filter((row) => row.includes('// =>')))
  expect(examples.length).toBe(promised.length)
  expect(examples.length).toBeGreaterThan(10)
})

describe('The example in the docstring holds:', () => {
  test.each(examples)('$path: $expression // => $value', async ({ path, expression, value }) => {
    const names: Readonly<Record<string, unknown>> = await import(join(import.meta.dirname, '..', 'src', path))
    expect(await evaluate(expression, names)).toEqual(await evaluate(value, {}))
  })
})
