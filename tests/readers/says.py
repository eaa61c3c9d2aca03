"""What pictures say of themselves: XMP as Pillow finds it in PNG and JPEG, read by Python's own parser of XML."""

import re
import sys
import xml.etree.ElementTree as ET

import pikepdf
from PIL import Image

standing, press, shop, view, shadow, ebook = sys.argv[1:]
RDF = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}"
# The IPTC Photo Metadata Standard 2021.1 and Adobe's XMP, part 2: namespaces and keys, as public readers have them.
ALT = "{http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/}AltTextAccessibility"
MEDIA = "{http://ns.adobe.com/xap/1.0/mm/}"
LABEL = "{http://ns.adobe.com/xap/1.0/}Label"
LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"


def packet(path):
    picture = Image.open(path)
    picture.load()
    found = picture.info.get("xmp") or picture.info.get("XML:com.adobe.xmp")
    text = found.decode() if isinstance(found, bytes) else str(found)
    return ET.fromstring(re.sub(r"<\?xpacket.*?\?>", "", text))


def one(tree, key):
    found = tree.findall(f".//{key}")
    assert len(found) == 1, (key, found)
    return found[0]


with pikepdf.open(press) as pdf:
    sent = ET.fromstring(re.sub(r"<\?xpacket.*?\?>", "", pdf.Root.Metadata.read_bytes().decode()))
for path, alternative, approval in [
    (shop, True, standing),
    (view, True, standing),
    (shadow, False, standing),
    # A front for screens is approved on its own: nobody has stated that.
    (ebook, True, None),
]:
    tree = packet(path)
    # The same job in the same version as the press file.
    for key in ("DocumentID", "VersionID"):
        assert one(tree, MEDIA + key).text == one(sent, MEDIA + key).text, (path, key)
    assert one(tree, MEDIA + "VersionID").text == "4"
    label = one(tree, LABEL).text
    wanted = r"version 4, look [0-9a-f]{8}" + (f", {approval}" if approval else "")
    assert re.fullmatch(wanted, label), (path, label)
    said = [(item.get(LANGUAGE), item.text) for item in tree.findall(f".//{ALT}/{RDF}Alt/{RDF}li")]
    assert said == ([("x-default", "HHH & <night>"), ("en-GB", "HHH & <night>")] if alternative else []), (path, said)
print("well")
