"""Pictures for shops: the printed front, its fronts for screens, and the picture of the printed front in a square."""

import io
import os
import sys

import numpy as np
from PIL import Image, ImageCms

front, same, ebook, square, light, shop = sys.argv[1:]


def pixels(path):
    return np.asarray(Image.open(path).convert("RGB")).astype(float)


# Exact pixels; PNG says sRGB in its chunk, JPEG by a profile that Little CMS opens and that changes nothing.
for path, kind, size in [
    (same, "PNG", (258, 396)),
    (ebook, "JPEG", (1000, 1600)),
    (square, "PNG", (396, 396)),
    (light, "JPEG", (1000, 1600)),
    (shop, "PNG", (300, 300)),
]:
    picture = Image.open(path)
    assert (picture.format, picture.size, picture.mode) == (kind, size, "RGB"), (path, picture.format, picture.size)
    if kind == "PNG":
        assert "srgb" in picture.info, path
        continue
    profile = ImageCms.ImageCmsProfile(io.BytesIO(picture.info["icc_profile"]))
    assert "sRGB" in ImageCms.getProfileDescription(profile), ImageCms.getProfileDescription(profile)
    turned = ImageCms.profileToProfile(picture, profile, ImageCms.createProfile("sRGB"))
    assert np.abs(np.asarray(turned).astype(int) - np.asarray(picture).astype(int)).max() <= 1, path

# In the ratio of the page the front is the printed one.
assert Image.open(front).size == (258, 396)
assert np.abs(pixels(front) - pixels(same)).mean() <= 2.0


def letters(path, per_mm):
    """Height and place from the head of the title, in millimetres: its rows of white."""
    whole = pixels(path)
    part = whole[: int(58 * per_mm), : int(100 * per_mm)]
    rows = np.flatnonzero((part.min(axis=2) > 200).any(axis=1))
    return (rows[-1] - rows[0] + 1) / per_mm, rows[0] / per_mm


# Type keeps its size in millimetres, and its distance from the head: e-book as wide as the page, square as high.
height, head = letters(front, 2.0)
# Inter's capitals are 1490 of 2048 units high (its OS/2 table): 60 pt are 21.167 mm.
assert abs(height - 21.167 * 1490 / 2048) <= 1.0, height
for path, per_mm in [(ebook, 1000 / 129), (square, 2.0)]:
    other, place = letters(path, per_mm)
    assert abs(other - height) <= 0.7 and abs(place - head) <= 0.7, (path, other, height, place, head)

assert os.path.getsize(light) <= 90_000 < os.path.getsize(ebook), (os.path.getsize(light), os.path.getsize(ebook))

# The whole front, 195 pixels wide, between bars in the stated swatch.
bars = pixels(shop)
assert (bars[:, :52] == bars[0, 0]).all() and (bars[:, -52:] == bars[0, 0]).all()
assert not (bars[:, 60] == bars[0, 0]).all()
print("well")
