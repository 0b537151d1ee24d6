import { describe, expect, it } from 'vitest'
import { METRES, metreOf } from '../../src/music/metre.ts'
import { printCell } from '../../src/rhythm/cell.ts'
import { CELLS, cellOf, cellsOfTiling } from '../../src/rhythm/cells.ts'
import { startsIn } from '../../src/rhythm/join.ts'
import { soundsOf } from '../support/cell-notation.ts'

/** Each cell with its sounds, worked out apart from the notation. */
const SOUNDS: readonly (readonly [id: string, sounds: string])[] = [
  ['whole-note', '0+1920'],
  ['half-notes', '0+960 960+960'],
  ['half-and-two', '0+960 960+480 1440+480'],
  ['two-and-half', '0+480 480+480 960+960'],
  ['bar-rest', '0+1920r'],
  ['two-beat', '0+480. 480+480r 960+480. 1440+480r'],
  ['two-beat-walk-up', '0+480. 480+480r 960+480 1440+480'],
  ['two-beat-skip', '0+960 960+720 1680+240'],
  ['four-quarters', '0+480 480+480 960+480 1440+480'],
  ['short-quarters', '0+480. 480+480. 960+480. 1440+480.'],
  ['quarters-on-two-and-four', '0+480r 480+480 960+480r 1440+480'],
  ['rest-on-one', '0+480r 480+480 960+480 1440+480'],
  ['rest-on-four', '0+480 480+480 960+480 1440+480r'],
  ['one-and-four', '0+480 480+960r 1440+480'],
  ['walk-skip-four', '0+480 480+480 960+480 1440+240 1680+240'],
  ['walk-skip-three', '0+480 480+480 960+240 1200+240 1440+480'],
  ['walk-skip-two', '0+480 480+240 720+240 960+480 1440+480'],
  ['walk-skip-one', '0+240 240+240 480+480 960+480 1440+480'],
  ['walk-ghost-two', '0+480 480+240 720+240x 960+480 1440+480'],
  ['walk-triplet-four', '0+480 480+480 960+480 1440+160 1600+160 1760+160'],
  ['walk-triplet-two', '0+480 480+160 640+160x 800+160x 960+480 1440+480'],
  ['dotted-pair', '0+720 720+240'],
  ['dotted-pair-twice', '0+720 720+240 960+720 1680+240'],
  ['dotted-then-half', '0+720 720+240 960+960'],
  ['quarters-then-dotted', '0+480 480+480 960+720 1680+240'],
  ['charleston', '0+720 720+240. 960+960r'],
  ['charleston-held', '0+720 720+1200'],
  ['reverse-charleston', '0+240r 240+720. 960+480. 1440+480r'],
  ['eighth-pair', '0+240 240+240'],
  ['eight-eighths', '0+240 240+240 480+240 720+240 960+240 1200+240 1440+240 1680+240'],
  ['eighths-backbeat', '0+240 240+240 480+240> 720+240 960+240 1200+240 1440+240> 1680+240'],
  ['short-eighths', '0+240. 240+240. 480+240. 720+240. 960+240. 1200+240. 1440+240. 1680+240.'],
  ['eighths-stop-four', '0+240 240+240 480+240 720+240 960+240 1200+240 1440+480r'],
  ['eighths-gap-three', '0+240 240+240 480+240 720+240 960+240r 1200+240 1440+240 1680+240'],
  ['eighths-gap-two', '0+240 240+240 480+240r 720+240 960+240 1200+240 1440+240r 1680+240'],
  ['quarter-and-eighths', '0+480 480+240 720+240 960+480 1440+240 1680+240'],
  ['eighths-and-quarter', '0+240 240+240 480+480 960+240 1200+240 1440+480'],
  ['soul-line', '0+240. 240+240r 480+240 720+240 960+240r 1200+240 1440+240 1680+240'],
  ['soul-lift', '0+480 480+240. 720+240 960+240r 1200+240 1440+480.'],
  ['soul-answer', '0+240r 240+240 480+240 720+240 960+480. 1440+480r'],
  ['pick-up-four', '0+1440r 1440+240 1680+240'],
  ['pick-up-three', '0+960r 960+240 1200+240 1440+240 1680+240'],
  ['off-beats', '0+240r 240+240 480+240r 720+240 960+240r 1200+240 1440+240r 1680+240'],
  ['one-then-off-beats', '0+480 480+240r 720+240 960+240r 1200+240 1440+240r 1680+240'],
  ['octave-off-beats', '0+240 240+240. 480+240 720+240. 960+240 1200+240. 1440+240 1680+240.'],
  ['off-beats-late-bar', '0+480 480+480 960+240r 1200+240 1440+240r 1680+240'],
  ['short-long-short', '0+240 240+480 720+240'],
  ['short-long-short-twice', '0+240 240+480 720+240 960+240 1200+480 1680+240'],
  ['push-into-three-full', '0+240 240+240 480+240 720+480 1200+240 1440+240 1680+240'],
  ['sync-chain', '0+240 240+480 720+480 1200+480 1680+240'],
  ['cinquillo', '0+480 480+240 720+480 1200+240 1440+480'],
  ['late-two', '0+480 480+240r 720+240 960+480 1440+480r'],
  ['push-over', '0+480 480+480 960+720 1680+240~'],
  ['push-over-from', '0+480< 480+480 960+720 1680+240~'],
  ['push-eighths', '0+240 240+240 480+240 720+240 960+240 1200+240 1440+240 1680+240~'],
  ['push-eighths-from', '0+240< 240+240 480+240 720+240 960+240 1200+240 1440+240 1680+240~'],
  ['push-both', '0+480< 480+240 720+720 1440+240 1680+240~'],
  ['push-walk', '0+480 480+480 960+480 1440+240 1680+240~'],
  ['push-sixteenth', '0+720 720+240 960+840 1800+120~'],
  ['held-then-three', '0+480< 480+480 960+480 1440+480'],
  ['four-sixteenths', '0+120 120+120 240+120 360+120'],
  ['gallop', '0+240 240+120 360+120'],
  ['reverse-gallop', '0+120 120+120 240+240'],
  ['dotted-eighth-pair', '0+360 360+120'],
  ['snap', '0+120 120+360'],
  ['sixteenth-eighth-sixteenth', '0+120 120+240 360+120'],
  ['e-and-a', '0+120r 120+120 240+120 360+120'],
  ['and-a', '0+240r 240+120 360+120'],
  ['e-and-last', '0+120r 120+120 240+120r 360+120'],
  ['last-sixteenth', '0+360r 360+120'],
  ['beat-with-ghosts', '0+120 120+120x 240+120 360+120x'],
  ['ghost-pick-up', '0+240r 240+120x 360+120x'],
  ['on-the-one', '0+120>. 120+360r 480+240r 720+120. 840+120 960+240r 1200+240 1440+120r 1560+120 1680+240.'],
  ['one-and-space', '0+120> 120+120. 240+240r 480+480r 960+480r 1440+120 1560+120 1680+120. 1800+120r'],
  ['funk-ladder', '0+360 360+360 720+360 1080+360 1440+480'],
  [
    'funk-broken',
    '0+120 120+120r 240+120 360+120x 480+120. 600+120r 720+120r 840+360 1200+120 1320+120x 1440+120. 1560+120r 1680+120 1800+120r',
  ],
  ['funk-two-beat', '0+120. 120+120r 240+120 360+120 480+120r 600+120 720+120 840+120r'],
  ['sixteenth-tresillo', '0+360 360+360 720+240'],
  ['hip-hop-drop', '0+480 480+360r 840+360 1200+480r 1680+120 1800+120r'],
  ['hip-hop-bounce', '0+360 360+120 480+240r 720+240 960+240 1200+120r 1320+120 1440+480r'],
  ['hip-hop-sparse', '0+240 240+240r 480+600r 1080+360 1440+480r'],
  ['tresillo', '0+720 720+720 1440+480'],
  ['habanera', '0+720 720+240 960+480 1440+480'],
  ['habanera-two', '0+360 360+120 480+240 720+240'],
  ['son-clave-three-two', '0+720 720+720 1440+480 1920+480r 2400+480 2880+480 3360+480r'],
  ['son-clave-two-three', '0+480r 480+480 960+480 1440+480r 1920+720 2640+720 3360+480'],
  ['rumba-clave-three-two', '0+720 720+960 1680+240 1920+480r 2400+480 2880+480 3360+480r'],
  ['bossa-clave', '0+720 720+720 1440+480 1920+480r 2400+720 3120+240 3360+480r'],
  ['tumbao-first', '0+720 720+720 1440+480~'],
  ['tumbao', '0+720< 720+720 1440+480~'],
  ['tumbao-last', '0+720< 720+720 1440+480'],
  ['tumbao-three-four', '0+960< 960+480 1440+480~'],
  ['tumbao-with-three', '0+720< 720+240 960+480 1440+480~'],
  ['cha-cha-walk', '0+480 480+480r 960+480 1440+480'],
  ['cha-cha-eighths', '0+480. 480+480r 960+480. 1440+240 1680+240'],
  ['samba-low-drum', '0+720 720+240 960+720> 1680+240'],
  ['samba-damped', '0+480. 480+240r 720+240 960+720> 1680+240'],
  ['samba-push', '0+720< 720+240 960+720> 1680+240~'],
  ['baiao', '0+360 360+600'],
  ['triplet', '0+160 160+160 320+160'],
  ['shuffle-pair', '0+320 320+160'],
  ['triplet-without-first', '0+160r 160+160 320+160'],
  ['triplet-without-last', '0+160 160+160 320+160r'],
  ['quarter-triplet', '0+320 320+320 640+320'],
  ['half-triplet', '0+640 640+640 1280+640'],
  ['shuffle-box', '0+240. 240+240 480+240. 720+240 960+240. 1200+240 1440+240. 1680+240'],
  ['shuffle-quarters-skip', '0+480 480+480 960+480 1440+240. 1680+240'],
  ['shuffle-two-skip', '0+480 480+240. 720+240 960+480 1440+240. 1680+240'],
  ['half-shuffle-line', '0+320 320+160 480+320r 800+160 960+480 1440+320r 1760+160'],
  ['half-shuffle-drop', '0+480 480+320r 800+160 960+320 1280+160 1440+480r'],
  ['twelve-dotted', '0+720 720+720 1440+720 2160+720'],
  ['twelve-long-short', '0+480 480+240 720+480 1200+240 1440+480 1920+240 2160+480 2640+240'],
  ['twelve-run-out', '0+720 720+720 1440+720 2160+240 2400+240 2640+240'],
  ['twelve-mid-run', '0+720 720+240 960+240 1200+240 1440+720 2160+720'],
  [
    'twelve-rolling',
    '0+240 240+240 480+240 720+240 960+240 1200+240 1440+240 1680+240 1920+240 2160+240 2400+240 2640+240',
  ],
  ['twelve-lead-in', '0+1200 1200+240 1440+1200 2640+240'],
  ['twelve-lead-in-one', '0+1440 1440+1200 2640+240'],
  ['twelve-half', '0+1440 1440+1440'],
  ['twelve-push', '0+720 720+480 1200+240 1440+720 2160+480 2640+240~'],
  ['twelve-bell', '0+480 480+480 960+240 1200+480 1680+480 2160+480 2640+240'],
  ['waltz-one', '0+1440'],
  ['waltz-three', '0+480 480+480 960+480'],
  ['waltz-one-three', '0+960 960+480'],
  ['waltz-short-one', '0+480. 480+960r'],
  ['waltz-dotted-pair', '0+720 720+720'],
  ['waltz-skip-two', '0+480 480+240 720+240 960+480'],
  ['waltz-skip-three', '0+480 480+480 960+240 1200+240'],
  ['waltz-late-three', '0+480 480+240r 720+240 960+480'],
  ['waltz-push', '0+480 480+720 1200+240~'],
  ['waltz-hemiola', '0+960 960+960 1920+960'],
  ['six-two', '0+720 720+720'],
  ['six-long-short', '0+480 480+240 720+480 1200+240'],
  ['six-all', '0+240 240+240 480+240 720+240 960+240 1200+240'],
  ['six-lead-in', '0+1200 1200+240'],
  ['six-run', '0+720 720+240 960+240 1200+240'],
  ['six-three', '0+480 480+480 960+480'],
  ['six-push', '0+720 720+480 1200+240~'],
  ['nine-three', '0+720 720+720 1440+720'],
  ['nine-long-short', '0+480 480+240 720+480 1200+240 1440+480 1920+240'],
  ['nine-two-two-two-three', '0+480 480+480 960+480 1440+720'],
  ['five-quarters', '0+480 480+480 960+480 1440+480 1920+480'],
  ['five-three-two', '0+1440 1440+960'],
  ['five-two-three', '0+960 960+1440'],
  ['five-vamp', '0+720 720+720 1440+480 1920+480'],
  ['five-vamp-skip', '0+720 720+720 1440+480 1920+240 2160+240'],
  ['five-eighths', '0+240 240+240 480+240 720+240 960+240 1200+240 1440+240 1680+240 1920+240 2160+240'],
  ['seven-groups', '0+480 480+480 960+720'],
  ['seven-groups-lead', '0+480 480+480 960+480 1440+240'],
  ['seven-all', '0+240 240+240 480+240 720+240 960+240 1200+240 1440+240'],
  ['seven-drive', '0+240 240+240 480+240 720+240 960+480 1440+240'],
  ['seven-three-two-two', '0+720 720+480 1200+480'],
  ['seven-push', '0+480 480+480 960+480 1440+240~'],
  ['two-in-two', '0+480 480+480'],
  ['two-in-two-skip', '0+480 480+240 720+240'],
  ['drop-line', '0+480r 480+480 960+240 1200+240 1440+480'],
  ['drop-line-low', '0+960r 960+960'],
  ['drop-melody', '0+240r 240+240 480+240 720+240 960+480 1440+240r 1680+240'],
  ['drop-two-bars', '0+240 240+240 480+240 720+240 960+480 1440+480r 1920+960r 2880+240 3120+240 3360+240 3600+240'],
  ['steppers-line', '0+480 480+240r 720+240 960+480 1440+240 1680+240'],
]

