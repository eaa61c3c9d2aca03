"""What can be wrong with a press file: the rule that must see it, and how to damage a file that way.

A damage changes the opened file; where it returns a function, that one changes the bytes of the saved file.
"""

import pikepdf
from pikepdf import Array, Dictionary, Name, String
from rules_kit import dictionaries, streams


def first(pdf, holds):
    return next(thing for thing in dictionaries(pdf) if holds(thing))


def page(pdf):
    return pdf.pages[0].obj


def sets(of, key, value):
    """Sets one key of what `of` finds."""

    def damage(pdf):
        of(pdf)[key] = value(pdf) if callable(value) else value

    return damage


def lacks(of, key):
    def damage(pdf):
        del of(pdf)[key]

    return damage


def bytes_changed(change):
    return lambda pdf: change


def locked(written):
    """Stands for a file that is encrypted as it is saved."""


def resources(pdf, kind):
    every_kind = pdf.pages[0].Resources
    if kind not in every_kind:
        every_kind[kind] = Dictionary()
    return every_kind[kind]


def draws(operators):
    def damage(pdf):
        pdf.pages[0].contents_add(operators)

    return damage


def picture(pdf, space, **more):
    stream = pdf.make_stream(b"\0\0\0\0", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, BitsPerComponent=8, **more)
    stream.ColorSpace = space
    resources(pdf, "/XObject")["/Damage"] = stream


def intent(pdf):
    return pdf.Root.OutputIntents[0]


def root(pdf):
    return pdf.Root


def about(pdf):
    return pdf.trailer.Info


def profile(change):
    def damage(pdf):
        stream = intent(pdf).DestOutputProfile
        stream.write(change(stream.read_bytes()))

    return damage


def metadata(old, new):
    def damage(pdf):
        said = pdf.Root.Metadata.read_bytes()
        assert old in said, old
        pdf.Root.Metadata = pdf.make_stream(said.replace(old, new), Type=Name.Metadata, Subtype=Name.XML)

    return damage


def wider(pdf):
    box = [float(side) for side in page(pdf).BleedBox]
    page(pdf).TrimBox = [box[0] - 0.01, *box[1:]]


def two_pages(pdf):
    pdf.pages.append(pdf.pages[0])


def second_meaning(pdf):
    spot = next(thing for thing in pdf.objects if isinstance(thing, Array) and len(thing) == 4 and thing[0] == "/Separation")
    other = Array([*spot[:3], Dictionary(FunctionType=2, Domain=[0, 1], N=1, C0=[0, 0, 0, 0], C1=[1, 0, 0, 0])])
    resources(pdf, "/ColorSpace")["/Damage"] = pdf.make_indirect(other)


def spot(pdf, name, looks):
    function = Dictionary(FunctionType=2, Domain=[0, 1], N=1, C0=[0, 0, 0, 0], C1=[1, 0, 0, 0])
    resources(pdf, "/ColorSpace")["/Damage"] = pdf.make_indirect(Array([Name.Separation, name, looks, function]))


def latin_name(pdf):
    spot(pdf, Name("/Grey42"), Name.DeviceCMYK)
    return lambda written: written.replace(b"/Grey42", b"/Gr\xe942 ")


def state(**says):
    return lambda pdf: resources(pdf, "/ExtGState").__setitem__("/Damage", Dictionary(**says))


def placed(pdf):
    """A picture, the file's own or one more."""
    if not any(stream.get("/Subtype") == "/Image" for stream in streams(pdf)):
        picture(pdf, Name.DeviceCMYK)
    return next(stream for stream in streams(pdf) if stream.get("/Subtype") == "/Image")


def embeds(kind, **says):
    return lambda pdf: pdf.Root.__setitem__("/Damage", pdf.make_indirect(Dictionary(Type=Name(kind), **says)))


def stream(**says):
    return lambda pdf: pdf.Root.__setitem__("/Damage", pdf.make_stream(b"\0", **says))


def font(holds):
    return lambda pdf: first(pdf, holds)


