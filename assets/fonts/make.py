#!/usr/bin/python3
"""Builds Organbook Sans (Regular and SemiBold) beside this file.

The letters are Inter's, the musical signs Noto Music's, a few transport and
level signs are drawn here. Both sources are under the SIL Open Font License
1.1 without reserved names (see OFL.txt), and so is the result.

Needs Debian's python3-fonttools, fonts-inter and fonts-noto-core:

    assets/fonts/make.py

What is done to the letters, and why:
  * only the characters that the program writes are kept, so that the files
    stay small enough to embed;
  * tabular figures take the place of the proportional ones in the character
    map, because a text shaper without feature switches reaches nothing else
    and numbers that run (bar, beat, tempo) must not jump;
  * substitutions are dropped, kerning is kept;
  * thirds and fifths are put together from figures, because footages need
    them (2 2/3', 1 3/5') and the source has only some;
  * outlines become quadratic (TrueType), which every rasteriser reads.
"""

import math
import pathlib
import shutil

from fontTools import subset
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.scaleUpem import scale_upem
from fontTools.ttLib.tables._c_m_a_p import CmapSubtable

HERE = pathlib.Path(__file__).parent
INTER = "/usr/share/fonts/opentype/inter/Inter-%s.otf"
MUSIC = "/usr/share/fonts/truetype/noto/NotoMusic-Regular.ttf"
OURS = "Organbook Sans"
UPM = 2048

RANGES = [
    (0x0020, 0x007E), (0x00A0, 0x00FF), (0x0100, 0x017F),   # Latin
    (0x0218, 0x021B), (0x1E00, 0x1EFF),                     # Romanian, Vietnamese
    (0x0384, 0x03CE), (0x0400, 0x045F), (0x0490, 0x0491),   # Greek, Cyrillic for titles
    (0x2010, 0x2027), (0x2030, 0x203A), (0x2044, 0x2044),   # punctuation, primes
    (0x2070, 0x2089), (0x2150, 0x215E),                     # superiors, fractions
    (0x2190, 0x2199), (0x21A9, 0x21AA), (0x21B5, 0x21B5), (0x21E7, 0x21E7),
    (0x2212, 0x2212), (0x221E, 0x221E), (0x2248, 0x2248), (0x2260, 0x2265),
    (0x2318, 0x2318), (0x2325, 0x2326), (0x232B, 0x232B), (0x23CE, 0x23CE),
    (0x25A0, 0x25EF), (0x2713, 0x2713), (0x0394, 0x0394),
]

# Musical signs: code point, height in hundredths of the cap height, and how
# far the foot hangs below the base line in the same unit. The signs that
# stand beside letters are a little taller than a capital; clefs and notes fit
# a line of text.
SIGNS = [
    (0x266D, 112, 4), (0x266F, 124, 14), (0x266E, 128, 16),
    (0x1D12A, 62, -16), (0x1D12B, 112, 4),
    (0x2669, 118, 4), (0x266A, 118, 4),
    (0x1D11E, 170, 38), (0x1D122, 100, 0),
]

# How much heavier the musical signs of each weight are drawn than the source
# has them, in font units on each side of a stroke.
EMBOLDEN = {"Regular": 4, "SemiBold": 22}


def load_letters(weight):
    """Returns the subset of Inter at our size, still with cubic outlines."""
    font = TTFont(INTER % weight)
    scale_upem(font, UPM)
    make_figures_tabular(font)
    options = subset.Options(layout_features=["kern"], name_IDs=["*"], glyph_names=False,
                             notdef_outline=True, hinting=False, desubroutinize=True)
    subsetter = subset.Subsetter(options)
    keep = [c for lo, hi in RANGES for c in range(lo, hi + 1)]
    # The parts of fractions stay until the fractions are built.
    parts = [n for d in "1235" for n in fraction_parts(font, d)]
    subsetter.populate(unicodes=keep, glyphs=parts)
    subsetter.subset(font)
    return font, {d: fraction_parts_cached[d] for d in "1235"}


