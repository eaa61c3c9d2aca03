"""Pictures as JPEGs in a press file: `JPEG.pdf EXACT.pdf QUALITY` prints, for every picture in the order of the file, its filter,
the mean difference of its samples, as libjpeg-turbo reads them (Pillow), from the exact ones, and the mean difference that
libjpeg-turbo itself leaves at this quality; and last the mean difference of the two pages as Ghostscript lays them on plates.
"""

import io
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import pikepdf
from PIL import Image


def images(path):
    with pikepdf.open(path) as pdf:
        for one in pdf.objects:
            if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image":
                size = (int(one.Height), int(one.Width), -1)
                if one.Filter == "/DCTDecode":
                    read = Image.open(io.BytesIO(one.read_raw_bytes()))
                    samples = np.asarray(read).reshape(size)
                    # Pillow turns CMYK that counts paper, as APP14 says, into ink; so a PDF must ask for the same.
                    assert read.mode == "L" or list(map(float, one.Decode)) == [1, 0] * 4
                else:
                    samples = np.frombuffer(one.read_bytes(), np.uint8).reshape(size)
                    if one.ColorSpace == "/DeviceGray" and "/Decode" in one:
                        samples = 255 - samples
                yield str(one.Filter), samples


def off(one, other):
    return np.abs(one.astype(int) - other.astype(int)).mean()


def again(samples, quality):
    picture = Image.fromarray(samples[..., 0]) if samples.shape[2] == 1 else Image.fromarray(samples, "CMYK")
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=quality, subsampling=0)
    return np.asarray(Image.open(file)).reshape(samples.shape)


def plates(path):
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "page.tif"
        words = ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiff32nc", "-r100", f"-sOutputFile={out}", path]
        subprocess.run(words, check=True)
        return np.asarray(Image.open(out))


jpeg, exact, quality = sys.argv[1], sys.argv[2], int(sys.argv[3])
for (filter_, samples), (_, wanted) in zip(images(jpeg), images(exact), strict=True):
    print(filter_, off(samples, wanted), off(again(wanted, quality), wanted))
print("plates", off(plates(jpeg), plates(exact)), 0)