def broken_program(pdf):
    program = first(pdf, lambda thing: "/FontFile2" in thing)["/FontFile2"]
    program.write(program.read_bytes()[: len(program.read_bytes()) // 3])


def layers(pdf):
    return pdf.Root.OCProperties


def layer(pdf):
    return layers(pdf).OCGs[0]


def second_layer(pdf):
    other = pdf.make_indirect(Dictionary({key: layer(pdf)[key] for key in layer(pdf).keys()}))
    layers(pdf).OCGs.append(other)
    layers(pdf).D.Order = Array(list(layers(pdf).OCGs))


def many_inks(pdf):
    names = Array([Name(f"/Ink{number}") for number in range(9)])
    resources(pdf, "/ColorSpace")["/Damage"] = pdf.make_indirect(Array([Name.DeviceN, names, Name.DeviceCMYK, Dictionary()]))


def some_layer(pdf):
    pdf.Root.OCProperties = Dictionary(OCGs=Array([pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Foil"))]), D=Dictionary())


def mask(pdf):
    picture(pdf, Name.DeviceCMYK)
    soft = pdf.make_stream(b"\0", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, BitsPerComponent=8)
    soft.ColorSpace = Name.DeviceGray
    resources(pdf, "/XObject")["/Damage"].SMask = soft


def mixes(group, **says):
    """A state that mixes, and the page has this group, or none."""

    def damage(pdf):
        state(**says)(pdf)
        if group is not None:
            page(pdf).Group = group

    return damage


FILE = [
    ("header", bytes_changed(lambda written: b"%PDF-1.7" + written[8:])),
    ("header", sets(root, "/Version", Name("/1.7"))),
    ("sound", bytes_changed(lambda written: written.replace(b"startxref\n", b"startxref\n1"))),
    ("open", lambda pdf: locked),
    ("identity", bytes_changed(lambda written: written.replace(b"/ID [", b"/Id ["))),
    ("one page", two_pages),
    ("filters", sets(placed, "/Filter", Name.LZWDecode)),
    ("filters", sets(placed, "/Filter", Name.JBIG2Decode)),
    ("all inside", sets(placed, "/F", String("elsewhere.bin"))),
    ("no embedded files", embeds("/Filespec", F=String("a.txt"))),
    ("no embedded files", embeds("/EmbeddedFile")),
    ("no PostScript", stream(Type=Name.XObject, Subtype=Name.PS)),
    ("no stand-ins", sets(placed, "/OPI", Dictionary())),
    ("no stand-ins", sets(placed, "/Alternates", Array([]))),
    ("no stand-ins", stream(Type=Name.XObject, Subtype=Name.Form, Ref=Dictionary())),
]
INTENT = [
    ("one intent", lambda pdf: pdf.Root.OutputIntents.append(intent(pdf))),
    ("one intent", lacks(root, "/OutputIntents")),
    ("one intent", sets(intent, "/S", Name.GTS_PDFA1)),
    ("condition named", sets(intent, "/OutputConditionIdentifier", String("  "))),
    ("condition named", sets(intent, "/OutputConditionIdentifier", String(""))),
    ("condition named", lacks(intent, "/OutputConditionIdentifier")),
    ("condition named", lacks(intent, "/Info")),
    ("registry", sets(intent, "/RegistryName", String("https://press.example"))),
    ("profile inside", lacks(intent, "/DestOutputProfile")),
    ("profile inside", sets(intent, "/DestOutputProfileRef", Dictionary())),
    ("profile", profile(lambda icc: icc + b"what stood behind it")),
    ("profile", sets(lambda pdf: intent(pdf).DestOutputProfile, "/N", 3)),
    ("press profile", profile(lambda icc: icc[:12] + b"scnr" + icc[16:])),
    ("press profile", profile(lambda icc: icc[:16] + b"RGB " + icc[20:])),
    ("profile version", profile(lambda icc: icc[:8] + b"\5" + icc[9:])),
]
METADATA = [
    ("metadata", lacks(root, "/Metadata")),
    ("metadata as it is", bytes_changed(lambda written: written.replace(b"/Type /Metadata", b"/Filter [] /X 1"))),
    ("says what it is", metadata(b"PDF/X-4", b"PDF/X-5")),
    ("says what it is", sets(about, "/GTS_PDFXVersion", String("PDF/X-1a:2003"))),
    ("title", sets(about, "/Title", String("another"))),
    ("trapped", sets(about, "/Trapped", Name.Unknown)),
    ("trapped", lacks(about, "/Trapped")),
    ("both tell the same", sets(about, "/Producer", String("another"))),
    ("dates", lacks(about, "/ModDate")),
    ("dates agree", sets(about, "/CreationDate", lambda pdf: String(str(about(pdf).CreationDate)[:10] + "235959"))),
    ("dated metadata", metadata(b"xmp:MetadataDate", b"xmp:SomeOtherDate")),
    ("named", metadata(b"xmpMM:DocumentID", b"xmpMM:OriginalXX")),
    ("named", metadata(b"xmpMM:VersionID", b"xmpMM:OtherXXXX")),
    ("named", metadata(b"xmpMM:RenditionClass", b"xmpMM:OtherXXXXXXXXX")),
    ("book", metadata(b"urn:isbn:", b"urn:issn:")),
    ("book's check digit", metadata(b"urn:isbn:97", b"urn:isbn:79")),
]
PAGE = [
    ("trim in bleed in media", wider),
    ("one finished size", sets(page, "/ArtBox", lambda pdf: page(pdf).TrimBox)),
    ("one finished size", lacks(page, "/TrimBox")),
    ("nothing cut off", sets(page, "/CropBox", lambda pdf: page(pdf).TrimBox)),
    ("composite page", sets(page, "/SeparationInfo", Dictionary())),
    ("sizes are the page's own", sets(lambda pdf: pdf.Root.Pages, "/TrimBox", lambda pdf: page(pdf).TrimBox)),
    ("seen whole", sets(root, "/ViewerPreferences", Dictionary(PrintClip=Name.TrimBox))),
    ("nothing acts", sets(root, "/OpenAction", Dictionary(S=Name.JavaScript, JS="0"))),
    ("nothing acts", sets(root, "/AcroForm", Dictionary(XFA=Array([])))),
    ("no notes", sets(page, "/Annots", Array([Dictionary(Type=Name.Annot, Subtype=Name.Link)]))),
    ("no scripts", sets(root, "/Names", Dictionary(JavaScript=Dictionary()))),
]
DRAWING = [
    ("something is drawn", lambda pdf: sets(page, "/Contents", pdf.make_stream(b"q Q"))(pdf)),
    ("no screen colours", draws(b"1 0 0 rg 0 0 1 1 re f")),
    ("pictures are objects", draws(b"BI /W 1 /H 1 /BPC 8 /CS /G ID \0 EI")),
    ("operators are known", draws(b"1 0 0 1 k 0 0 1 1 rectangle f")),
    ("operands fit", draws(b"1 0 0 k")),
    ("operands fit", draws(b"0 /A 1 1 re f")),
    ("steps in order", draws(b"0 0 m 1 0 0 0 k 1 1 l S")),
    ("steps in order", draws(b"f")),
    ("steps in order", draws(b"1 1 l S")),
    ("steps in order", draws(b"BT q ET Q")),
    ("steps in order", draws(b"1 1 Td")),
    ("all is closed", draws(b"q")),
    ("all is closed", draws(b"Q")),
    ("all is closed", draws(b"BT")),
    ("all is closed", draws(b"/Span BMC")),
    ("all is closed", draws(b"EMC")),
    ("all is closed", draws(b"BT /Span BMC ET EMC")),
    ("names are known", draws(b"/Nowhere gs")),
    ("names are known", draws(b"/Nowhere Do")),
    ("names are known", draws(b"/Nowhere cs")),
    ("names are known", draws(b"/Pattern cs /Nowhere scn")),
    ("names are known", draws(b"/OC /Nowhere BDC EMC")),
    ("one of four intents", draws(b"/Photographic ri")),
    ("one of four intents", state(RI=Name.Photographic)),
    ("one of four intents", lambda pdf: picture(pdf, Name.DeviceCMYK, Intent=Name.Photographic)),
]
INKS = [
    ("ink alone", lambda pdf: picture(pdf, Name.DeviceRGB)),
    ("ink alone", lambda pdf: resources(pdf, "/ColorSpace").__setitem__("/DefaultCMYK", Array([Name.ICCBased, 0]))),
    ("looks in ink", lambda pdf: spot(pdf, Name.Damage, Name.DeviceRGB)),
    ("names in Unicode", latin_name),
    ("one ink, one meaning", second_meaning),
    ("groups mix in ink", sets(page, "/Group", Dictionary(S=Name.Transparency, CS=Name.DeviceRGB))),
    ("a group where something is transparent", mixes(None, ca=0.5)),
    ("a group where something is transparent", sets(page, "/Group", Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK))),
    ("the page mixes in ink", mixes(Dictionary(S=Name.Transparency, CS=Name.DeviceGray), ca=0.5)),
    ("the press keeps its own curves and screens", state(TR=Name.Identity)),
    ("the press keeps its own curves and screens", state(HT=Dictionary(HalftoneType=1))),
    ("usual curves", state(TR2=Name.Identity)),
    ("usual mixing", mixes(Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK), BM=Name.Screen)),
]
FONTS = [
    ("letters", sets(font(lambda thing: thing.get("/Subtype") == "/Type0"), "/Subtype", Name.Type3)),
    ("encoding", sets(font(lambda thing: thing.get("/Subtype") == "/Type0"), "/Encoding", Name("/Own-H"))),
    ("Unicode", lacks(font(lambda thing: "/ToUnicode" in thing), "/ToUnicode")),
    ("fonts inside", lacks(font(lambda thing: "/FontFile2" in thing), "/FontFile2")),
    ("fonts sound", broken_program),
    ("glyphs mapped", lacks(font(lambda thing: "/CIDToGIDMap" in thing), "/CIDToGIDMap")),
]
LAYERS = [
    ("layers as they are", sets(lambda pdf: layers(pdf).D, "/AS", Array([]))),
    ("layers named", sets(lambda pdf: layers(pdf).D, "/Name", String(""))),
    ("layers listed", sets(lambda pdf: layers(pdf).D, "/Order", Array([]))),
    ("processing steps", sets(lambda pdf: layer(pdf).GTS_Metadata, "/GTS_ProcStepsType", Name.Gluing)),
    ("names differ", second_layer),
]
ALL = FILE + INTENT + METADATA + PAGE + DRAWING + INKS + FONTS + LAYERS

# Of PDF/X-1a:2003 alone.
FLAT = [
    ("objects as they are", bytes_changed(lambda written: written.replace(b"\ntrailer", b"\ntrailed"))),
    ("nothing mixes", mask),
    ("nothing mixes", state(ca=0.5)),
    ("nothing mixes", state(BM=Name.Multiply)),
    ("no groups", sets(placed, "/Group", Dictionary(S=Name.Transparency))),
    ("no layers", some_layer),
    ("no layers", draws(b"/OC <<>> BDC EMC")),
    ("inks in one picture", many_inks),
    ("profile version", profile(lambda icc: icc[:8] + b"\4" + icc[9:])),
    ("says what it is", sets(about, "/GTS_PDFXVersion", String("PDF/X-1:2001"))),
    ("says what it is", sets(about, "/GTS_PDFXConformance", String("PDF/X-1a:2001"))),
    ("ink alone", lambda pdf: picture(pdf, Array([Name.ICCBased, intent(pdf).DestOutputProfile]))),
    ("ink alone", lambda pdf: picture(pdf, Array([Name.CalGray, Dictionary(WhitePoint=[1, 1, 1])]))),
    ("filters", sets(placed, "/Filter", Name.JPXDecode)),
]
