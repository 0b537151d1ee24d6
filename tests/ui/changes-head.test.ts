import { describe, expect, it } from 'vitest'
import { changesHead } from '../../src/ui/changes-head.ts'

describe('the head of the changes', () => {
  it.each([
    ['title: A\nkey: F\ntempo: 126\nfeel: swing-medium\n\n[A]\n| C7 |', 'key F · 126 · swing-medium'],
    ['title: A\n| C7 |', 'A'],
    ['mood: dark\n| C7 |', 'dark'],
    ['Key: Dm\ntime: 3/4\npickup: yes\nform: A A B\n| C7 |', 'key Dm · 3/4 · form A A B · pick-up'],
    ['cells: gallop "1 2& 3" gallop\npatterns: root-only\n| C7 |', '3 cells · 1 pattern'],
    ['rule: Bar 1: root on 1\nrule: x\n// one\nkey: F // two\n| C7 |', 'key F · 2 rules · 2 remarks'],
    ['key: F\nkey: G\n| C7 |', 'key F'],
  ])('%j says %s', (text, says) => {
    expect(changesHead(text)?.says).toBe(says)
  })

  it('reaches from the first remark or header to the last row before anything else', () => {
    const cut = (text: string) => {
      const head = changesHead(text)!
      return text.slice(head.from, head.to)
    }
    expect(cut('\n// a\nkey: F\n\n\n[A]\n| C7 |\n')).toBe('// a\nkey: F\n\n')
    expect(cut('key: F\n// of the bars\n| C7 |\n')).toBe('key: F')
    expect(cut('key: F')).toBe('key: F')
  })

  it.each(['', '| C7 |', '// a remark\n| C7 |', '| C7 |\nkey: F'])('is not there in %j', (text) => {
    expect(changesHead(text)).toBeUndefined()
  })
})
