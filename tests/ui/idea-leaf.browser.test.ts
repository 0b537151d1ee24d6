import '../../styles/page.css'
import axe from 'axe-core'
import { afterEach, describe, expect, it } from 'vitest'
import { userEvent } from 'vitest/browser'
import { unfold } from '../../src/chart/form.ts'
import { parseChart } from '../../src/chart/parse.ts'
import type { ReadPage } from '../../src/compose-messages.ts'
import { FEELS, feelOf } from '../../src/feels/feels.ts'
import { metreOf } from '../../src/music/metre.ts'
import { type EditWanted, IdeaLeaf, type WordHeard } from '../../src/ui/idea-leaf.ts'

const SHUFFLE = feelOf('shuffle')!
const OWN_CELLS = SHUFFLE.cells.map(({ id }) => id)
const OWN_PATTERNS = SHUFFLE.patterns.map(({ id }) => id)

afterEach(() => {
  document.body.replaceChildren()
  delete document.documentElement.dataset['theme']
})

function pageWith(changes: Partial<ReadPage> = {}): ReadPage {
  const { chart, diagnostics } = parseChart('| C7 |')
  return {
    title: undefined,
    key: undefined,
    metre: metreOf('4/4')!,
    tempoBpm: 120,
    feel: SHUFFLE,
    instrument: { id: 'four-string', name: 'four-string bass' },
    cells: OWN_CELLS,
    patterns: OWN_PATTERNS,
    form: unfold(chart).form,
    diagnostics,
    ...changes,
  }
}

/** The leaf below its heading, and all that it tells. */
async function leafWith(page: ReadPage): Promise<{ leaf: IdeaLeaf; wanted: EditWanted[]; heard: string[] }> {
  const leaf = new IdeaLeaf()
  const wanted: EditWanted[] = []
  const heard: string[] = []
  leaf.page = page
  leaf.addEventListener('edit-wanted', (event) => wanted.push((event as CustomEvent<EditWanted>).detail))
  for (const name of ['cell-heard', 'pattern-heard'])
    leaf.addEventListener(name, (event) => heard.push((event as CustomEvent<WordHeard>).detail.text))
  const heading = document.createElement('h2')
  heading.textContent = 'Idea'
  document.body.append(heading, leaf)
  // The feels come after first sight.
  if (page.feel) await expect.poll(() => all(leaf, 'p')[0]?.textContent).toContain(':')
  return { leaf, wanted, heard }
}

const all = (leaf: IdeaLeaf, selector: string) => [...leaf.shadowRoot!.querySelectorAll<HTMLElement>(selector)]
const named = (leaf: IdeaLeaf, text: string) => all(leaf, 'button').find((one) => one.textContent?.includes(text))!
const field = (leaf: IdeaLeaf, label: string) =>
  all(leaf, 'label')
    .find((one) => one.textContent?.includes(label))!
    .querySelector('input')!
const focused = (leaf: IdeaLeaf) => leaf.shadowRoot!.activeElement

describe('the feel', () => {
  it('is a word in a sentence, with what a player would say of it', async () => {
    const { leaf } = await leafWith(pageWith())
    expect(all(leaf, 'p')[0]?.textContent).toBe(`The feel is shuffle: ${SHUFFLE.note}.`)
  })

  it('is chosen from a list of all there are, in place', async () => {
    const { leaf, wanted } = await leafWith(pageWith())
    await userEvent.click(all(leaf, '.word')[0]!)
    expect(all(leaf, '.feels li')).toHaveLength(FEELS.length)
    expect(named(leaf, 'jazz waltz').textContent).toContain('3/4')
    await userEvent.click(named(leaf, 'bossa nova'))
    expect(wanted).toEqual([{ kind: 'feel', id: 'bossa-nova' }])
    await leaf.updateComplete
    expect(all(leaf, '.feels li')).toHaveLength(0)
  })

  it('is chosen with the keyboard alone', async () => {
    const { leaf, wanted } = await leafWith(pageWith())
    await userEvent.keyboard('{Tab}{Enter}')
    await expect.poll(() => focused(leaf)?.textContent).toContain('shuffle')
    await userEvent.keyboard('{ArrowDown}')
    const below = focused(leaf)?.querySelector('span')?.textContent
    await userEvent.keyboard('{Enter}')
    expect(wanted).toEqual([{ kind: 'feel', id: FEELS.find(({ name }) => name === below)!.id }])
    await expect.poll(() => focused(leaf)?.className).toBe('word')
    await userEvent.keyboard('{Enter}')
    await expect.poll(() => all(leaf, '.feels li').length).toBe(FEELS.length)
    await userEvent.keyboard('{Escape}')
    await expect.poll(() => focused(leaf)?.className).toBe('word')
    expect(all(leaf, '.feels li')).toHaveLength(0)
  })

  it('is asked for where none plays the metre', async () => {
    const { leaf } = await leafWith(pageWith({ feel: undefined, metre: metreOf('5/4')! }))
    expect(all(leaf, 'p')[0]?.textContent).toBe('No feel plays 5/4 yet. Take another feel.')
  })
})

