"""Damages a press file in one way after another and asks whether the rules see it. Prints what was seen."""

import sys

import pikepdf
import rules
from pikepdf import Array, Dictionary, Name


def first(pdf, holds):
    return next(thing for thing in rules.dictionaries(pdf) if holds(thing))


def resources(pdf, kind):
    all_kinds = pdf.pages[0].Resources
    if kind not in all_kinds:
        all_kinds[kind] = Dictionary()
    return all_kinds[kind]


def draw(pdf, operators):
    pdf.pages[0].contents_add(operators)


def picture(pdf, space):
    stream = pdf.make_stream(b"\0\0\0", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, BitsPerComponent=8)
    stream.ColorSpace = space
    resources(pdf, "/XObject")["/Damage"] = stream


def wider(pdf):
    box = [float(side) for side in pdf.pages[0].obj.BleedBox]
    pdf.pages[0].obj.TrimBox = [box[0] - 0.01, *box[1:]]


def profile(pdf):
    stream = pdf.Root.OutputIntents[0].DestOutputProfile
    icc = stream.read_bytes()
    stream.write(icc[:12] + b"scnr" + icc[16:])


def joined(pdf):
    stream = pdf.Root.OutputIntents[0].DestOutputProfile
    stream.write(stream.read_bytes() + b"what stood behind it")


def metadata(pdf, old, new):
    said = pdf.Root.Metadata.read_bytes()
    assert old in said
    pdf.Root.Metadata = pdf.make_stream(said.replace(old, new), Type=Name.Metadata, Subtype=Name.XML)


def second_meaning(pdf):
    spot = next(thing for thing in pdf.objects if isinstance(thing, Array) and len(thing) == 4 and thing[0] == "/Separation")
    other = Array([*spot[:3], Dictionary(FunctionType=2, Domain=[0, 1], N=1, C0=[0, 0, 0, 0], C1=[1, 0, 0, 0])])
    resources(pdf, "/ColorSpace")["/Damage"] = pdf.make_indirect(other)


def curve(pdf):
    resources(pdf, "/ExtGState")["/Damage"] = Dictionary(OP=False, TR=Name.Identity)


def font_outside(pdf):
    parts = first(pdf, lambda thing: "/FontFile2" in thing)
    del parts["/FontFile2"]


DAMAGES = {
    "no screen colours": lambda pdf: draw(pdf, b"1 0 0 rg 0 0 1 1 re f"),
    "ink alone": lambda pdf: picture(pdf, Name.DeviceRGB),
    "groups mix in ink": lambda pdf: setattr(pdf.pages[0].obj, "Group", Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)),
    "processing steps": lambda pdf: setattr(pdf.Root.OCProperties.OCGs[0].GTS_Metadata, "GTS_ProcStepsType", Name.Gluing),
    "trim in bleed in media": wider,
    "one finished size": lambda pdf: setattr(pdf.pages[0].obj, "ArtBox", pdf.pages[0].obj.TrimBox),
    "one intent": lambda pdf: pdf.Root.OutputIntents.append(pdf.Root.OutputIntents[0]),
    "press profile": profile,
    "profile": joined,
    "condition named": lambda pdf: setattr(pdf.Root.OutputIntents[0], "OutputConditionIdentifier", pikepdf.String("  ")),
    "says what it is": lambda pdf: metadata(pdf, b"PDF/X-4", b"PDF/X-5"),
    "title": lambda pdf: setattr(pdf.trailer.Info, "Title", pikepdf.String("another")),
    "trapped": lambda pdf: setattr(pdf.trailer.Info, "Trapped", Name.Unknown),
    "no notes": lambda pdf: setattr(pdf.pages[0].obj, "Annots", Array([Dictionary(Type=Name.Annot, Subtype=Name.Link)])),
    "nothing acts": lambda pdf: setattr(pdf.Root, "OpenAction", Dictionary(S=Name.JavaScript, JS="0")),
    "the press keeps its own curves and screens": curve,
    "one ink, one meaning": second_meaning,
    "fonts inside": font_outside,
}


def placed(pdf):
    return next(stream for stream in rules.streams(pdf) if stream.get("/Subtype") == "/Image")


def mask(pdf):
    picture(pdf, Name.DeviceCMYK)
    soft = pdf.make_stream(b"\0", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, BitsPerComponent=8)
    soft.ColorSpace = Name.DeviceGray
    resources(pdf, "/XObject")["/Damage"].SMask = soft


def layer(pdf):
    pdf.Root.OCProperties = Dictionary(OCGs=Array([pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Foil"))]), D=Dictionary())


def state(pdf, **says):
    resources(pdf, "/ExtGState")["/Damage"] = Dictionary(**says)


def many_inks(pdf):
    names = Array([Name(f"/Ink{number}") for number in range(9)])
    resources(pdf, "/ColorSpace")["/Damage"] = pdf.make_indirect(Array([Name.DeviceN, names, Name.DeviceCMYK, Dictionary()]))


def newer_profile(pdf):
    stream = pdf.Root.OutputIntents[0].DestOutputProfile
    icc = stream.read_bytes()
    stream.write(icc[:8] + b"\4" + icc[9:])


# Of PDF/X-1a:2003 alone.
FLAT = {
    "nothing mixes": mask,
    "nothing mixes ": lambda pdf: state(pdf, ca=0.5),
    "nothing mixes  ": lambda pdf: state(pdf, BM=Name.Multiply),
    "no groups": lambda pdf: setattr(placed(pdf), "Group", Dictionary(S=Name.Transparency)),
    "no layers": layer,
    "no layers ": lambda pdf: draw(pdf, b"/OC /Damage BDC EMC"),
    "inks in one picture": many_inks,
    "profile version": newer_profile,
    "says what it is": lambda pdf: setattr(pdf.trailer.Info, "GTS_PDFXVersion", pikepdf.String("PDF/X-1:2001")),
    "says what it is ": lambda pdf: setattr(pdf.trailer.Info, "GTS_PDFXConformance", pikepdf.String("PDF/X-1a:2001")),
    "ink alone": lambda pdf: picture(pdf, Array([Name.ICCBased, pdf.Root.OutputIntents[0].DestOutputProfile])),
    "ink alone ": lambda pdf: picture(pdf, Array([Name.CalGray, Dictionary(WhitePoint=[1, 1, 1])])),
    "filters": lambda pdf: setattr(placed(pdf), "Filter", Name.JPXDecode),
}


def main(path, damaged, standard="PDF/X-4"):
    flat = standard != "PDF/X-4"
    for rule, damage in (FLAT if flat else DAMAGES).items():
        rule = rule.strip()
        with pikepdf.open(path) as pdf:
            damage(pdf)
            version = "1.4" if flat else "1.6"
            objects = pikepdf.ObjectStreamMode.disable
            pdf.save(damaged, static_id=True, force_version=version, compress_streams=True, object_stream_mode=objects)
        try:
            rules.main(damaged, standard)
        except SystemExit as refusal:
            if not str(refusal.code).startswith(rule):
                sys.exit(f"damage to {rule!r} is reported as {refusal.code!r}")
            print("seen:", rule)
        else:
            sys.exit(f"damage to {rule!r} passes unseen")


if __name__ == "__main__":
    main(*sys.argv[1:])
