"""Bytes of pictures in a press file: `make FOLDER` writes varied pictures; `sky PAINTING FOLDER` writes the upper part of a
painting, smooth but for its brush; `weigh LEVEL PRESS.pdf…` prints, for every image packed by deflate, its length and that of
the same samples by zlib at this level: the better of plain and of the five filters of PNG and the least sum of differences
(PNG, 12.7).
"""

import sys
import zlib
from concurrent.futures import ThreadPoolExecutor

# Beside this script lies one that is called as a part of Python's own library, which numpy asks for.
sys.path.pop(0)

import numpy as np

SIDE = 640


def make(folder):
    from PIL import Image, ImageDraw

    lot = np.random.default_rng(5)
    y, x = np.mgrid[0:SIDE, 0:SIDE].astype(np.float32)
    photo = np.zeros((SIDE, SIDE, 3), np.float32)
    for octave in range(8):
        cells = 2 ** (octave + 1)
        for channel in range(3):
            field = Image.fromarray(lot.normal(0, 1, (cells + 1, cells + 1)).astype(np.float32))
            photo[..., channel] += np.asarray(field.resize((SIDE, SIDE), Image.BICUBIC)) / (octave + 1) ** 1.2
    photo = (photo - photo.min()) / (photo.max() - photo.min()) * 255
    photo = (photo + lot.normal(0, 2, photo.shape)).clip(0, 255).astype(np.uint8)
    Image.fromarray(photo).save(f"{folder}/photo.png")
    Image.fromarray(photo).convert("CMYK").save(f"{folder}/inks.tif")
    Image.fromarray(photo[..., 0]).save(f"{folder}/grey.png")
    Image.fromarray(lot.integers(0, 256, (SIDE, SIDE, 3), np.uint8)).save(f"{folder}/noise.png")
    # Threads of six kinds, each row another stretch of one, with flaws: what repeats byte by byte and is no flat art.
    threads = lot.integers(0, 256, (6, SIDE, 3), np.uint8)
    cloth = np.stack([np.roll(threads[lot.integers(0, 6)], lot.integers(0, SIDE), axis=0) for _ in range(SIDE)])
    cloth[lot.random((SIDE, SIDE)) < 0.1] = 0
    Image.fromarray(cloth).save(f"{folder}/cloth.png")
    flat = Image.new("RGB", (SIDE, SIDE), (240, 228, 200))
    pen = ImageDraw.Draw(flat)
    for _ in range(60):
        left, top, size = lot.integers(0, SIDE, 3)
        pen.ellipse([left - size // 3, top - size // 3, left + size // 3, top + size // 3], tuple(lot.integers(0, 256, 3)))
    flat.save(f"{folder}/flat.png")
    ramp = np.stack([x / SIDE * 255, y / SIDE * 255, (x + y) / SIDE * 127], axis=-1).astype(np.uint8)
    Image.fromarray(ramp).save(f"{folder}/ramp.png")
    line = Image.new("L", (SIDE, SIDE), 255)
    pen = ImageDraw.Draw(line)
    for _ in range(200):
        pen.line([tuple(lot.integers(0, SIDE, 2)), tuple(lot.integers(0, SIDE, 2))], 0, 2)
    line.save(f"{folder}/lines.png")


def sky(painting, folder):
    from PIL import Image

    art = Image.open(painting)
    art.crop((0, 0, art.width, art.height * 2 // 9)).save(f"{folder}/sky.png")


def filtered(rows, above, pixel):
    """Rows below `above` behind their filters, way by way."""
    rows = rows.astype(np.int16)
    up = np.vstack([above, rows[:-1]])
    left = np.hstack([np.zeros_like(rows[:, :pixel]), rows[:, :-pixel]])
    corner = np.hstack([np.zeros_like(rows[:, :pixel]), up[:, :-pixel]])
    guess = left + up - corner
    far = [abs(guess - left), abs(guess - up), abs(guess - corner)]
    paeth = np.where((far[0] <= far[1]) & (far[0] <= far[2]), left, np.where(far[1] <= far[2], up, corner))
    ways = [np.zeros_like(rows), left, up, (left + up) // 2, paeth]
    bent = [(rows - way).astype(np.uint8) for way in ways]
    stated = [np.hstack([np.full((len(rows), 1), number, np.uint8), way]) for number, way in enumerate(bent)]
    sums = np.stack([np.minimum(way, 256 - way.astype(np.int16)).sum(axis=1) for way in bent])
    least = np.stack(stated)[sums.argmin(axis=0), np.arange(len(rows))]
    return [*stated, least]


def by_zlib(rows, pixel, level):
    coders = [zlib.compressobj(level) for _ in range(7)]
    lengths = [0] * len(coders)
    above = np.zeros_like(rows[:1])
    with ThreadPoolExecutor() as pool:
        # Part by part: all ways of a large picture at once would take gigabytes.
        for start in range(0, len(rows), 256):
            part = rows[start : start + 256]
            ways = [part, *filtered(part, above, pixel)]
            packed = pool.map(lambda coder, way: len(coder.compress(way.tobytes())), coders, ways)
            lengths = [length + more for length, more in zip(lengths, packed)]
            above = part[-1:]
    return min(length + len(coder.flush()) for length, coder in zip(lengths, coders))


def weigh(path, level):
    import pikepdf

    with pikepdf.open(path) as pdf:
        for one in pdf.objects:
            if not isinstance(one, pikepdf.Stream) or one.get("/Subtype") != "/Image" or one.get("/Filter") != "/FlateDecode":
                continue
            if one.get("/BitsPerComponent") != 8:
                continue
            rows = np.frombuffer(one.read_bytes(), np.uint8).reshape(int(one.Height), -1)
            print(len(one.read_raw_bytes()), by_zlib(rows, rows.shape[1] // int(one.Width), level))


if sys.argv[1] == "make":
    make(sys.argv[2])
elif sys.argv[1] == "sky":
    sky(*sys.argv[2:])
else:
    for path in sys.argv[3:]:
        weigh(path, int(sys.argv[2]))
