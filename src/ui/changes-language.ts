import { HighlightStyle, StreamLanguage, type StringStream, syntaxHighlighting } from '@codemirror/language'
import type { Extension } from '@codemirror/state'
import { tags } from '@lezer/highlight'

interface Reading {
  /** the first bar line has been seen: no header stands behind it */
  begun: boolean
  /** in the value of a header */
  inHeader: boolean
}

const HEADER = /^\s*\p{L}[\p{L} -]{0,31}:(?!\|)/u
const BAR_LINE = /^:?\|+\]?:?(?:\s*(?:[x×]\s*\d+|\d+\s*[x×])(?![\p{L}\d])|\s*\d+(?:\s*[-–,.]+\s*\d+)*\s*\.)?/u
const SECTION = /^\[[^\]|]*\]?/
const METRE = /^\(\s*\d+\s*\/\s*\d+\s*\)/
const ROAD_MAP =
  /^(?:(?:d\.? ?[cs]\.?|da capo|dal segno)(?: +al +(?:fine|coda))?|to +coda|al +(?:fine|coda)|fine|coda|segno)(?=[\s|:[]|$)/iu
const WORD = /^(?:(?!\/\/)[^\s|:[(])+/

/** The kinds of ink for the next piece of a row: only looks, the chart is read elsewhere. */
function token(stream: StringStream, reading: Reading): string | null {
  if (stream.sol()) {
    reading.inHeader = false
    if (!reading.begun && stream.match(HEADER)) {
      reading.inHeader = true
      return 'meta'
    }
  }
  if (stream.eatSpace()) return null
  if (stream.match('//')) {
    stream.skipToEnd()
    return 'comment'
  }
  if (reading.inHeader) {
    stream.match(/^(?:(?!\/\/).)+/)
    return 'meta'
  }
  if (stream.match(SECTION)) return 'heading'
  if (stream.match(BAR_LINE)) {
    reading.begun = true
    return 'punctuation'
  }
  if (stream.match(METRE) || stream.match(ROAD_MAP)) return 'keyword'
  if (!stream.match(WORD)) stream.next()
  return null
}

const LANGUAGE = StreamLanguage.define<Reading>({
  name: 'changes',
  startState: () => ({ begun: false, inHeader: false }),
  copyState: (reading) => ({ ...reading }),
  token,
})

/** Chords are ink; what stands between and above them is quieter. */
const INKS = HighlightStyle.define([
  { tag: [tags.heading, tags.keyword, tags.meta], color: 'var(--ink-2)' },
  { tag: tags.punctuation, color: 'var(--graphite)' },
  { tag: tags.comment, color: 'var(--ink-3)' },
])

/** The chart language for the editor. */
export const CHANGES_LANGUAGE: Extension = [LANGUAGE, syntaxHighlighting(INKS)]
