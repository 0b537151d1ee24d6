/** A binary heap: the least is first. */
export class Heap<T> {
  #items: T[] = []
  readonly #comesFirst: (a: T, b: T) => boolean

  constructor(comesFirst: (a: T, b: T) => boolean) {
    this.#comesFirst = comesFirst
  }

  get size(): number {
    return this.#items.length
  }

  get first(): T | undefined {
    return this.#items[0]
  }

  clear(): void {
    this.#items = []
  }

  push(item: T): void {
    const items = this.#items
    let at = items.length
    items.push(item)
    while (at > 0) {
      const parent = (at - 1) >> 1
      if (!this.#comesFirst(item, items[parent]!)) break
      items[at] = items[parent]!
      at = parent
    }
    items[at] = item
  }

  pop(): T | undefined {
    const items = this.#items
    const first = items[0]
    const last = items.pop()
    if (first === undefined || last === undefined || items.length === 0) return first
    let at = 0
    for (;;) {
      let child = 2 * at + 1
      if (child >= items.length) break
      if (child + 1 < items.length && this.#comesFirst(items[child + 1]!, items[child]!)) child++
      if (!this.#comesFirst(items[child]!, last)) break
      items[at] = items[child]!
      at = child
    }
    items[at] = last
    return first
  }
}
