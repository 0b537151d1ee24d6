import type { Span } from './span.ts'

/** What is to be said about a place in the text: what was found, what was expected, and what is done instead. */
export interface Diagnostic {
  /** `chart/…` or `chord/…` and so on, by the room that finds it */
  readonly code: string
  /** `error` only where nothing can be played or a limit is passed; a matter of style is a `hint` */
  readonly severity: 'error' | 'warning' | 'hint'
  readonly span: Span
  readonly message: string
  /** texts that may stand in place of the span, or of `fixSpan` where there is one, the likeliest first */
  readonly fixes: readonly string[]
  readonly fixSpan?: Span
}

/** More would help nobody, and a text of nothing but faults still has to be answered at once. */
const MOST = 200

/** Gathers diagnostics: every error, and as many of the rest as a reader can use. */
export class Diagnoses {
  readonly #list: Diagnostic[] = []
  #left = 0

  error(code: string, span: Span, message: string, fixes: readonly string[] = []): void {
    this.#list.push({ code, severity: 'error', span, message, fixes })
  }

  warning(
    code: string,
    span: Span,
    message: string,
    fixes: readonly string[] | (() => readonly string[]) = [],
    fixSpan?: Span,
  ): void {
    this.#add('warning', code, span, message, fixes, fixSpan)
  }

  hint(code: string, span: Span, message: string, fixes: readonly string[] | (() => readonly string[]) = []): void {
    this.#add('hint', code, span, message, fixes)
  }

  #add(
    severity: 'warning' | 'hint',
    code: string,
    span: Span,
    message: string,
    fixes: readonly string[] | (() => readonly string[]),
    fixSpan?: Span,
  ): void {
    if (this.#list.length >= MOST) {
      this.#left++
      return
    }
    const made = typeof fixes === 'function' ? fixes() : fixes
    this.#list.push({ code, severity, span, message, fixes: made, ...(fixSpan ? { fixSpan } : {}) })
  }

  /** All of them in the order of the text. */
  get list(): readonly Diagnostic[] {
    const list = [...this.#list].sort((a, b) => a.span.from - b.span.from)
    if (this.#left > 0) {
      const last = list.at(-1)!
      const message = `${this.#left} more things are left out here. When those above are put right, they are shown.`
      list.push({ code: 'chart/more', severity: 'hint', span: last.span, message, fixes: [] })
    }
    return list
  }
}
