"""What the lines of a press file that run to the left say: `PRESS.pdf`; each line is a text object. Every piece of it says its
letters in their order, a span by its ActualText and a glyph by ToUnicode (ISO 32000-1, 14.9.4 and 9.10.3); the pieces are taken
from right to left.
"""

import re
import sys
import unicodedata

import pikepdf


def letters(font):
    """ToUnicode by codes of two bytes."""
    said, known = font.ToUnicode.read_bytes().decode("latin-1"), {}
    text = lambda digits: bytes.fromhex(digits).decode("utf-16-be")
    for block in re.findall(r"beginbfchar(.*?)endbfchar", said, re.S):
        known |= {int(code, 16): text(digits) for code, digits in re.findall(r"<(\w+)>\s*<(\w*)>", block)}
    assert "beginbfrange" not in said
    return known


def lines(page):
    found, span, font = [], None, None
    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "Tf":
                font = letters(page.Resources.Font[str(operands[0])])
            case "BT":
                found.append([])
            case "BDC" if "/ActualText" in operands[1]:
                span = [str(operands[1].ActualText)]
            case "EMC":
                span = None
            case "TJ" if span is not None:
                found[-1].extend(span)
                span = []
            case "TJ":
                codes = b"".join(bytes(part) for part in operands[0] if isinstance(part, pikepdf.String))
                pieces = [font[int.from_bytes(codes[at : at + 2], "big")] for at in range(0, len(codes), 2)]
                found[-1].extend(pieces)
    return found


with pikepdf.open(sys.argv[1]) as pdf:
    for pieces in lines(pdf.pages[0]):
        print(unicodedata.normalize("NFC", "".join(reversed(pieces))))
