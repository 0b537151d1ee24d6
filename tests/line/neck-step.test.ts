import { describe, expect, it } from 'vitest'
import { costAfter, MOVES, moveOf, NO_MOVE } from '../../src/line/move.ts'
import { type Neck, neckOf, reachOf } from '../../src/line/neck.ts'
import {
  acrossCost,
  acrossCosts,
  Identities,
  type NeckEdge,
  type NeckLayer,
  type NeckProblem,
  pitchRange,
  shiftCost,
  stretchCost,
} from '../../src/line/neck-problem.ts'
import { NeckTrellis } from '../../src/line/neck-step.ts'
import type { WalkTable } from '../../src/line/walk/table.ts'
import type { Instrument } from '../../src/music/instrument.ts'
import { instrumentOf } from '../../src/music/instruments.ts'
import { bestPath, costsToGo, leastCost } from '../../src/search/cost-to-go.ts'
import { ExcessGraph } from '../../src/search/excess.ts'
import { IMPOSSIBLE } from '../../src/search/trellis.ts'
import { randomFrom } from '../support/random.ts'

const INSTRUMENT: Instrument = {
  id: 'test',
  name: 'test',
  open: [28, 33, 38],
  frets: 12,
  scale: 8636,
  hand: 'one-finger-per-fret',
  octaveWritten: -1,
}

const HAND = {
  move: 2,
  perStep: 1,
  hurried: 1,
  stretch: 1,
  openString: 1,
  highFret: 1,
  skippedString: 3,
  halfStepAcross: 2,
  outOfShape: 3,
  otherString: 4,
}

interface Fretted {
  readonly track: number
  readonly place: number
  readonly hand: number
}

/** A random problem on a short neck: two tracks, moves remembered on some layers only, a few edges with conditions. */
function randomProblem(seed: number, loop: boolean): { problem: NeckProblem; neck: Neck } {
  const random = randomFrom(seed)
  const strings = 2 + random(2)
  const from = random(3)
  const neck = neckOf({ ...INSTRUMENT, open: INSTRUMENT.open.slice(0, strings) }, { from, to: from + 4 + random(2) })
  const { width } = pitchRange(neck)
  const length = 3
  const cost = () => (random(6) === 0 ? IMPOSSIBLE : random(8))
  const some = () => {
    const places = neck.places.map((_, i) => i).filter(() => random(3) > 0)
    return Int32Array.from(places.length > 0 ? places : [0])
  }
  const hands = neck.highestHand - neck.lowestHand + 1
  const byHands = () => Int32Array.from({ length: hands * hands }, cost)
  const layers: NeckLayer[] = Array.from({ length }, () => ({
    placeCost: Int32Array.from(neck.places, cost),
    tracks: [some(), some()],
    remembersMove: random(4) > 0,
    hurried: random(2) === 0,
    handRules: random(3) === 0 ? { fretted: byHands(), open: byHands() } : undefined,
  }))
  const edges = layers.map((_, t) =>
    [0, 1].map(() =>
      Array.from({ length: 1 + random(2) }, (): NeckEdge => {
        const to = random(2)
        const target = layers[(t + 1) % length]!.tracks[to]!
        return {
          to,
          cost: random(4),
          ...(random(3) === 0 ? { places: target.filter((_, i) => i % 2 === 0 || target.length < 3) } : {}),
          ...(random(3) === 0 ? { intervals: [-7, -5, -2, -1, 0, 1, 2, 5, 7] } : {}),
          ...(random(4) === 0 ? { joins: Uint8Array.from({ length: width * width }, () => random(2)) } : {}),
        }
      }),
    ),
  )
  const row = () => ({ repeat: random(5), step: random(5), third: random(5), leap: random(5) })
  const table: WalkTable['after'] = {
    leap: { on: row(), back: row() },
    third: { on: row(), back: row() },
    step: { on: row(), back: row() },
    repeat: { move: random(5), repeat: random(20) },
  }
  const after = new Int32Array(MOVES * MOVES)
  for (let a = 0; a < MOVES; a++) for (let b = 0; b < MOVES; b++) after[a * MOVES + b] = costAfter(table, a, b)
  const hand = {
    move: random(4),
    perStep: random(3),
    hurried: random(2),
    stretch: random(3),
    openString: 0,
    highFret: 0,
    skippedString: random(4),
    halfStepAcross: random(4),
    outOfShape: random(4),
    otherString: random(5),
  }
  const pair = layers.map(() => Int32Array.from({ length: width * width }, cost))
  const identities = new Identities()
  const across = acrossCosts(hand, neck)
  const problem = {
    neck,
    hand,
    across,
    after,
    layers,
    edges,
    pair,
    startCost: [0, 2],
    endCost: [1, 0],
    loop,
    identities,
  }
  return { problem, neck }
}

