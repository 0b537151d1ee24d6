import { describe, expect, it } from 'vitest'
import { read } from '../../src/compose.ts'
import type { GrooveLine } from '../../src/line/groove/groove.ts'
import { grooveRequest, groovesOf } from '../support/grooves.ts'
import { breachesOf } from '../support/never.ts'

const FORM = read('feel: rock-eighths\n| C | F |').form

/** A line over C and F: tick+length and pitch of each note, `~` a push. */
function lineIn(text: string): GrooveLine {
  const [some] = groovesOf(grooveRequest('rock-eighths', FORM)) as [GrooveLine]
  const notes = text.split(' ').map((word) => {
    const [, tick, ticks, pitch, push] = /^(\d+)\+(\d+)=(\d+)(~?)$/.exec(word) as unknown as string[]
    const startTick = Number(tick)
    const barIndex = startTick < 1920 ? 0 : 1
    const slot = { ...some.notes[0]!.slot, startTick, ticks: Number(ticks), barIndex, pushed: push === '~' }
    return {
      ...some.notes[0]!,
      slot: { ...slot, changeIndex: barIndex },
      pitch: Number(pitch),
      source: 'pattern' as const,
    }
  })
  return { ...some, notes, ghosts: [] }
}

describe('what must never happen', () => {
  // C2 is 36, F1 is 29; root, fifth and root on one, three and four of each bar.
  const PLAIN = '0+960=36 960+480=43 1440+480=36 1920+960=29 2880+480=36 3360+480=29'
  const GRAMMAR: readonly (readonly [row: string, breach: string])[] = [
    ['leap-over 12', '0+960=36 960+480=49 1440+480=48 1920+960=29 2880+480=36 3360+480=29'],
    ['notes-over 3', '0+960=36 960+240=43 1200+240=43 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
    ['degree 3 one', '0+960=40 960+480=43 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
    ['degree 4 one', '0+960=41 960+480=43 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
    ['degree x mid', '0+960=36 960+480=42 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
    ['only 1 one', '0+960=43 960+480=43 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
    ['rest one', '480+480=36 960+480=43 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
    ['rest mid', '0+1440=36 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
    ['rest four', '0+960=36 960+960=43 1920+960=29 2880+480=36 3360+480=29'],
    ['finer-than eighth', '0+960=36 960+480=43 1440+360=36 1800+120=36 1920+960=29 2880+480=36 3360+480=29'],
    ['push', '0+960=36 960+480=43 1440+1440=29~ 2880+480=36 3360+480=29'],
    ['one-degree', '0+960=36 960+480=36 1440+480=36 1920+960=29 2880+480=36 3360+480=29'],
  ]

  it.each(GRAMMAR)('%s is kept by root, fifth and root, and found where it is broken', (row, breach) => {
    expect(breachesOf([row], FORM, lineIn(PLAIN))).toEqual([])
    expect(breachesOf([row], FORM, lineIn(breach))).toEqual([`bar 1: ${row}`])
  })

  it('strike one begins with the second bar, and a push sounds on it without a stroke', () => {
    expect(breachesOf(['strike one'], FORM, lineIn(PLAIN))).toEqual(['bar 2: strike one'])
    const pushed = lineIn('0+960=36 960+480=43 1440+1440=29~ 2880+480=36 3360+480=29')
    expect(breachesOf(['strike one', 'rest one'], FORM, pushed)).toEqual([])
  })
})
