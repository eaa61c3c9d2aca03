"""Makes the JPEGs of this folder whose colours are a third or a quarter as fine, in one go and bit by bit, and beside them what
libjpeg-turbo reads of both (Pillow), `sampled-*.png`. Needs Pillow and numpy. A third is written here, as no encoder at hand does:
tables and codes are those of ITU-T T.81, annex K; bit by bit, the means come in two scans, the second with their last bit.
"""
import io
import numpy as np
from PIL import Image

WIDTH, HEIGHT = 45, 37
y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
LIGHT = np.stack([128 + 110 * np.sin(at) for at in (x / 5, y / 6, (x + y) / 8)], -1).astype(np.uint8)

DC = [0, 1, 5, 1, 1, 1, 1, 1, 1] + [0] * 7, list(range(12))
AC = [0, 2, 1, 3, 3, 2, 4, 3, 5, 5, 4, 4, 0, 0, 1, 125], list(bytes.fromhex(
    "01020300041105122131410613516107227114328191a1082342b1c11552d1f02433627282090a161718191a25262728292a3435363738393a43444546"
    "4748494a535455565758595a636465666768696a737475767778797a838485868788898a92939495969798999aa2a3a4a5a6a7a8a9aab2b3b4b5b6b7b8"
    "b9bac2c3c4c5c6c7c8c9cad2d3d4d5d6d7d8d9dae1e2e3e4e5e6e7e8e9eaf1f2f3f4f5f6f7f8f9fa"))
ZIGZAG = sorted(((u, v) for u in range(8) for v in range(8)), key=lambda at: (sum(at), at[0] if sum(at) % 2 else at[1]))
STEP = 3


def codes(counts, symbols):
    found, code, at = {}, 0, 0
    for length, count in enumerate(counts, 1):
        for _ in range(count):
            found[symbols[at]] = (code, length)
            code, at = code + 1, at + 1
        code <<= 1
    return found


def segment(marker, body):
    return bytes([0xFF, marker]) + (len(body) + 2).to_bytes(2, "big") + bytes(body)