fraction_parts_cached = {}


def single_substitution(font, tag):
    """Returns the mapping of a one-to-one feature of the font."""
    gsub, mapping = font["GSUB"].table, {}
    for record in gsub.FeatureList.FeatureRecord:
        if record.FeatureTag == tag:
            for index in record.Feature.LookupListIndex:
                for table in gsub.LookupList.Lookup[index].SubTable:
                    mapping.update(getattr(getattr(table, "ExtSubTable", table), "mapping", {}))
    return mapping


def fraction_parts(font, digit):
    """Returns the names of a figure's numerator and denominator glyphs."""
    cmap = font.getBestCmap()
    plain = plain_figures.get(digit, cmap[ord(digit)])
    parts = tuple(single_substitution(font, tag)[plain] for tag in ("numr", "dnom"))
    fraction_parts_cached[digit] = parts
    return parts


plain_figures = {}


def make_figures_tabular(font):
    cmap, tnum = font.getBestCmap(), single_substitution(font, "tnum")
    for digit in "0123456789":
        plain_figures[digit] = cmap[ord(digit)]
    for table in font["cmap"].tables:
        if not table.isUnicode():
            continue
        for digit in "0123456789":
            plain = table.cmap.get(ord(digit))
            if plain in tnum:
                table.cmap[ord(digit)] = tnum[plain]


def even_figures(font):
    """Gives all figures one width: the source's differ by a unit or two."""
    cmap, hmtx = font.getBestCmap(), font["hmtx"]
    width = hmtx[cmap[ord("0")]][0]
    for digit in "123456789":
        hmtx[cmap[ord(digit)]] = (width, hmtx[cmap[ord(digit)]][1])


def to_truetype(font):
    """Replaces the CFF outlines of the font by quadratic ones."""
    glyphs, order, glyf = font.getGlyphSet(), font.getGlyphOrder(), newTable("glyf")
    glyf.glyphs, glyf.glyphOrder = {}, order
    for name in order:
        pen = TTGlyphPen(glyphs)
        glyphs[name].draw(Cu2QuPen(pen, max_err=1.0, reverse_direction=True))
        glyf.glyphs[name] = pen.glyph()
    font["loca"], font["glyf"] = newTable("loca"), glyf
    del font["CFF "]
    if "VORG" in font:
        del font["VORG"]
    maxp = font["maxp"]
    maxp.tableVersion = 0x00010000
    for field in ("maxZones", "maxTwilightPoints", "maxStorage", "maxFunctionDefs", "maxInstructionDefs",
                  "maxStackElements", "maxSizeOfInstructions"):
        setattr(maxp, field, 1 if field == "maxZones" else 0)
    maxp.maxComponentElements = maxp.maxComponentDepth = 0
    font["post"].formatType, font["post"].extraNames, font["post"].mapping = 2.0, [], {}
    font.sfntVersion = "\x00\x01\x00\x00"


def add_glyph(font, name, code, glyph, advance):
    """Adds a TrueType glyph under a code point (or replaces its holder)."""
    glyf = font["glyf"]
    if name not in glyf.glyphs:
        font.setGlyphOrder(font.getGlyphOrder() + [name])
        glyf.glyphOrder = font.getGlyphOrder()
    glyf.glyphs[name] = glyph
    glyph.recalcBounds(glyf)
    font["hmtx"][name] = (int(round(advance)), getattr(glyph, "xMin", 0))
    for table in font["cmap"].tables:
        if table.isUnicode() and (code <= 0xFFFF or table.format == 12):
            table.cmap[code] = name


def ensure_astral_map(font):
    """Gives the font a character map that reaches beyond 16 bits."""
    tables = font["cmap"].tables
    if any(t.format == 12 for t in tables):
        return
    basic = next(t for t in tables if t.isUnicode())
    full = CmapSubtable.newSubtable(12)
    full.platformID, full.platEncID, full.language, full.cmap = 3, 10, 0, dict(basic.cmap)
    tables.append(full)


