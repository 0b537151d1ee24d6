import type { Line } from '../../src/line/line.ts'

/** A line as names, bar by bar: `D2 F2 A2 Ab2 | G2 …`. Ghosts are `x`. */
export function lineText(line: Pick<Line, 'notes'>): string {
  const bars: string[][] = []
  for (const note of line.notes) {
    bars[note.slot.barIndex] ??= []
    bars[note.slot.barIndex]!.push(note.slot.ghost ? 'x' : note.name)
  }
  return Array.from(bars, (bar) => bar?.join(' ') ?? '').join(' | ')
}
