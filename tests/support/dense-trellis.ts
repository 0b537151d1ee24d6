import { IMPOSSIBLE, type Trellis } from '../../src/search/trellis.ts'
import { randomFrom } from './random.ts'

/** A trellis with every cost written out: the plain thing that fast ones are compared with. */
export interface DenseTrellis extends Trellis {
  /** cost of the step from a state of a layer to a state of the next */
  step(layer: number, from: number, to: number): number
  /** in a loop, the step from a last state back to a first one */
  close(last: number, first: number): number
}

/** A small trellis of random costs; about one step in five is impossible. In a loop the ends carry the least closing step. */
export function randomTrellis(seed: number, options: { layers: number; states: number; loop?: boolean }): DenseTrellis {
  const random = randomFrom(seed)
  const sizes = Array.from({ length: options.layers }, () => 1 + random(options.states))
  const cost = () => (random(5) === 0 ? IMPOSSIBLE : random(7))
  const table = (rows: number, columns: number) =>
    Array.from({ length: rows }, () => Array.from({ length: columns }, cost))
  const steps = sizes.slice(1).map((size, layer) => table(sizes[layer]!, size))
  const closing = table(sizes.at(-1)!, sizes[0]!)
  const labels = sizes.map((size) => Array.from({ length: size }, () => random(3)))
  const end = Int32Array.from(closing, (row) => (options.loop ? Math.min(...row) : random(4)))
  return {
    layers: options.layers,
    size: (layer) => sizes[layer]!,
    start: Int32Array.from({ length: sizes[0]! }, () => random(6)),
    end,
    step: (layer, from, to) => steps[layer]![from]![to]!,
    close: (last, first) => closing[last]![first]!,
    stepBack(layer, next, into) {
      for (const [from, row] of steps[layer]!.entries())
        into[from] = Math.min(IMPOSSIBLE, ...row.map((cost, to) => cost + next[to]!))
    },
    successors(layer, state, visit) {
      for (const [to, cost] of steps[layer]![state]!.entries()) if (cost < IMPOSSIBLE) visit(to, cost)
    },
    rank: (_, state) => state,
    label: (layer, state) => labels[layer]![state]!,
  }
}

/** Every path that is possible, with its cost; of loops if asked. */
export function everyPath(trellis: DenseTrellis, loop = false): { path: number[]; cost: number }[] {
  let paths = Array.from(trellis.start, (cost, state) => ({ path: [state], cost }))
  for (let layer = 0; layer + 1 < trellis.layers; layer++) {
    paths = paths.flatMap(({ path, cost }) =>
      Array.from({ length: trellis.size(layer + 1) }, (_, to) => ({
        path: [...path, to],
        cost: cost + trellis.step(layer, path.at(-1)!, to),
      })),
    )
  }
  return paths
    .map(({ path, cost }) => ({
      path,
      cost: cost + (loop ? trellis.close(path.at(-1)!, path[0]!) : trellis.end[path.at(-1)!]!),
    }))
    .filter(({ cost }) => cost < IMPOSSIBLE)
}
