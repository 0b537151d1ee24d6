import type { KeyRow } from '../ui/keys-leaf.ts'

/** What a key does. */
export type KeyDeed =
  | 'play'
  | 'top'
  | 'line-before'
  | 'line-after'
  | 'loop'
  | 'slower'
  | 'faster'
  | 'changes'
  | 'idea'
  | 'balance'
  | 'take-away'
  | 'fold'
  | 'lights'
  | 'keys'
  | 'undo'
  | 'redo'
  | 'close'

/** The list that `?` opens. */
export const KEY_ROWS: readonly KeyRow[] = [
  { keys: 'Space', does: 'play, stop' },
  { keys: '.', does: 'back to the top of the part' },
  { keys: '[  ]', does: 'line before, after' },
  { keys: 'l', does: 'loop all bars, or play once' },
  { keys: '−  +', does: 'tempo by 1, with Shift by 5' },
  { keys: 'c  i', does: 'to the changes, to the idea' },
  { keys: 'm', does: 'balance' },
  { keys: 'Shift and a part’s name', does: 'that part alone, or all again' },
  { keys: 'w', does: 'take away' },
  { keys: 'e', does: 'fold the left leaf' },
  { keys: 'd', does: 'dim the lights' },
  { keys: '?', does: 'this list' },
  { keys: 'Ctrl z, Shift Ctrl z', does: 'undo, redo' },
  { keys: 'Esc', does: 'leave the text, close what is open' },
]

const LETTERS: Readonly<Record<string, KeyDeed>> = {
  '.': 'top',
  '[': 'line-before',
  ']': 'line-after',
  l: 'loop',
  '-': 'slower',
  _: 'slower',
  '−': 'slower',
  '+': 'faster',
  '=': 'faster',
  c: 'changes',
  i: 'idea',
  m: 'balance',
  w: 'take-away',
  e: 'fold',
  d: 'lights',
  '?': 'keys',
}

/**
 * What a key pressed outside of any text does; `undefined`: nothing of ours.
 *
 * @param letters  single letters do something: who speaks to the machine may have switched them off
 *
 * @example
 * deedOf({ key: ']', ctrl: false, shift: false, alt: false }, true) // => 'line-after'
 * deedOf({ key: 'z', ctrl: true, shift: true, alt: false }, false) // => 'redo'
 * deedOf({ key: 'l', ctrl: false, shift: false, alt: false }, false) // => undefined
 */
export function deedOf(
  pressed: { readonly key: string; readonly ctrl: boolean; readonly shift: boolean; readonly alt: boolean },
  letters: boolean,
): KeyDeed | undefined {
  const { key, ctrl, shift, alt } = pressed
  // Some keyboards write brackets with it.
  if (alt && !(key === '[' || key === ']')) return undefined
  if (ctrl) {
    if (key.toLowerCase() === 'z') return shift ? 'redo' : 'undo'
    return key.toLowerCase() === 'y' ? 'redo' : undefined
  }
  if (key === ' ') return 'play'
  if (key === 'Escape') return 'close'
  return letters ? LETTERS[key.length === 1 ? key.toLowerCase() : key] : undefined
}
