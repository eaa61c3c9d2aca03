"""The rules of PDF/X-4 and PDF/X-1a:2003 as we read them, asked of a press file with pikepdf (qpdf's library).

This is not certification. ISO 15930-7 and 15930-4 were not at hand: the rules are those that public sources agree on, each named
below, and what they say was checked one by one. A printer's own preflight has the last word.

Prints every group of rules and, where it can, how many things it was asked of; ends with 1 and says why at the first
that does not hold.
"""

import sys

import pikepdf
from lxml import etree
from rules_drawing import contents
from rules_inks import check_fonts, check_inks, check_states, check_transparency
from rules_kit import dictionaries, inside, numbers, require, streams

REGISTRY = "http://www.color.org"
FILTERS = {"/FlateDecode", "/DCTDecode", "/RunLengthDecode", "/CCITTFaxDecode", "/ASCIIHexDecode", "/ASCII85Decode"}
# ISO 19593-1, as public code reads it; not checked against the standard itself.
STEPS = {
    "/Structural": ["/Cutting", "/FoilStamping", "/Embossing", "/Debossing"],
    "/Varnish": [""],
    "/White": [""],
}
NAMESPACES = {
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "pdfxid": "http://www.npes.org/pdfx/ns/id/",
    "pdf": "http://ns.adobe.com/pdf/1.3/",
    "dc": "http://purl.org/dc/elements/1.1/",
    "xmp": "http://ns.adobe.com/xap/1.0/",
    "xmpMM": "http://ns.adobe.com/xap/1.0/mm/",
}


# The names: in XMP, in Info, and how closely in Info, which only PDF/X-1a:2001 says.
STANDARDS = {
    "PDF/X-4": {
        "head": b"%PDF-1.6",
        "object streams": True,
        "profiles": (2, 4),
        "names": ("PDF/X-4", None, None),
        "transparency": True,
        "layers": True,
    },
    "PDF/X-1a:2003": {
        "head": b"%PDF-1.4",
        "object streams": False,
        "profiles": (2,),
        "names": (None, "PDF/X-1a:2003", None),
        "transparency": False,
        "layers": False,
    },
}


def main(path, standard="PDF/X-4"):
    asked = STANDARDS[standard]
    with open(path, "rb") as file:
        written = file.read()
    with pikepdf.open(path) as pdf:
        root, page = pdf.Root, pdf.pages[0]
        for rule, check in [
            ("header", lambda: check_file(pdf, written, asked)),
            ("filters", lambda: check_streams(pdf)),
            ("intent", lambda: check_intent(root, asked)),
            ("metadata", lambda: check_metadata(pdf, asked)),
            ("boxes", lambda: check_boxes(pdf, page.obj)),
            ("nothing that acts", lambda: check_still(root, page.obj)),
            ("transparency", lambda: check_transparency(pdf, asked)),
            ("inks", lambda: check_inks(pdf, page.obj)),
            ("states", lambda: check_states(pdf)),
            ("fonts", lambda: check_fonts(pdf)),
            ("layers", lambda: check_layers(pdf, asked)),
        ]:
            print(rule, check() or "")


def check_file(pdf, written, asked):
    require("header", written[:8] == asked["head"] and "/Version" not in pdf.Root, written[:8])
    if not asked["object streams"]:
        # PDF 1.5 brought both; a file without them ends with a table and a trailer in plain letters.
        packed = [thing for thing in streams(pdf) if thing.get("/Type") in ("/ObjStm", "/XRef")]
        plain = b"\nxref\n" in written and b"\ntrailer" in written
        require("objects as they are", plain and not packed and b"/ObjStm" not in written, "packed objects")
    require("sound", pdf.check_pdf_syntax() == [], "qpdf finds faults")
    require("open", not pdf.is_encrypted and "/Encrypt" not in pdf.trailer, "is encrypted")
    identity = pdf.trailer.get("/ID")
    require("identity", identity is not None and len(identity) == 2 and len(bytes(identity[0])) == 16, identity)
    require("one page", len(pdf.pages) == 1, len(pdf.pages))


