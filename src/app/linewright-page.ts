import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import { customElement, query, state } from 'lit/decorators.js'
import opening from '../../examples/kettle-before-eight.changes.txt?raw'
import type { VocabularyWord } from '../chart/chart.ts'
import type { Diagnostic } from '../chart/diagnostic.ts'
import type { Form } from '../chart/form.ts'
import { feelEdits, headerEdit, type TextEdit, vocabularyEdit } from '../chart/header-edit.ts'
import { parseChart } from '../chart/parse.ts'
import type { Span } from '../chart/span.ts'
import type { FileRequest, ReadPage } from '../compose-messages.ts'
import type { Clash } from '../line/clash.ts'
import { differenceOf } from '../line/difference.ts'
import { looseningEdit } from '../line/rule-edit.ts'
import { PARTS } from '../music/arrangement.ts'
import { isCompound } from '../music/metre.ts'
import type { ChangesEditor, HistoryChanged, TextChanged } from '../ui/changes-editor.ts'
import type { WayOut, WayOutChosen } from '../ui/clash-note.ts'
import type { Destination, DestinationChosen } from '../ui/goes-to.ts'
import type { EditWanted, IdeaLeaf, WordHeard } from '../ui/idea-leaf.ts'
import type { LettersChanged } from '../ui/keys-leaf.ts'
import type { LineWanted } from '../ui/line-stepper.ts'
import type { StripLine } from '../ui/line-strip.ts'
import type { DrawnPart, SymbolChosen } from '../ui/part/drawn-part.ts'
import type { PartLevelChange, SoloWanted } from '../ui/part-level.ts'
import type { FileWanted } from '../ui/take-away-leaf.ts'
import { TEMPO, type TempoRefused, type TempoWanted } from '../ui/tempo-field.ts'
import type { PartSetting, TransportBar } from '../ui/transport-bar.ts'
import '../ui/balance-leaf.ts'
import '../ui/changes-editor.ts'
import '../ui/clash-note.ts'
import '../ui/idea-leaf.ts'
import '../ui/keys-leaf.ts'
import '../ui/line-strip.ts'
import '../ui/page-toast.ts'
import '../ui/part/drawn-part.ts'
import '../ui/part-head.ts'
import '../ui/take-away-leaf.ts'
import '../ui/transport-bar.ts'
import { type FirstStep, pencilled, stepAfter } from './first-minute.ts'
import { keyInWords, lengthInWords } from './in-words.ts'
import { deedOf, KEY_ROWS, type KeyDeed } from './keys.ts'
import { latest } from './latest.ts'
import { PAGE_STYLES } from './linewright-page.styles.ts'
import { registerOffline } from './offline.ts'
import { BUILT_IN, RunningSession, type Session } from './session.ts'
import { fileNameOf, takeFile } from './take-file.ts'

/** How wide the page is, and so how it is laid out. */
type View = 'desktop' | 'tablet' | 'phone'

/** What can be opened beside the part, or over it. */
type Leaf = 'changes' | 'idea' | 'balance' | 'take-away' | 'keys'

const LEAF_NAMES: Readonly<Record<Leaf, string>> = {
  changes: 'Changes',
  idea: 'Idea',
  balance: 'Balance',
  'take-away': 'Take away',
  keys: 'Keys',
}

const STAYS = ' The last line stays.'
const STAYS_OVER_OLD_CHORDS = ' The last line stays, over the chords before.'
/** What a way out that loosens a rule is called: this, and its sentence. */
const LOOSEN = 'loosen '
const NOTHING_SAID: readonly Diagnostic[] = []
/** Laid beside the page when it is built. */
const LICENCES = import.meta.env.PROD ? './licences.txt' : ''
const NO_BARS: readonly number[] = []

/** Deeds that a held key does again and again. */
const REPEATING: ReadonlySet<KeyDeed> = new Set(['slower', 'faster', 'line-before', 'line-after', 'undo', 'redo'])

/** The index of a small page. */
const INDEX: readonly Leaf[] = ['changes', 'idea', 'balance', 'take-away']

const PART_NAMES = { bass: 'Bass', chords: 'Chords', drums: 'Drums', click: 'Click' } as const

