/** What a newcomer has done so far, in this order. */
export type FirstStep = 'nothing' | 'played' | 'changed' | 'stepped'

/** The one pencilled sentence over the first system; empty once it has all been done. */
export function pencilled(step: FirstStep, touch: boolean): string {
  switch (step) {
    case 'nothing':
      return 'Press play. Then change a chord.'
    case 'played':
      return 'Change a chord: press any symbol.'
    case 'changed':
      return touch ? 'Now hear line 2: press ›.' : 'Now hear line 2: press ].'
    case 'stepped':
      return ''
  }
}

const ORDER: readonly FirstStep[] = ['nothing', 'played', 'changed', 'stepped']

/** The step after something was done; what was done out of order is not asked for again. */
export function stepAfter(step: FirstStep, done: Exclude<FirstStep, 'nothing'>): FirstStep {
  return ORDER.indexOf(done) > ORDER.indexOf(step) ? done : step
}
