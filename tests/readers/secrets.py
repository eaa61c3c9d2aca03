"""What picture files say besides their picture: `make FOLDER` writes some that say a secret everywhere they can; `search PRESS.pdf`
prints each place of a press file where it stands, in its bytes as they are and in every stream unpacked (pikepdf).
"""

import io
import sys
from pathlib import Path

import numpy
import pikepdf
from PIL import Image, PngImagePlugin, TiffImagePlugin

SECRET = b"Wren Lane 47, second floor"


def loaded(mode, **more):
    """A JPEG with an address in EXIF, XMP, IPTC, a comment, a profile's place, and behind its end."""
    y, x = numpy.mgrid[0:64, 0:96]
    channels = {"L": 1, "RGB": 3, "CMYK": 4}[mode]
    samples = numpy.stack([(x * 2 + y * channel) % 256 for channel in range(channels)], -1).astype(numpy.uint8)
    picture = Image.fromarray(samples[:, :, 0] if channels == 1 else samples, mode)
    exif = Image.Exif()
    exif[0x010E], exif[0x013B] = SECRET.decode(), SECRET.decode()
    exif.get_ifd(0x8825)[29] = SECRET.decode()
    plain = io.BytesIO()
    picture.save(plain, "JPEG", quality=90, exif=exif, comment=SECRET, **more)
    bytes_ = plain.getvalue()
    for marker, head in [(0xE1, b"http://ns.adobe.com/xap/1.0/\0"), (0xED, b"Photoshop 3.0\0"), (0xE2, b"ICC_PROFILE\0\1\1")]:
        body = head + SECRET
        bytes_ = bytes_[:2] + bytes([0xFF, marker]) + (len(body) + 2).to_bytes(2, "big") + body + bytes_[2:]
    return bytes_ + SECRET


def make(folder):
    for mode in ["L", "RGB", "CMYK"]:
        (folder / f"{mode.lower()}.jpg").write_bytes(loaded(mode))
        (folder / f"{mode.lower()}-progressive.jpg").write_bytes(loaded(mode, progressive=True))
    flat = Image.new("RGBA", (120, 90), (90, 40, 20, 128))
    text = PngImagePlugin.PngInfo()
    text.add_text("Author", SECRET.decode())
    text.add_itxt("Place", SECRET.decode(), zip=True)
    exif = Image.Exif()
    exif[0x010E] = SECRET.decode()
    flat.save(folder / "rgba.png", pnginfo=text, exif=exif)
    tags = TiffImagePlugin.ImageFileDirectory_v2()
    tags[270] = SECRET.decode()
    Image.new("CMYK", (120, 90), (9, 8, 7, 6)).save(folder / "cmyk.tif", tiffinfo=tags)
    for file in sorted(folder.iterdir()):
        if file.suffix in (".jpg", ".png", ".tif"):
            known = SECRET in file.read_bytes() or b"zTXt" in file.read_bytes()
            print(file.name, "says it" if known else "lost it")


def search(press):
    for name, bytes_ in [("the file", Path(press).read_bytes())]:
        if SECRET in bytes_:
            print(name)
    with pikepdf.open(press) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream):
                said = thing.read_raw_bytes()
                if "/DCTDecode" not in str(thing.get("/Filter", "")):
                    said += thing.read_bytes()
                if SECRET in said:
                    print("stream", thing.objgen, thing.get("/Subtype"))
        print("pictures", sum(thing.get("/Subtype") == "/Image" for thing in pdf.objects if isinstance(thing, pikepdf.Stream)))
        print("as they came", sum(str(thing.get("/Filter")) == "/DCTDecode" for thing in pdf.objects if isinstance(thing, pikepdf.Stream)))


if __name__ == "__main__":
    task, place = sys.argv[1:]
    make(Path(place)) if task == "make" else search(place)
