"""What all rules use: to ask for something, and to find every object of a file."""

import sys

import pikepdf


def require(rule, holds, why):
    if not holds:
        sys.exit(f"{rule}: {why}")


def streams(pdf):
    return (thing for thing in pdf.objects if isinstance(thing, pikepdf.Stream))


def dictionaries(pdf):
    """Every dictionary, those within others too."""
    return (thing for thing in things(pdf) if isinstance(thing, pikepdf.Dictionary))


def arrays(pdf):
    """Every array, those within others too."""
    return (thing for thing in things(pdf) if isinstance(thing, pikepdf.Array))


def things(pdf):
    waiting, seen = list(pdf.objects), set()
    while waiting:
        thing = waiting.pop()
        if isinstance(thing, (pikepdf.Dictionary, pikepdf.Stream, pikepdf.Array)):
            if thing.is_indirect:
                if thing.objgen in seen:
                    continue
                seen.add(thing.objgen)
            waiting.extend(thing if isinstance(thing, pikepdf.Array) else [thing[key] for key in thing.keys()])
            yield thing


def numbers(box):
    return [float(number) for number in box]


def inside(inner, outer):
    return outer[0] <= inner[0] < inner[2] <= outer[2] and outer[1] <= inner[1] < inner[3] <= outer[3]
