"""Writes tables as Python's csv and json write them, and what is in them, for us to read."""

import csv
import json
import pathlib
import random
import sys

folder = pathlib.Path(sys.argv[1])
folder.mkdir(parents=True, exist_ok=True)
lot = random.Random(4180)
letters = ["a", "B", "é", "ש", "ע", "\u0301", " ", ",", ";", "\t", '"', "'", "\n", "\r\n", "\\", "{", "0", "\U0001f4d6", "\ufeff"]

for number in range(int(sys.argv[2])):
    width = lot.randint(2, 6)
    header = [f"column {at}" for at in range(width)]
    cell = lambda: "".join(lot.choice(letters) for _ in range(lot.randint(0, 7)))
    rows = [[cell() for _ in range(width - 1)] + ["end"] for _ in range(lot.randint(1, 8))]
    separator = lot.choice(",;\t")
    ways = [
        {"dialect": "excel"},
        {"dialect": "unix"},
        {"dialect": "excel", "quoting": csv.QUOTE_NONNUMERIC},
    ]
    mark = lot.choice(["utf-8", "utf-8-sig"])
    with open(folder / f"{number}.csv", "w", encoding=mark, newline="") as out:
        csv.writer(out, delimiter=separator, **lot.choice(ways)).writerows([header, *rows])
    objects = [dict(zip(header, row)) for row in rows]
    with open(folder / f"{number}.json", "w", encoding="utf-8", newline="") as out:
        json.dump(objects, out, ensure_ascii=lot.choice([True, False]), indent=lot.choice([None, 2]))
    with open(folder / f"{number}.rows", "w", encoding="utf-8", newline="") as out:
        json.dump([[[name, row[at]] for at, name in enumerate(header)] for row in rows], out)
print("written")
