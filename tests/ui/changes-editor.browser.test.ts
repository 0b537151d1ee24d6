import '../../styles/page.css'
import axe from 'axe-core'
import { afterEach, describe, expect, it } from 'vitest'
import { userEvent } from 'vitest/browser'
import { feelEdits, headerEdit } from '../../src/chart/header-edit.ts'
import { parseChart } from '../../src/chart/parse.ts'
import { ChangesEditor, type HistoryChanged, type TextChanged } from '../../src/ui/changes-editor.ts'

const CHART = 'title: Late Bus\nkey: F\ntempo: 126\nfeel: shuffle\n\n[A]\n| F7 | Bb7 |\n| F7 | C7 |\n'

afterEach(() => {
  document.body.replaceChildren()
  delete document.documentElement.dataset['theme']
})

/** The editor with a text, read again after every change as the page does. */
async function editorWith(text: string): Promise<{ editor: ChangesEditor; heard: string[] }> {
  const editor = new ChangesEditor()
  const heard: string[] = []
  editor.text = text
  editor.diagnostics = parseChart(text).diagnostics
  editor.addEventListener('text-changed', (event) => {
    const now = (event as CustomEvent<TextChanged>).detail.text
    heard.push(now)
    editor.diagnostics = parseChart(now).diagnostics
  })
  const before = document.createElement('button')
  before.textContent = 'before'
  const after = document.createElement('button')
  after.textContent = 'after'
  document.body.append(before, editor, after)
  await editor.updateComplete
  return { editor, heard }
}

const inside = (editor: ChangesEditor) => editor.shadowRoot!
const content = (editor: ChangesEditor) => inside(editor).querySelector<HTMLElement>('.cm-content')!
const head = (editor: ChangesEditor) => inside(editor).querySelector<HTMLElement>('.cm-head')
const sentences = (editor: ChangesEditor) => [...inside(editor).querySelectorAll('.said p')].map((p) => p.textContent)
const underlined = (editor: ChangesEditor, kind = 'wrong') =>
  [...inside(editor).querySelectorAll(`.cm-${kind}`)].map((mark) => mark.textContent).join('')
const press = (keys: string) => userEvent.keyboard(keys)

async function settled(editor: ChangesEditor): Promise<void> {
  await editor.updateComplete
  await new Promise((resolve) => requestAnimationFrame(() => resolve(undefined)))
  await editor.updateComplete
}

describe('the changes', () => {
  it('are typed, and every change is told', async () => {
    const { editor, heard } = await editorWith('| C7 |')
    await userEvent.click(content(editor))
    await press('{Control>}{End}{/Control} F7 |')
    expect(editor.text).toBe('| C7 | F7 |')
    expect(heard.at(-1)).toBe('| C7 | F7 |')
    expect(heard).toHaveLength(5)
  })

  it('take a text from outside without telling it back', async () => {
    const { editor, heard } = await editorWith('| C7 |')
    editor.text = '| C7 | G7 |'
    await settled(editor)
    expect(content(editor).textContent).toBe('| C7 | G7 |')
    expect(heard).toEqual([])
    expect(editor.undo()).toBe(true)
    expect(editor.text).toBe('| C7 |')
  })

  it('begin their history with the first text that is handed in', async () => {
    const { editor } = await editorWith('')
    editor.text = CHART
    await settled(editor)
    expect(editor.canUndo).toBe(false)
  })

  it('keep the line ends they came with', async () => {
    const { editor, heard } = await editorWith('key: F\r\n| C7 |\r\n| G7x |\r\n')
    expect(underlined(editor)).toBe('G7x')
    editor.apply(headerEdit(editor.text, 'tempo', '90'))
    expect(heard.at(-1)).toBe('key: F\r\ntempo: 90\r\n| C7 |\r\n| G7x |\r\n')
    await settled(editor)
    expect(underlined(editor)).toBe('G7x')
  })
})

describe('while a word is written', () => {
  const offered = (editor: ChangesEditor) =>
    [...inside(editor).querySelectorAll('.cm-tooltip-autocomplete li')].map((one) => one.textContent)

  async function writing(text: string): Promise<ChangesEditor> {
    const { editor } = await editorWith(text)
    await import('../../src/ui/changes-completion.ts')
    await userEvent.click(content(editor))
    await settled(editor)
    await press('{Control>}{End}{/Control}')
    return editor
  }

  it('chords that the chart has already are offered, and taken when the player goes to them', async () => {
    const editor = await writing('| Bbmaj7 | F7 | F7b9 | F7 |\n')
    await press('| F')
    await expect.poll(() => offered(editor)).toEqual(['F7', 'F7b9'])
    await press('{ArrowDown}{ArrowDown}{Enter}')
    expect(editor.text).toBe('| Bbmaj7 | F7 | F7b9 | F7 |\n| F7b9')
  })

  it('Enter ends the row all the same, and Esc closes the list before it leaves the text', async () => {
    const editor = await writing('| F7 |\n')
    await press('| F')
    await expect.poll(() => offered(editor)).toEqual(['F7'])
    await press('{Enter}')
    expect(editor.text).toBe('| F7 |\n| F\n')
    await press('| F')
    await expect.poll(() => offered(editor)).toEqual(['F7'])
    await press('{Escape}')
    expect(offered(editor)).toEqual([])
    expect(inside(editor).activeElement).toBe(content(editor))
    await press('{Escape}')
    expect(inside(editor).activeElement).toBeNull()
  })
})