describe('a cell', () => {
  it('is drawn, named in words, and pressed in where it is in force', async () => {
    const { leaf } = await leafWith(pageWith({ cells: ['four-quarters'] }))
    const cell = named(leaf, 'cell: four in the bar, 1 2 3 4')
    expect(cell.getAttribute('aria-pressed')).toBe('true')
    expect([...cell.querySelectorAll('.count')].map((one) => one.textContent)).toEqual(['1', '2', '3', '4'])
    expect(all(leaf, '.cell[aria-pressed=false]')).toHaveLength(OWN_CELLS.length - 1)
  })

  it('is heard when it is pressed, and joins those in force', async () => {
    const { leaf, wanted, heard } = await leafWith(pageWith({ cells: ['four-quarters'] }))
    await userEvent.click(named(leaf, 'cell: shuffle quarters, skip into one'))
    expect(heard).toEqual(['1 2 3 4. &'])
    expect(wanted).toEqual([{ kind: 'cells', words: ['four-quarters', 'shuffle-quarters-skip'] }])
  })

  it('leaves by another press, and the feel’s own come back with the last', async () => {
    const { leaf, wanted } = await leafWith(pageWith({ cells: ['four-quarters', 'walk-skip-four'] }))
    await userEvent.click(named(leaf, 'cell: four in the bar'))
    leaf.page = pageWith({ cells: ['walk-skip-four'] })
    await leaf.updateComplete
    await userEvent.click(named(leaf, 'cell: walk, skip after four'))
    expect(wanted).toEqual([
      { kind: 'cells', words: ['walk-skip-four'] },
      { kind: 'cells', words: [] },
    ])
  })

  it('completes the feel’s own, so that the text need not name them', async () => {
    const { leaf, wanted } = await leafWith(pageWith({ cells: OWN_CELLS.slice(1) }))
    await userEvent.click(all(leaf, '.cell[aria-pressed=false]')[0]!)
    expect(wanted).toEqual([{ kind: 'cells', words: [] }])
  })

  it('is the only one when the player begins anew', async () => {
    const { leaf, wanted } = await leafWith(pageWith())
    await userEvent.click(named(leaf, 'choose cells'))
    expect(all(leaf, '.cell[aria-pressed=true]')).toHaveLength(0)
    await userEvent.click(named(leaf, 'cell: four in the bar'))
    expect(wanted).toEqual([{ kind: 'cells', words: ['four-quarters'] }])
  })

  it('is found among all that fill a bar of the metre', async () => {
    const { leaf, wanted } = await leafWith(pageWith({ cells: ['four-quarters'] }))
    await userEvent.click(named(leaf, 'all cells'))
    const many = all(leaf, '.cell').length
    expect(many).toBeGreaterThan(60)
    await userEvent.fill(field(leaf, 'find'), 'tresillo')
    await leaf.updateComplete
    const found = all(leaf, '.all .cell')
    expect(found.length).toBeGreaterThan(0)
    expect(found.length).toBeLessThan(10)
    await userEvent.click(found[0]!)
    expect(wanted.at(-1)).toMatchObject({ kind: 'cells' })
    await userEvent.fill(field(leaf, 'find'), 'no such thing')
    await leaf.updateComplete
    expect(all(leaf, '.help')[0]?.textContent).toBe('There is no cell like that.')
  })

  it('of the player’s own is written as it is counted', async () => {
    const { leaf, wanted, heard } = await leafWith(pageWith({ cells: ['four-quarters'] }))
    await userEvent.click(named(leaf, 'all cells'))
    await userEvent.fill(field(leaf, 'A cell of your own'), '1 3 2')
    await leaf.updateComplete
    expect(all(leaf, '.wrong')[0]?.textContent).toBe('"2" goes back: places rise.')
    await userEvent.fill(field(leaf, 'A cell of your own'), '3/4: 1 2 3')
    await leaf.updateComplete
    expect(all(leaf, '.wrong')[0]?.textContent).toBe('This cell does not fill a bar of 4/4.')
    await userEvent.fill(field(leaf, 'A cell of your own'), '1> (&) 2& 4x')
    await userEvent.keyboard('{Enter}')
    expect(wanted).toEqual([{ kind: 'cells', words: ['four-quarters', '1> (&) 2& 4x'] }])
    expect(heard).toEqual(['1> (&) 2& 4x'])
  })

  it('of the player’s own is taken by its name where it has one', async () => {
    const { leaf, wanted } = await leafWith(pageWith({ cells: ['walk-skip-four'] }))
    await userEvent.click(named(leaf, 'all cells'))
    await userEvent.fill(field(leaf, 'A cell of your own'), ' 1 2  3 4 ')
    await userEvent.keyboard('{Enter}')
    expect(wanted).toEqual([{ kind: 'cells', words: ['walk-skip-four', 'four-quarters'] }])
  })

  it('of the player’s own stands among the others, pressed in', async () => {
    const { leaf } = await leafWith(pageWith({ cells: ['1> & 3'] }))
    expect(named(leaf, 'cell: 1 and 3').getAttribute('aria-pressed')).toBe('true')
  })
})

