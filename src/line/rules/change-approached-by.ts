import { degreeAt } from '../../music/chord.ts'
import { pitchClassOf } from '../../music/pitch.ts'
import type { Rule } from '../rule.ts'

/** A way into a change in one note: where the note before lies against the note arrived at. */
export type Approach = 'half-step-below' | 'half-step-above' | 'scale-step' | 'fifth'

/** What a player calls them. */
const WORDS: Readonly<Record<Approach, string>> = {
  'half-step-below': 'a half-step below',
  'half-step-above': 'a half-step above',
  'scale-step': 'a scale step',
  fifth: 'a fifth above or a fourth below',
}

/**
 * The last note before a change leads in from one of the ways asked for. A scale step is a step of one or two semitones from a
 * note of the scale that sounds.
 */
export const CHANGE_APPROACHED_BY: Rule<readonly Approach[]> = {
  id: 'change-approached-by',
  sentence: (ways) => `approach each change from ${ways.map((way) => WORDS[way]).join(' or ')}`,
  defaultWeight: 5,
  test: (ways) => ({
    looksAt: 'pair',
    allows: (from, to) => {
      if (!to.arrives) return true
      const interval = to.pitch - from.pitch
      return ways.some((way) => {
        switch (way) {
          case 'half-step-below':
            return interval === 1
          case 'half-step-above':
            return interval === -1
          case 'scale-step': {
            const size = Math.abs(interval)
            const inScale = degreeAt(from.chord, pitchClassOf(from.pitch)).standing !== 'chromatic'
            return (size === 1 || size === 2) && inScale
          }
          case 'fifth':
            return interval === -7 || interval === 5
        }
        return false
      })
    },
  }),
  keeps: [
    { value: ['half-step-below'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Gb2 | G2 B2 D2 F2' },
    { value: ['half-step-above'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['scale-step'], changes: 'Dm7 | G7', line: 'D2 F2 C3 A2 | G2 B2 D2 F2' },
    { value: ['fifth'], changes: 'Dm7 | G7', line: 'A2 F2 C2 D2 | G2 B2 D2 F2' },
    { value: ['fifth', 'half-step-above'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
  ],
  breaks: [
    { value: ['half-step-below'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['scale-step'], changes: 'Dm7 | G7', line: 'D2 F2 A2 Ab2 | G2 B2 D2 F2' },
    { value: ['fifth'], changes: 'Dm7 | G7', line: 'D2 F2 C3 A2 | G2 B2 D2 F2' },
  ],
}
