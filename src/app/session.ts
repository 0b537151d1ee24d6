import type { ComposeAnswer, ComposedLine, FileRequest, HearRequest, ReadPage } from '../compose-messages.ts'
import type { Clash } from '../line/build.ts'
import type { PartName } from '../music/arrangement.ts'
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
  /** the newest lines there are, cheapest first; while the text leaves none, those before it */
  readonly lines: readonly ComposedLine[]
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
}

/** The drums keep the time; a click beside them is for who asks for it. */
const START: Session = {
  page: undefined,
  lines: [],
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
  /** a new text has no line yet: what comes first replaces all */
  #stale = false
  /** who waits for the first line, or for word that there is none */
  #comes: (() => void)[] = []
  /** rises with every word that is to be heard, and with every play */
  #heardTurn = 0

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

  /** Another text, or the first one. */
  setText(text: string): void {
    this.#text = text
    this.#ask()
  }

  #ask(): void {
    this.#stale = true
    this.#composer.ask({ text: this.#text, loop: this.#state.loop, lines: LINES })
    this.#set({ searching: true })
  }

  #answered(answer: ComposeAnswer): void {
    switch (answer.kind) {
      case 'page':
        this.#set({ page: answer.page })
        return
      case 'line': {
        const lines = this.#stale ? [] : [...this.#state.lines]
        lines[answer.index] = answer.line
        const index = this.#stale ? 0 : this.#state.index
        this.#stale = false
        this.#set({ lines, index, clash: undefined, fault: undefined })
        if (answer.index === 0) this.#set({ provenWithin: answer.line.line.provenWithin })
        if (answer.index === index) this.#takeOver(answer.line)
        this.#lineCame()
        return
      }
      case 'done':
        // Where nothing at all is written there is nothing to keep either.
        if (answer.lines === 0 && answer.page.form.bars.length === 0) {
          this.stop()
          this.#set({ lines: [], index: 0 })
        }
        this.#set({ page: answer.page, searching: false, provenWithin: answer.provenWithin })
        this.#lineCame()
        if (answer.lines === 0) this.#set({ clash: undefined })
        return
      case 'progress':
        if (answer.provenWithin !== undefined) this.#set({ provenWithin: answer.provenWithin })
        return
      case 'clash':
        this.#set({ clash: answer.clash, searching: false })
        this.#lineCame()
        return
      case 'failed':
        this.#set({ fault: `The line could not be composed: ${answer.message}.`, searching: false })
        return
    }
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

  /** The MIDI file of the line on the page; `undefined` where there is none. */
  async file(reader: FileRequest['for']): Promise<Uint8Array | undefined> {
    if (!this.#state.lines[this.#state.index]) return undefined
    return await this.#composer.file(this.#state.index, reader)
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
    for (const [part, { decibels }] of Object.entries(this.#state.levels)) {
      sound.transport.setLevel(part as PartName, this.#isHeard(part as PartName) ? decibels : undefined)
    }
    sound.transport.setLoop(this.#state.loop)
    this.#ready = sound
    return sound
  }

  /** Plays from the beginning. Called on a player's press. */
  async play(): Promise<void> {
    const { playing, searching, lines, index } = this.#state
    if (playing || (!lines[index] && !searching)) return
    this.#set({ playing: true, notice: undefined })
    try {
      const sound = this.#ready ?? (await this.prepare())
      // Pressed before the first line is there: it plays when it comes.
      if (this.#state.playing && !this.#state.lines[0]) await new Promise<void>((come) => this.#comes.push(come))
      const line = this.#state.lines[this.#state.index]
      if (!this.#state.playing || !line) {
        this.#set({ playing: false })
        return
      }
      this.#heardTurn++
      sound.transport.setLoop(this.#state.loop)
      await sound.transport.play(line)
      if (!sound.transport.playing) return
      sound.follow(true)
      this.#follow()
    } catch (error) {
      this.#set({ playing: false, heard: undefined })
      this.#failed(error)
    }
  }

  stop(): void {
    this.#ready?.transport.stop()
    this.#ready?.follow(false)
    this.#lineCame()
    if (this.#state.playing) this.#set({ playing: false, heard: undefined })
  }

  /** Moves the lamp as long as something plays: to what is heard, not to what is sent. */
  #follow(): void {
    const look = () => {
      if (!this.#state.playing || !this.#ready) return
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
    const sound = this.#ready
    if (!sound || this.#state.playing) return
    const turn = ++this.#heardTurn
    try {
      const performance = await this.#composer.hear(this.#text, word)
      if (!performance || this.#state.playing || turn !== this.#heardTurn) return
      sound.transport.setLoop(false)
      await sound.transport.play({ first: performance, again: performance })
      sound.follow(true)
    } catch (error) {
      this.#failed(error)
    }
  }

  /** Silence on every instrument, whatever hangs. */
  allNotesOff(): void {
    this.stop()
    this.#ready?.transport.output.stop()
  }

  setLoop(loop: boolean): void {
    this.#set({ loop })
    this.#ready?.transport.setLoop(loop)
    // A line that goes round leads from its end to its beginning.
    this.#ask()
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
    for (const part of Object.keys(this.#state.levels) as PartName[]) {
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
  async setDestination(id: string): Promise<void> {
    try {
      const sound = this.#ready ?? (await this.prepare())
      await sound.goTo(id === BUILT_IN ? undefined : id)
      this.#set({ destination: id, notice: undefined })
    } catch (error) {
      this.#failed(error)
    }
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
    this.#set({ notice })
  }

  #failed(error: unknown): void {
    if (!(error instanceof OutputError)) {
      this.#set({
        notice: { text: `Something went wrong: ${error instanceof Error ? error.message : String(error)}.` },
      })
      return
    }
    this.#set({ notice: SENTENCES[error.code] })
    if (error.code === 'midi/no-port') this.#set({ portsKnown: true })
  }
}
