"""What every QR code of a picture says, one a line."""

import sys

import zxingcpp
from PIL import Image

Image.MAX_IMAGE_PIXELS = None
for code in zxingcpp.read_barcodes(Image.open(sys.argv[1]), formats=zxingcpp.BarcodeFormat.QRCode):
    print(code.text)