const TABLET = matchMedia('(max-width: 1100px)')
const PHONE = matchMedia('(max-width: 560px)')
const TOUCH = matchMedia('(pointer: coarse)')
const DARK = matchMedia('(prefers-color-scheme: dark)')

function viewNow(): View {
  return PHONE.matches ? 'phone' : TABLET.matches ? 'tablet' : 'desktop'
}

/** The whole page: the leaf of words, the part, the foot of the page and the transport. Only here everybody knows everybody. */
@customElement('linewright-page')
export class LinewrightPage extends LitElement {
  static override styles = PAGE_STYLES

  @state() private session: Session
  @state() private view = viewNow()
  /** on the desk the changes and the idea lie open anyway: another leaf takes their place */
  @state() private leaf: Leaf | undefined
  /** on the desk: the left leaf is folded away */
  @state() private folded = false
  @state() private theme: 'paper' | 'stage' = DARK.matches ? 'stage' : 'paper'
  @state() private canUndo = false
  @state() private canRedo = false
  @state() private first: FirstStep = 'nothing'
  @state() private letters = true
  /** the cursor is in the changes */
  @state() private inText = false
  /** a sentence about a file that is on its way */
  @state() private taken = ''
  /** the sentence of the foot that was read and laid aside */
  @state() private laidAside = ''

  @query('changes-editor') private readonly editor!: ChangesEditor
  @query('idea-leaf') private readonly idea!: IdeaLeaf
  @query('transport-bar') private readonly transport!: TransportBar
  @query('drawn-part') private readonly drawn!: DrawnPart
  @query('.scroll') private readonly scroller!: HTMLElement

  readonly #running: RunningSession
  #text = opening
  /** the edit that is being made is a control's, not the player's own */
  #isControl = false
  /** the edit that is being made changes nothing but the tempo */
  #onlyTempo = false
  #themeChosen = false