describe('a chord that was pressed on the part', () => {
  it('is written when Enter says so, and Enter ends a row again once the cursor has gone elsewhere', async () => {
    const { editor } = await editorWith('| F7 | Bb7 |\n')
    editor.showSpan({ from: 2, to: 4 })
    await press('Am7{Enter}')
    expect(editor.text).toBe('| Am7 | Bb7 |\n')
    expect(inside(editor).activeElement).toBeNull()
    editor.showSpan({ from: 2, to: 5 })
    await press('{End}{Enter}')
    expect(editor.text).toBe('| Am7 | Bb7 |\n\n')
    expect(inside(editor).activeElement).toBe(content(editor))
  })

  it('is left by Esc at once, whatever is about to be offered', async () => {
    const { editor } = await editorWith('| F7 | Bb7 | Bb7b9 |\n')
    editor.showSpan({ from: 2, to: 4 })
    await press('B')
    await press('{Escape}')
    expect(inside(editor).activeElement).toBeNull()
  })
})

describe('undo', () => {
  it('takes back typing and what controls did, step by step, and does it again', async () => {
    const { editor } = await editorWith(CHART)
    const steps: HistoryChanged[] = []
    editor.addEventListener('history-changed', (event) => steps.push((event as CustomEvent<HistoryChanged>).detail))
    await userEvent.click(content(editor))
    await press('{Control>}{End}{/Control}| G7 |')
    const typed = editor.text
    editor.apply(feelEdits(editor.text, 'bossa-nova'))
    const other = editor.text
    expect(other).toContain('feel: bossa-nova\n')
    editor.apply(headerEdit(editor.text, 'tempo', '90'))
    expect(editor.text).toContain('tempo: 90\n')
    await press('{Control>}z{/Control}')
    expect(editor.text).toBe(other)
    await press('{Control>}z{/Control}')
    expect(editor.text).toBe(typed)
    await press('{Control>}z{/Control}')
    expect(editor.text).toBe(CHART)
    expect([editor.canUndo, editor.canRedo]).toEqual([false, true])
    await press('{Control>}{Shift>}z{/Shift}{/Control}')
    expect(editor.text).toBe(typed)
    expect(editor.redo()).toBe(true)
    expect(editor.text).toBe(other)
    expect(steps[0]).toEqual({ canUndo: true, canRedo: false })
  })
})

describe('what is wrong', () => {
  const WRONG = 'key: F\n\n| F7 | Bdmi7 |\n| F7 | C7 |\n'

  it('is underlined where it stands, with its sentence and its fixes', async () => {
    const { editor } = await editorWith(WRONG)
    await settled(editor)
    expect(underlined(editor)).toBe('Bdmi7')
    const [said] = parseChart(WRONG).diagnostics
    expect(sentences(editor)).toEqual([said!.message])
    const boxes = [...inside(editor).querySelectorAll('.fixes button')].map((one) => one.textContent?.trim())
    expect(boxes).toEqual(said!.fixes)
    expect(inside(editor).querySelector('[role=status]')?.textContent).toContain(said!.message)
  })

  it('is put right by a press, as one step', async () => {
    const { editor } = await editorWith(WRONG)
    await settled(editor)
    const fix = parseChart(WRONG).diagnostics[0]!.fixes[0]!
    await userEvent.click(inside(editor).querySelector('.fixes button')!)
    expect(editor.text).toBe(WRONG.replace('Bdmi7', fix))
    await settled(editor)
    expect(sentences(editor)).toEqual([])
    expect(underlined(editor)).toBe('')
    editor.undo()
    expect(editor.text).toBe(WRONG)
  })

  it('is put right by one key in the text', async () => {
    const { editor } = await editorWith(WRONG)
    content(editor).focus()
    await press('{Alt>}{Enter}{/Alt}')
    expect(editor.text).toBe(WRONG.replace('Bdmi7', parseChart(WRONG).diagnostics[0]!.fixes[0]!))
  })

  it('is put right with nothing but Tab and Enter', async () => {
    const { editor } = await editorWith(WRONG)
    await settled(editor)
    content(editor).focus()
    await press('{Tab}{Enter}')
    expect(editor.text).toBe(WRONG.replace('Bdmi7', parseChart(WRONG).diagnostics[0]!.fixes[0]!))
  })

  it('is said of the place where the cursor is', async () => {
    const text = '| Xdmi7 | C7 |\n| F7 | Ydmi7 |\n'
    const { editor } = await editorWith(text)
    const [first, second] = parseChart(text).diagnostics
    editor.showSpan({ from: text.indexOf('Y'), to: text.indexOf('Y') + 5 })
    await settled(editor)
    expect(sentences(editor)).toEqual([second!.message])
    await press('{Control>}{Home}{/Control}')
    await settled(editor)
    expect(sentences(editor)).toEqual([first!.message])
  })

  it('is shown one after the other', async () => {
    const text = '| Xdmi7 | C7 |\n| F7 | Ydmi7 |\n'
    const { editor } = await editorWith(text)
    const [first, second] = parseChart(text).diagnostics
    await settled(editor)
    const next = inside(editor).querySelector<HTMLElement>('.quiet')!
    expect(next.textContent).toBe('next of 2')
    await userEvent.click(next)
    await settled(editor)
    expect(sentences(editor)).toEqual([second!.message])
    await userEvent.click(next)
    await settled(editor)
    expect(sentences(editor)).toEqual([first!.message])
  })

  it('is quieter where it is a matter of style', async () => {
    const text = 'tempo:\n| C7 |\n'
    const { editor } = await editorWith(text)
    expect(parseChart(text).diagnostics[0]!.severity).toBe('hint')
    await settled(editor)
    expect(inside(editor).querySelector('.said')?.classList.contains('hint')).toBe(true)
    expect(underlined(editor)).toBe('')
  })
})

