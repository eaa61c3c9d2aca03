"""What stands on the patches of press files, read with pikepdf (qpdf's library) by an interpreter of our own for the few
operators that matter, and Pillow's ImageCms for colours: `probes.py PDF…`.

A patch is a rectangle 14 mm high and 34 or 34.5 mm wide. For each of a file, first the narrower one, a line of JSON: the
size of type in points, the ink of type and patch in percent, whether type overprints and how it is blended, the weight of the thinnest line in
points, the resolution of a picture in pixels per inch, the contrast of type and patch by WCAG 2.
"""

import io
import json
import sys
from decimal import Decimal

import pikepdf
from PIL import Image, ImageCms

MM = 72 / 25.4
HEIGHT, WIDTHS = 14 * MM, (34 * MM, 34.5 * MM)
STILL = (1, 0, 0, 1, 0, 0)


def times(m, n):
    """First m, then n."""
    return (
        m[0] * n[0] + m[1] * n[2], m[0] * n[1] + m[1] * n[3],
        m[2] * n[0] + m[3] * n[2], m[2] * n[1] + m[3] * n[3],
        m[4] * n[0] + m[5] * n[2] + n[4], m[4] * n[1] + m[5] * n[3] + n[5],
    )


def put(m, x, y):
    return m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]


def size(m):
    """How much a matrix enlarges: the root of its determinant."""
    return abs(m[0] * m[3] - m[1] * m[2]) ** 0.5


class Page:
    """Every mark of a page with its place: kind, box, and what is known of it."""

    def __init__(self, page):
        self.marks = []
        self.read(page, page.Resources, STILL, "/Normal")

    def read(self, content, resources, matrix, blend):
        state = {"matrix": matrix, "blend": blend, "ink": (0, 0, 0, 1), "over": False, "width": 1.0, "type": 0.0}
        kept, path, text, line = [], [], STILL, STILL
        for operands, operator in pikepdf.parse_content_stream(content):
            name = str(operator)
            words = [float(one) if isinstance(one, (int, float, Decimal)) else one for one in operands]
            if name == "q":
                kept.append(dict(state))
            elif name == "Q":
                state = kept.pop()
            elif name == "cm":
                state["matrix"] = times(tuple(words), state["matrix"])
            elif name == "k":
                state["ink"] = tuple(words)
            elif name == "g":
                state["ink"] = (0, 0, 0, 1 - words[0])
            elif name == "gs":
                more = resources.ExtGState[str(operands[0])]
                state["over"] = bool(more.get("/op", state["over"]))
                state["blend"] = str(more.get("/BM", state["blend"]))
            elif name == "w":
                state["width"] = words[0]
            elif name == "re":
                x, y, w, h = words
                path += [put(state["matrix"], x + dx, y + dy) for dx in (0, w) for dy in (0, h)]
            elif name in ("m", "l"):
                path.append(put(state["matrix"], *words))
            elif name in ("c", "v", "y"):
                path += [put(state["matrix"], *words[at : at + 2]) for at in range(0, len(words), 2)]
            elif name in ("f", "f*", "S", "s", "n", "W", "W*", "B"):
                if name.startswith("W"):
                    continue
                if path and name != "n":
                    self.add("line" if name in "Ss" else "area", path, ink=state["ink"], blend=state["blend"], width=state["width"] * size(state["matrix"]))
                path = []
            elif name == "BT":
                text = line = STILL
            elif name == "Tf":
                state["type"] = words[1]
            elif name == "Tm":
                text = line = tuple(words)
            elif name in ("Td", "TD"):
                text = line = times((1, 0, 0, 1, words[0], words[1]), line)
            elif name in ("Tj", "TJ"):
                whole = times(text, state["matrix"])
                self.add("type", [put(whole, 0, 0)], size=state["type"] * size(whole), ink=state["ink"], over=state["over"], blend=state["blend"])
            elif name == "Do":
                self.object(resources.XObject[str(operands[0])], resources, state)

    def object(self, thing, resources, state):
        matrix = state["matrix"]
        if thing.Subtype == "/Form":
            inner = tuple(float(one) for one in thing.get("/Matrix", STILL))
            self.read(thing, thing.get("/Resources", resources), times(inner, matrix), state["blend"])
        elif thing.Subtype == "/Image":
            across, down = (matrix[0] ** 2 + matrix[1] ** 2) ** 0.5, (matrix[2] ** 2 + matrix[3] ** 2) ** 0.5
            ppi = min(int(thing.Width) / across, int(thing.Height) / down) * 72
            self.add("picture", [put(matrix, x, y) for x in (0, 1) for y in (0, 1)], ppi=ppi)

    def add(self, kind, points, **known):
        xs, ys = [x for x, _ in points], [y for _, y in points]
        self.marks.append({"kind": kind, "box": (min(xs), min(ys), max(xs), max(ys)), **known})