  constructor() {
    super()
    this.#running = new RunningSession((session) => {
      this.session = session
    })
    this.session = this.#running.state
    this.#running.setText(opening)
  }

  override connectedCallback(): void {
    super.connectedCallback()
    for (const media of [TABLET, PHONE]) media.addEventListener('change', this.#resized)
    DARK.addEventListener('change', this.#lightsChanged)
    addEventListener('keydown', this.#key)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    for (const media of [TABLET, PHONE]) media.removeEventListener('change', this.#resized)
    DARK.removeEventListener('change', this.#lightsChanged)
    removeEventListener('keydown', this.#key)
    this.#running.stop()
  }

  protected override firstUpdated(): void {
    // What is not needed at first sight comes when the first sight is there.
    const idle = (work: () => void) =>
      'requestIdleCallback' in window ? requestIdleCallback(work) : setTimeout(work, 200)
    addEventListener('part-drawn', () => idle(() => void this.#running.warm()), { once: true })
    registerOffline(() =>
      this.#running.notify({ text: 'A newer version is here. It opens with the page the next time.' }),
    )
  }

  protected override updated(changed: PropertyValues): void {
    if (changed.has('theme') && this.#themeChosen) document.documentElement.dataset['theme'] = this.theme
    const title = this.session.page?.title
    document.title = title ? `${title} · Linewright` : 'Linewright'
  }

  // ---- what is seen

  protected override render(): TemplateResult {
    const { view } = this
    const sheet = view === 'desktop' ? undefined : this.leaf
    return html`
      <div class="page ${view} ${this.folded && view === 'desktop' ? 'folded' : ''}"
        @play-pressed=${() => this.#do('play')}
        @loop-pressed=${() => this.#do('loop')}
        @tempo-wanted=${this.#tempoWanted}
        @tempo-refused=${this.#tempoRefused}
        @line-wanted=${this.#lineWanted}
        @level-changed=${this.#levelChanged}
        @solo-wanted=${this.#soloWanted}
        @destination-chosen=${this.#destinationChosen}
        @ports-wanted=${() => this.#running.lookForPorts()}
        @silence-wanted=${() => this.#running.allNotesOff()}
        @file-wanted=${this.#fileWanted}
        @letters-changed=${this.#lettersChanged}
      >
        ${this.#verso(sheet)}
        <main class="recto">
          ${
            view === 'desktop'
              ? html`<div class="leaves">
                  ${this.folded ? html`<button class="quiet" @click=${this.#fold}>Unfold</button>` : nothing}
                  <button class="quiet" aria-expanded=${this.leaf === 'take-away'} @click=${() => this.#open('take-away')}>Take away</button>
                </div>`
              : nothing
          }
          <div class="scroll">${this.#part()}</div>
          ${this.#foot()}
        </main>
        ${view === 'desktop' ? nothing : this.#index()}
        <footer class="transport">${this.#transportBar()}${this.#toast()}</footer>
      </div>
    `
  }

  /** The leaf of words: on the desk it lies open, elsewhere one section of it is lifted over the part. */
  #verso(sheet: Leaf | undefined): TemplateResult {
    const { view, session } = this
    const instead = view === 'desktop' ? this.leaf : undefined
    const shown = (leaf: Leaf) =>
      view === 'desktop' ? (instead ? instead === leaf : leaf === 'changes' || leaf === 'idea') : sheet === leaf
    const { page, loop } = session
    // An empty page is no mistake: what to do about it stands below.
    const blank = this.#text.trim() === ''
    return html`
      <aside class="verso" aria-label="What you say" ?hidden=${view === 'desktop' ? this.folded : !sheet}>
        <header class="running">
          <b>Linewright</b>
          <button class="quiet" ?disabled=${!this.canUndo} @click=${() => this.#do('undo')}>undo</button>
          <button class="quiet" ?disabled=${!this.canRedo} @click=${() => this.#do('redo')}>redo</button>
          <button class="quiet" aria-expanded=${this.leaf === 'keys'} @click=${() => this.#open('keys')}>keys</button>
          <button class="quiet" @click=${this.#dim}>${this.theme === 'stage' ? 'lights up' : 'dim the lights'}</button>
        </header>
        <section class="changes" ?hidden=${!shown('changes')}>
          <h2>Changes</h2>
          <changes-editor
            .text=${this.#text}
            .diagnostics=${blank ? NOTHING_SAID : (page?.diagnostics ?? NOTHING_SAID)}
            .litSpan=${this.#litSpan()}
            @text-changed=${this.#textChanged}
            @focusin=${this.#enterText}
            @focusout=${this.#leaveText}
            @history-changed=${this.#historyChanged}
          ></changes-editor>
          <p class="help">${
            page && page.form.bars.length > 0
              ? lengthInWords(
                  page.form.bars.map(({ metre }) => metre),
                  loop,
                )
              : html`Type some chords, or begin with an <span class="together"><button class="word" @click=${this.#example}>example</button>.</span>`
          }</p>
        </section>
        <section ?hidden=${!shown('idea')}>
          <h2>Idea</h2>
          <idea-leaf
            .page=${this.#pageNow()}
            @edit-wanted=${this.#editWanted}
            @cell-heard=${this.#cellHeard}
            @pattern-heard=${this.#patternHeard}
          ></idea-leaf>
        </section>
        ${(['balance', 'take-away', 'keys'] as const).map((leaf) => (shown(leaf) ? this.#opened(leaf) : nothing))}
      </aside>
    `
  }

  #part(): TemplateResult {
    const { session, view } = this
    const { page, lines, index, heard, clash } = session
    const line = lines[index]
    // What is lit is what is heard: a line that waits for its bar line has no lamp yet.
    const lamp = heard && heard.line === line ? heard.lamp : undefined
    const empty = page !== undefined && page.form.bars.length === 0
    return html`
      <part-head
        .title=${page?.title ?? 'Untitled'}
        .key=${keyInWords(page?.key)}
        .feel=${page?.feel?.name ?? 'choose a feel'}
        .tempoBpm=${this.#tempoBpm}
        ?dotted=${page ? isCompound(page.metre) : false}
        .pencil=${empty ? 'Type some chords: | F7 | Bb7 | F7 | C7 |' : this.#pencil(line !== undefined)}
        @feel-pressed=${this.#feelPressed}
        @tempo-pressed=${() => this.transport.editTempo()}
      ></part-head>
      <drawn-part
        .music=${line?.part}
        .line=${line?.line}
        .view=${view}
        .lamp=${lamp}
        .dimmedBars=${clash ? this.#clashing(clash, session.drawnForm, page?.form) : NO_BARS}
        ?follow=${session.playing}
        @symbol-chosen=${this.#symbolChosen}
      ></drawn-part>
    `
  }

  /** The one sentence of the first minute; the sign of the stepper where the key would be typed into the text. */
  #pencil(hasLine: boolean): string {
    if (!hasLine || (this.first === 'changed' && this.session.lines.length < 2)) return ''
    return pencilled(this.first, TOUCH.matches || this.inText)
  }

  /** What is in the way of a line; empty where nothing is. */
  get #trouble(): string {
    const { clash, fault, page } = this.session
    const error = page?.form.bars.length ? page.diagnostics.find(({ severity }) => severity === 'error') : undefined
    return fault ?? clash?.message ?? error?.message ?? ''
  }

  /** One slot that never changes its height: the lines, or what is in their way. */
  #foot(): TemplateResult {
    const { lines, index, provenWithin, drawnForm } = this.session
    const trouble = this.#trouble
    const isShown = trouble !== '' && trouble !== this.laidAside
    const content = isShown
      ? this.#clash(trouble)
      : this.view === 'phone'
        ? nothing
        : html`<line-strip .lines=${this.#strip(lines, provenWithin, drawnForm)} .index=${index}></line-strip>`
    return html`<div class="under" ?hidden=${this.view === 'phone' && !isShown}>${content}</div>`
  }

  /** What is in the way, and what is one press away; a press is an edit of the text, which can be undone. */
  #clash(trouble: string): TemplateResult {
    const { clash, fault, lines, drawnForm, page } = this.session
    const stays = lines.length === 0 ? '' : chordsOf(drawnForm) === chordsOf(page?.form) ? STAYS : STAYS_OVER_OLD_CHORDS
    const isVocabulary = clash?.rules.length === 0
    const { chart } = parseChart(this.#text)
    const { cells, patterns } = isVocabulary ? chart : {}
    const loosenings = (clash?.loosen ?? []).filter((sentence) => looseningEdit(chart, sentence))
    const ways: readonly WayOut[] = [
      ...(fault === undefined ? [] : [{ id: 'again', name: 'Try again' }]),
      ...(cells ? [{ id: 'cells', name: 'Use the feel’s own cells' }] : []),
      ...(patterns ? [{ id: 'patterns', name: 'Use the feel’s own patterns' }] : []),
      ...loosenings.map((sentence) => ({ id: LOOSEN + sentence, name: sentence })),
    ]
    const help = loosenings.length > 0 ? 'Put one of these in place of its rule' : ''
    return html`<clash-note
      .sentence=${`${trouble}${stays}`}
      .help=${help}
      .ways=${ways}
      @way-out-chosen=${this.#wayOutChosen}
    ></clash-note>`
  }

  #index(): TemplateResult {
    return html`<nav class="index" aria-label="Leaves">
      ${INDEX.map(
        (leaf) =>
          html`<button aria-expanded=${this.leaf === leaf} @click=${() => this.#open(leaf)}>${LEAF_NAMES[leaf]}</button>`,
      )}
    </nav>`
  }

  #transportBar(): TemplateResult {
    const { session } = this
    return html`<transport-bar
      .view=${this.view}
      ?playing=${session.playing}
      .tempoBpm=${this.#tempoBpm}
      ?loop=${session.loop}
      .parts=${this.#settings(session.levels, session.solo)}
      .destinations=${this.#destinations(session.ports)}
      .destination=${session.destination}
      ?portsKnown=${session.portsKnown}
      .lineIndex=${session.index}
      .lineCount=${session.lines.length}
      ?searching=${session.searching}
    ></transport-bar>`
  }

  /** A leaf that is opened, and laid back with its heading's word or Escape. */
  #opened(leaf: Exclude<Leaf, 'changes' | 'idea'>): TemplateResult {
    const { session } = this
    const content = {
      balance: () => html`<balance-leaf
        .parts=${this.#settings(session.levels, session.solo)}
        .destinations=${this.#destinations(session.ports)}
        .destination=${session.destination}
        ?portsKnown=${session.portsKnown}
      ></balance-leaf>`,
      'take-away': () =>
        html`<take-away-leaf .line=${session.lines.length === 0 ? 0 : session.index + 1} .said=${this.taken}></take-away-leaf>`,
      keys: () => html`<keys-leaf .rows=${KEY_ROWS} ?letters=${this.letters} .licences=${LICENCES}></keys-leaf>`,
    }
    return html`<section>${this.#heading(leaf)}${content[leaf]()}</section>`
  }

  #heading(leaf: Leaf): TemplateResult {
    return html`<div class="heading"><h2>${LEAF_NAMES[leaf]}</h2><button class="quiet" @click=${() => this.#close()}>${this.view === 'desktop' ? 'back' : 'lay back'}</button></div>`
  }

  #toast(): TemplateResult {
    const { notice } = this.session
    return html`<page-toast
      .text=${notice?.text ?? ''}
      .action=${notice?.action ?? ''}
      .turn=${this.session.noticeTurn}
      @toast-pressed=${this.#toastPressed}
      @toast-read=${() => this.#running.dismiss()}
    ></page-toast>`
  }

  // A lamp that steps renders the page anew: what has not changed stays the same object, and its element still.

  readonly #settings = latest((levels: Session['levels'], solo: Session['solo']): readonly PartSetting[] =>
    PARTS.map((part) => ({
      part,
      name: PART_NAMES[part],
      ...levels[part],
      silenced: solo !== undefined && solo !== part,
    })),
  )

  readonly #destinations = latest((ports: Session['ports']): readonly Destination[] => [
    { id: BUILT_IN, name: 'built-in sound' },
    ...ports,
  ])

  readonly #strip = latest(stripOf)

  readonly #clashing = latest(clashingBars)

  readonly #spanOf = latest((from: number, to: number): Span => ({ from, to }))

  /** The reading, with the words as the text has them now: a second press counts from the first, answered or not. */
  #pageNow(): ReadPage | undefined {
    const { page, isRead } = this.session
    if (!page || isRead) return page
    const { chart } = parseChart(this.#text)
    const texts = (words: readonly VocabularyWord[] | undefined) => words?.map(({ text }) => text)
    return { ...page, cells: texts(chart.cells) ?? page.cells, patterns: texts(chart.patterns) ?? page.patterns }
  }

  /** Where the bar that sounds is written. */
  #litSpan(): Span | undefined {
    const { heard, page, lines, index } = this.session
    if (!heard || heard.line !== lines[index]) return undefined
    const changes = page?.form.bars[heard.lamp.barIndex]?.changes
    const first = changes?.[0]
    const last = changes?.at(-1)
    if (!first || !last || last.span.to > this.#text.length) return undefined
    return this.#spanOf(first.span.from, last.span.to)
  }

  // ---- what is done

  #edit(edits: readonly TextEdit[]): void {
    this.#isControl = true
    this.editor.apply(edits)
    this.#isControl = false
  }

  readonly #textChanged = ({ detail: { text } }: CustomEvent<TextChanged>): void => {
    if (text === this.#text) return
    this.#text = text
    if (!this.#isControl) this.first = stepAfter(this.first, 'changed')
    this.#running.setText(text, this.#onlyTempo)
    this.requestUpdate()
  }

  /** The tempo as the text has it now: a control counts from here, and not from what was read last. */
  get #tempoBpm(): number {
    const { page, isRead } = this.session
    const written = isRead ? page?.tempoBpm : parseChart(this.#text).chart.tempoBpm
    return written ?? page?.tempoBpm ?? 120
  }

  #setTempo(bpm: number): void {
    this.#onlyTempo = true
    this.#edit([headerEdit(this.#text, 'tempo', String(Math.min(TEMPO.to, Math.max(TEMPO.from, Math.round(bpm)))))])
    this.#onlyTempo = false
  }

  readonly #enterText = (): void => {
    this.inText = true
  }

  readonly #leaveText = (): void => {
    this.inText = false
  }

  readonly #historyChanged = ({ detail }: CustomEvent<HistoryChanged>): void => {
    this.canUndo = detail.canUndo
    this.canRedo = detail.canRedo
  }

  readonly #editWanted = ({ detail }: CustomEvent<EditWanted>): void => {
    this.#edit(
      detail.kind === 'feel'
        ? feelEdits(this.#text, detail.id)
        : [vocabularyEdit(this.#text, detail.kind, detail.words)],
    )
  }

  readonly #cellHeard = ({ detail: { text } }: CustomEvent<WordHeard>): void => {
    void this.#running.hear({ kind: 'cell', text })
  }

  readonly #patternHeard = ({ detail: { text } }: CustomEvent<WordHeard>): void => {
    void this.#running.hear({ kind: 'pattern', text })
  }

  readonly #tempoRefused = ({ detail: { text } }: CustomEvent<TempoRefused>): void => {
    const shown = text.length > 12 ? `${text.slice(0, 12)}…` : text
    this.#running.notify({
      text: `“${shown}” is no tempo: it is ${TEMPO.from} to ${TEMPO.to} beats a minute. The old one stays.`,
    })
  }

  readonly #tempoWanted = ({ detail: { bpm } }: CustomEvent<TempoWanted>): void => this.#setTempo(bpm)

  readonly #example = (): void => {
    this.#edit([{ from: 0, to: this.#text.length, insert: opening }])
  }

  #loosened(id: string): TextEdit | undefined {
    return id.startsWith(LOOSEN) ? looseningEdit(parseChart(this.#text).chart, id.slice(LOOSEN.length)) : undefined
  }

  readonly #wayOutChosen = ({ detail: { id } }: CustomEvent<WayOutChosen>): void => {
    const isWord = id === 'cells' || id === 'patterns'
    const edit = isWord ? vocabularyEdit(this.#text, id, []) : this.#loosened(id)
    if (edit) this.#edit([edit])
    else this.#running.setText(this.#text)
  }

  readonly #symbolChosen = ({ detail: { span, barIndex } }: CustomEvent<SymbolChosen>): void => {
    if (this.view !== 'desktop') this.leaf = 'changes'
    else if (this.leaf) this.leaf = undefined
    this.folded = false
    // A leaf that is lifted takes room: the bar stays in sight beside it.
    void this.updateComplete.then(() => {
      this.editor.showSpan(span)
      this.drawn.showBar(barIndex)
    })
  }

  readonly #feelPressed = (): void => {
    this.folded = false
    this.leaf = this.view === 'desktop' ? undefined : 'idea'
    void this.updateComplete.then(() => this.idea.openFeels())
  }

  readonly #lineWanted = ({ detail: { index } }: CustomEvent<LineWanted>): void => this.#takeLine(index)

  #takeLine(index: number): void {
    this.#running.setIndex(index)
    if (this.first === 'changed') this.first = stepAfter(this.first, 'stepped')
  }

  readonly #levelChanged = ({ detail }: CustomEvent<PartLevelChange>): void => this.#running.setLevel(detail)

  readonly #soloWanted = ({ detail }: CustomEvent<SoloWanted>): void => this.#running.setSolo(detail.part)

  readonly #destinationChosen = ({ detail: { id } }: CustomEvent<DestinationChosen>): void => {
    void this.#running.setDestination(id)
  }

  readonly #toastPressed = (): void => {
    switch (this.session.notice?.action) {
      case 'play':
        this.#do('play')
        return
      case 'look again':
        void this.#running.lookForPorts()
        return
      case 'load again':
        void this.#running.loadAgain()
        return
    }
  }

  readonly #fileWanted = ({ detail }: CustomEvent<FileWanted>): void => {
    void this.#take(detail.for)
  }

  async #take(reader: FileRequest['for']): Promise<void> {
    const bytes = await this.#running.file(reader)
    if (!bytes) {
      this.taken = 'There is no line to take away yet.'
      return
    }
    const name = `${fileNameOf(this.session.page?.title ?? '')}${reader === 'sequencer' ? ' (loop)' : ''}.mid`
    takeFile(bytes, name)
    this.taken = `${name} is on its way to your downloads.`
  }

  readonly #fold = (): void => {
    this.folded = !this.folded
  }

  readonly #dim = (): void => {
    this.#themeChosen = true
    this.theme = this.theme === 'stage' ? 'paper' : 'stage'
  }

  readonly #lightsChanged = (): void => {
    if (!this.#themeChosen) this.theme = DARK.matches ? 'stage' : 'paper'
  }

  readonly #resized = (): void => {
    this.view = viewNow()
    this.leaf = undefined
  }

  readonly #lettersChanged = ({ detail }: CustomEvent<LettersChanged>): void => {
    this.letters = detail.on
  }

  #open(leaf: Leaf): void {
    this.taken = ''
    this.leaf = this.leaf === leaf ? undefined : leaf
    if (this.view === 'desktop') this.folded = false
  }

  #close(): void {
    if (this.leaf) this.leaf = undefined
    else this.laidAside = this.#trouble
  }

  readonly #key = (event: KeyboardEvent): void => {
    if (event.defaultPrevented) return
    const target = event.composedPath()[0]
    const at = target instanceof Element ? target : undefined
    const isText = at?.matches(
      'input:not([type=range]):not([type=checkbox]), textarea, select, [contenteditable], [contenteditable] *',
    )
    const pressed = { key: event.key, ctrl: event.ctrlKey || event.metaKey, shift: event.shiftKey, alt: event.altKey }
    const deed = deedOf(pressed, this.letters)
    if (!deed || isText) return
    // What is held down goes on stepping, and switches nothing to and fro.
    if (event.repeat && !REPEATING.has(deed)) return
    // A button that was come to by keys takes the space bar itself; one that was pressed by hand has done its work.
    if (event.key === ' ' && at?.matches(':focus-visible, input')) return
    event.preventDefault()
    this.#do(deed, event.shiftKey)
  }

  #do(deed: KeyDeed, shift = false): void {
    const { session } = this
    switch (deed) {
      case 'play':
        if (session.playing) this.#running.stop()
        else {
          this.first = stepAfter(this.first, 'played')
          void this.#running.play()
        }
        return
      case 'top':
        this.scroller.scrollTo({ top: 0 })
        return
      case 'line-before':
      case 'line-after': {
        const index = session.index + (deed === 'line-before' ? -1 : 1)
        if (session.lines[index]) this.#takeLine(index)
        return
      }
      case 'loop':
        this.#running.setLoop(!session.loop)
        return
      case 'slower':
      case 'faster':
        this.#setTempo(this.#tempoBpm + (shift ? 5 : 1) * (deed === 'slower' ? -1 : 1))
        return
      case 'changes':
        this.folded = false
        this.leaf = this.view === 'desktop' ? undefined : 'changes'
        void this.updateComplete.then(() => this.editor.focus())
        return
      case 'idea':
        this.folded = false
        this.leaf = this.view === 'desktop' ? undefined : 'idea'
        void this.updateComplete.then(() => this.idea.focus())
        return
      case 'balance':
        if (this.view !== 'desktop') this.#open('balance')
        else this.transport.focusBalance()
        return
      case 'take-away':
      case 'keys':
        this.#open(deed)
        return
      case 'fold':
        if (this.view === 'desktop') this.#fold()
        return
      case 'lights':
        this.#dim()
        return
      case 'undo':
        this.editor.undo()
        return
      case 'redo':
        this.editor.redo()
        return
      case 'close':
        this.#close()
        return
    }
  }
}