describe('the header rows', () => {
  it('are one line that says what they say', async () => {
    const { editor } = await editorWith(CHART)
    expect(head(editor)?.textContent).toBe('key F · 126 · shuffle')
    expect(content(editor).textContent).not.toContain('title')
    editor.apply(headerEdit(editor.text, 'tempo', '90'))
    expect(head(editor)?.textContent).toBe('key F · 90 · shuffle')
  })

  it('open by a press and fold when the cursor leaves them', async () => {
    const { editor } = await editorWith(CHART)
    await userEvent.click(head(editor)!)
    expect(head(editor)).toBeNull()
    expect(content(editor).textContent).toContain('title: Late Bus')
    await press('{ArrowDown}{ArrowDown}{ArrowDown}')
    expect(head(editor)).not.toBeNull()
  })

  it('open when the cursor comes from below', async () => {
    const { editor } = await editorWith(CHART)
    content(editor).focus()
    await press('{ArrowUp}{ArrowUp}')
    expect(head(editor)).toBeNull()
  })

  it('open to show a place in them', async () => {
    const { editor } = await editorWith(CHART)
    editor.showSpan({ from: CHART.indexOf('shuffle'), to: CHART.indexOf('shuffle') + 7 })
    expect(head(editor)).toBeNull()
    await press('samba')
    expect(editor.text).toContain('feel: samba\n')
  })
})

describe('the bar that sounds', () => {
  it('stands in the light of the lamp, and is no step of the history', async () => {
    const { editor, heard } = await editorWith(CHART)
    const from = CHART.indexOf('Bb7')
    editor.litSpan = { from, to: from + 3 }
    await settled(editor)
    expect(underlined(editor, 'lit')).toBe('Bb7')
    editor.litSpan = undefined
    await settled(editor)
    expect(underlined(editor, 'lit')).toBe('')
    expect([heard, editor.canUndo]).toEqual([[], false])
  })
})

describe('the keyboard alone', () => {
  it('comes in and leaves by Tab, and by Esc', async () => {
    const { editor } = await editorWith(CHART)
    document.querySelector('button')!.focus()
    await press('{Tab}')
    expect(editor.shadowRoot!.activeElement).toBe(content(editor))
    await press('{Tab}')
    expect(document.activeElement?.textContent).toBe('after')
    await press('{Shift>}{Tab}{/Shift}')
    expect(editor.shadowRoot!.activeElement).toBe(content(editor))
    await press('{Escape}')
    expect(editor.shadowRoot!.activeElement).toBeNull()
    expect(editor.text).toBe(CHART)
  })
})

describe.each(['paper', 'stage'])('on %s', (theme) => {
  it('nothing hinders a reader of any kind', async () => {
    document.documentElement.dataset['theme'] = theme
    const { editor } = await editorWith('key: F\n| F7 | Bdmi7 | // remark\n')
    editor.litSpan = { from: 9, to: 11 }
    await settled(editor)
    const { violations } = await axe.run(editor, { rules: { region: { enabled: false } } })
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([])
    expect(content(editor).getAttribute('aria-label')).toBe('Changes')
  })
})
