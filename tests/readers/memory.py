"""What a build takes: `make FOLDER` writes large pictures; `run PROGRAM WORDS…` runs it and prints the most memory that it had,
in bytes, as the kernel counted it (getrusage). This script loads nothing large: what a process had before it started another
program counts for that program too.
"""

import resource
import subprocess
import sys

# Beside this script lies one that is called as a part of Python's own library, which numpy asks for.
sys.path.pop(0)


def make(folder):
    import numpy as np
    from PIL import Image

    rgb = light(np, 3264, 4928)
    Image.fromarray(rgb).save(f"{folder}/light.jpg", quality=92, subsampling=0)
    Image.fromarray(rgb).save(f"{folder}/light-scans.jpg", quality=92, subsampling=1, progressive=True)
    ink = Image.fromarray(255 - rgb).convert("CMYK")
    ink.save(f"{folder}/ink.jpg", quality=90)
    ink.save(f"{folder}/ink-scans.jpg", quality=90, progressive=True)
    ink.save(f"{folder}/ink.tif")
    Image.fromarray(light(np, 3032, 4550)).save(f"{folder}/middle.jpg", quality=92, subsampling=0)
    Image.fromarray(light(np, 2048, 3060)).save(f"{folder}/small.png", compress_level=1)


def light(np, width, height):
    lot = np.random.default_rng(16)
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    light = 0.5 + 0.25 * np.sin(x / 310) + 0.2 * np.cos(y / 270 + x / 900)
    rgb = np.stack([light, light**1.5, 1 - light * 0.8], axis=-1)
    rgb += lot.normal(0, 0.02, (height, width, 1)).astype(np.float32)
    return (rgb.clip(0, 1) * 255).astype(np.uint8)


def deep(path):
    """RGBA of 16 bits, which Pillow does not write."""
    import struct
    import zlib

    import numpy as np

    width, height = 2448, 3264
    y, x = np.mgrid[0:height, 0:width].astype(np.uint32)
    pixels = np.stack([x * 26, y * 20, (x + y) * 11, 30_000 + x * 14], axis=-1).astype(">u2")
    rows = np.concatenate([np.zeros((height, 1), np.uint8), pixels.view(np.uint8).reshape(height, -1)], axis=1)

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 16, 6, 0, 0, 0)
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows.tobytes(), 1)) + chunk(b"IEND", b"")
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n" + body)


def run(words):
    done = subprocess.run(words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    assert done.returncode == 0, done.stderr.decode()
    print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * 1024)


if sys.argv[1] == "make":
    make(sys.argv[2])
    deep(f"{sys.argv[2]}/deep.png")
else:
    run(sys.argv[2:])