describe('the cells', () => {
  it('are those of the list below, in its order', () => {
    expect(CELLS.map(({ id }) => id)).toEqual(SOUNDS.map(([id]) => id))
    expect(CELLS).toHaveLength(159)
  })

  it.each(SOUNDS)('%s sounds %s', (id, sounds) => {
    const cell = cellOf(id)!
    expect(soundsOf(cell)).toBe(soundsOf(sounds))
  })

  it.each(CELLS)('$id, $notation, fills its length', (cell) => {
    const sounds = [...soundsOf(cell).matchAll(/\+(\d+)/g)].map(([, ticks]) => Number(ticks))
    expect(sounds.reduce((sum, ticks) => sum + ticks, 0)).toBe(cell.ticks)
    expect(cell.ticks).toBe((cell.bars * cell.upper * 1920) / cell.lower)
  })

  it.each(CELLS)('$id fits each metre it names', (cell) => {
    for (const text of cell.metres) {
      expect(METRES).toContain(text)
      const starts = startsIn(cell, metreOf(text, cell.groups)!)
      expect(starts.length, text).toBeGreaterThan(0)
      expect(starts[0]).toBe(0)
    }
  })

  it('are no two of one metre the same rhythm', () => {
    const rhythms = CELLS.map((cell) => printCell(cell))
    expect(new Set(rhythms).size).toBe(CELLS.length)
  })

  it('lie within the levels of teaching, and each has a feel', () => {
    for (const { id, level, feels, name } of CELLS) {
      expect([1, 2, 3, 4, 5], id).toContain(level)
      expect(feels.length, id).toBeGreaterThan(0)
      expect(name, id).not.toBe('')
    }
  })

  it('tile a bar by their ids', () => {
    expect(cellsOfTiling('dotted-pair short-long-short')?.map(({ id }) => id)).toEqual([
      'dotted-pair',
      'short-long-short',
    ])
    expect(cellsOfTiling('gallop*4')?.map(({ ticks }) => ticks)).toEqual([480, 480, 480, 480])
  })

  it('ask for their own beat groups where only those make them', () => {
    expect(startsIn(cellOf('five-two-three')!, metreOf('5/4')!)).toEqual([])
    expect(startsIn(cellOf('five-two-three')!, metreOf('5/4', [2, 3])!)).toEqual([0])
    expect(startsIn(cellOf('seven-three-two-two')!, metreOf('7/8')!)).toEqual([])
  })
})