describe('a pattern', () => {
  it('is printed in degrees, named in words, and heard when it is pressed', async () => {
    const { leaf, wanted, heard } = await leafWith(pageWith({ patterns: ['root-only', '1 v5 b7 h- >1'] }))
    const own = named(leaf, 'pattern: 1, low 5, flat 7, half step from below, 1 of the next chord')
    expect(own.getAttribute('aria-pressed')).toBe('true')
    expect(own.querySelector('.pattern-degrees')?.textContent).toBe('1 5 ♭7 h ›1')
    await userEvent.click(own)
    expect(wanted).toEqual([{ kind: 'patterns', words: ['root-only'] }])
    expect(heard).toEqual(['1 v5 b7 h- >1'])
  })

  it('is found by what it is for, and written by hand', async () => {
    const { leaf, wanted } = await leafWith(pageWith({ patterns: ['root-only'] }))
    await userEvent.click(named(leaf, 'all patterns'))
    await userEvent.fill(field(leaf, 'find'), 'bebop-dominant')
    await leaf.updateComplete
    await userEvent.click(all(leaf, '.all .chip')[0]!)
    expect(wanted).toEqual([{ kind: 'patterns', words: ['root-only', 'bebop-dominant-fall'] }])
    await userEvent.fill(field(leaf, 'A pattern of your own'), '1 3 99')
    await leaf.updateComplete
    expect(all(leaf, '.wrong')[0]?.textContent).toContain('degrees go from 1 to 15')
    await userEvent.fill(field(leaf, 'A pattern of your own'), '1 b3 v5 h+')
    await userEvent.keyboard('{Enter}')
    expect(wanted.at(-1)).toEqual({ kind: 'patterns', words: ['root-only', '1 b3 v5 h+'] })
  })

  it('of the feel is named by the text where the player completes them: in a walking line those are in force', async () => {
    const { leaf, wanted } = await leafWith(pageWith({ patterns: OWN_PATTERNS.slice(0, -1) }))
    await userEvent.click(all(leaf, '.chip[aria-pressed=false]')[0]!)
    expect(wanted).toEqual([{ kind: 'patterns', words: OWN_PATTERNS }])
  })
})

describe.each(['paper', 'stage'])('on %s', (theme) => {
  it('nothing hinders a reader of any kind', async () => {
    document.documentElement.dataset['theme'] = theme
    document.documentElement.lang = 'en-GB'
    const { leaf } = await leafWith(pageWith({ cells: ['four-quarters', '1 &x 3~'] }))
    await userEvent.click(all(leaf, '.word')[0]!)
    await userEvent.click(named(leaf, 'all patterns'))
    await userEvent.fill(field(leaf, 'A pattern of your own'), 'x')
    await leaf.updateComplete
    const { violations } = await axe.run(document.body, { rules: { region: { enabled: false } } })
    const own = violations.filter(
      ({ id }) => !['landmark-one-main', 'page-has-heading-one', 'document-title'].includes(id),
    )
    expect(own.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([])
  })
})

it('What a finger is to hit is 44 pixels high on a tablet', async () => {
  const { leaf } = await leafWith(pageWith())
  await userEvent.click(all(leaf, '.word')[0]!)
  await userEvent.click(named(leaf, 'all cells'))
  if (!matchMedia('(max-width: 1100px)').matches) return
  const low = all(leaf, 'button:not(.word), input').filter((one) => one.getBoundingClientRect().height < 44)
  expect(low.map((one) => one.textContent)).toEqual([])
})
