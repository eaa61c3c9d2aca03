"""What a page draws: operators that PDF knows, each with its operands, at its place, and everything closed that was opened.

The operators and their operands are those of ISO 32000-1, annex A, the places those of its figure 9; from memory.
"""

from decimal import Decimal

import pikepdf

# As letters: n a number, N a name, s a string, a an array, d a name or a dictionary, * as many numbers as the ink has, at
# the end perhaps a name.
OPERANDS = {
    "": "q Q h W W* n f F f* B B* b b* S s BT ET T* EMC BX EX",
    "n": "w J j M i Tc Tw Tz TL Tr Ts g G",
    "nn": "m l Td TD",
    "nnn": "rg RG",
    "nnnn": "v y re k K",
    "nnnnnn": "c cm Tm",
    "an": "d",
    "N": "gs ri cs CS Do sh BMC MP",
    "Nd": "BDC DP",
    "Nn": "Tf",
    "s": "Tj '",
    "nns": '"',
    "a": "TJ",
    "*": "sc SC scn SCN",
}
KNOWN = {operator: kinds for kinds, operators in OPERANDS.items() for operator in operators.split()}
LINES = set("m l c v y h re".split())
PAINTS = set("n f F f* B B* b b* S s".split())
# Between BT and ET: colours, states, marks of content, and what is of text.
IN_TEXT = set("ET T* Tc Tw Tz TL Tr Ts Td TD Tm Tf Tj TJ ' \"".split())
BESIDES = set("w J j M d ri i gs g G k K rg RG cs CS sc SC scn SCN BMC BDC EMC MP DP BX EX".split())
# Which of a page's resources an operator asks for by name.
ASKS = {"gs": "/ExtGState", "Do": "/XObject", "Tf": "/Font", "sh": "/Shading"}
DEVICE_SPACES = ("/DeviceGray", "/DeviceCMYK", "/DeviceRGB", "/Pattern")
INTENTS = ("/Perceptual", "/RelativeColorimetric", "/Saturation", "/AbsoluteColorimetric")


def contents(pdf):
    """All that has operators: the page, forms, and the cells of patterns."""
    drawn = [pdf.pages[0].obj]
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Stream) and (thing.get("/Subtype") == "/Form" or thing.get("/PatternType") == 1):
            drawn.append(thing)
    return drawn


def check_drawing(content, require):
    """Gives each step, `(operands, operator)`, once it is known to be sound."""
    resources = content.get("/Resources", pikepdf.Dictionary())
    open_marks, states, path, text = [], 0, None, False
    for operands, operator in pikepdf.parse_content_stream(content):
        name = str(operator)
        require("pictures are objects", name != "INLINE IMAGE", name)
        require("operators are known", name in KNOWN, name)
        require("operands fit", fits(KNOWN[name], list(operands)), f"{name} {len(operands)}")
        if path is not None:
            # A path is built, perhaps cut along, and painted; nothing stands between.
            require("steps in order", name in (PAINTS if path == "cut" else LINES | PAINTS | {"W", "W*"}), f"{name} in a path")
            path = None if name in PAINTS else "cut" if name.startswith("W") else path
        elif name in LINES:
            require("steps in order", name in ("m", "re") and not text, f"{name} begins no path")
            path = "lines"
        else:
            require("steps in order", name not in PAINTS and name not in ("W", "W*"), f"{name} without a path")
            require("steps in order", (name in IN_TEXT | BESIDES) if text else True, f"{name} among letters")
            allowed = name not in IN_TEXT or text or name in ("Tc", "Tw", "Tz", "TL", "Tr", "Ts", "Tf")
            require("steps in order", allowed, f"{name} outside of text")
        if name == "q":
            states += 1
        elif name == "Q":
            states -= 1
            require("all is closed", states >= 0, "Q without q")
        elif name in ("BMC", "BDC", "BT"):
            text = text or name == "BT"
            open_marks.append("ET" if name == "BT" else "EMC")
        elif name in ("EMC", "ET"):
            require("all is closed", open_marks and open_marks.pop() == name, f"{name} ends what was not begun last")
            text = text and name != "ET"
        elif name == "ri":
            require("one of four intents", str(operands[0]) in INTENTS, operands[0])
        check_resource(name, operands, resources, require)
        yield operands, name
    require("all is closed", states == 0 and not open_marks and path is None, (states, open_marks, path))


def check_resource(name, operands, resources, require):
    if name in ASKS:
        kind = ASKS[name]
        require("names are known", str(operands[0]) in resources.get(kind, {}), f"{name} {operands[0]}")
    if name in ("cs", "CS") and str(operands[0]) not in DEVICE_SPACES:
        require("names are known", str(operands[0]) in resources.get("/ColorSpace", {}), f"{name} {operands[0]}")
    if name in ("scn", "SCN") and isinstance(operands[-1], pikepdf.Name):
        require("names are known", str(operands[-1]) in resources.get("/Pattern", {}), f"{name} {operands[-1]}")
    if name in ("BDC", "DP") and isinstance(operands[1], pikepdf.Name):
        require("names are known", str(operands[1]) in resources.get("/Properties", {}), f"{name} {operands[1]}")


def fits(kinds, operands):
    if kinds == "*":
        named = operands and isinstance(operands[-1], pikepdf.Name)
        return len(operands) >= 1 and all(is_kind("n", one) for one in (operands[:-1] if named else operands))
    return len(kinds) == len(operands) and all(is_kind(kind, one) for kind, one in zip(kinds, operands))


def is_kind(kind, operand):
    kinds = {
        "n": (int, Decimal, float),
        "N": pikepdf.Name,
        "s": pikepdf.String,
        "a": pikepdf.Array,
        "d": (pikepdf.Name, pikepdf.Dictionary),
    }
    return isinstance(operand, kinds[kind]) and not isinstance(operand, bool)
