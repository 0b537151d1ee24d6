import { barTicks, beatsOf, formatMetre, METRES, type Metre } from '../music/metre.ts'
import { TICKS_PER_WHOLE } from '../music/tick.ts'
import type { BarWord, Chart, PlacedChord, Written, WrittenBar } from './chart.ts'
import type { Diagnoses } from './diagnostic.ts'
import { groupedMetre, metreFixes, shown } from './header.ts'
import { shareBeats } from './place.ts'
import type { Row } from './row.ts'
import type { Span } from './span.ts'
import { type BarLine, type Token, tokensOf } from './token.ts'
import type { WordReader } from './word.ts'

/** Repeats and endings count so far. */
export const MOST_TIMES = 64

/** A chord is hardly written in more letters. */
const LONGEST_JOINED = 24

/** A chord of a bar that is not yet closed, with the beat slashes behind it. */
interface Item {
  readonly word: BarWord
  slashes: number
  readonly span: { readonly from: number; to: number }
}

/** A bar that is not yet closed. */
interface OpenBar {
  readonly items: Item[]
  /** a chord with what stands behind it and was perhaps meant to be a part of it */
  joined: { readonly text: string; readonly from: number } | undefined
  again: Span | undefined
  hasSlashes: boolean
  metre: Metre
  span: Span
}

/** A bar that is closed; what stands at its end may still come in the next row. */
type ClosedBar = { -readonly [name in keyof WrittenBar]: WrittenBar[name] }

/** Reads bars, row by row. */
export class BarReader {
  readonly #head: Omit<Chart, 'bars'>
  readonly #diagnoses: Diagnoses
  readonly #words: WordReader
  readonly #bars: ClosedBar[] = []
  #metre: Metre
  #open: OpenBar | undefined
  /** the last chord or N.C. of the bars that are closed */
  #sounding: BarWord | undefined
  // What stands before the next bar and belongs to it.
  #section: Written<string> | undefined
  #repeatStart: { readonly span: Span } | undefined
  #ending: Written<readonly number[]> | undefined
  #pickup = false

  constructor(head: Omit<Chart, 'bars'>, words: WordReader, diagnoses: Diagnoses) {
    this.#words = words
    this.#head = head
    this.#diagnoses = diagnoses
    this.#metre = groupedMetre(formatMetre(head.metre), head.groups)!
  }

