"""Rules of inks: what colours stand in, how they mix, what a graphics state says, and fonts, which are ink, too."""

import io

import pikepdf
from fontTools.cffLib import CFFFontSet
from fontTools.pens.basePen import NullPen
from fontTools.ttLib import TTFont
from rules_drawing import INTENTS, check_drawing, contents
from rules_kit import arrays, dictionaries, require, streams

RGB_OPERATORS = {"rg", "RG"}
CONTENT_SPACES = {"/DeviceCMYK", "/DeviceGray", "/Separation", "/DeviceN", "/Indexed", "/Pattern"}
BLEND_MODES = {"/Normal", "/Multiply"}


def check_inks(pdf, page):
    check_names(pdf)
    operators = 0
    for content in contents(pdf):
        resources = content.get("/Resources", pikepdf.Dictionary())
        for operands, name in check_drawing(content, require):
            operators += 1
            require("no screen colours", name not in RGB_OPERATORS, name)
            if name in ("cs", "CS"):
                space = resources.get("/ColorSpace", pikepdf.Dictionary()).get(str(operands[0]), operands[0])
                check_space(space)
        for space in resources.get("/ColorSpace", pikepdf.Dictionary()).values():
            check_space(space)
        group = content.get("/Group")
        if group is not None and "/CS" in group:
            require("groups mix in ink", group.CS in ("/DeviceCMYK", "/DeviceGray"), group.CS)
    require("something is drawn", operators > 30, operators)
    mixes = any(is_transparent(thing) for thing in list(streams(pdf)) + list(dictionaries(pdf)))
    require("a group where something is transparent", ("/Group" in page) == mixes, "none" if mixes else "an idle one")
    if mixes:
        require("the page mixes in ink", page.Group.CS == "/DeviceCMYK" and page.Group.S == "/Transparency", "group")
    spots = {}
    for thing in list(streams(pdf)) + list(dictionaries(pdf)):
        if thing.get("/Subtype") == "/Image":
            require("one of four intents", str(thing.get("/Intent", INTENTS[0])) in INTENTS, thing.get("/Intent"))
            if "/ColorSpace" in thing:
                check_space(thing.ColorSpace)
        if "/ShadingType" in thing:
            check_space(thing.ColorSpace)
    for thing in arrays(pdf):
        if len(thing) == 4 and thing[0] == "/Separation":
            spots.setdefault(str(thing[1]), []).append(pikepdf.Array(thing[1:]).unparse(resolved=False))
            check_space(thing)
    for name, spaces in spots.items():
        require("one ink, one meaning", len(set(spaces)) == 1, name)
    return len(spots)


def check_names(pdf):
    """Names of inks are Unicode, so that every program shows the same."""
    for thing in arrays(pdf):
        if len(thing) >= 4 and isinstance(thing[0], pikepdf.Name) and bytes(thing[0]) in (b"/Separation", b"/DeviceN"):
            for name in thing[1] if isinstance(thing[1], pikepdf.Array) else [thing[1]]:
                try:
                    bytes(name).decode()
                except UnicodeDecodeError as fault:
                    require("names in Unicode", False, fault)


def is_transparent(thing):
    """A soft mask, a share of opacity, or a way of mixing that is not the plain one."""
    if thing.get("/SMask", "/None") != "/None" or str(thing.get("/BM", "/Normal")) != "/Normal":
        return True
    return any(float(thing[key]) < 1 for key in ("/ca", "/CA") if key in thing)


def check_transparency(pdf, asked):
    if asked["transparency"]:
        return
    for thing in list(streams(pdf)) + list(dictionaries(pdf)):
        require("nothing mixes", not is_transparent(thing), "a mask, a share or a way of mixing")
        require("no groups", "/Group" not in thing and thing.get("/S") != "/Transparency", "a group")
    for thing in arrays(pdf):
        if len(thing) >= 4 and thing[0] == "/DeviceN":
            require("inks in one picture", len(thing[1]) <= 8, len(thing[1]))


def check_space(space):
    name = str(space[0] if isinstance(space, pikepdf.Array) else space)
    require("ink alone", name in CONTENT_SPACES, name)
    if name in ("/Separation", "/DeviceN"):
        require("looks in ink", str(space[2]) == "/DeviceCMYK", space[2])
    if name == "/Indexed":
        check_space(space[1])
    if name == "/Pattern" and isinstance(space, pikepdf.Array) and len(space) > 1:
        check_space(space[1])


def check_states(pdf):
    found = 0
    for state in states(pdf):
        found += 1
        for key in ["/TR", "/HT", "/HTP", "/BG", "/BG2", "/UCR", "/UCR2"]:
            require("the press keeps its own curves and screens", key not in state, key)
        require("usual curves", state.get("/TR2", "/Default") == "/Default", "TR2")
        require("usual mixing", str(state.get("/BM", "/Normal")) in BLEND_MODES, state.get("/BM"))
        require("one of four intents", str(state.get("/RI", INTENTS[0])) in INTENTS, state.get("/RI"))
    return found


def states(pdf):
    """What resources name as states, and what patterns are painted in."""
    for thing in list(streams(pdf)) + list(dictionaries(pdf)):
        named = thing.get("/ExtGState")
        if isinstance(named, pikepdf.Dictionary):
            yield from [named] if "/PatternType" in thing else named.values()


def check_fonts(pdf):
    fonts = [thing for thing in dictionaries(pdf) if thing.get("/Type") == "/Font"]
    for font in fonts:
        require("letters", font.Subtype != "/Type3", "a font of drawings")
        if font.Subtype == "/Type0":
            require("encoding", font.Encoding in ("/Identity-H", "/Identity-V"), font.Encoding)
            require("Unicode", "/ToUnicode" in font and len(font.ToUnicode.read_bytes()) > 0, font.BaseFont)
            continue
        parts = font.FontDescriptor
        programs = [key for key in ["/FontFile", "/FontFile2", "/FontFile3"] if key in parts]
        require("fonts inside", len(programs) == 1 and len(parts[programs[0]].read_bytes()) > 0, font.BaseFont)
        check_program(programs[0], parts[programs[0]])
        if font.Subtype == "/CIDFontType2":
            require("glyphs mapped", "/CIDToGIDMap" in font, font.BaseFont)
    return len(fonts)


def check_program(kind, program):
    """fontTools draws every glyph of it."""
    stored = io.BytesIO(program.read_bytes())
    try:
        if kind == "/FontFile2" or program.get("/Subtype") == "/OpenType":
            letters = TTFont(stored).getGlyphSet()
        else:
            programs = CFFFontSet()
            programs.decompile(stored, None)
            letters = programs[0].CharStrings
        for name in letters.keys():
            letters[name].draw(NullPen())
    # Whatever fontTools stumbles over.
    except Exception as fault:
        require("fonts sound", False, f"{kind} {type(fault).__name__} {fault}")
    require("fonts sound", len(letters.keys()) > 0, kind)