def check_streams(pdf):
    for stream in streams(pdf):
        kinds = stream.get("/Filter", pikepdf.Array())
        kinds = {str(kind) for kind in (kinds if isinstance(kinds, pikepdf.Array) else [kinds])}
        require("filters", kinds <= FILTERS, kinds)
        require("all inside", "/F" not in stream and "/FFilter" not in stream, "keeps its bytes elsewhere")
        require("no PostScript", stream.get("/Subtype") != "/PS" and "/PS" not in stream, "PostScript")
        for key in ["/OPI", "/Ref", "/Alternates"]:
            require("no stand-ins", key not in stream, key)
    for thing in dictionaries(pdf):
        require("no embedded files", thing.get("/Type") not in ("/Filespec", "/EmbeddedFile"), dict(thing))


def check_intent(root, asked):
    stated = root.get("/OutputIntents", [])
    intents = [intent for intent in stated if intent.S == "/GTS_PDFX"]
    require("one intent", len(intents) == 1 and len(stated) == 1, len(stated))
    intent = intents[0]
    for key in ["/OutputConditionIdentifier", "/Info"]:
        require("condition named", str(intent.get(key, "")).strip() != "", key)
    # The registry is that of the ICC, or none.
    require("registry", str(intent.get("/RegistryName", REGISTRY)) == REGISTRY, intent.get("/RegistryName"))
    elsewhere = "/DestOutputProfileRef" in intent or "/DestOutputProfile" not in intent
    require("profile inside", not elsewhere, "no profile, or one elsewhere")
    profile = intent.DestOutputProfile
    icc = profile.read_bytes()
    require("profile", profile.N == 4 and len(icc) == int.from_bytes(icc[:4], "big"), "N or length")
    # ICC.1, the header: class at 12, colour space at 16, connection space at 20, signature at 36, version at 8.
    require("press profile", icc[12:16] == b"prtr" and icc[16:20] == b"CMYK" and icc[36:40] == b"acsp", icc[12:40])
    require("profile version", icc[8] in asked["profiles"], icc[8])


def check_metadata(pdf, asked):
    require("metadata", "/Metadata" in pdf.Root, "none")
    require("metadata as it is", "/Filter" not in pdf.Root.Metadata, "compressed")
    tree = etree.fromstring(pdf.Root.Metadata.read_bytes())
    about = pdf.docinfo

    def said(name):
        prefix, local = name.split(":")
        found = tree.xpath(f"//{name}", namespaces=NAMESPACES)
        if found:
            return "".join(found[0].itertext()).strip()
        return next(iter(tree.xpath(f"//rdf:Description/@{prefix}:{local}", namespaces=NAMESPACES)), None)

    names = (said("pdfxid:GTS_PDFXVersion"), about.get("/GTS_PDFXVersion"), about.get("/GTS_PDFXConformance"))
    require("says what it is", tuple(name and str(name) for name in names) == asked["names"], names)
    require("trapped", said("pdf:Trapped") == "False" and about.get("/Trapped") == "/False", about.get("/Trapped"))
    require("title", said("dc:title") and said("dc:title") == str(about.get("/Title")), said("dc:title"))
    for ours, theirs in [("/Author", "dc:creator"), ("/Creator", "xmp:CreatorTool"), ("/Producer", "pdf:Producer")]:
        require("both tell the same", ours not in about or said(theirs) == str(about[ours]), (ours, said(theirs)))
    for ours, theirs in [("/CreationDate", "xmp:CreateDate"), ("/ModDate", "xmp:ModifyDate")]:
        require("dates", ours in about, ours)
        digits = "".join(letter for letter in str(about[ours]) if letter.isdigit())[:14]
        wanted = "".join(letter for letter in said(theirs) or "" if letter.isdigit())[:14]
        require("dates", len(digits) >= 8 and wanted.startswith(digits[:8]), (digits, wanted))
        require("dates agree", digits.ljust(14, "0") == wanted.ljust(14, "0"), (digits, wanted))
    require("dated metadata", said("xmp:MetadataDate"), "no date")
    for name in ["xmpMM:DocumentID", "xmpMM:VersionID", "xmpMM:RenditionClass"]:
        require("named", said(name), name)
    book = said("dc:identifier")
    if book is None:
        return 0
    # ISBN-13: the sum of its digits, every second one three times, is a multiple of ten (ISO 2108).
    digits = [int(digit) for digit in book if digit.isdigit()]
    require("book", book.startswith("urn:isbn:") and len(digits) == 13, book)
    require("book's check digit", (sum(digits[::2]) + 3 * sum(digits[1::2])) % 10 == 0, book)
    return 1


