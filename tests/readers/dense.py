"""Pictures of many colours, and their inks in a press file against Pillow's colour engine without its shortcuts.

`make FOLDER` writes the pictures; `compare FOLDER PRESS.pdf` prints a line for each: its name, the largest difference of
an ink in 255ths, and how many of its inks differ by more than one.
"""

import sys
from pathlib import Path

import numpy
import pikepdf
from PIL import Image, ImageCms

HOME = Path(__file__).resolve().parents[2]
PROFILES = HOME / "src/assets/profiles"
HOW = {
    "renderingIntent": ImageCms.Intent.RELATIVE_COLORIMETRIC,
    "flags": ImageCms.Flags.BLACKPOINTCOMPENSATION | ImageCms.Flags.NOOPTIMIZE,
}


def grid(levels, channels):
    steps = numpy.linspace(0, 255, levels).round().astype(numpy.uint8)
    every = numpy.stack(numpy.meshgrid(*[steps] * channels, indexing="ij"), axis=-1).reshape(-1, channels)
    return every.reshape(levels, -1, channels)


def make(folder):
    Image.fromarray(grid(36, 3)).save(folder / "grid.png")
    photograph = Image.open(HOME / "examples/salt-and-lanterns/art/harbour.jpg").convert("RGB")
    photograph.crop((600, 900, 1000, 1200)).save(folder / "photograph.png")
    profile = (PROFILES / "uncoated-fogra29.icc").read_bytes()
    Image.fromarray(grid(11, 4), "CMYK").save(folder / "inks.tif", icc_profile=profile)


def compare(folder, press):
    coated = ImageCms.getOpenProfile(str(PROFILES / "coated-fogra39.icc"))
    with pikepdf.open(press) as pdf:
        found = {}
        for image in pdf.objects:
            if isinstance(image, pikepdf.Stream) and image.get("/Subtype") == "/Image":
                found[int(image.Width), int(image.Height)] = numpy.frombuffer(image.read_bytes(), numpy.uint8)
    for name in ["grid.png", "photograph.png", "inks.tif"]:
        picture = Image.open(folder / name)
        own = ImageCms.createProfile("sRGB")
        if name == "inks.tif":
            own = ImageCms.getOpenProfile(str(PROFILES / "uncoated-fogra29.icc"))
        turn = ImageCms.buildTransform(own, coated, picture.mode, "CMYK", **HOW)
        wanted = numpy.asarray(ImageCms.applyTransform(picture, turn)).astype(int).ravel()
        off = abs(found[picture.size].astype(int) - wanted)
        print(name, off.max(), (off > 1).sum())


if __name__ == "__main__":
    task, folder, *press = sys.argv[1:]
    make(Path(folder)) if task == "make" else compare(Path(folder), *press)
