"""What a limit of ink costs: `make FOLDER` writes a dark picture; `compare FREE.pdf LIMITED.pdf` prints the most ink of each in
percent, then the mean and the largest CIEDE2000 of the pixels that differ, by Pillow's colour engine and the formula of Sharma,
Wu and Dalal (2005) written out once more, and the share of ink that is saved.
"""

import sys
from pathlib import Path

import numpy as np
import pikepdf
from PIL import Image, ImageCms

COATED = Path(__file__).resolve().parents[2] / "src/assets/profiles/coated-fogra39.icc"


def make(folder):
    y, x = np.mgrid[0:120, 0:160]
    deep = np.stack([8 + x // 2, 6 + y // 2, 10 + (x + y) // 5], axis=-1)
    Image.fromarray(deep.astype(np.uint8)).save(folder / "deep.png")


def inks(path):
    with pikepdf.open(path) as pdf:
        images = [one for one in pdf.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"]
        assert len(images) == 1 and images[0].ColorSpace == "/DeviceCMYK"
        return np.frombuffer(images[0].read_bytes(), np.uint8).reshape(120, 160, 4)


def lab(samples):
    picture = Image.frombytes("CMYK", (160, 120), samples.tobytes())
    press, space = ImageCms.getOpenProfile(str(COATED)), ImageCms.createProfile("LAB")
    intent, flags = ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.NOOPTIMIZE
    turn = ImageCms.buildTransform(press, space, "CMYK", "LAB", renderingIntent=intent, flags=flags)
    bytes_ = np.asarray(ImageCms.applyTransform(picture, turn)).astype(float)
    # Pillow's LAB in 8 bits: L in 255ths of 100, a and b around 128, wrapped.
    parts = bytes_[..., 1:]
    return np.concatenate([bytes_[..., :1] / 2.55, np.where(parts > 127, parts - 256, parts)], axis=-1)


def difference(one, other):
    l1, a1, b1 = np.moveaxis(one, -1, 0)
    l2, a2, b2 = np.moveaxis(other, -1, 0)
    mean = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2
    g = 0.5 * (1 - np.sqrt(mean**7 / (mean**7 + 25.0**7)))
    a1, a2 = (1 + g) * a1, (1 + g) * a2
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.degrees(np.arctan2(b1, a1)) % 360, np.degrees(np.arctan2(b2, a2)) % 360
    turn = (h2 - h1 + 180) % 360 - 180
    dh = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn / 2))
    lm, cm, hm = (l1 + l2) / 2, (c1 + c2) / 2, (h1 + turn / 2) % 360
    cos = lambda factor, shift: np.cos(np.radians(factor * hm + shift))
    t = 1 - 0.17 * cos(1, -30) + 0.24 * cos(2, 0) + 0.32 * cos(3, 6) - 0.20 * cos(4, -63)
    sl = 1 + 0.015 * (lm - 50) ** 2 / np.sqrt(20 + (lm - 50) ** 2)
    sc, sh = 1 + 0.045 * cm, 1 + 0.015 * cm * t
    rt = -2 * np.sqrt(cm**7 / (cm**7 + 25.0**7)) * np.sin(np.radians(60 * np.exp(-(((hm - 275) / 25) ** 2))))
    dl, dc, dh = (l2 - l1) / sl, (c2 - c1) / sc, dh / sh
    return np.sqrt(dl**2 + dc**2 + dh**2 + rt * dc * dh)


def compare(free, limited):
    before, after = inks(free), inks(limited)
    most = [samples.astype(int).sum(-1).max() / 2.55 for samples in (before, after)]
    changed = (before != after).any(-1)
    off = difference(lab(before), lab(after))[changed]
    print(*(round(float(value), 2) for value in [*most, changed.mean() * 100, off.mean(), off.max()]), end=" ")
    print(round(100 - after.sum() / before.sum() * 100, 2))


if __name__ == "__main__":
    task, *places = sys.argv[1:]
    make(Path(places[0])) if task == "make" else compare(*places)
