"""Every bar code of a picture, one a line: its kind and its digits, the add-on's joined to them."""

import sys

import zxingcpp
from PIL import Image

Image.MAX_IMAGE_PIXELS = None
path, add_on = sys.argv[1:]
symbol = zxingcpp.EanAddOnSymbol.Require if add_on == "with-add-on" else zxingcpp.EanAddOnSymbol.Ignore
for code in zxingcpp.read_barcodes(Image.open(path), ean_add_on_symbol=symbol):
    print(str(code.format).split(".")[-1].replace("-", ""), code.text)
