#!/usr/bin/python3
"""Cuts *Linewright Signs* out of Bravura: the signs that the page needs before the engraver is there.

Run by hand from the top of the project, after npm ci, when a sign is missing:
    apt-get install python3-fonttools python3-brotli
    /usr/bin/python3 styles/signs/cut-signs.py

"Bravura" is a reserved name of its licence (OFL 1.1), so what is cut from it bears another, inside too.
"""
from fontTools import subset
from fontTools.ttLib import TTFont

SOURCE = 'node_modules/@vexflow-fonts/bravura/bravura.otf'
TARGET = 'styles/signs/linewright-signs.woff2'
NAME = 'Linewright Signs'

# Code points and what they are: SMuFL 1.4 (Standard Music Font Layout, W3C Music Notation Community Group).
SIGNS = {
    'bar lines, single to repeats': range(0xE030, 0xE034),
    'repeats: left, right, both, dots, one dot': range(0xE040, 0xE045),
    "D.S., D.C., segno, coda": range(0xE045, 0xE04A),
    'bass clef, percussion clef, tab clefs': [0xE062, 0xE069, 0xE06D, 0xE06E],
    'time figures 0 to 9, common, cut, plus': range(0xE080, 0xE08D),
    'note heads: double whole, whole, half, black': [0xE0A0, 0xE0A2, 0xE0A3, 0xE0A4],
    'cross heads: double whole, whole, half, black': range(0xE0A6, 0xE0AA),
    'brackets round a head': [0xE0F5, 0xE0F6],
    'slashes': range(0xE100, 0xE104),
    'notes with stems, whole to thirty-second, and their dot': [*range(0xE1D2, 0xE1DD), 0xE1E7],
    'notes in a row of text: short and long stems, beams, tie, triplet bracket': range(0xE1F0, 0xE200),
    'flags, eighth to thirty-second, up and down': range(0xE240, 0xE246),
    'accidentals: flat, natural, sharp, double sharp, double flat; round brackets': [*range(0xE260, 0xE265), 0xE26A, 0xE26B],
    'accent, staccato, tenuto, strong accent, above and below': [*range(0xE4A0, 0xE4A6), 0xE4AC, 0xE4AD],
    'fermata above and below': [0xE4C0, 0xE4C1],
    'rests, whole to thirty-second; many bars': [*range(0xE4E3, 0xE4E9), *range(0xE4EE, 0xE4F2)],
    'the bar before again': range(0xE500, 0xE503),
    'chord symbols: diminished, half-diminished, augmented, major seventh, minor, brackets': range(0xE870, 0xE87B),
    'tuplet figures 0 to 9, colon': range(0xE880, 0xE88B),
    'metronome notes, whole to sixteenth, and their dot': [*range(0xECA2, 0xECAB), 0xECB7],
    'accidentals at the size of text: flat, natural, sharp, double sharp, double flat': range(0xED60, 0xED65),
}

wanted = sorted({point for points in SIGNS.values() for point in points})
font = TTFont(SOURCE)
present = set(font.getBestCmap())
missing = [f'U+{point:04X}' for point in wanted if point not in present]
if missing:
    raise SystemExit(f'{SOURCE} has no {", ".join(missing)}')

options = subset.Options(layout_features=[], name_IDs=[0, 13, 14], notdef_outline=False, hinting=False, desubroutinize=True)
cutter = subset.Subsetter(options)
cutter.populate(unicodes=wanted)
cutter.subset(font)

plain = NAME.replace(' ', '')
version = f'Version {font["head"].fontRevision:.3f}, cut'
for name_id, text in {1: NAME, 2: 'Regular', 3: f'{plain};{version}', 4: NAME, 5: version, 6: plain}.items():
    font['name'].setName(text, name_id, 3, 1, 0x409)
top = font['CFF '].cff
top.fontNames = [plain]
for key in ('FullName', 'FamilyName'):
    setattr(top[0], key, NAME)

font.flavor = 'woff2'
font.save(TARGET)
print(f'{TARGET}: {len(wanted)} signs')
