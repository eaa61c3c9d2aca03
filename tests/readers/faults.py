"""Faults, measured outside the product.

`faults.py make FOLDER` makes pictures with faults, by Pillow, numpy and zxing-cpp.
`faults.py measure FOLDER PICTURES` reads `list.tsv`: a press file, a value and what to measure in it, a line each. It prints
a number a line. Press files are read by pikepdf (qpdf), Ghostscript and pdftotext (Poppler), pictures by Pillow and zxing-cpp.
"""

import concurrent.futures
import datetime
import hashlib
import io
import os
import re
import struct
import subprocess
import sys
import tempfile

import numpy as np
import pikepdf
import zxingcpp
from PIL import Image, ImageCms

POINT = 25.4 / 72


def make(folder):
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()

    def save(name, pixels, **more):
        picture = Image.fromarray(np.asarray(pixels).astype(np.uint8))
        if picture.mode.startswith("RGB"):
            more["icc_profile"] = srgb
        picture.save(os.path.join(folder, name), **more)

    y, x = np.mgrid[0:96, 0:120]
    save("busy.jpg", (x * y // 7) % 256, quality=92)
    code = zxingcpp.create_barcode("9780306406157", zxingcpp.BarcodeFormat.EAN13).to_image(scale=4, add_quiet_zones=True)
    code = np.array(code)
    save("bars.png", code)
    stripes = code.copy()
    stripes[:] = np.where(np.arange(code.shape[1]) // 4 % 2 == 0, 0, 255)
    save("stripes.png", stripes)
    for rows in range(1, 9):
        soft = np.zeros((50, 50, 4))
        soft[10:10 + rows, :, 3] = np.linspace(160, 0, 50)
        save(f"soft-{rows}.png", soft)
    for quality in range(50, 71):
        save(f"quality-{quality}.jpg", ((x + 2 * y) % 256)[:64, :64], quality=quality)
    for side in range(1, 7):
        bright = np.full((96, 96, 3), 128)
        bright[:4 * side, :4 * side] = [0, 255, 64]
        save(f"bright-{side}.png", bright)


class Page:
    """What a page paints: paths and words with their colours, in points, as its content says it."""

    def __init__(self, path):
        self.pdf = pikepdf.open(path)
        self.fills, self.strokes, self.words, self.pictures, self.shadings = [], [], [], [], []
        page = self.pdf.pages[0].obj
        self.run(page, page.Resources, np.eye(3))

    def run(self, stream, resources, matrix):
        state = {"m": matrix, "fill": ("k", (0, 0, 0, 1)), "stroke": ("k", (0, 0, 0, 1)), "w": 1.0}
        stack, path, text = [], [], {}
        spaces = {}
        for operands, operator in pikepdf.parse_content_stream(stream):
            op = str(operator)
            if op == "q":
                stack.append(dict(state))
            elif op == "Q":
                state = stack.pop()
            elif op == "cm":
                state["m"] = affine(operands) @ state["m"]
            elif op == "w":
                state["w"] = float(operands[0])
            elif op in ("k", "K"):
                state["fill" if op == "k" else "stroke"] = ("k", tuple(round(float(v), 4) for v in operands))
            elif op in ("g", "G"):
                state["fill" if op == "g" else "stroke"] = ("k", (0, 0, 0, round(1 - float(operands[0]), 4)))
            elif op in ("cs", "CS"):
                spaces[op.lower() + ("" if op == "cs" else "s")] = str(operands[0])
                state["fill" if op == "cs" else "stroke"] = (plate(resources, operands[0]), ())
            elif op in ("scn", "SCN", "sc", "SC"):
                kind = "fill" if op.islower() else "stroke"
                numbers = tuple(round(float(v), 4) for v in operands if not isinstance(v, pikepdf.Name))
                name = state[kind][0]
                state[kind] = ("pattern", (str(operands[-1]),)) if isinstance(operands[-1], pikepdf.Name) else (name, numbers)
            elif op == "re":
                x, y, width, height = map(float, operands)
                path += [(x, y), (x + width, y + height)]
            elif op in ("m", "l"):
                path.append((float(operands[0]), float(operands[1])))
            elif op in ("c", "v", "y"):
                path.append((float(operands[-2]), float(operands[-1])))
            elif op in ("f", "f*", "B", "b", "S", "s", "n", "W", "W*"):
                if path and op in ("f", "f*", "B", "b"):
                    self.fills.append((state["fill"], box(path, state["m"])))
                    if state["fill"][0] == "pattern":
                        self.shading(resources, state["fill"][1][0], state["m"])
                if path and op in ("S", "s", "B", "b"):
                    scale = np.sqrt(abs(np.linalg.det(state["m"][:2, :2])))
                    self.strokes.append((state["stroke"], state["w"] * scale))
                if op not in ("W", "W*"):
                    path = []
            elif op == "sh":
                self.course(resources.Shading[operands[0]], state["m"])
            elif op == "Tf":
                text["size"] = float(operands[1])
            elif op == "Tm":
                text["m"] = affine(operands)
            elif op == "BT":
                text["m"] = np.eye(3)
            elif op in ("Tj", "TJ"):
                whole = text["m"] @ state["m"]
                self.words.append((state["fill"], text["size"] * np.hypot(whole[1, 0], whole[1, 1])))
            elif op == "Do":
                drawn = resources.XObject[operands[0]]
                if drawn.Subtype == "/Image":
                    self.pictures.append((int(drawn.Width), int(drawn.Height), state["m"].copy()))
                else:
                    inner = affine(drawn.get("/Matrix", [1, 0, 0, 1, 0, 0])) @ state["m"]
                    self.run(drawn, drawn.get("/Resources", resources), inner)

    def shading(self, resources, name, matrix):
        pattern = resources.Pattern[name]
        if "/Shading" in pattern:
            self.course(pattern.Shading, affine(pattern.get("/Matrix", [1, 0, 0, 1, 0, 0])))

    def course(self, shading, matrix):
        x0, y0, x1, y1 = (float(v) for v in shading.Coords[:4])
        ends = [np.array([x, y, 1]) @ matrix for x, y in ((x0, y0), (x1, y1))]
        self.shadings.append(np.hypot(*(ends[1] - ends[0])[:2]))

    def plates(self):
        names = set()
        for thing in self.pdf.objects:
            if isinstance(thing, pikepdf.Array) and len(thing) == 4 and thing[0] == "/Separation":
                names.add(str(thing[1]))
            if isinstance(thing, pikepdf.Array) and len(thing) >= 4 and thing[0] == "/DeviceN":
                names |= {str(name) for name in thing[1]}
        return names - {"/Cyan", "/Magenta", "/Yellow", "/Black", "/None"}


def affine(numbers):
    a, b, c, d, e, f = (float(v) for v in numbers)
    return np.array([[a, b, 0], [c, d, 0], [e, f, 1]])


def box(path, matrix):
    points = np.array([[x, y, 1] for x, y in path]) @ matrix
    return *points[:, :2].min(0), *points[:, :2].max(0)


def plate(resources, name):
    space = resources.get("/ColorSpace", {}).get(str(name))
    if isinstance(space, pikepdf.Array) and space[0] == "/Separation":
        return str(space[1])
    return "k"


def thickness(page, colour):
    bars = [min(b[2] - b[0], b[3] - b[1]) for ink, b in page.fills if ink == ("k", colour) and slim(b)]
    lines = [width for ink, width in page.strokes if ink == ("k", colour)]
    return min(bars + lines)


def slim(b):
    thin, long = sorted((b[2] - b[0], b[3] - b[1]))
    return 0 < thin * 20 < long


def gap(page, colour):
    boxes = sorted(b for ink, b in page.fills if ink == ("k", colour))
    return min(b[0] - a[2] for a, b in zip(boxes, boxes[1:])) * POINT


def ghostscript(path, device, ppi, out):
    words = ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-dUseTrimBox", f"-sDEVICE={device}", f"-r{ppi}"]
    words += [f"-sOutputFile={out}", path]
    subprocess.run(words, check=True, stdout=subprocess.DEVNULL)


def printed(path):
    """The most ink on a square of a millimetre."""
    with tempfile.TemporaryDirectory() as room:
        out = os.path.join(room, "page.tif")
        ghostscript(path, "tiff32nc", 76.2, out)
        total = np.asarray(Image.open(out)).astype(float).sum(2) / 2.55
    window = sum(total[y:y + total.shape[0] - 2, x:x + total.shape[1] - 2] for y in range(3) for x in range(3)) / 9
    return window.max()


def hidden(path):
    """How much less of its posts a plate prints than that of their twins."""
    with tempfile.TemporaryDirectory() as room:
        ghostscript(path, "tiffsep", 200, os.path.join(room, "page.tif"))
        ink = {}
        for name in os.listdir(room):
            found = re.search(r"Fault (post|twin)", name)
            if found:
                ink[found[1]] = (255 - np.asarray(Image.open(os.path.join(room, name))).astype(float)).sum()
    return (1 - ink["post"] / ink["twin"]) * 100


def module(page):
    """The side of a module: of the finder pattern's heart, which is three modules wide (ISO/IEC 18004)."""
    with tempfile.TemporaryDirectory() as room:
        out = os.path.join(room, "page.png")
        page.pdf.save(os.path.join(room, "page.pdf"))
        ghostscript(os.path.join(room, "page.pdf"), "pnggray", 600, out)
        found = [code for code in zxingcpp.read_barcodes(Image.open(out)) if "QR" in str(code.format)]
        place = found[0].position
        side = np.hypot(place.top_right.x - place.top_left.x, place.top_right.y - place.top_left.y)
        # Version 2, for its 25 bytes at M: 25 modules.
        return side / 600 * 25.4 / 25


def astride(path):
    """Whether some words of a blurb lie on the box, and others do not: poppler's boxes of words, and the box as it is drawn."""
    box = next(b for ink, b in Page(path).fills if ink == ("k", (0, 0, 0, 0.24)))
    run = subprocess.run(["pdftotext", "-bbox", path, "-"], check=True, capture_output=True).stdout.decode()
    high = float(re.search(r'page width="[\d.]+" height="([\d.]+)"', run)[1])
    word = r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">'
    places = [tuple(map(float, found)) for found in re.findall(word, run)]
    middles = [((x0 + x1) / 2, high - (y0 + y1) / 2) for x0, y0, x1, y1 in places]
    beside = [y for x, y in middles if box[0] < x < box[2] and abs(y - (box[1] + box[3]) / 2) < 80]
    inside = [box[1] < y < box[3] for y in beside]
    return int(any(inside) and not all(inside))


def difference(one, other):
    """CIEDE2000 (Sharma, Wu and Dalal, 2005) of one colour and many."""
    l1, a1, b1 = one
    l2, a2, b2 = np.moveaxis(other, -1, 0)
    mean = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2
    stretch = 1.5 - 0.5 * np.sqrt(mean**7 / (mean**7 + 25.0**7))
    c1, c2 = np.hypot(a1 * stretch, b1), np.hypot(a2 * stretch, b2)
    h1, h2 = (np.degrees(np.arctan2(b, a * stretch)) % 360 for a, b in ((a1, b1), (a2, b2)))
    turn = (h2 - h1 + 180) % 360 - 180
    light, chroma, hue = (l1 + l2) / 2, (c1 + c2) / 2, np.radians(h1 + turn / 2)
    weight = 1 - 0.17 * np.cos(hue - np.radians(30)) + 0.24 * np.cos(2 * hue)
    weight += 0.32 * np.cos(3 * hue + np.radians(6)) - 0.2 * np.cos(4 * hue - np.radians(63))
    sl = 1 + 0.015 * (light - 50) ** 2 / np.sqrt(20 + (light - 50) ** 2)
    sc, sh = 1 + 0.045 * chroma, 1 + 0.015 * chroma * weight
    blue = np.radians(30) * np.exp(-(((np.degrees(hue) % 360 - 275) / 25) ** 2))
    bend = -2 * np.sqrt(chroma**7 / (chroma**7 + 25.0**7)) * np.sin(2 * blue)
    l, c, h = (l2 - l1) / sl, (c2 - c1) / sc, 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn / 2)) / sh
    return np.sqrt(l * l + c * c + h * h + bend * c * h)


def reach(path, colour):
    """How near process inks come to a colour: all of them in steps of 5 %, by the profile inside the press file and Pillow."""
    with pikepdf.open(path) as pdf:
        profile = pdf.Root.OutputIntents[0].DestOutputProfile.read_bytes()
    press, lab = ImageCms.getOpenProfile(io.BytesIO(profile)), ImageCms.createProfile("LAB")
    turn = ImageCms.buildTransform(press, lab, "CMYK", "LAB", renderingIntent=ImageCms.Intent.ABSOLUTE_COLORIMETRIC)
    steps = (np.arange(21) * 12.75).round()
    inks = np.stack(np.meshgrid(steps, steps, steps, [0], indexing="ij"), -1).reshape(1, -1, 4).astype(np.uint8)
    seen = ImageCms.applyTransform(Image.frombytes("CMYK", (inks.shape[1], 1), inks.tobytes()), turn)
    # Pillow keeps a and b with 128 added.
    seen = np.array([seen.getpixel((at, 0)) for at in range(inks.shape[1])], float)
    return difference(colour, np.stack([seen[:, 0] / 2.55, seen[:, 1] - 128, seen[:, 2] - 128], -1)).min()


def said(path):
    run = subprocess.run(["pdftotext", "-raw", path, "-"], check=True, capture_output=True)
    return " ".join(run.stdout.decode().split())


def picture(measure, value, pictures):
    name = lambda stem, end: os.path.join(pictures, f"{stem}-{round(float(value))}.{end}")
    if measure == "bars":
        file = "bars.png" if float(value) > 0.5 else "stripes.png"
        return len(zxingcpp.read_barcodes(Image.open(os.path.join(pictures, file))))
    if measure == "soft":
        alpha = np.asarray(Image.open(name("soft", "png")))[:, 0, 3]
        return int(((alpha >= 10) & (alpha < 245)).sum())
    if measure == "jpeg":
        # The scale of the Independent JPEG Group: table K.1 of ITU-T T.81, whose sum is 3688, is quality 50.
        scale = sum(Image.open(name("quality", "jpg")).quantization[0]) / 36.88
        return 5000 / scale if scale > 100 else (200 - scale) / 2
    pixels = np.asarray(Image.open(name("bright", "png"))).astype(int)
    return np.sqrt((pixels[:, :, 1] > 200).sum()) / 4


def measured(line, folder, pictures):
    file, value, measure = line.split("\t")
    path = os.path.join(folder, file)
    with open(path.replace(".pdf", ".kdl"), encoding="utf-8") as text:
        cover = text.read()
    kind, _, rest = measure.partition(" ")
    if kind in ("bars", "soft", "jpeg", "bright"):
        return picture(kind, value, pictures)
    if kind == "printed":
        return printed(path)
    if kind == "hidden":
        return hidden(path)
    if kind == "says":
        return int(" ".join(rest.split()) in said(path))
    if kind == "lacks":
        return int(" ".join(rest.split()) not in said(path))
    if kind == "digest":
        digest = lambda words: hashlib.sha256(struct.pack("<Q", len(words)) + words.encode()).hexdigest()[:8]
        shown = next(words for words in ("Lights of Osselby", "Lights and salt") if words in said(path))
        return int(digest(shown) != re.search(r'approved by="M. Anand" words="(\w+)"', cover)[1])
    if kind == "alt":
        return len(re.search('alt-text "([^"]*)"', cover)[1])
    if kind == "licence":
        day = lambda name: datetime.date.fromisoformat(re.search(rf'{name}="([\d-]+)"', cover)[1])
        return (day("until") - day("date")).days / 365
    if kind == "astride":
        return astride(path)
    if kind == "reach":
        return reach(path, tuple(float(v) for v in re.search(r'lab="(\S+) (\S+) (\S+)"', cover).groups()))
    if kind == "year":
        return int(re.search(r"coming in (\d{4})", said(path))[1])
    page = Page(path)
    colour = tuple(float(v) for v in rest.split())
    if kind == "black":
        sides = [(b[2] - b[0], b[3] - b[1]) for ink, b in page.fills if ink == ("k", (0, 0, 0, 1))]
        return max(width * height for width, height in sides if width > 40) * POINT**2 / 100
    if kind == "foil":
        head = float(page.pdf.pages[0].obj.TrimBox[3]) * POINT
        # The ink has a patch of its own beyond the trim.
        tops = [b[3] * POINT for ink, b in page.fills if "Fault" in ink[0]]
        return head - max(top for top in tops if top < head)
    if kind in ("foil-line", "foil-gap"):
        head = float(page.pdf.pages[0].obj.TrimBox[3]) * POINT
        bands = sorted((b[1], b[3]) for ink, b in page.fills if "Fault" in ink[0] and b[3] * POINT < head)
        if kind == "foil-line":
            return min(top - foot for foot, top in bands) * POINT
        return min(above[0] - below[1] for below, above in zip(bands, bands[1:])) * POINT
    if kind == "module":
        return module(page)
    if kind == "line":
        return thickness(page, colour)
    if kind == "type":
        return min(size for ink, size in page.words if ink == ("k", colour))
    if kind == "gap":
        return gap(page, colour)
    if kind == "lightest":
        return min(ink[1][3] for ink, _ in page.fills if ink[0] == "k" and ink[1][:3] == (0, 0, 0) and ink[1][3] > 0) * 100
    if kind == "stated":
        return max(sum(ink[1]) for ink, _ in page.fills if ink[0] == "k") * 100
    if kind == "ppi":
        found = [width for width, height, m in page.pictures if (width, height) == (120, 96)]
        sizes = [np.hypot(m[0, 0], m[0, 1]) for width, height, m in page.pictures if (width, height) == (120, 96)]
        return found[0] / (sizes[0] / 72)
    if kind == "gradient":
        return min(page.shadings) * POINT
    if kind == "plates":
        return 4 + sum("Fault" in name for name in page.plates())
    if kind == "gold":
        return min(ink[1][0] for ink, _ in page.fills if ink[0].startswith("/Fault gold") or "Fault" in ink[0]) * 100
    sys.exit(f"cannot measure {kind}")


def measure(folder, pictures):
    with open(os.path.join(folder, "list.tsv"), encoding="utf-8") as file:
        lines = file.read().splitlines()
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for line, value in zip(lines, pool.map(lambda line: attempt(line, folder, pictures), lines)):
            print(value)


def attempt(line, folder, pictures):
    try:
        return float(measured(line, folder, pictures))
    except Exception as fault:
        sys.exit(f"{line}: {fault!r}")


if __name__ == "__main__":
    {"make": make, "measure": measure}[sys.argv[1]](*sys.argv[2:])
