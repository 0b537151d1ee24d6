import type { Page } from 'playwright'

// What is measured on the page as it stands: by position on the screen and by what a finger would hit, not by its code.

/** Something that stands where it should not, for a failing test to show. */
export interface Finding {
  readonly what: string
  readonly where: string
}

/** What reaches over the left or right edge of the screen and cannot be scrolled to in a part of the page made for it. */
export function overTheEdge(page: Page): Promise<readonly Finding[]> {
  return page.evaluate(() => {
    const found: { what: string; where: string }[] = []
    const wide = document.scrollingElement!
    if (wide.scrollWidth > wide.clientWidth) {
      found.push({ what: 'the page', where: `${wide.scrollWidth} px wide on ${wide.clientWidth}` })
    }
    const visit = (node: ParentNode, scrolls: boolean) => {
      for (const element of node.children) {
        if (!element.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue
        const style = getComputedStyle(element)
        const inside = scrolls || ['auto', 'scroll', 'hidden', 'clip'].includes(style.overflowX)
        const { left, right, width, height } = element.getBoundingClientRect()
        const unseen = style.clipPath !== 'none' || width * height <= 1
        if (!inside && !unseen && (left < -1 || right > innerWidth + 1)) {
          found.push({ what: element.localName, where: `${left.toFixed(0)} to ${right.toFixed(0)}` })
        }
        visit(element.shadowRoot ?? element, inside)
        if (element.shadowRoot) visit(element, inside)
      }
    }
    visit(document.body, false)
    return found
  })
}

/**
 * What can be pressed and is smaller than a fingertip: less than `least` CSS pixels wide or high, measured by pressing at
 * points around its middle and seeing what is hit. Notes of the part are left out: where they stand closer, the nearest wins.
 */
export function smallTargets(page: Page, least: number): Promise<readonly Finding[]> {
  return page.evaluate((leastSide) => {
    const ROLES = 'button, a[href], input, select, textarea, summary, [role], [contenteditable="true"], [tabindex]'
    const PRESSED = [
      'button',
      'link',
      'slider',
      'checkbox',
      'radio',
      'switch',
      'tab',
      'option',
      'menuitem',
      'spinbutton',
    ]
    const hitAt = (x: number, y: number): Element | null => {
      let hit = document.elementFromPoint(x, y)
      while (hit?.shadowRoot) {
        const inner = hit.shadowRoot.elementFromPoint(x, y)
        if (!inner || inner === hit) break
        hit = inner
      }
      return hit
    }
    const within = (node: Node | null, target: Element): boolean => {
      for (let at = node; at; at = at.parentNode ?? (at as ShadowRoot).host ?? null) if (at === target) return true
      return false
    }
    const found: { what: string; where: string }[] = []
    // A leaf that is lifted over the page: what lies under it cannot be pressed until it is laid back.
    const leaves: Element[] = []
    const measure = (target: Element) => {
      target.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' })
      const { left, right, top, bottom } = target.getBoundingClientRect()
      const under = leaves.some((leaf) => {
        const over = leaf.getBoundingClientRect()
        return !within(target, leaf) && over.top < bottom && over.bottom > top && over.left < right && over.right > left
      })
      if (under) return
      const [x, y] = [(left + right) / 2, (top + bottom) / 2]
      const label = target.closest('label')
      const hits = (dx: number, dy: number) => {
        const hit = hitAt(x + dx, y + dy)
        return within(hit, target) || (label !== null && within(hit, label))
      }
      const reach = (dx: number, dy: number) => {
        let far = 0
        while (far < 400 && hits(dx * (far + 1), dy * (far + 1))) far++
        return far
      }
      if (!hits(0, 0)) {
        found.push({ what: nameOf(target), where: `is covered by ${hitAt(x, y)?.localName ?? 'nothing'}` })
        return
      }
      const [width, height] = [reach(-1, 0) + reach(1, 0) + 1, reach(0, -1) + reach(0, 1) + 1]
      if (Math.min(width, height) < leastSide - 1) found.push({ what: nameOf(target), where: `${width} × ${height}` })
    }
    const nameOf = (target: Element) =>
      `${target.localName} “${target.getAttribute('aria-label') ?? target.textContent?.trim().slice(0, 40)}”`
    const visit = (node: ParentNode) => {
      for (const element of node.children) {
        if (!element.checkVisibility({ visibilityProperty: true })) continue
        const role = element.getAttribute('role')
        const pressed =
          element.matches(ROLES) &&
          (role === null || PRESSED.includes(role)) &&
          !element.matches('[tabindex="-1"]:not(button)')
        const { width, height } = element.getBoundingClientRect()
        const ofThePart = element.closest('svg') !== null
        if (pressed && !ofThePart && !element.shadowRoot && !element.matches(':disabled') && width * height > 1)
          measure(element)
        if (element.shadowRoot) visit(element.shadowRoot)
        visit(element)
      }
    }
    const lift = (root: ParentNode) => {
      for (const element of root.querySelectorAll('*')) {
        const isLeaf = element.localName === 'aside' && element.checkVisibility()
        if (isLeaf && ['absolute', 'fixed'].includes(getComputedStyle(element).position)) leaves.push(element)
        if (element.shadowRoot) lift(element.shadowRoot)
      }
    }
    lift(document)
    visit(document.body)
    return found
  }, least)
}

/**
 * The texts of the drawn part that touch another one, measured by the ink of their letters: symbols, figures of the tab,
 * degrees, numbers, letters, words. The runs of one symbol, and a degree and its sign, are set as one text; signs on the staff
 * are engraved through each other and do not count.
 */
export function touchingTexts(page: Page): Promise<readonly Finding[]> {
  return page.evaluate(() => {
    const brush = document.createElement('canvas').getContext('2d')!
    const inks: { text: string; whole: Element; left: number; top: number; right: number; bottom: number }[] = []
    const isOnStaff = (text: Element) =>
      text.closest('.engraved') !== null ||
      (text.matches('.sign') && Number(text.getAttribute('font-size')) >= 40) ||
      text.matches('.triplet')
    const wholeOf = (text: Element): Element => {
      const next = text.nextElementSibling
      return text.closest('.symbol') ?? (text.matches('.sign') && next?.matches('.degree') ? next : text)
    }
    const measure = (text: SVGTextElement) => {
      const style = getComputedStyle(text)
      const letters = text.textContent ?? ''
      if (letters.trim() === '' || isOnStaff(text) || !text.checkVisibility()) return
      brush.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`
      const size = brush.measureText(letters)
      const { x, y } = text.getStartPositionOfChar(0)
      const screen = text.getScreenCTM()!
      const corner = (dx: number, dy: number) => new DOMPoint(x + dx, y + dy).matrixTransform(screen)
      const from = corner(-size.actualBoundingBoxLeft, -size.actualBoundingBoxAscent)
      const to = corner(size.actualBoundingBoxRight, size.actualBoundingBoxDescent)
      inks.push({ text: letters, whole: wholeOf(text), left: from.x, top: from.y, right: to.x, bottom: to.y })
    }
    const visit = (node: ParentNode) => {
      for (const element of node.children) {
        if (element instanceof SVGTextElement) measure(element)
        visit(element)
      }
    }
    const drawing = (root: ParentNode): ShadowRoot | undefined => {
      for (const element of root.querySelectorAll('*')) {
        const { localName, shadowRoot } = element
        const found = localName === 'drawn-part' ? shadowRoot : shadowRoot && drawing(shadowRoot)
        if (found) return found
      }
      return undefined
    }
    visit(drawing(document)!)
    if (inks.length === 0) return [{ what: 'no text at all', where: 'in the part' }]
    const touching: { what: string; where: string }[] = []
    for (const [i, one] of inks.entries()) {
      for (const other of inks.slice(i + 1)) {
        if (one.whole === other.whole) continue
        const across = Math.min(one.right, other.right) - Math.max(one.left, other.left)
        const down = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top)
        if (across <= 0.25 || down <= 0.25) continue
        const where = `at ${one.left.toFixed(0)}, ${one.top.toFixed(0)}: ${across.toFixed(1)} × ${down.toFixed(1)} px`
        touching.push({ what: `“${one.text}” and “${other.text}”`, where })
      }
    }
    return touching
  })
}
