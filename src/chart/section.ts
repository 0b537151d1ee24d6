import type { Written, WrittenBar } from './chart.ts'
import type { Diagnoses } from './diagnostic.ts'
import { shown } from './header.ts'
import { nearest } from './nearest.ts'
import type { Run } from './repeat.ts'

/** Bars of a section. */
interface Section extends Run {
  readonly name: Written<string>
}

/**
 * The sections in the order of `form:`; `undefined` if it names none that there is.
 *
 * @param from  index of the first bar that may belong to a section
 */
export function sectionsPlayed(
  words: readonly Written<string>[],
  bars: readonly WrittenBar[],
  from: number,
  diagnoses: Diagnoses,
): readonly Run[] | undefined {
  const starts = bars.flatMap(({ section }, i) => (section ? [{ name: section, from: i }] : []))
  const all = starts.map((start, i): Section => ({ ...start, to: starts[i + 1]?.from ?? bars.length }))
  const byName = new Map<string, Section>()
  for (const section of all) {
    const name = plainName(section.name.value)
    if (!byName.has(name)) byName.set(name, section)
  }
  const played = namedSections(words, byName, diagnoses)
  if (played.length === 0) return undefined

  const first = all[0]!.from
  if (first > from) {
    const message = 'These bars belong to no section, so the header form: cannot name them. They are not played.'
    diagnoses.warning(
      'chart/section-not-played',
      { from: bars[from]!.span.from, to: bars[first - 1]!.span.to },
      message,
    )
  }
  const heard = new Set(played)
  for (const section of all) {
    const name = shown(section.name.value)
    if (byName.get(plainName(section.name.value)) !== section) {
      const message = `There is a section "${name}" already, and the header form: means that one. This one is not played.`
      diagnoses.warning('chart/section-twice', section.name.span, message)
    } else if (!heard.has(section)) {
      const message = `The header form: does not name section "${name}". It is not played.`
      diagnoses.warning('chart/section-not-played', section.name.span, message)
    }
  }
  return played
}

/** Names are compared without capitals, and a blank is a blank. */
function plainName(name: string): string {
  return name.toLowerCase().split(/\s+/).join(' ')
}

/** What the words of `form:` name; a name of several words is taken before its first word alone. */
function namedSections(
  words: readonly Written<string>[],
  byName: ReadonlyMap<string, Section>,
  diagnoses: Diagnoses,
): readonly Section[] {
  const names = [...byName.values()].map(({ name }) => name.value)
  const longest = Math.min(8, Math.max(1, ...names.map((name) => name.split(/\s+/).length)))
  const played: Section[] = []
  for (let i = 0; i < words.length; ) {
    let count = Math.min(longest, words.length - i)
    const named = () =>
      byName.get(
        plainName(
          words
            .slice(i, i + count)
            .map(({ value }) => value)
            .join(' '),
        ),
      )
    while (count > 1 && !named()) count--
    const section = named()
    if (section) played.push(section)
    else {
      const { value, span } = words[i]!
      const list = names.length > 0 ? `the sections are ${shown(names.join(', '))}` : 'a section is written [A]'
      const message = `There is no section "${shown(value)}": ${list}. It is left out of the form.`
      diagnoses.warning('chart/unknown-section', span, message, () => sectionFixes(value, names))
    }
    i += count
  }
  return played
}

/** The nearest section; or letters that stand together, `AABA`, one by one. */
function sectionFixes(word: string, names: readonly string[]): readonly string[] {
  const letters = [...word.slice(0, 32)]
  if (letters.length > 1 && letters.every((letter) => names.includes(letter))) return [letters.join(' ')]
  const near = nearest(word.slice(0, 32), names.slice(0, 100))
  return near === undefined ? [] : [near]
}