def recorded(font, name, matrix):
    """Returns a glyph's outline, moved by matrix, as a fresh TrueType glyph."""
    glyphs = font.getGlyphSet()
    record = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(record)
    pen = TTGlyphPen(None)
    record.replay(TransformPen(pen, matrix))
    return pen.glyph()


def embolden(glyph, by):
    """Moves every point of a TrueType glyph outward by the given units."""
    if not by or not hasattr(glyph, "coordinates"):
        return
    start = 0
    for end in glyph.endPtsOfContours:
        points = [glyph.coordinates[i] for i in range(start, end + 1)]
        for i, moved in enumerate(outset(points, by)):
            glyph.coordinates[start + i] = moved
        start = end + 1


def outset(points, by):
    """Offsets a closed polygon to the left of its direction (outward for
    TrueType's clockwise outer contours and inward for holes)."""
    out = []
    for i, (x, y) in enumerate(points):
        before, after = neighbour(points, i, -1), neighbour(points, i, 1)
        ax, ay = unit(x - before[0], y - before[1])
        bx, by_ = unit(after[0] - x, after[1] - y)
        nx, ny = unit(-(ay + by_), ax + bx)
        # Sharp corners would fly off: the miter is held to twice the offset.
        cosine = max(0.5, -nx * ay + ny * ax)
        out.append((int(round(x + nx * by / cosine)), int(round(y + ny * by / cosine))))
    return out


def neighbour(points, i, step):
    """Returns the nearest point in a direction that lies somewhere else."""
    j = (i + step) % len(points)
    while points[j] == points[i] and j != i:
        j = (j + step) % len(points)
    return points[j]


def unit(x, y):
    length = math.hypot(x, y) or 1
    return x / length, y / length


def add_music(font, weight):
    music = TTFont(MUSIC)
    cmap, glyf = music.getBestCmap(), music["glyf"]
    cap = font["OS/2"].sCapHeight
    for code, height, below in SIGNS:
        name = cmap[code]
        glyph = glyf[name]
        glyph.recalcBounds(glyf)
        scale = height * cap / 100 / (glyph.yMax - glyph.yMin)
        side = 0.045 * UPM
        matrix = (scale, 0, 0, scale, side - glyph.xMin * scale, -below * cap / 100 - glyph.yMin * scale)
        copy = recorded(music, name, matrix)
        embolden(copy, EMBOLDEN[weight])
        width = (glyph.xMax - glyph.xMin) * scale + 2 * side
        add_glyph(font, "music%X" % code, code, copy, width)


def add_fractions(font, parts):
    cmap = font.getBestCmap()
    fraction = cmap[0x2044]
    for code, over, under in ((0x2153, "1", "3"), (0x2154, "2", "3"), (0x2155, "1", "5"),
                              (0x2156, "2", "5"), (0x2157, "3", "5")):
        add_composed(font, code, [parts[over][0], fraction, parts[under][1]])


def add_composed(font, code, names):
    glyphs, pen, x = font.getGlyphSet(), TTGlyphPen(None), 0
    for name in names:
        record = DecomposingRecordingPen(glyphs)
        glyphs[name].draw(record)
        record.replay(TransformPen(pen, (1, 0, 0, 1, x, 0)))
        x += font["hmtx"][name][0]
    add_glyph(font, "uni%04X" % code, code, pen.glyph(), x)


def polygon(pen, points):
    pen.moveTo(points[0])
    for p in points[1:]:
        pen.lineTo(p)
    pen.closePath()


def arc(cx, cy, r, start, end, steps=24):
    """Points on a circle from start to end, in degrees counter-clockwise."""
    turn = [math.radians(start + (end - start) * i / steps) for i in range(steps + 1)]
    return [(int(round(cx + r * math.cos(a))), int(round(cy + r * math.sin(a)))) for a in turn]


def box(x0, y0, x1, y1):
    return [(x0, y0), (x0, y1), (x1, y1), (x1, y0)]