def patch(marks, width):
    """The last area of this size, and what was drawn after it within it."""
    for at in reversed(range(len(marks))):
        left, foot, right, head = box = marks[at]["box"]
        if marks[at]["kind"] == "area" and abs(right - left - width) < 0.1 and abs(head - foot - HEIGHT) < 0.1:
            inside = lambda one: left <= one[0] and foot <= one[1] and one[2] <= right and one[3] <= head
            return marks[at], [mark for mark in marks[at + 1 :] if mark["box"] != box and inside(mark["box"])]
    return None, []


class Eye:
    """Inks as a screen shows them, by the press file's own profile: relative colorimetric, without the engine's shortcuts."""

    def __init__(self, icc):
        press = ImageCms.ImageCmsProfile(io.BytesIO(icc))
        flags = ImageCms.Flags.NOOPTIMIZE | ImageCms.Flags.BLACKPOINTCOMPENSATION
        self.turn = ImageCms.buildTransform(press, ImageCms.createProfile("sRGB"), "CMYK", "RGB", 1, flags)

    def luminance(self, inks):
        """WCAG 2: relative luminance."""
        pixel = Image.new("CMYK", (1, 1), tuple(round(255 * ink) for ink in inks))
        rgb = ImageCms.applyTransform(pixel, self.turn).getpixel((0, 0))
        light = [c / 255 / 12.92 if c / 255 <= 0.04045 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
        return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]

    def contrast(self, one, other):
        dark, light = sorted((self.luminance(one), self.luminance(other)))
        return (light + 0.05) / (dark + 0.05)


def main(paths):
    eyes = {}
    for path in paths:
        with pikepdf.open(path) as pdf:
            icc = pdf.Root.OutputIntents[0].DestOutputProfile.read_bytes()
            eye = eyes.setdefault(icc, Eye(icc)) if icc not in eyes else eyes[icc]
            marks = Page(pdf.pages[0].obj).marks
        for width in WIDTHS:
            ground, inside = patch(marks, width)
            if ground is None:
                continue
            said = {"file": path, "ground": [round(100 * ink, 3) for ink in ground["ink"]]}
            types = [mark for mark in inside if mark["kind"] == "type"]
            if types:
                one = types[0]
                said |= {"size": one["size"], "ink": [round(100 * ink, 3) for ink in one["ink"]], "over": one["over"], "blend": one["blend"]}
                said["contrast"] = eye.contrast(one["ink"], ground["ink"])
            areas = [mark for mark in inside if mark["kind"] == "area"]
            if areas and not types:
                said |= {"ink": [round(100 * ink, 3) for ink in areas[0]["ink"]], "blend": areas[0]["blend"]}
            lines = [mark["width"] for mark in inside if mark["kind"] == "line"]
            lines += [min(mark["box"][2] - mark["box"][0], mark["box"][3] - mark["box"][1]) for mark in areas]
            if lines:
                said["weight"] = min(lines)
            pictures = [mark["ppi"] for mark in inside if mark["kind"] == "picture"]
            if pictures:
                said["ppi"] = pictures[0]
            print(json.dumps(said))


main(sys.argv[1:])