def check_boxes(pdf, page):
    require("one finished size", ("/TrimBox" in page) != ("/ArtBox" in page), "both trim and art, or none")
    media, trim = numbers(page.MediaBox), numbers(page.get("/TrimBox", page.get("/ArtBox")))
    bleed = numbers(page.get("/BleedBox", page.MediaBox))
    require("trim in bleed in media", inside(trim, bleed) and inside(bleed, media), (trim, bleed, media))
    require("nothing cut off", "/CropBox" not in page or numbers(page.CropBox) == media, "crops")
    for key in ["/UserUnit", "/SeparationInfo", "/AA", "/PresSteps"]:
        require("composite page", key not in page, key)
    for key in ["/TrimBox", "/ArtBox"]:
        require("sizes are the page's own", key not in pdf.Root.Pages, key)
    for key in ["/ViewArea", "/ViewClip", "/PrintArea", "/PrintClip"]:
        area = pdf.Root.get("/ViewerPreferences", pikepdf.Dictionary()).get(key, "/MediaBox")
        require("seen whole", area in ("/MediaBox", "/BleedBox"), area)


def check_still(root, page):
    for key in ["/OpenAction", "/AA", "/AcroForm", "/Outlines", "/Requirements", "/Collection"]:
        require("nothing acts", key not in root, key)
    require("no notes", "/Annots" not in page, "annotations")
    for key in root.get("/Names", pikepdf.Dictionary()).keys():
        require("no scripts", key not in ("/JavaScript", "/EmbeddedFiles"), key)


def check_layers(pdf, asked):
    layers = pdf.Root.get("/OCProperties")
    if not asked["layers"]:
        used = [thing for thing in dictionaries(pdf) if thing.get("/Type") in ("/OCG", "/OCMD") or "/OC" in thing]
        require("no layers", layers is None and not used, "a layer")
        for content in contents(pdf):
            marks = [str(operands[0]) for operands, operator in pikepdf.parse_content_stream(content) if str(operator) == "BDC"]
            require("no layers", "/OC" not in marks, "a mark of a layer")
    if layers is None:
        return
    configurations = [layers.D] + list(layers.get("/Configs", []))
    for configuration in configurations:
        require("layers as they are", "/AS" not in configuration, "layers that switch themselves")
        require("layers named", str(configuration.get("/Name", "")) != "", "a configuration without a name")
        ordered = {layer.objgen for layer in configuration.get("/Order", [])}
        require("layers listed", "/Order" not in configuration or ordered == {one.objgen for one in layers.OCGs}, ordered)
    for one in layers.OCGs:
        step = one.get("/GTS_Metadata", pikepdf.Dictionary())
        group, kind = str(step.get("/GTS_ProcStepsGroup", "")), str(step.get("/GTS_ProcStepsType", ""))
        require("processing steps", kind in STEPS.get(group, []), (group, kind))
    names = [str(one.Name) for one in layers.OCGs]
    require("names differ", len(names) == len(set(names)), names)
    return len(names)


if __name__ == "__main__":
    main(*sys.argv[1:])
