"""Outlines and widths of the variable fonts in a press file, beside those that fontTools makes of the font itself.

One line a font: its name, how many glyphs were compared, the farthest point in units of the em, and the farthest width in
thousandths of an em. Words of the command line: the PDF, the font, then name=axis:value,axis:value for every font."""

import io
import re
import sys

import pikepdf
from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

press, source, *places = sys.argv[1:]
places = {name: {axis: float(at) for axis, at in (one.split(":") for one in where.split(","))}
          for name, where in (place.split("=") for place in places)}
whole = TTFont(source)
letters = whole.getBestCmap()


def points(glyphs, name):
    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    parts = []
    for what, places in pen.value:
        if what == "qCurveTo":
            # Points halfway between two handles may be left out.
            parts += [(what, at) for pair in decomposeQuadraticSegment(places) for at in pair]
        else:
            parts += [(what, at) for at in places or [None]]
    return parts


with pikepdf.open(press) as pdf:
    for font in pdf.objects:
        if not (isinstance(font, pikepdf.Dictionary) and font.get("/Subtype") == "/Type0"):
            continue
        name = str(font.BaseFont).split("+")[-1]
        if name not in places:
            continue
        descendant = font.DescendantFonts[0]
        program = TTFont(io.BytesIO(descendant.FontDescriptor.FontFile2.read_bytes()))
        assert "fvar" not in program and "gvar" not in program, name
        scale = whole["head"].unitsPerEm / program["head"].unitsPerEm
        ours, theirs = program.getGlyphSet(), whole.getGlyphSet(location=places[name])
        text = font.ToUnicode.read_bytes().decode("latin-1")
        spoken = {int(cid, 16): chr(int(code, 16))
                  for cid, code in re.findall(r"<([0-9A-Fa-f]{4})>\s*<([0-9A-Fa-f]{4})>\s*\n", text)}
        start, widths = int(descendant.W[0]), [float(width) for width in descendant.W[1]]
        far = wide = 0.0
        count = 0
        for cid, letter in spoken.items():
            if ord(letter) not in letters or letter == " ":
                continue
            one = points(ours, program.getGlyphOrder()[cid])
            other = points(theirs, letters[ord(letter)])
            assert len(one) == len(other), (name, letter)
            # A contour may begin at another of its points: each has its fellow somewhere.
            ours_at = [(a[0] * scale, a[1] * scale) for _, a in one if a]
            theirs_at = [b for _, b in other if b]
            for some, others in ((ours_at, theirs_at), (theirs_at, ours_at)):
                for a in some:
                    far = max(far, min(max(abs(a[0] - b[0]), abs(a[1] - b[1])) for b in others))
            expected = theirs[letters[ord(letter)]].width / whole["head"].unitsPerEm * 1000
            wide = max(wide, abs(widths[cid - start] - expected))
            count += 1
        print(name, count, f"{far:.3f}", f"{wide:.3f}")
