import { describe, expect, it } from 'vitest'
import { compose } from '../../src/compose.ts'

// Where the hand lies in lines of ours, as string and fret. What a player marked in earlier lines stands beside what is played now.
// Common practice, no source.

/** Each bar of the best line, looped, on the four-string bass: strings by name, dead notes left out. */
function bars(feel: string, changes: string): readonly string[] {
  const { form, lines } = compose(`| ${changes} |`, { feel, loop: true })
  return form.bars.map(({ index }) =>
    lines[0]!.notes
      .filter(({ slot }) => slot.barIndex === index && !slot.ghost)
      .map(({ string, fret }) => `${'EADG'[string]}${fret}`)
      .join(' '),
  )
}

describe('The hand', () => {
  it('has root and fifth in shape: bossa at A5 and D7, or D0 and G2, and not at A5 and G2', () => {
    for (const bar of bars('bossa-nova', 'Dm7 | % | G7 | % | Cmaj7 | % | A7 | %').slice(0, 2))
      expect(bar).toMatch(/^(A5 D7 D7|D0 G2 G2)/)
  })

  it('stays with a figure that comes again: shuffle at E5 A4, and not on to an open string; the third bar as the first', () => {
    const [first, , third, , , , seventh] = bars('shuffle', 'A7 | % | % | % | D7 | % | A7 | % | E7 | D7 | A7 | E7')
    expect(first).toMatch(/^E5 A4 A4 /)
    expect(third).toBe(first)
    expect(seventh).toBe(first)
  })

  it('has octaves two strings up and two frets on, and no open string among them: disco at E5 and D7', () => {
    const [first, second, third] = bars('disco-octaves', 'Am7 | % | Dm7 | % | Am7 | % | G | %')
    expect(first!.split(' ').slice(0, 4)).toEqual(['E5', 'D7', 'E5', 'D7'])
    expect(second!.split(' ').slice(0, 4)).toEqual(['E5', 'D7', 'E5', 'D7'])
    expect(third!.split(' ').slice(0, 4)).toEqual(['A5', 'G7', 'A5', 'G7'])
  })

  it('does not leave the place for a chord between: rock has D at A5 between A at E5 and G at E3', () => {
    const firsts = bars('rock-eighths', 'A | D | G | E').map((bar) => bar.split(' ')[0])
    expect(firsts.slice(0, 3)).toEqual(['E5', 'A5', 'E3'])
  })

  it('welcomes open strings where the style does: a country walk has A0, one drop has no open A', () => {
    expect(bars('country-two', 'A | D | E | A')[0]).toMatch(/^A0 /)
    expect(bars('one-drop', 'Am | Dm | Am | G')[0]).toMatch(/^E5 /)
  })

  it('plays a half-step on one string: a ballad and walking change no string for it', () => {
    for (const [feel, changes] of [
      ['ballad-two', 'Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Em7 | A7'],
      ['swing-medium', 'F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | D7b9 | Gm7 | C7 | F7 D7 | Gm7 C7'],
    ] as const) {
      const notes = compose(`| ${changes} |`, { feel, loop: true }).lines[0]!.notes.filter(({ slot }) => !slot.ghost)
      const across = notes.filter((note, i) => {
        const before = notes[i - 1]
        if (!before || Math.abs(note.pitch - before.pitch) !== 1 || note.fret === 0 || before.fret === 0) return false
        return note.string !== before.string
      })
      expect(across).toEqual([])
    }
  })
})