  readRow(row: Row): void {
    const tokens = tokensOf(row)
    const prose = this.#words.isProse(tokens)
    if (prose) {
      const words = tokens.filter((token) => token.kind === 'word')
      const span = { from: words[0]!.span.from, to: words.at(-1)!.span.to }
      const message = 'There is no chord and no bar line in this row. It is left out; a comment begins with //.'
      this.#diagnoses.warning('chart/unread-row', span, message)
    }
    let left: BarLine | undefined
    let bare = true
    for (const token of tokens) {
      if (token.kind === 'line') {
        if (this.#open) this.#close()
        else if (left && bare && this.#isBarBetween(left, token)) {
          this.#sayEmptyBar({ from: left.span.from, to: token.span.to })
          this.#openAt({ from: left.span.to, to: token.span.from })
          this.#close()
        }
        this.#readLine(token)
        left = token
        bare = true
        continue
      }
      bare = false
      if (token.kind === 'section') this.#readSection(token)
      else if (token.kind === 'metre') this.#readMetre(token)
      else if (token.kind === 'road-map') this.#refuseRoadMap(token)
      else if (token.kind === 'ending' && !this.#open?.items.length) {
        if (!prose) this.#ending = this.#endingOf(token.span, [...(this.#ending?.value ?? []), ...token.numbers])
      } else if (!prose) this.#readWord(token)
    }
    if (this.#open && row.comment !== undefined) this.#hintAtComment(row, tokens)
    if (this.#open) this.#close()
  }

  /** All bars. Nothing is read after this. */
  finish(): { readonly bars: readonly WrittenBar[]; readonly pickup: boolean } {
    if (this.#section) this.#sayEmptySection(this.#section)
    for (const opening of [this.#repeatStart, this.#ending]) {
      if (!opening) continue
      const message = 'No bar comes after this. It is left out.'
      this.#diagnoses.warning('chart/no-bar-behind', opening.span, message)
    }
    return { bars: this.#bars, pickup: this.#pickup }
  }

  /** Nothing stands between two bar lines: a bar where both are plain, else two bar lines beside each other. */
  #isBarBetween(left: BarLine, right: BarLine): boolean {
    if (this.#ending || this.#repeatStart) return true
    const closes = left.endsRepeat || left.style !== 'single'
    const opens = right.startsRepeat || right.ending !== undefined
    return !closes && !opens && !right.endsRepeat && right.style === 'single'
  }

  #openAt(span: Span): OpenBar {
    this.#open = { items: [], joined: undefined, again: undefined, hasSlashes: false, metre: this.#metre, span }
    return this.#open
  }

  #readLine(line: BarLine): void {
    const last = this.#bars.at(-1)
    if (last && line.style !== 'single') last.barLine = line.style
    if (line.endsRepeat) {
      if (!last) {
        const message = 'A repeat ends here, and no bar stands before it. It is left out.'
        this.#diagnoses.warning('chart/repeat-end-without-bar', line.span, message)
      } else if (last.repeatEnd) {
        this.#diagnoses.warning(
          'chart/repeat-end-twice',
          line.span,
          'The repeat has ended already. This end is left out.',
        )
      } else last.repeatEnd = { value: this.#timesOf(line), span: line.span }
    }
    if (line.startsRepeat) this.#repeatStart = { span: line.span }
    if (line.ending) this.#ending = this.#endingOf(line.span, line.ending)
  }

  #timesOf(line: BarLine): number | undefined {
    const { times, span } = line
    if (times === undefined || (times >= 2 && times <= MOST_TIMES)) return times
    const message = `A repeat is played 2 to ${MOST_TIMES} times, and this one says ${shown(String(times))}. It is played twice.`
    this.#diagnoses.warning('chart/repeat-count', span, message)
    return undefined
  }

  #endingOf(span: Span, written: readonly number[]): Written<readonly number[]> | undefined {
    const inRange = written.filter((number) => number >= 1 && number <= MOST_TIMES)
    const numbers = [...new Set(inRange)].sort((a, b) => a - b)
    if (numbers.length < written.length || numbers.length === 0) {
      const instead = numbers.length > 0 ? `It is read as ending ${numbers.join(', ')}.` : 'It is left out.'
      const message = `The numbers of an ending go from 1 to ${MOST_TIMES}, each once, as in |1. or |1,3. ${instead}`
      this.#diagnoses.warning('chart/ending-number', span, message)
    }
    return numbers.length > 0 ? { value: numbers, span } : undefined
  }

  #readSection({ name, closed, span }: Token & { readonly kind: 'section' }): void {
    if (this.#open) this.#close()
    if (!closed) {
      const message = `The name of a section stands in brackets, as in [A], and no ] closes this one. It is read as "${shown(name)}".`
      this.#diagnoses.warning('chart/open-bracket', span, message, name === '' ? [] : [`[${name}]`])
    }
    if (name === '') {
      this.#diagnoses.warning('chart/no-section-name', span, 'This section has no name. It is left out.')
      return
    }
    if (this.#section) this.#sayEmptySection(this.#section)
    this.#section = { value: name, span }
  }

  #sayEmptySection({ value, span }: Written<string>): void {
    this.#diagnoses.warning('chart/empty-section', span, `Section "${shown(value)}" has no bars. It is left out.`)
  }

  #readMetre({ upper, lower, span }: Token & { readonly kind: 'metre' }): void {
    const text = `${Number(upper)}/${Number(lower)}`
    const isFirst = this.#bars.length === 0
    const metre =
      groupedMetre(text, this.#head.groups) ??
      (isFirst && this.#head.pickup ? pickupMetre(Number(upper), Number(lower), this.#head.metre) : undefined)
    if (!metre) {
      const list = METRES.join(', ')
      const pickup = isFirst ? ' A pick-up needs the header pickup: yes, and is shorter than a bar.' : ''
      const message = `"${shown(`${upper}/${lower}`)}" is not a metre of ours: they are ${list}. The bar stays in ${formatMetre(this.#metre)}.${pickup}`
      this.#diagnoses.warning('chart/unknown-metre', span, message, () => metreFixes(text).map((fix) => `(${fix})`))
      return
    }
    this.#metre = metre
    if (!this.#open) return
    const message = 'A metre stands before the first chord of its bar. It is read as if it did.'
    this.#diagnoses.warning('chart/late-metre', span, message)
    this.#open.metre = metre
  }

  #refuseRoadMap({ text, span }: Token & { readonly kind: 'road-map' }): void {
    const message = `Jumps and their signs, as "${text}" is one, are not read yet. It is left out, and the bars are played straight on.`
    this.#diagnoses.warning('chart/road-map-not-read', span, message)
  }

  #readWord({ text, span }: Token & { readonly kind: 'word' | 'ending' }): void {
    const reading = this.#words.read(text)
    if (reading.kind === 'stray') {
      const message = `"${shown(text)}" is neither a chord nor a sign of a chart. It is left out.`
      this.#diagnoses.warning('chart/stray-sign', span, message)
      return
    }
    const bar = this.#open ?? this.#openAt(span)
    bar.span = { from: bar.span.from, to: span.to }
    const last = bar.items.at(-1)
    const add = (word: BarWord): void => {
      bar.items.push({ word, slashes: 0, span: { ...span } })
    }
    if (reading.kind !== 'unread') bar.joined = undefined
    switch (reading.kind) {
      case 'slash':
        bar.hasSlashes = true
        if (last) {
          last.slashes++
          last.span.to = span.to
        } else add({ kind: 'slash' })
        return
      case 'again':
        if (bar.again) {
          const message = '% stands for a whole bar, and one has been read in this bar already. This one is left out.'
          this.#diagnoses.warning('chart/percent-with-chords', span, message)
        } else bar.again = span
        return
      case 'no-chord':
        add({ kind: 'no-chord' })
        return
      case 'unread': {
        const instead = this.#insteadAt(bar)
        add({ kind: 'unread', text })
        const joined = bar.joined && bar.joined.text.length <= LONGEST_JOINED ? bar.joined.text + text : text
        if (joined !== text && this.#words.read(joined).kind === 'chord') {
          const from = bar.joined!.from
          bar.joined = { text: joined, from }
          const message = `A blank ends a chord, so "${shown(text)}" stands alone and is no chord. ${instead} If it belongs to that, write ${joined}.`
          this.#diagnoses.warning(reading.code, { from, to: span.to }, message, [joined])
        } else this.#diagnoses.warning(reading.code, span, `${reading.message} ${instead}`, reading.fixes)
        return
      }
      case 'chord':
        add({ kind: 'chord', symbol: reading.symbol })
        bar.joined = { text: reading.symbol.text, from: span.from }
        if (reading.pushed) {
          const message = 'Pushed chords are not read yet. This one is played on its beat.'
          this.#diagnoses.warning('chart/push-not-read', span, message, [text.slice(text.indexOf('<') + 1)])
        }
        for (const { code, message, fixes } of reading.hints)
          this.#diagnoses.hint(`chord/${code}`, span, message, fixes)
    }
  }

  /** What is played for a chord that nobody can read, at the end of what the bar holds so far. */
  #insteadAt(bar: OpenBar): string {
    const here = soundingAt(bar.items.map(({ word }) => word))
    // Where bars are played again or in another order, what comes before a bar is not what stands before it.
    const isJoint = this.#repeatStart || this.#ending || (this.#section && this.#head.form)
    if (!here && isJoint) return 'It plays as the chord before it, or as N.C. where there is none.'
    const before = here ?? this.#sounding
    return before?.kind === 'chord' ? `It plays as the ${shown(before.symbol.text)} before it.` : 'It plays as N.C.'
  }

  #close(): void {
    const bar = this.#open!
    this.#open = undefined
    const isFirst = this.#bars.length === 0
    const isPickup = isFirst && this.#head.pickup && this.#checkPickup(bar)
    if (isPickup) this.#pickup = true
    const before = this.#bars.at(-1)
    const chords = this.#placed(bar)
    this.#sounding = soundingAt(chords.map(({ word }) => word)) ?? this.#sounding
    this.#bars.push({
      number: isPickup ? 0 : (before?.number ?? 0) + 1,
      metre: bar.metre,
      chords,
      section: this.#section,
      repeatStart: this.#repeatStart,
      ending: this.#ending,
      repeatEnd: undefined,
      barLine: 'single',
      span: bar.span,
    })
    this.#section = undefined
    this.#repeatStart = undefined
    this.#ending = undefined
    if (isPickup) this.#metre = groupedMetre(formatMetre(this.#head.metre), this.#head.groups)!
  }

  #checkPickup(bar: OpenBar): boolean {
    if (barTicks(bar.metre) < barTicks(this.#head.metre)) return true
    const message = `The chart asks for a pick-up, and its first bar is as long as any other. A pick-up says how long it is, (1/4). The chart begins with bar 1.`
    this.#diagnoses.warning('chart/pickup-not-short', bar.span, message)
    return false
  }

  #sayEmptyBar(span: Span): void {
    const message =
      'There is nothing between these bar lines. The bar is played as the one before it, which is written %.'
    this.#diagnoses.warning('chart/empty-bar', span, message, ['| % |'])
  }

  /** The chords of a bar, sharing its beats. */
  #placed(bar: OpenBar): readonly PlacedChord[] {
    const { items, again, metre } = bar
    if (again && items.every(({ word }) => word.kind === 'slash')) return []
    if (again) {
      const message = '% stands for a whole bar, and this bar has chords. It is left out.'
      this.#diagnoses.warning('chart/percent-with-chords', again, message)
    }
    const beats = beatsOf(metre).length
    const given = bar.hasSlashes ? this.#slashedBeats(bar, beats) : undefined
    if (!given && items.length > beats) {
      const over = { from: items[beats]!.span.from, to: items.at(-1)!.span.to }
      const message = `This bar has ${items.length} chords, and ${formatMetre(metre)} has ${counted(beats, 'beat')}. The first ${beats} are played, one a beat.`
      this.#diagnoses.warning('chart/too-many-chords', over, message)
    }
    const shares = given ?? shareBeats(metre, Math.min(items.length, beats))
    return shares.map((share, i) => ({ word: items[i]!.word, beats: share, span: { ...items[i]!.span } }))
  }

  /** One beat for each chord and each slash; the last chord takes what is missing, and what is over is cut off. */
  #slashedBeats(bar: OpenBar, beats: number): readonly number[] {
    const written = bar.items.map(({ slashes }) => 1 + slashes)
    const sum = written.reduce((total, own) => total + own, 0)
    const given: number[] = []
    let left = beats
    for (const own of written) {
      if (left > 0) given.push(Math.min(own, left))
      left -= own
    }
    if (left > 0) given[given.length - 1]! += left
    if (sum !== beats) {
      const instead = sum < beats ? 'The last chord lasts to the end of the bar.' : 'What is over is left out.'
      const message = `Chords and slashes are a beat each: here are ${sum}, and ${formatMetre(bar.metre)} has ${counted(beats, 'beat')}. ${instead}`
      this.#diagnoses.warning('chart/slashes', bar.span, message)
    }
    return given
  }

  /** Two slashes beside each other begin a comment, also where somebody meant two beats. */
  #hintAtComment(row: Row, tokens: readonly Token[]): void {
    const last = tokens.at(-1)
    const rest = row.comment!.slice(2)
    const afterSlash = last?.kind === 'word' && last.text === '/'
    if (!afterSlash && !/^[\s/]*(\||$)/.test(rest)) return
    const from = row.from + row.text.length
    const message =
      'Two slashes beside each other begin a comment, so the rest of the row is not read. Beats are written with a blank between, / /.'
    this.#diagnoses.hint('chart/slashes-begin-comment', { from, to: from + 2 }, message, ['/ /'])
  }
}

/** The last chord of some words, or the last N.C. */
function soundingAt(words: readonly BarWord[]): BarWord | undefined {
  return words.findLast(({ kind }) => kind === 'chord' || kind === 'no-chord')
}

/** The metre of a pick-up: any number of quarters or eighths that is shorter than a bar. */
function pickupMetre(upper: number, lower: number, bar: Metre): Metre | undefined {
  if ((lower !== 4 && lower !== 8) || upper < 1 || (upper * TICKS_PER_WHOLE) / lower >= barTicks(bar)) return undefined
  if (lower === 4) return { upper, lower, groups: Array.from({ length: upper }, () => 1) }
  if (upper % 3 === 0) return { upper, lower, groups: Array.from({ length: upper / 3 }, () => 3) }
  const pairs = Math.floor(upper / 2)
  const groups = Array.from({ length: pairs }, (_, i) => (upper % 2 === 1 && i === pairs - 1 ? 3 : 2))
  return { upper, lower, groups: pairs === 0 ? [1] : groups }
}

function counted(number: number, word: string): string {
  return `${number} ${word}${number === 1 ? '' : 's'}`
}
