"""Every stem of a catalogue's table with the digits of its ISBN, one line a title."""

import csv
import sys

with open(sys.argv[1], encoding="utf-8-sig", newline="") as table:
    for row in csv.DictReader(table):
        print(row["stem"], row["isbn"].replace("-", ""))
