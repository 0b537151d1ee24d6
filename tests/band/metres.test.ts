import { Midi } from '@tonejs/midi'
import { describe, expect, it } from 'vitest'
import { arrangementOf, compose, performanceOf } from '../../src/compose.ts'
import { FEELS } from '../../src/feels/feels.ts'
import { writeMidi } from '../../src/files/midi-writer.ts'
import type { WrittenNote } from '../../src/music/arrangement.ts'
import { METRES } from '../../src/music/metre.ts'
import { drumRows } from '../support/drum-rows.ts'

/** What a part of the band plays over a chart. */
function partOf(text: string, name: 'bass' | 'chords' | 'drums'): readonly WrittenNote[] {
  const composition = compose(text)
  return arrangementOf(composition, composition.lines[0]!).parts.find((part) => part.name === name)!.notes
}

describe('the band', () => {
  it.each(FEELS)('in $name is read back from its file note by note, by other people’s reader', (feel) => {
    const composition = compose(`time: ${feel.metre}\nfeel: ${feel.id}\n| Am7 | Dm7 | G7 | Cmaj7 |`)
    const performance = performanceOf(composition, composition.lines[0]!)
    const { header, tracks } = new Midi(writeMidi(performance, 'player'))
    expect(header.timeSignatures.map(({ timeSignature }) => timeSignature.join('/'))).toEqual([feel.metre])
    const read = tracks
      .filter(({ notes }) => notes.length > 0)
      .map(({ notes }) => notes.map((note) => `${note.ticks}+${note.durationTicks} ${note.midi}`).sort())
    const played = performance.parts.map(({ notes }) =>
      notes.map((note) => `${note.startTick}+${note.endTick - note.startTick} ${note.pitch}`).sort(),
    )
    expect(read).toEqual(played)
  })

  it.each(METRES)('plays every bar of a chart in %s, and nothing after its end', (metre) => {
    const text = `time: ${metre}\n| C | F G7 | C | Am |`
    const { form } = compose(text)
    for (const name of ['bass', 'chords', 'drums'] as const) {
      const notes = partOf(text, name)
      for (const { startTick, ticks } of form.bars)
        expect(notes.some((note) => note.startTick >= startTick && note.startTick < startTick + ticks)).toBe(true)
      expect(notes.every((note) => note.startTick < form.ticks)).toBe(true)
    }
  })

  it('drums half a groove in 2/4, and hats on the beats and kick on one in 9/8', () => {
    expect(drumRows(partOf('time: 2/4\nfeel: country-two\n| G | D |', 'drums'), 0, 960)).toEqual([
      'hat 5.4. 5.4.',
      'rim .... 7...',
      'kick 7... ....',
    ])
    const nine = drumRows(partOf('time: 9/8\n| G | D |', 'drums'), 0, 2160, 240)
    expect(nine.map((row) => row.replace(/(?<=[.\d]) /g, ''))).toEqual(['hat 5..5..5..', 'kick 7........'])
  })
})

describe('the groups of a chart', () => {
  const chart = (groups: string) => `time: 7/8\nfeel: seven-eight\ngroups: ${groups}\n| Am | % | F | G |`
  const counts = (notes: readonly WrittenNote[]) => [
    ...new Set(notes.filter((note) => note.startTick < 1680).map((note) => note.startTick / 240 + 1)),
  ]

  it('move bass, chords and drums: the three with its own rhythm, wherever it stands', () => {
    expect(counts(partOf(chart('2+2+3'), 'bass'))).toEqual([1, 3, 5, 7])
    expect(counts(partOf(chart('2+2+3'), 'chords'))).toEqual([1, 3, 5])
    expect(counts(partOf(chart('3+2+2'), 'bass'))).toEqual([1, 3, 4, 6])
    expect(counts(partOf(chart('3+2+2'), 'chords'))).toEqual([1, 4, 6])
    expect(counts(partOf(chart('2+3+2'), 'chords'))).toEqual([1, 3, 6])
  })

  it('leave the snare on the second of the two twos', () => {
    const strokes = (groups: string) =>
      drumRows(partOf(chart(groups), 'drums'), 0, 1680, 240).map((row) => row.replace(/(?<=[.\d]) /g, ''))
    expect(strokes('2+2+3')).toEqual(['hat 7575755', 'snare ..8....', 'kick 8...8..'])
    expect(strokes('3+2+2')).toEqual(['hat 7557575', 'snare .....8.', 'kick 8..8...'])
  })

  it('play the second of five-four where it is', () => {
    const five = (groups: string) => `time: 5/4\nfeel: five-four\ngroups: ${groups}\n| Em7 | % | Am7 | Em7 |`
    const starts = (groups: string) =>
      partOf(five(groups), 'bass')
        .filter((note) => note.startTick < 2400)
        .map((note) => note.startTick / 480 + 1)
    expect(starts('3+2')).toEqual([1, 2.5, 4, 5])
    expect(starts('2+3')).toEqual([1, 2, 3, 4.5])
  })
})
