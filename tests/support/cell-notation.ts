import type { Cell } from '../../src/rhythm/cell.ts'

/**
 * What a cell sounds: onset+length in ticks, then `r` for silence, `<` for a sound from before, and the marks `> . - x ~`.
 * Of a list already written so, the same with silences that follow each other made one.
 */
export function soundsOf(cell: Cell | string): string {
  const sounds: { from: number; ticks: number; marks: string }[] = []
  const add = (from: number, ticks: number, marks: string) => {
    const last = sounds.at(-1)
    if (marks === 'r' && last?.marks === 'r') last.ticks += ticks
    else if (ticks > 0) sounds.push({ from, ticks, marks })
  }
  if (typeof cell === 'string') {
    for (const [, from, ticks, marks] of cell.matchAll(/(\d+)\+(\d+)(\S*)/g)) add(Number(from), Number(ticks), marks!)
  } else {
    let at = 0
    for (const onset of cell.onsets) {
      add(at, onset.tick - at, 'r')
      const length = onset.length === 'short' ? '.' : onset.length === 'long' ? '-' : ''
      const marks = `${onset.accent ? '>' : ''}${length}${onset.ghost ? 'x' : ''}${onset.tiedOver ? '~' : ''}`
      add(onset.tick, onset.ticks, onset.continues ? '<' : marks)
      at = onset.tick + onset.ticks
    }
    add(at, cell.ticks - at, 'r')
  }
  return sounds.map(({ from, ticks, marks }) => `${from}+${ticks}${marks}`).join(' ')
}
