import { IMPOSSIBLE } from '../search/trellis.ts'
import type { Identities, NeckEdge, NeckLayer } from './neck-problem.ts'

/** Tracks that go on in the same ways, up to a constant: those ways are worked out once for all of them. */
export interface Group {
  readonly ways: readonly NeckEdge[]
  readonly members: readonly Member[]
  /** of any member, rising */
  readonly places: Int32Array
}

/** A track with what it pays more than its group. */
interface Member {
  readonly track: number
  readonly more: number
}

/** Tracks that go on in ways of the same costs, up to a constant. */
interface Alike {
  readonly ways: readonly NeckEdge[]
  /** numbers of what the ways are apart from their costs */
  readonly kinds: readonly number[]
  readonly least: number
  readonly members: Member[]
}

/** Fewer lists of ways than this are not worth taking apart. */
const FEW = 3

/**
 * The groups of a layer. Every way of a track is in one of its groups for what it costs, in others for no less.
 *
 * Tracks whose ways lead to the same places for different costs (their own pattern again, or any other for more) share a group at the
 * dearest of these costs, and have what is cheaper in one of their own: so many and as many, not so many times as many.
 *
 * @param edges   the ways on, by track
 * @param tracks  the places of each track
 */
export function groupsOf(
  edges: readonly (readonly NeckEdge[])[],
  tracks: NeckLayer['tracks'],
  identities: Identities,
): readonly Group[] {
  const alike = alikeOf(edges, identities)
  const lists = new Map<number, number>()
  for (const { kinds } of alike) for (const kind of new Set(kinds)) lists.set(kind, (lists.get(kind) ?? 0) + 1)
  // By what they have in common with others.
  const families = new Map<string, Alike[]>()
  for (const one of alike) {
    const shared = one.kinds.filter((kind) => lists.get(kind)! >= FEW).join()
    const family = families.get(shared)
    if (family) family.push(one)
    else families.set(shared, [one])
  }
  const groups: Group[] = []
  const add = (ways: readonly NeckEdge[], members: readonly Member[]): void => {
    if (ways.length === 0) return
    const places = new Set<number>()
    for (const { track } of members) for (const place of tracks[track]!) places.add(place)
    groups.push({ ways, members, places: Int32Array.from(places).sort() })
  }
  for (const family of families.values()) {
    const apart = family.length >= FEW ? takenApart(family, (kind) => lists.get(kind)! >= FEW) : undefined
    if (apart) for (const { ways, members } of apart) add(ways, members)
    else for (const { ways, members } of family) add(ways, members)
  }
  return groups
}

function alikeOf(edges: readonly (readonly NeckEdge[])[], identities: Identities): readonly Alike[] {
  const kinds = new Map<string, number>()
  // Tracks share edges with others, and most of them whole lists of edges.
  const kindOfEdge = new Map<NeckEdge, number>()
  const kindOf = (edge: NeckEdge): number => {
    const known = kindOfEdge.get(edge)
    if (known !== undefined) return known
    const { to, places, intervals, joins } = edge
    const key = `${to},${identities.of(places)},${intervals ?? ''},${identities.of(joins)}`
    const kind = kinds.get(key) ?? kinds.size
    kinds.set(key, kind)
    kindOfEdge.set(edge, kind)
    return kind
  }
  const byKey = new Map<string, Alike>()
  const byWays = new Map<readonly NeckEdge[], { readonly alike: Alike; readonly more: number }>()
  for (const [track, ways] of edges.entries()) {
    const shared = byWays.get(ways)
    if (shared) {
      shared.alike.members.push({ track, more: shared.more })
      continue
    }
    let least = IMPOSSIBLE
    for (const edge of ways) if (edge.cost < least) least = edge.cost
    const own = ways.map(kindOf)
    let key = ''
    for (let i = 0; i < ways.length; i++) key += `${own[i]}:${ways[i]!.cost - least};`
    const alike = byKey.get(key) ?? { ways, kinds: own, least, members: [] }
    byKey.set(key, alike)
    const more = ways.length > 0 ? least - alike.least : 0
    byWays.set(ways, { alike, more })
    alike.members.push({ track, more })
  }
  return [...byKey.values()]
}

/** What a family has in common, once, and what each has cheaper or alone; `undefined` where that is no less work. */
function takenApart(
  family: readonly Alike[],
  isShared: (kind: number) => boolean,
): readonly Pick<Group, 'ways' | 'members'>[] | undefined {
  const common = (alike: Alike) => alike.ways.filter((_, i) => isShared(alike.kinds[i]!))
  const first = common(family[0]!)
  if (first.length < FEW) return undefined
  // Against the dearest of their own, so that one way that is cheap for each does not lift the others.
  const levels = family.map((alike) => Math.max(...common(alike).map(({ cost }) => cost)))
  const base = first.map(() => -IMPOSSIBLE)
  for (const [k, alike] of family.entries()) {
    for (const [i, { cost }] of common(alike).entries()) base[i] = Math.max(base[i]!, cost - levels[k]!)
  }
  const lowest = Math.min(...base)
  const ways = first.map((edge, i): NeckEdge => ({ ...edge, cost: base[i]! - lowest }))
  const members: Member[] = []
  const own: Pick<Group, 'ways' | 'members'>[] = []
  let left = 0
  for (const [k, alike] of family.entries()) {
    const level = levels[k]! + lowest
    let i = 0
    const apart = alike.ways.filter((edge, at) => !isShared(alike.kinds[at]!) || edge.cost - levels[k]! < base[i++]!)
    left += apart.length
    if (apart.length > 0) own.push({ ways: apart, members: alike.members })
    for (const { track, more } of alike.members) members.push({ track, more: more + level })
  }
  const before = family.reduce((sum, { ways }) => sum + ways.length, 0)
  return first.length + left < before ? [{ ways, members }, ...own] : undefined
}
