/**
 * A smallest set of demands that cannot hold together: it is infeasible, and feasible with any one of them removed. `undefined`
 * if all of them hold together; empty if nothing holds even without them.
 *
 * QuickXplain (Junker 2004, "Preferred explanations and relaxations for over-constrained problems"): about
 * `k log(n / k)` checks for a set of k. Later demands are blamed before earlier ones. A demand may even make another possible: so
 * in the end each is tried without.
 *
 * @param feasible  whether these demands can hold together
 */
export function smallestConflict<T>(
  demands: readonly T[],
  feasible: (some: readonly T[]) => boolean,
): readonly T[] | undefined {
  if (feasible(demands)) return undefined
  if (!feasible([])) return []
  const explain = (background: readonly T[], added: boolean, rest: readonly T[]): readonly T[] => {
    if (added && !feasible(background)) return []
    if (rest.length === 1) return rest
    const half = rest.length >> 1
    const first = rest.slice(0, half)
    const second = rest.slice(half)
    const fromSecond = explain([...background, ...first], true, second)
    const fromFirst = explain([...background, ...fromSecond], fromSecond.length > 0, first)
    return [...fromFirst, ...fromSecond]
  }
  // The algorithm blames what comes first in its list.
  let blamed = [...explain([], false, [...demands].reverse())].reverse()
  for (;;) {
    const idle = blamed.length > 1 && blamed.find((one) => !feasible(blamed.filter((other) => other !== one)))
    if (!idle) return blamed
    blamed = blamed.filter((other) => other !== idle)
  }
}