/** What every line costs, straight from the definitions. */
function everyLine(problem: NeckProblem): { cost: number; pitches: number[] }[] {
  const { neck, layers, edges, pair, after, hand, startCost, endCost, loop } = problem
  const { base, width } = pitchRange(neck)
  const states = layers.map((layer) =>
    layer.tracks.flatMap((places, track) =>
      [...places].flatMap((place): Fretted[] => {
        if (layer.placeCost[place]! >= IMPOSSIBLE) return []
        const { lowestHand, highestHand } = neck.places[place]!
        return Array.from({ length: highestHand - lowestHand + 1 }, (_, h) => ({ track, place, hand: lowestHand + h }))
      }),
    ),
  )
  const step = (t: number, a: Fretted, b: Fretted): number => {
    const x = neck.places[a.place]!
    const y = neck.places[b.place]!
    const ways = edges[t]![a.track]!.filter(
      (edge) =>
        edge.to === b.track &&
        (!edge.places || edge.places.includes(b.place)) &&
        (!edge.intervals || edge.intervals.includes(y.pitch - x.pitch)) &&
        (!edge.joins || edge.joins[(x.pitch - base) * width + y.pitch - base] === 1),
    )
    if (ways.length === 0) return IMPOSSIBLE
    const target = layers[(t + 1) % layers.length]!
    return (
      Math.min(...ways.map((edge) => edge.cost)) +
      pair[t]![(x.pitch - base) * width + y.pitch - base]! +
      acrossCost(hand, x, y) +
      shiftCost(hand, neck, a.hand, b.hand, x.fret, target.hurried) +
      (target.handRules?.[x.fret === 0 ? 'open' : 'fretted'][
        (a.hand - neck.lowestHand) * (neck.highestHand - neck.lowestHand + 1) + b.hand - neck.lowestHand
      ] ?? 0)
    )
  }
  const lines: { cost: number; pitches: number[] }[] = []
  const pitchOf = (state: Fretted) => neck.places[state.place]!.pitch
  const moveAt = (line: readonly Fretted[], t: number): number => {
    // The last move that was remembered, up to slot t.
    for (let slot = t; slot > 0; slot--)
      if (layers[slot]!.remembersMove) return moveOf(pitchOf(line[slot]!) - pitchOf(line[slot - 1]!))
    return NO_MOVE
  }
  for (const a of states[0]!)
    for (const b of states[1]!)
      for (const c of states[2]!) {
        const line = [a, b, c]
        let cost = startCost[a.track]! + (loop ? 0 : endCost[c.track]!)
        for (const [t, state] of line.entries()) {
          cost += layers[t]!.placeCost[state.place]! + stretchCost(hand, neck.places[state.place]!, state.hand)
          if (t === 0) continue
          cost += step(t - 1, line[t - 1]!, state)
          const before = moveAt(line, t - 1)
          if (layers[t]!.remembersMove && !loop)
            cost += after[before * MOVES + moveOf(pitchOf(state) - pitchOf(line[t - 1]!))]!
        }
        if (loop) {
          // Round and round: every layer remembers its move here, so the move before is always the one before.
          cost += step(2, c, a)
          for (let t = 0; t < 3; t++) {
            const [x, y, z] = [line[(t + 1) % 3]!, line[(t + 2) % 3]!, line[t]!]
            cost += after[moveOf(pitchOf(y) - pitchOf(x)) * MOVES + moveOf(pitchOf(z) - pitchOf(y))]!
          }
        }
        if (cost < IMPOSSIBLE) lines.push({ cost, pitches: line.map(pitchOf) })
      }
  return lines
}

