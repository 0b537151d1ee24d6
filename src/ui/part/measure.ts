/** The faces the part is set in: Besley at 600, the music font, Vollkorn italic. */
export type Face = 'part' | 'signs' | 'book'

/** The width of a text in em of its size. */
export type Measure = (text: string, face: Face) => number

/** How the faces are named on this page: CSS family lists. */
export type FaceFamilies = Readonly<Record<Face, string>>

const FONT: Readonly<Record<Face, string>> = { part: '600 100px', signs: '400 100px', book: 'italic 400 100px' }

/**
 * Measures by the canvas, in the fonts that are loaded now; each text once. After fonts have come in a new one is needed: what
 * was measured in a stand-in stays wrong.
 */
export function canvasMeasure(families: FaceFamilies): Measure {
  const canvas = document.createElement('canvas').getContext('2d')
  const known = new Map<string, number>()
  return (text, face) => {
    const key = face + text
    let width = known.get(key)
    if (width === undefined) {
      if (canvas) canvas.font = `${FONT[face]} ${families[face]}`
      width = canvas ? canvas.measureText(text).width / 100 : text.length * 0.6
      known.set(key, width)
    }
    return width
  }
}

/** Loads the faces of the part; resolves when they can be measured, also where one cannot be had. */
export async function loadFaces(families: FaceFamilies): Promise<void> {
  const faces = Object.keys(FONT) as Face[]
  await Promise.allSettled(faces.map((face) => document.fonts.load(`${FONT[face]} ${families[face]}`, PROBE[face])))
}

/** A text of each face, to load by and to see whether a face has changed. */
export const PROBE: Readonly<Record<Face, string>> = {
  part: 'Bm7/0123',
  signs: '\u{e062}\u{ed60}\u{ed62}',
  book: '5 and',
}