def add_drawn(font):
    """Adds signs of the transport and of levels that the sources lack."""
    cap = font["OS/2"].sCapHeight
    half, mid = cap // 2, cap // 2

    def add(code, advance, *contours):
        pen = TTGlyphPen(None)
        for c in contours:
            polygon(pen, [(int(x), int(y)) for x, y in c])
        add_glyph(font, "uni%04X" % code, code, pen.glyph(), advance)

    side, stem = 160, 150
    width = 2 * side + cap
    left, right = side, side + cap
    centre = side + half
    add(0x23F9, width, box(left + 90, 90, right - 90, cap - 90))
    add(0x23F8, width, box(left + 180, 60, left + 180 + 2 * stem, cap - 60),
        box(right - 180 - 2 * stem, 60, right - 180, cap - 60))
    add(0x23EE, width, box(left + 60, 90, left + 60 + stem, cap - 90),
        [(left + 60 + stem, mid), (centre + 100, cap - 90), (centre + 100, 90)],
        [(centre + 100, mid), (right, cap - 90), (right, 90)])
    ring = arc(centre, mid, half, 0, -360, 48)[:-1]
    add(0x25D0, width, ring, arc(centre, mid, half - 120, -90, 90))
    hole = arc(centre, mid, half - 190, 50, 370, 48)
    add(0x27F2, width, arc(centre, mid, half, 370, 50, 48) + hole,
        [(centre + half + 140, mid + 40), (centre + half - 440, mid + 40), (centre + half - 130, mid + 420)])
    add(0x2BC3, width, [(centre + half * 1.05 * math.cos(math.radians(a)), mid + half * 1.05 * math.sin(math.radians(a)))
                        for a in (112.5, 67.5, 22.5, -22.5, -67.5, -112.5, -157.5, 157.5)])
    for i in range(8):  # eighth blocks, from a thin line to a full one
        add(0x2581 + i, UPM * 5 // 12, box(0, 0, UPM * 5 // 12, cap * (i + 1) // 8))


def rename(font, weight):
    names = font["name"]
    names.names = []
    bold = weight != "Regular"
    copyright_ = ("Copyright 2020 The Inter Project Authors; musical signs Copyright 2018 Google Inc.; "
                  "changes Copyright 2026 the Organbook authors")
    entries = {
        0: copyright_, 1: OURS + (" " + weight if bold else ""), 2: "Regular",
        3: "%s %s 1.0" % (OURS, weight), 4: "%s %s" % (OURS, weight), 5: "Version 1.000",
        6: "OrganbookSans-" + weight,
        13: "This Font Software is licensed under the SIL Open Font License, Version 1.1.",
        14: "https://openfontlicense.org",
    }
    if bold:
        entries.update({16: OURS, 17: weight})
    for key, value in entries.items():
        names.setName(value, key, 3, 1, 0x409)


def finish(font, weight):
    # The shaper would otherwise still see the substitutions that the subset
    # left behind empty.
    for tag in ("GSUB", "GDEF", "DSIG", "STAT", "meta", "BASE"):
        if tag in font:
            del font[tag]
    rename(font, weight)
    font["OS/2"].xAvgCharWidth = font["hmtx"][font.getBestCmap()[ord("n")]][0]
    font["head"].fontRevision = 1.0
    font["post"].formatType = 3.0
    # A fixed date makes the build reproducible.
    font.recalcTimestamp = False
    font["head"].created = font["head"].modified = 3850416000
    path = HERE / ("OrganbookSans-%s.ttf" % weight)
    font.save(path)
    print("%s: %d glyphs, %d bytes" % (path.name, len(font.getGlyphOrder()), path.stat().st_size))


def main():
    for weight in ("Regular", "SemiBold"):
        plain_figures.clear()
        fraction_parts_cached.clear()
        font, parts = load_letters(weight)
        to_truetype(font)
        even_figures(font)
        ensure_astral_map(font)
        add_music(font, weight)
        add_fractions(font, parts)
        add_drawn(font)
        finish(font, weight)
    shutil.copy(MUSIC, HERE / "NotoMusic-Regular.ttf")


if __name__ == "__main__":
    main()
