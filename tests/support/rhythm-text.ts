import type { NoteValue } from '../../src/notation/note-value.ts'

/** A printed sign, as far as its rhythm goes. */
interface Sign {
  readonly kind: 'note' | 'rest'
  readonly value: NoteValue
  readonly head?: 'plain' | 'ghost'
  readonly tiedOn?: boolean
}

const LETTERS: Readonly<Record<NoteValue['part'], string>> = { 1: 'w', 2: 'h', 4: 'q', 8: 'e', 16: 's', 32: 't' }

/**
 * A rhythm as it is printed: `w h q e s t` for values, `q.` dotted, `rq` a rest, `xe` a dead note, `q~` tied on, `[e e]` beamed,
 * `{q e}` under a 3.
 */
export function rhythmText(rhythm: {
  readonly signs: readonly Sign[]
  readonly beams: readonly (readonly number[])[]
  readonly triplets: readonly (readonly number[])[]
}): string {
  const opens = (lists: readonly (readonly number[])[], index: number) => lists.some((list) => list[0] === index)
  const closes = (lists: readonly (readonly number[])[], index: number) => lists.some((list) => list.at(-1) === index)
  return rhythm.signs
    .map(({ kind, value, head, tiedOn }, index) => {
      const before = `${opens(rhythm.triplets, index) ? '{' : ''}${opens(rhythm.beams, index) ? '[' : ''}`
      const after = `${closes(rhythm.beams, index) ? ']' : ''}${closes(rhythm.triplets, index) ? '}' : ''}`
      const sort = kind === 'rest' ? 'r' : head === 'ghost' ? 'x' : ''
      return `${before}${sort}${LETTERS[value.part]}${'.'.repeat(value.dots)}${tiedOn ? '~' : ''}${after}`
    })
    .join(' ')
}