class Bits:
    def __init__(self):
        self.text = []

    def put(self, value, length):
        if length:
            self.text.append(format(value & ((1 << length) - 1), f"0{length}b"))

    def signed(self, value, length):
        self.put(value if value >= 0 else value - 1, length)

    def bytes(self):
        text = "".join(self.text)
        text += "1" * (-len(text) % 8)
        return int(text, 2).to_bytes(len(text) // 8, "big").replace(b"\xff", b"\xff\0") if text else b""


def blocks(plane):
    """Coefficients of a plane of whole blocks, divided by their step, in rows of blocks."""
    at = np.arange(8)
    turn = np.cos((2 * at[None] + 1) * at[:, None] * np.pi / 16) / 2
    turn[0] /= np.sqrt(2)
    tiles = plane.reshape(plane.shape[0] // 8, 8, -1, 8).swapaxes(1, 2) - 128.0
    turned = np.round(turn @ tiles @ turn.T / STEP).astype(int)
    return np.stack([turned[:, :, u, v] for u, v in ZIGZAG], -1)


def entropy(bits, block, before, parts):
    """A block, as far as these parts of it come: the mean, and the rest."""
    dc, ac = codes(*DC), codes(*AC)
    if "mean" in parts:
        length = int(abs(block[0] - before)).bit_length()
        bits.put(*dc[length])
        bits.signed(int(block[0] - before), length)
    if "rest" in parts:
        zeros = 0
        for value in map(int, block[1:]):
            if value == 0:
                zeros += 1
                continue
            for _ in range(zeros // 16):
                bits.put(*ac[0xF0])
            length = abs(value).bit_length()
            bits.put(*ac[zeros % 16 * 16 + length])
            bits.signed(value, length)
            zeros = 0
        if zeros:
            bits.put(*ac[0])


def written(factors, progressive):
    across, down = max(h for h, _ in factors), max(v for _, v in factors)
    units = -(-WIDTH // (8 * across)), -(-HEIGHT // (8 * down))
    light = np.asarray(Image.fromarray(LIGHT).convert("YCbCr"), float)
    wide, high = units[0] * 8 * across, units[1] * 8 * down
    light = np.pad(light, ((0, high - HEIGHT), (0, wide - WIDTH), (0, 0)), "edge")
    planes = []
    for number, (h, v) in enumerate(factors):
        step = across // h, down // v
        planes.append(blocks(light[..., number].reshape(high // step[1], step[1], wide // step[0], step[0]).mean((1, 3))))
    frame = [8, *HEIGHT.to_bytes(2, "big"), *WIDTH.to_bytes(2, "big"), 3]
    frame += [part for number, (h, v) in enumerate(factors, 1) for part in (number, h << 4 | v, 0)]
    file = b"\xff\xd8" + segment(0xE0, b"JFIF\0\x01\x01\0\0\x01\0\x01\0\0") + segment(0xDB, [0] + [STEP] * 64)
    file += segment(0xC2 if progressive else 0xC0, frame)
    for kind, table in ((0, DC), (0x10, AC)):
        file += segment(0xC4, [kind, *table[0], *table[1]])

    def together(each):
        bits, before = Bits(), [0] * 3
        for unit in range(units[0] * units[1]):
            for number, (h, v) in enumerate(factors):
                for inner in range(h * v):
                    row, column = unit // units[0] * v + inner // h, unit % units[0] * h + inner % h
                    before[number] = each(bits, planes[number][row, column], before[number])
        return bits.bytes()

    def whole(bits, block, before):
        entropy(bits, block, before, "mean rest")
        return block[0]

    def mean(bits, block, before):
        entropy(bits, [block[0] >> 1], before, "mean")
        return block[0] >> 1

    def last_bit(bits, block, before):
        bits.put(int(block[0]), 1)
        return before

    head = [3, 1, 0, 2, 0, 3, 0]
    if not progressive:
        return file + segment(0xDA, head + [0, 63, 0]) + together(whole) + b"\xff\xd9"
    file += segment(0xDA, head + [0, 0, 1]) + together(mean)
    for number, (h, v) in enumerate(factors):
        bits = Bits()
        own = -(-(-(-WIDTH * h // across)) // 8), -(-(-(-HEIGHT * v // down)) // 8)
        for row in range(own[1]):
            for column in range(own[0]):
                entropy(bits, planes[number][row, column], 0, "rest")
        file += segment(0xDA, [1, number + 1, 0, 1, 63, 0]) + bits.bytes()
    return file + segment(0xDA, head + [0, 0, 16]) + together(last_bit) + b"\xff\xd9"


def quarter(progressive):
    out = io.BytesIO()
    Image.fromarray(LIGHT).save(out, "JPEG", quality=92, subsampling="4:1:1", progressive=progressive)
    return out.getvalue()


if __name__ == "__main__":
    for progressive in (False, True):
        for name, file in (
            ("sampled-4x1", quarter(progressive)),
            ("sampled-3x1", written([(3, 1), (1, 1), (1, 1)], progressive)),
            ("sampled-1x3", written([(1, 3), (1, 1), (1, 3)], progressive)),
            ("sampled-2x4", written([(2, 4), (1, 1), (1, 1)], progressive)),
            ("sampled-first-coarse", written([(1, 1), (2, 2), (1, 2)], progressive)),
        ):
            read = Image.open(io.BytesIO(file)).convert("RGB")
            if progressive:
                assert read.tobytes() == Image.open(f"{name}.png").tobytes(), name
                name += "-progressive"
            else:
                read.save(f"{name}.png")
            open(f"{name}.jpg", "wb").write(file)
            print(name, np.abs(np.asarray(read).astype(int) - LIGHT).mean())