describe('the trellis on a neck', () => {
  it('finds the cheapest of all fingered lines', () => {
    let without = 0
    for (let seed = 1; seed <= 60; seed++) {
      const { problem } = randomProblem(seed, false)
      const trellis = new NeckTrellis(problem)
      const toGo = costsToGo(trellis)
      const all = everyLine(problem)
      const least = all.length > 0 ? Math.min(...all.map(({ cost }) => cost)) : IMPOSSIBLE
      expect(leastCost(trellis, toGo), `seed ${seed}`).toBe(least)
      const path = bestPath(trellis, toGo)
      if (!path) {
        without++
        continue
      }
      const pitches = path.map((state, layer) => trellis.label(layer, state))
      expect(all.filter(({ cost }) => cost === least).map((line) => line.pitches.join())).toContain(pitches.join())
    }
    expect(without).toBeLessThan(30)
  })

  it('closes a loop at the least cost, the moves over the seam included', () => {
    let closed = 0
    for (let seed = 1; seed <= 40; seed++) {
      const made = randomProblem(seed, true)
      const layers = made.problem.layers.map((layer) => ({ ...layer, remembersMove: true }))
      const problem = { ...made.problem, layers }
      const trellis = new NeckTrellis(problem)
      const graph = new ExcessGraph(trellis, costsToGo(trellis))
      const found = graph.cheapest({ others: [], closing: trellis.closing }, [5, 20, 80, 300])
      const all = everyLine(problem)
      if (all.length === 0) {
        expect(found.kind, `seed ${seed}`).toBe('none')
        continue
      }
      expect(found.kind === 'path' && found.cost, `seed ${seed}`).toBe(Math.min(...all.map(({ cost }) => cost)))
      closed++
    }
    expect(closed).toBeGreaterThan(20)
  })

  it('steps forwards and backwards alike', () => {
    for (let seed = 101; seed <= 115; seed++) {
      const { problem } = randomProblem(seed, false)
      const trellis = new NeckTrellis(problem)
      const toGo = costsToGo(trellis)
      for (let state = 0; state < trellis.size(0); state++) {
        let least = IMPOSSIBLE
        if (problem.layers[0]!.placeCost[trellis.stateOf(0, state).place]! >= IMPOSSIBLE) continue
        trellis.successors(0, state, (next, cost) => {
          least = Math.min(least, cost + toGo.at[1]![next]!)
        })
        expect(toGo.at[0]![state], `seed ${seed}, state ${state}`).toBe(least)
      }
    }
  })
})

describe('the neck', () => {
  it('gives each place the hands that reach it', () => {
    const neck = neckOf(INSTRUMENT, { from: 0, to: 5 })
    const rows = neck.places
      .filter((place) => place.string === 0)
      .map((place) => `${place.fret}: ${place.lowestHand}-${place.highestHand}`)
    expect(rows).toEqual(['0: 1-2', '1: 1-1', '2: 1-2', '3: 1-2', '4: 1-2', '5: 2-2'])
  })

  /** How many frets each hand has a finger for without effort, and with: `3 (4)`. */
  const handsOf = (id: string, hands: readonly number[]) =>
    hands.map((hand) => {
      const { frets, easily } = reachOf(instrumentOf(id)!, hand)
      return easily < frets ? `${hand}: ${easily} (${frets})` : `${hand}: ${frets}`
    })

  it('has a finger for each fret where they are no wider than a hand, and 1 2 4 or a stretch below', () => {
    expect(handsOf('four-string', [1, 3, 4, 12])).toEqual(['1: 3 (4)', '3: 3 (4)', '4: 4', '12: 4'])
    expect(handsOf('four-string-short-scale', [1, 2, 3, 4])).toEqual(['1: 3 (4)', '2: 4', '3: 4', '4: 4'])
    expect(handsOf('double-bass', [1, 5, 7, 8])).toEqual(['1: 3', '5: 3', '7: 3', '8: 4'])
  })

  it('charges a hand for a fourth fret low down, and for nothing high up', () => {
    const { places } = neckOf(instrumentOf('four-string')!, { from: 0, to: 12 })
    const at = (fret: number) => places.find((place) => place.string === 0 && place.fret === fret)!
    expect([4, 5, 6, 7].map((fret) => at(fret).stretched)).toEqual([true, true, true, false])
    expect(stretchCost({ ...HAND, stretch: 2 }, at(5), 2)).toBe(2)
    expect(stretchCost({ ...HAND, stretch: 2 }, at(5), 3)).toBe(0)
    expect(stretchCost({ ...HAND, stretch: 2 }, at(8), 5)).toBe(0)
  })

  it('charges a shift by how far it is, so that frets cost less high up, and more on longer strings', () => {
    const cost = (id: string, from: number, to: number) =>
      shiftCost(HAND, neckOf(instrumentOf(id)!, { from: 0, to: 12 }), from, to, 1, false)
    expect(cost('four-string', 1, 5)).toBe(2 + 4)
    expect(cost('four-string', 8, 12)).toBe(2 + 3)
    expect(cost('four-string-short-scale', 1, 7)).toBe(2 + 5)
    expect(cost('double-bass', 1, 7)).toBe(2 + 8)
    expect(cost('four-string', 12, 1)).toBe(cost('four-string', 1, 12))
    expect(cost('four-string', 3, 3)).toBe(0)
  })

  it('refuses frets that it does not have', () => {
    expect(() => neckOf(INSTRUMENT, { from: 3, to: 2 })).toThrow(RangeError)
    expect(() => neckOf(INSTRUMENT, { from: 0, to: 13 })).toThrow(RangeError)
  })
})
