"""What colour spaces the pictures of a press file stand in, by pikepdf: inks, and how many mixtures a table holds."""

import sys

import pikepdf


def named(space):
    if isinstance(space, pikepdf.Name):
        return str(space)[1:]
    kind = str(space[0])[1:]
    if kind == "Indexed":
        base = named(space[1])
        held = space[3]
        table = held.read_bytes() if isinstance(held, pikepdf.Stream) else bytes(held)
        channels = {"DeviceCMYK": 4, "DeviceGray": 1}.get(base) or base.count("+") + 1
        assert len(table) == (int(space[2]) + 1) * channels, (len(table), space[2], base)
        return f"{int(space[2]) + 1} of {base}"
    if kind == "DeviceN":
        names = [str(name)[1:] for name in space[1]]
        assert str(space[2]) == "/DeviceCMYK"
        spots = [name for name in names if name not in ("Cyan", "Magenta", "Yellow", "Black")]
        assert sorted(str(name)[1:] for name in space[4].Colorants.keys()) == sorted(spots), space
        return "+".join(names)
    if kind == "Separation":
        return str(space[1])[1:]
    return kind


with pikepdf.open(sys.argv[1]) as pdf:
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image":
            print(f"{int(thing.Width)}x{int(thing.Height)}", named(thing.ColorSpace))
