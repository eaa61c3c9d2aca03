"""Makes the pictures of this folder: kinds that no encoder of ours writes. Needs Pillow, numpy, tifffile
and ImageMagick.

Lossless ones hold value(x, y, c) = (60 x + 30 y + 17 c) mod 256, in 16 bits 257 times that; 4 x 3 pixels.
JPEGs hold four flat 8 x 8 squares. What Pillow reads back is printed, for the tests to be checked against.
"""
import io
import subprocess
import numpy as np
import tifffile
from PIL import Image, ImageCms, __version__

def value(channels, scale=1):
    y, x, c = np.mgrid[0:3, 0:4, 0:channels]
    return ((60 * x + 30 * y + 17 * c) % 256) * scale

def tiff(name, channels, depth, photometric, **more):
    scale, kind = (257, np.uint16) if depth == 16 else (1, np.uint8)
    data = value(channels, scale).astype(kind)
    if more.get("planarconfig") == "separate":
        data = np.moveaxis(data, 2, 0)
    elif channels > 1:
        more["planarconfig"] = "contig"
    if channels == 1:
        data = data[:, :, 0]
    tifffile.imwrite(name, data, photometric=photometric, metadata=None, software="", **more)

tiff("cmyk-8.tif", 4, 8, "separated", resolution=(300, 300), resolutionunit=2)
tiff("cmyk-16-big-endian.tif", 4, 16, "separated", byteorder=">", resolution=(118, 118), resolutionunit=3)
tiff("cmyk-planar.tif", 4, 8, "separated", planarconfig="separate")
tiff("cmyk-alpha.tif", 5, 8, "separated", extrasamples=["unassalpha"])
tiff("rgb-16.tif", 3, 16, "rgb")
tiff("rgb-alpha.tif", 4, 8, "rgb", extrasamples=["unassalpha"])
tiff("rgb-other.tif", 4, 8, "rgb", extrasamples=["unspecified"])
tiff("grey-alpha.tif", 2, 8, "minisblack", extrasamples=["unassalpha"])
tiff("grey-16.tif", 1, 16, "minisblack")
tiff("grey-white-is-zero.tif", 1, 8, "miniswhite")
mixed = np.zeros((1, 2, 4), np.uint8)
mixed[0] = [[100, 50, 25, 128], [200, 100, 0, 255]]
tifffile.imwrite("rgb-mixed.tif", mixed, photometric="rgb", extrasamples=["assocalpha"], metadata=None, software="")
tifffile.imwrite("float.tif", np.zeros((3, 4), np.float32), photometric="minisblack", metadata=None, software="")
bits = np.array([[1, 0, 1, 1, 0, 0, 0, 1, 1, 0], [0, 1, 0, 0, 1, 1, 1, 0, 0, 1]], bool)
Image.fromarray(bits).save("line-art.tif", dpi=(1200, 1200))
Image.fromarray(bits).save("line-art-fax.tif", compression="group4")
Image.fromarray(value(3).astype(np.uint8)).save("rgb-lzw.tif", compression="tiff_lzw")
Image.fromarray(value(3).astype(np.uint8)).quantize(8).save("palette.tif")

