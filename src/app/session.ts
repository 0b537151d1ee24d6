import type { Form } from '../chart/form.ts'
import type { ComposeAnswer, ComposedLine, FileRequest, HearRequest, ReadPage } from '../compose-messages.ts'
import type { Clash } from '../line/clash.ts'
import { PARTS, type PartName } from '../music/arrangement.ts'
import { OutputError } from '../play/note-output.ts'
import type { PartLevelChange } from '../ui/part-level.ts'
import { Composer } from './composer.ts'
import { type Lamp, lampAt } from './lamp.ts'
import { type Notice, SENTENCES } from './sentences.ts'
import type { Sound } from './sound.ts'

/** How many lines are looked for. */
const LINES = 6

/** Where sound goes when nothing else is said. */
export const BUILT_IN = 'built-in'

/** What the page shows beside the text, all of it. */
export interface Session {
  /** the newest reading of the text; `undefined` before the first */
  readonly page: ReadPage | undefined
  /** it is the reading of the text as it stands now */
  readonly isRead: boolean
  /** the newest lines there are, cheapest first; while the text leaves none, those before it */
  readonly lines: readonly ComposedLine[]
  /** the bars that they were found over */
  readonly drawnForm: Form | undefined
  /** which of them is on the page, from 0 */
  readonly index: number
  readonly searching: boolean
  /** the first line is at most so many points above the best there is; `undefined` where there is none */
  readonly provenWithin: number | undefined
  /** the rules that leave no line */
  readonly clash: Clash | undefined
  /** the program failed: a sentence */
  readonly fault: string | undefined
  readonly playing: boolean
  /** the line that is heard and the place in it; `undefined` where nothing plays */
  readonly heard: { readonly line: ComposedLine; readonly lamp: Lamp } | undefined
  readonly loop: boolean
  readonly levels: Readonly<Record<PartName, { readonly decibels: number; readonly muted: boolean }>>
  /** the one part that is heard alone */
  readonly solo: PartName | undefined
  readonly destination: string
  readonly ports: readonly { readonly id: string; readonly name: string }[]
  readonly portsKnown: boolean
  readonly notice: Notice | undefined
  /** rises with every notice */
  readonly noticeTurn: number
}

/** The drums keep the time; a click beside them is for who asks for it. */
const START: Session = {
  page: undefined,
  isRead: false,
  lines: [],
  drawnForm: undefined,
  index: 0,
  searching: true,
  provenWithin: undefined,
  clash: undefined,
  fault: undefined,
  playing: false,
  heard: undefined,
  loop: true,
  levels: {
    bass: { decibels: 0, muted: false },
    chords: { decibels: 0, muted: false },
    drums: { decibels: 0, muted: false },
    click: { decibels: 0, muted: true },
  },
  solo: undefined,
  destination: BUILT_IN,
  ports: [],
  portsKnown: false,
  notice: undefined,
  noticeTurn: 0,
}

/**
 * The running page's effects: composing, sound, ports, files. It is told what the player does, and tells what has become of it;
 * the text itself lives in the editor.
 */
export class RunningSession {
  readonly #changed: (session: Session) => void
  readonly #composer: Composer
  #state = START
  #text = ''
  #sound: Promise<Sound> | undefined
  /** the sound, once it is there */
  #ready: Sound | undefined
  /** lines that came since the last wish; they are on the page unless one of them is waited for */
  #found: ComposedLine[] = []
  #awaiting = false
  /** which of them is waited for, from 0 */
  #wanted = 0
  /** what the lines on the page were found over */
  #source: { readonly text: string; readonly loop: boolean } | undefined
  /** who waits for the first line, or for word that there is none */
  #comes: (() => void)[] = []
  /** the change of destination that is under way */
  #going: Promise<void> = Promise.resolve()
  /** rises with every press that starts or stops something, so that a slow start knows that it is out of date */
  #turn = 0

  /** @param changed  called with every new state */
  constructor(changed: (session: Session) => void) {
    this.#changed = changed
    this.#composer = new Composer((answer) => this.#answered(answer))
  }

  get state(): Session {
    return this.#state
  }