/** The chords of a form, or of one of its bars, as they are written. */
function chordsOf(form: Form | undefined, index?: number): string | undefined {
  const changes = index === undefined ? form?.changes : form?.bars[index]?.changes
  return changes?.map(({ chord }) => chord?.symbol.text).join(' ')
}

/** Indices of the bars that clash, where the line on the page stands over the same chords as are written there now. */
function clashingBars({ bars: numbers }: Clash, drawn: Form | undefined, written: Form | undefined): readonly number[] {
  return (written?.bars ?? [])
    .filter(({ number, index }) => numbers.includes(number) && chordsOf(written, index) === chordsOf(drawn, index))
    .map(({ index }) => index)
}

function stripOf(
  lines: Session['lines'],
  provenWithin: number | undefined,
  form: Form | undefined,
): readonly StripLine[] {
  const best = lines[0]?.line
  return lines.map(({ line }) => ({
    above: line.cost - (best?.cost ?? 0),
    differs: best && form ? differenceOf(line, best, form.bars) : '',
    provenWithin: provenWithin ?? line.provenWithin,
    pitches: line.notes.filter(({ slot }) => !slot.ghost).map(({ pitch }) => pitch),
  }))
}

declare global {
  interface HTMLElementTagNameMap {
    'linewright-page': LinewrightPage
  }
}
