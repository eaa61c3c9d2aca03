"""Where another hyphenator, pyphen, breaks words, and the patterns that it goes by.

Prints a line of JSON a language: its tag, the patterns in TeX's form, and words with the letters after which they break. Lines of
a dictionary with a respelling in them (`/`) are a form that TeX has not, and so are those of compounds: they are left out for both.
"""
import json
import os
import re
import tempfile

import pyphen

LANGUAGES = ["sv", "cs_CZ", "el_GR", "uk_UA", "ru_RU", "sk_SK"]
WORDS = 1200


def plain(path):
    """The patterns of a dictionary that are Liang's and nothing else."""
    with open(path, "rb") as file:
        data = file.read()
    encoding = data.split(b"\n", 1)[0].strip().decode("ascii").replace("microsoft-cp1251", "cp1251")
    lines = data.decode(encoding).splitlines()[1:]
    patterns = []
    for line in lines:
        line = line.strip()
        if line.startswith("NEXTLEVEL"):
            break
        if re.fullmatch(r"[.\d]*(?:[^\W\d_]\d*)+\.?\d*", line):
            patterns.append(line)
    return patterns


for language in LANGUAGES:
    patterns = plain(pyphen.LANGUAGES[language])
    with tempfile.NamedTemporaryFile("w", encoding="utf-8", suffix=".dic", delete=False) as file:
        file.write("UTF-8\n" + "\n".join(patterns) + "\n")
    parts = pyphen.Pyphen(filename=file.name, left=1, right=1, cache=False)
    os.unlink(file.name)
    letters = [re.sub(r"[\d.]", "", pattern).lower() for pattern in patterns]
    words = []
    for at in range(0, len(letters), -(-len(letters) // WORDS)):
        word = letters[at] + letters[at * 7 % len(letters)] + letters[at * 31 % len(letters)]
        words.append([word, sorted(int(place) for place in parts.positions(word))])
    print(json.dumps({"language": language, "patterns": "\\patterns{\n" + "\n".join(patterns) + "\n}", "words": words}))
