"""The profile that a press file carries, against what was measured of its printing condition: `measured.py PRESS.pdf SET GAIN`.

SET names a characterisation set of Debian's `icc-profiles-free` (open data): every patch of inks with the CIELAB that was
measured. Prints how many patches there are, then the median and the largest CIEDE2000 from what Pillow's colour engine reads
for their inks in the profile, paper included. GAIN is a fault of the press: so many percent of the paper that each ink of a
patch leaves free are printed, too.
"""

import io
import sys
from pathlib import Path

import numpy as np
import pikepdf
from limited import difference
from PIL import Image, ImageCms

SETS = Path("/usr/share/color/icc")


def patches(name):
    """A CGATS table (ISO 28178, as found in the file): the names of its columns, then a row for each patch."""
    words = (SETS / f"{name}.ti3").read_text().split()
    part = lambda begin, end: words[words.index(begin) + 1 : words.index(end)]
    columns = part("BEGIN_DATA_FORMAT", "END_DATA_FORMAT")
    rows = np.array(part("BEGIN_DATA", "END_DATA")).reshape(-1, len(columns))
    pick = lambda *names: rows[:, [columns.index(name) for name in names]].astype(float)
    return pick("CMYK_C", "CMYK_M", "CMYK_Y", "CMYK_K"), pick("LAB_L", "LAB_A", "LAB_B")


def carried(press):
    with pikepdf.open(press) as pdf:
        return ImageCms.getOpenProfile(io.BytesIO(pdf.Root.OutputIntents[0].DestOutputProfile.read_bytes()))


def main():
    press, name, gain = sys.argv[1:]
    inks, measured = patches(name)
    inks = np.where(inks > 0, inks + (100 - inks) * float(gain) / 100, 0)
    space, intent = ImageCms.createProfile("LAB"), ImageCms.Intent.ABSOLUTE_COLORIMETRIC
    turn = ImageCms.buildTransform(
        carried(press), space, "CMYK", "LAB", renderingIntent=intent, flags=ImageCms.Flags.NOOPTIMIZE
    )
    samples = (inks * 2.55).round().astype(np.uint8)
    picture = Image.frombytes("CMYK", (len(samples), 1), samples.tobytes())
    # Pillow's LAB in 8 bits: L in 255ths of 100, a and b in whole steps, wrapped.
    steps = np.asarray(ImageCms.applyTransform(picture, turn))[0].astype(float)
    parts = steps[:, 1:]
    read = np.concatenate([steps[:, :1] / 2.55, np.where(parts > 127, parts - 256, parts)], axis=1)
    off = difference(read, measured)
    print(len(inks), np.median(off).round(3), off.max().round(3))


if __name__ == "__main__":
    main()
