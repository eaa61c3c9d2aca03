"""A screen colour in the inks of a press, by Pillow's colour engine: relative colorimetric, black point compensated."""

import sys
from pathlib import Path

from PIL import Image, ImageCms

HOME = Path(__file__).resolve().parents[2]
profile, colour = sys.argv[1:]
press = ImageCms.getOpenProfile(str(HOME / profile))
screen = ImageCms.createProfile("sRGB")
transform = ImageCms.buildTransform(
    screen,
    press,
    "RGB",
    "CMYK",
    renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
    flags=ImageCms.Flags.BLACKPOINTCOMPENSATION | ImageCms.Flags.NOOPTIMIZE,
)
pixel = Image.new("RGB", (1, 1), tuple(bytes.fromhex(colour)))
print(*ImageCms.applyTransform(pixel, transform).getpixel((0, 0)))
