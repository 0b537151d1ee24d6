import type { WalkRequest } from '../../src/line/walk/problem.ts'
import { type Fingered, NEVER, WalkScore } from './walk-scorer.ts'
import { fingeringsOf } from './walk-trials.ts'

/**
 * The choice of a walking line as a program in whole numbers for a general solver, in the text format that such solvers read: which
 * fingering each slot has, which follows which, and what hangs on more than two notes, each said by itself.
 *
 * It holds for requests without patterns, and without rules that have a memory.
 */
export function programOf(request: WalkRequest): string {
  const score = new WalkScore(request)
  const { length } = score
  const all = fingeringsOf(request)
  const cost: string[] = []
  const rules: string[] = []
  const whole: string[] = []
  const open = Array.from({ length }, (_, i) =>
    all.flatMap((note, at) => (score.note(i, note) < NEVER ? [{ note, at }] : [])),
  )
  for (const [i, here] of open.entries()) {
    whole.push(...here.map(({ at }) => `y${i}_${at}`))
    cost.push(...here.map(({ note, at }) => `${score.note(i, note)} y${i}_${at}`))
    rules.push(here.length > 0 ? `${sum(here.map(({ at }) => `y${i}_${at}`))} = 1` : 'none >= 1')
  }
  // Which fingering follows which: one step out of each, one step into each.
  const moves = new Map<string, string[]>()
  for (let i = request.loop ? 0 : 1; i < length; i++) {
    const from = open[(i + length - 1) % length]!
    const here = open[i]!
    const out = new Map(from.map(({ at }) => [at, [] as string[]]))
    const into = new Map(here.map(({ at }) => [at, [] as string[]]))
    for (const a of from) {
      for (const b of here) {
        const points = score.step(i, a.note, b.note)
        if (points === NEVER) continue
        const x = `x${i}_${a.at}_${b.at}`
        cost.push(`${points} ${x}`)
        out.get(a.at)!.push(x)
        into.get(b.at)!.push(x)
        const move = `${i} ${moveOf(a.note, b.note)}`
        moves.set(move, [...(moves.get(move) ?? []), x])
      }
    }
    const before = (i + length - 1) % length
    for (const [at, ways] of out) rules.push(`${sum(ways)} - y${before}_${at} = 0`)
    for (const [at, ways] of into) rules.push(`${sum(ways)} - y${i}_${at} = 0`)
  }
  // A move after a move.
  for (const pair of score.movePairs()) {
    const { to, from } = pair
    for (const a of MOVES) {
      for (const b of MOVES) {
        const points = score.moveAfter(pair, a, b)
        const [earlier, later] = [moves.get(`${from} ${a}`), moves.get(`${to} ${b}`)]
        if (points === 0 || !earlier || !later) continue
        const z = `z${to}_${MOVES.indexOf(a)}_${MOVES.indexOf(b)}`
        cost.push(`${points} ${z}`)
        rules.push(`${z} ${minus(earlier)} ${minus(later)} >= -1`)
      }
    }
  }
  // What a chord leaves unsaid.
  for (const [k, { slots, isHeard, points }] of score.owedTones().entries()) {
    const said = slots.flatMap((i) => open[i]!.flatMap(({ note, at }) => (isHeard(note.pitch) ? [`y${i}_${at}`] : [])))
    cost.push(`${points} h${k}`)
    rules.push(`h${k} ${said.map((y) => `+ ${y}`).join(' ')} >= 1`)
  }
  const rows = rules.map((rule, i) => `r${i}: ${rule}`)
  return [
    'Minimize',
    `obj: ${cost.join('\n + ')}`,
    'Subject To',
    ...rows,
    'Bounds',
    'none <= 0',
    'Binary',
    ...whole,
    'End',
    '',
  ].join('\n')
}

const sum = (names: readonly string[]): string => (names.length > 0 ? names.join(' + ') : '0 none')
const minus = (names: readonly string[]): string => names.map((name) => `- ${name}`).join(' ')

/** An interval stands for its kind of move: none, up and down by a step, a third, a leap. */
const MOVES = [0, 1, -1, 3, -3, 5, -5]

function moveOf(from: Fingered, to: Fingered): number {
  const interval = to.pitch - from.pitch
  const size = Math.abs(interval)
  const kind = size === 0 ? 0 : size <= 2 ? 1 : size <= 4 ? 3 : 5
  return interval < 0 ? -kind : kind
}