def squares(mode, colours):
    picture = Image.new(mode, (16, 16))
    for at, colour in enumerate(colours):
        picture.paste(colour, (at % 2 * 8, at // 2 * 8, at % 2 * 8 + 8, at // 2 * 8 + 8))
    return picture

def jpeg(picture, **more):
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=95, subsampling=0, **more)
    return out.getvalue()

def without_app14(data):
    at = data.index(b"\xff\xee")
    return data[:at] + data[at + 2 + int.from_bytes(data[at + 2 : at + 4], "big") :]

inks = [(255, 0, 0, 0), (0, 200, 100, 0), (10, 20, 30, 250), (128, 64, 32, 16)]
lights = [(255, 0, 0), (20, 180, 90), (10, 20, 30), (240, 230, 128)]
cmyk = jpeg(squares("CMYK", inks), dpi=(300, 300))
files = {"cmyk-app14.jpg": cmyk, "cmyk-plain.jpg": without_app14(cmyk)}
files["cmyk-progressive.jpg"] = jpeg(squares("CMYK", inks), progressive=True)
# YCCK: the ink counted as paper, turned to YCbCr, black beside it; the APP14 marker says transform 2.
paper = np.asarray(squares("CMYK", inks)).astype(int)
light = Image.fromarray((paper[..., :3]).astype(np.uint8), "RGB").convert("YCbCr")
ycck = np.dstack([255 - np.asarray(light), np.asarray(squares("CMYK", inks))[..., 3]])
data = bytearray(jpeg(Image.fromarray(ycck.astype(np.uint8), "CMYK")))
# The last byte of the segment (ITU-T T.872, 6.5.3).
at = data.index(b"\xff\xee")
data[at + 15] = 2
files["ycck.jpg"] = bytes(data)
exif = Image.Exif()
exif[0x0112] = 6
exif[0x011A] = 240.0
exif[0x011B] = 240.0
exif[0x0128] = 2
oblong = squares("RGB", lights).crop((0, 0, 16, 8))
srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
files["rgb-turned.jpg"] = jpeg(oblong, exif=exif, icc_profile=srgb)
files["rgb-unturned-channels.jpg"] = jpeg(squares("RGB", lights), keep_rgb=True)
files["grey.jpg"] = jpeg(squares("L", [255, 0, 100, 200]), dpi=(150, 150))
# Busy, so that every kind of code is met; its sides are no multiples of a block.
y, x = np.mgrid[0:96, 0:120]
grain = np.random.default_rng(7).integers(0, 100, (96, 120))
busy = ((x * y // 7) % 256 * 0.6 + grain).clip(0, 255).astype(np.uint8)
Image.fromarray(busy).save("grey-busy-progressive.jpg", quality=60, progressive=True)
four = np.dstack([busy, 255 - busy, (x * 2 % 256).astype(np.uint8), (y * 2 % 256).astype(np.uint8)])
Image.fromarray(four, "CMYK").save("cmyk-busy-restarts.jpg", quality=60, subsampling=2, restart_marker_rows=1)
print("Pillow", __version__)
for name, data in files.items():
    open(name, "wb").write(data)
    picture = Image.open(name)
    picture.load()
    spots = [(4, 4), (12, 4)] + ([(4, 12), (12, 12)] if picture.height > 8 else [])
    print(name, picture.mode, [picture.getpixel(spot) for spot in spots])

# Interlaced, every pixel three wide and high, by ImageMagick: nothing above writes it.
plain = io.BytesIO()
Image.fromarray(np.kron(value(3), np.ones((3, 3, 1))).astype(np.uint8)).save(plain, "PNG")
command = ["convert", "png:-", "-interlace", "PNG", "-strip", "rgb-interlaced.png"]
subprocess.run(command, input=plain.getvalue(), check=True)

# What the check looks for in pictures: a JPEG saved small, a shadow that fades from the left, one whose pixels are all
# clear, a green that no ink reaches,
# and bar codes drawn by zxing-cpp.
import zxingcpp

noise = (np.indices((48, 48)).sum(0) * 37 % 256).astype(np.uint8)
Image.fromarray(noise).save("coarse.jpg", quality=40)
shadow = np.zeros((40, 60, 4), np.uint8)
shadow[8:32, :50, 3] = np.linspace(160, 0, 50).astype(np.uint8)
Image.fromarray(shadow).save("soft.png")
Image.new("RGBA", (8, 8), (200, 30, 30, 0)).save("clear.png", optimize=True)
neon = np.full((24, 24, 3), 128, np.uint8)
neon[:, :12] = [0, 255, 64]
Image.fromarray(neon).save("neon.png")
for name, code in [("bars.png", "9781836512844"), ("bars-own.png", "9781837426157")]:
    drawn = zxingcpp.create_barcode(code, zxingcpp.BarcodeFormat.EAN13).to_image(scale=3, add_quiet_zones=True)
    Image.fromarray(np.array(drawn)).convert("L").save(name)
    print(name, [found.text for found in zxingcpp.read_barcodes(Image.open(name))])

# More pixels than a press can show: a ramp of grey.
ramp = np.tile(np.linspace(40, 220, 1200).astype(np.uint8), (1000, 1))
Image.fromarray(ramp).save("fine.png", optimize=True)

# Deep colours, of which a press makes much ink.
y, x = np.mgrid[0:48, 0:48]
deep = np.stack([10 + x, 8 + y, 20 + (x + y) // 2], axis=-1).astype(np.uint8)
Image.fromarray(deep).save("deep.png")
