/** 32 bars without a repetition: no two bars share a chord in the same place with the same neighbours. */
export const LONG_CHART =
  'Dm7 | G7 | Cmaj7 | A7b9 | Fm7 | Bb7 | Ebmaj7 | C7b9 | F#m7b5 | B7b9 | Em7 | A7 | Abm7 | Db7 | Gbmaj7 | Eb7b9 | ' +
  'Bm7 | E7 | Amaj7 | F#7b9 | Gm7 | C7 | Fmaj7 | D7b9 | C#m7b5 | F#7 | Bmaj7 | G#m7 | Bbm7 | Eb7 | Abmaj7 | G7sus4'

/** The same chart with one bar of its middle changed, another one each time. */
export function edited(round: number): string {
  const bars = LONG_CHART.split(' | ')
  const at = 8 + (round % 16)
  const chords = ['C7', 'Am9', 'Ebm7', 'Dbmaj7', 'E7alt', 'Bdim7', 'F/A', 'Gmaj7']
  bars[at] = chords[Math.floor(round / 16) % chords.length]!
  return bars.join(' | ')
}