  #set(change: Partial<Session>): void {
    this.#state = { ...this.#state, ...change }
    this.#changed(this.#state)
  }

  // ---- composing

  /**
   * Another text, or the first one.
   *
   * @param keep  it is the same music at another tempo: who is on a further line stays there
   */
  setText(text: string, keep = false): void {
    this.#text = text
    this.#ask(keep)
  }

  #ask(keep: boolean): void {
    this.#wanted = keep ? this.#state.index : 0
    this.#found = []
    this.#awaiting = true
    this.#composer.ask({ text: this.#text, loop: this.#state.loop, lines: LINES })
    this.#set({ searching: true, isRead: false })
  }

  #answered(answer: ComposeAnswer): void {
    switch (answer.kind) {
      case 'page':
        this.#set({ page: answer.page, isRead: true, fault: undefined })
        this.#ready?.transport.setTempo(answer.page.tempoBpm)
        return
      case 'line':
        this.#found[answer.index] = answer.line
        if (answer.index === 0) this.#set({ provenWithin: answer.line.line.provenWithin })
        if (this.#awaiting && this.#found[this.#wanted]) this.#takeFound(this.#wanted)
        else if (!this.#awaiting) {
          this.#set({ lines: [...this.#found] })
          if (answer.index === this.#state.index) this.#takeOver(answer.line)
        }
        return
      case 'progress':
        if (answer.provenWithin !== undefined) this.#set({ provenWithin: answer.provenWithin })
        return
      case 'done':
        if (this.#awaiting && this.#found.length > 0) this.#takeFound(this.#found.length - 1)
        this.#sort()
        this.#set({ page: answer.page, searching: false, provenWithin: answer.provenWithin })
        if (answer.lines === 0) this.#set({ clash: undefined })
        // Where nothing at all is written there is nothing to keep either.
        if (answer.page.form.bars.length === 0) {
          this.stop()
          this.#set({ lines: [], index: 0 })
        }
        break
      case 'clash':
        this.#set({ clash: answer.clash, searching: false })
        break
      case 'failed':
        this.#set({ fault: `The line could not be composed: ${answer.message}.`, searching: false })
        break
    }
    this.#lineCame()
  }

  /** What was found takes the place of what was there, with this line on the page. */
  #takeFound(index: number): void {
    this.#awaiting = false
    this.#source = { text: this.#text, loop: this.#state.loop }
    const drawnForm = this.#state.page?.form
    this.#set({ lines: [...this.#found], drawnForm, index, clash: undefined, fault: undefined })
    this.#takeOver(this.#found[index]!)
    this.#lineCame()
  }

  /** The cheapest first, and the line on the page stays the line on the page. */
  #sort(): void {
    const { lines, index } = this.#state
    if (this.#awaiting) return
    const sorted = lines.toSorted((a, b) => a.line.cost - b.line.cost)
    this.#found = [...sorted]
    this.#set({ lines: sorted, index: Math.max(0, sorted.indexOf(lines[index]!)) })
  }

  /** Another line plays from the next bar line on. A word that is only heard once is left to its end. */
  #takeOver(line: ComposedLine): void {
    if (this.#state.playing) this.#ready?.transport.setMusic(line)
  }

  #lineCame(): void {
    for (const come of this.#comes.splice(0)) come()
  }

  /** Another of the lines. */
  setIndex(index: number): void {
    const line = this.#state.lines[index]
    if (!line || index === this.#state.index) return
    this.#set({ index })
    this.#takeOver(line)
  }

  /** The MIDI file of the line on the page, with the parts that are heard beside it; `undefined` where there is none. */
  async file(reader: FileRequest['for']): Promise<Uint8Array | undefined> {
    const line = this.#state.lines[this.#state.index]?.line
    const parts = PARTS.filter((part) => part === 'bass' || this.#isHeard(part))
    return line && this.#source && (await this.#composer.file({ ...this.#source, line, parts, for: reader }))
  }

  // ---- playing

  /** Gets the sound ready; called when the page stands, so that the first press finds it there. */
  prepare(): Promise<Sound> {
    this.#sound ??= this.#openSound()
    // What could not be fetched is fetched again at the next press.
    this.#sound.catch(() => {
      this.#sound = undefined
    })
    return this.#sound
  }

  /** Has the bank decoded before anybody presses play. What fails here is said at the press. */
  async warm(): Promise<void> {
    await this.prepare()
      .then((sound) => sound.load())
      .catch(() => undefined)
  }

  async #openSound(): Promise<Sound> {
    const { openSound } = await import('./sound.ts')
    const sound = openSound({
      ended: () => this.#set({ playing: false, heard: undefined }),
      failed: (error) => {
        this.#set({ playing: false, heard: undefined })
        this.#failed(error)
      },
      portLost: (error) => {
        this.#set({ destination: BUILT_IN })
        this.#failed(error)
      },
      portsChanged: (ports) => this.#set({ ports }),
    })
    for (const part of PARTS) {
      sound.transport.setLevel(part, this.#isHeard(part) ? this.#state.levels[part].decibels : undefined)
    }
    if (this.#state.page) sound.transport.setTempo(this.#state.page.tempoBpm)
    this.#ready = sound
    return sound
  }

  /** Plays from the beginning. Called on a player's press. */
  async play(): Promise<void> {
    const { playing, searching, lines, index } = this.#state
    if (playing || (!lines[index] && !searching)) return
    const turn = ++this.#turn
    this.#set({ playing: true, notice: undefined })
    try {
      const sound = this.#ready ?? (await this.prepare())
      // Pressed before the first line is there: it plays when it comes.
      if (turn === this.#turn && !this.#state.lines[0]) await new Promise<void>((come) => this.#comes.push(come))
      if (turn !== this.#turn) return
      const line = this.#state.lines[this.#state.index]
      if (!line) {
        this.#set({ playing: false })
        return
      }
      sound.transport.setLoop(this.#state.loop)
      await sound.transport.play(line)
      if (turn !== this.#turn) return
      sound.follow(true)
      this.#follow(turn)
    } catch (error) {
      if (turn !== this.#turn) return
      this.#set({ playing: false, heard: undefined })
      this.#failed(error)
    }
  }

  stop(): void {
    this.#turn++
    this.#ready?.transport.stop()
    this.#ready?.follow(false)
    this.#lineCame()
    if (this.#state.playing) this.#set({ playing: false, heard: undefined })
  }

  /** Moves the lamp as long as this turn lasts: to what is heard, not to what is sent. */
  #follow(turn: number): void {
    const look = () => {
      if (turn !== this.#turn || !this.#state.playing || !this.#ready) return
      const place = this.#ready.transport.place()
      if (place) {
        const line = place.music as ComposedLine
        const lamp = lampAt(line, place.tick, place.pass)
        const { heard } = this.#state
        const same =
          heard?.line === line && heard.lamp.barIndex === lamp.barIndex && heard.lamp.noteIndex === lamp.noteIndex
        if (!same) this.#set({ heard: { line, lamp } })
      }
      requestAnimationFrame(look)
    }
    look()
  }

  /** Plays a word of the vocabulary once, where nothing else plays. Called on a player's press. */
  async hear(word: HearRequest['word']): Promise<void> {
    if (this.#state.playing) return
    const turn = ++this.#turn
    try {
      const [sound, performance] = await Promise.all([this.prepare(), this.#composer.hear(this.#text, word)])
      if (!performance || turn !== this.#turn) return
      sound.transport.setLoop(false)
      await sound.transport.play({ first: performance, again: performance })
      if (turn === this.#turn) sound.follow(true)
    } catch (error) {
      if (turn === this.#turn) this.#failed(error)
    }
  }

  /** Silence on every instrument, whatever hangs. */
  allNotesOff(): void {
    this.stop()
    this.#ready?.silence()
  }

  setLoop(loop: boolean): void {
    this.#set({ loop })
    if (this.#state.playing) this.#ready?.transport.setLoop(loop)
    // A line that goes round leads from its end to its beginning.
    this.#ask(true)
  }

  // ---- how loud, and where

  setLevel({ part, decibels, muted }: PartLevelChange): void {
    const solo = this.#state.solo === part && muted ? undefined : this.#state.solo
    this.#set({ solo, levels: { ...this.#state.levels, [part]: { decibels, muted } } })
    this.#sendLevels()
  }

  /** One part alone, or all again. */
  setSolo(part: PartName): void {
    const solo = this.#state.solo === part ? undefined : part
    this.#set({ solo })
    this.#sendLevels()
  }

  #isHeard(part: PartName): boolean {
    const { solo, levels } = this.#state
    return solo === undefined ? !levels[part].muted : solo === part
  }

  #sendLevels(): void {
    for (const part of PARTS) {
      const { decibels } = this.#state.levels[part]
      this.#ready?.transport.setLevel(part, this.#isHeard(part) ? decibels : undefined)
    }
  }

  /** Looks for MIDI ports. Called on a player's press: the browser may ask. */
  async lookForPorts(): Promise<void> {
    try {
      const sound = this.#ready ?? (await this.prepare())
      const ports = await sound.ports()
      this.#set({ ports, portsKnown: true, notice: undefined })
    } catch (error) {
      this.#failed(error)
    }
  }

  /** Sends sound elsewhere. Called on a player's press. */
  setDestination(id: string): Promise<void> {
    // One after the other: of two quick presses the last one counts.
    this.#going = this.#going.then(async () => {
      try {
        const sound = this.#ready ?? (await this.prepare())
        await sound.goTo(id === BUILT_IN ? undefined : id)
        this.#set({ destination: id, notice: undefined })
      } catch (error) {
        this.#failed(error)
      }
    })
    return this.#going
  }

  /** Tries again to get what failed to load. */
  async loadAgain(): Promise<void> {
    try {
      const sound = this.#ready ?? (await this.prepare())
      await sound.load()
      this.#set({ notice: undefined })
    } catch (error) {
      this.#failed(error)
    }
  }

  /** Takes the sentence away. */
  dismiss(): void {
    if (this.#state.notice) this.#set({ notice: undefined })
  }

  notify(notice: Notice): void {
    this.#set({ notice, noticeTurn: this.#state.noticeTurn + 1 })
  }

  #failed(error: unknown): void {
    const isOurs = error instanceof OutputError
    const said = error instanceof Error ? error.message : String(error)
    this.notify(isOurs ? SENTENCES[error.code] : { text: `Something went wrong: ${said}.` })
    if (isOurs && error.code === 'midi/no-port') this.#set({ portsKnown: true })
  }
}
