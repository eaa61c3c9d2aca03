"""The sheet: pins at their places, the inks that are read, the tiles that an edit asks for, tries and mistakes."""

import json
import math
import re
import subprocess
from pathlib import Path

from PIL import Image

from browser import at, until

TRIM = (235.0, 178.0)  # of cover.kdl: 110 + 15 + 110, as `measure` says
BLEED = 3.0
TILE = 512  # pixels
# The pixels of the stage, read from a copy: reading the canvas itself would make the browser slow it down and say so.
COPY = """const c = document.getElementById('canvas'), [w, h] = [c.width, c.height], copy = new OffscreenCanvas(w, h).getContext('2d', { willReadFrequently: true });
copy.drawImage(c, 0, 0);
const data = copy.getImageData(0, 0, w, h).data;
"""


def report(binary, folder):
    said = subprocess.run([binary, "check", "--report", "json", "cover.kdl"], cwd=folder, capture_output=True, text=True).stdout
    return json.loads(said)["covers"][0]


def opens(browser, preview, **_):
    browser.open(preview.address)
    until(lambda: browser.shown("#lines .line.trim"), "the sheet is drawn")
    browser.sharp()
    address = browser.js("return location.href")
    assert "key=" not in address, f"the key is out of the address: {address}"
    assert painted(browser), "the sheet is painted"


def painted(browser):
    """Whether the picture is there, a quarter from the left, half way down."""
    return browser.js(COPY + "return data[4 * (Math.round(h / 2) * w + Math.round(w / 4)) + 3] === 255")


def wheel(browser, x, y):
    browser.driver.execute_cdp_cmd("Input.dispatchMouseEvent", {"type": "mouseWheel", "x": x, "y": y, "deltaX": 0, "deltaY": -240})


def pins(browser, binary, folder, **_):
    """At three sizes: every pin's tip is the middle of its place's upper edge, by the report and by the painted picture."""
    findings = report(binary, folder)["findings"]
    placed = [(number, one) for number, one in enumerate(findings, 1) if one["place"]]
    assert len(placed) >= 2, findings
    for step in range(3):
        if step:
            wheel(browser, *at(browser, TRIM, 60, 90))
        browser.sharp()
        seen = [number for number, _ in placed if browser.shown(f'.pin[data-number="{number}"]')]
        assert seen, "a pin is in sight"
        for number, one in [(number, one) for number, one in placed if number in seen]:
            left, top, width, height = browser.box(f'.pin[data-number="{number}"]')
            place = one["place"]
            x, y = at(browser, TRIM, place["left"] + place["width"] / 2, place["top"])
            tip = (left + width / 2, top + height)
            assert abs(tip[0] - x) <= 1.0 and abs(tip[1] - y) <= 1.0, f"size {step}: pin {number} at {tip}, its place at {(x, y)}"
        # The block of `coal` is far darker than all else: its edges in the picture itself.
        dark = browser.js(
            COPY
            + """const found = [w, h, 0, 0];
            for (let y = 0; y < h; y += 1) for (let x = 0; x < w; x += 1) {
              const i = 4 * (y * w + x);
              if (data[i + 3] && data[i] + data[i + 1] + data[i + 2] < 110) {
                found[0] = Math.min(found[0], x); found[1] = Math.min(found[1], y);
                found[2] = Math.max(found[2], x + 1); found[3] = Math.max(found[3], y + 1);
              }
            }
            const b = c.getBoundingClientRect();
            return [found[0] + b.left, found[1] + b.top, found[2] + b.left, found[3] + b.top, w, h];"""
        )
        block = next(number for number, one in placed if one["rule"] == "ink-over-limit")
        left, top, width, height = browser.box(f'.pin[data-number="{block}"]')
        if dark[0] > browser.box("#stage")[0] + 1:
            middle = ((dark[0] + dark[2]) / 2, dark[1])
            tip = (left + width / 2, top + height)
            assert math.dist(tip, middle) <= 1.0, f"size {step}: pin at {tip}, the painted block's edge at {middle}"
        else:
            assert step, "at first the whole block is seen"
    browser.click("#whole")


def list_of_findings(browser, binary, folder, **_):
    findings = report(binary, folder)["findings"]
    for number, one in enumerate(findings, 1):
        said = browser.text(f"#finding-{number}")
        for part in (one["message"], one["help"], f"{one['file']}:{one['line']}", one["rule"]):
            assert part in said, f"`{part}` stands in the list: {said}"


def inks(browser, binary, folder, **_):
    """Twenty readings beside the plates that ghostscript separates from the press file."""
    # A cover with an error has no press file: the same inks under a limit that nothing passes have one.
    out = Path(folder) / "plates"
    out.mkdir()
    (out / "cover.kdl").write_text((Path(folder) / "cover.kdl").read_text().replace("ink-limit=300", "ink-limit=400"))
    subprocess.run([binary, "build", "cover.kdl", "--only", "press", "--surround", "trim", "--out", "."], cwd=out, check=True, capture_output=True)
    press = next(out.glob("*.pdf"))
    subprocess.run(
        ["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=tiffsep", "-r101.6", "-dUseTrimBox", f"-sOutputFile={out}/sheet.tif", str(press)], check=True
    )
    plates = {name: Image.open(out / f"sheet({name}).tif").convert("L") for name in ("Cyan", "Magenta", "Yellow", "Black")}
    scale = plates["Cyan"].width / TRIM[0]
    browser.click("#whole")
    read, totals = 0, set()
    spread = ((turn * 0.754878 % 1 * TRIM[0], turn * 0.569840 % 1 * TRIM[1]) for turn in range(400))
    for x, y in [(30, 110), (60, 125), *spread]:
        around = (int(x * scale) - 3, int(y * scale) - 3, int(x * scale) + 4, int(y * scale) + 4)
        if around[0] < 0 or around[1] < 0 or around[2] > plates["Cyan"].width or around[3] > plates["Cyan"].height:
            continue
        ranges = {name: plate.crop(around).getextrema() for name, plate in plates.items()}
        if any(high - low > 1 for low, high in ranges.values()):
            continue
        wanted = [(255 - ranges[name][0]) / 2.55 for name in plates]
        browser.point(*at(browser, TRIM, x, y))
        found = until(lambda: reading(browser, x, y), f"the point {x:.1f} {y:.1f} is read")
        assert all(abs(one - other) <= 1.0 for one, other in zip(found, wanted)), f"at {x:.1f} {y:.1f}: {found}, the plates: {wanted}"
        totals.add(round(sum(wanted)))
        read += 1
        if read == 20:
            break
    assert read >= 20 and len(totals) > 1, f"{read} points, totals {totals}"
    browser.point(*at(browser, TRIM, 45, 115))
    until(lambda: "over the limit of 300 %" in browser.text("#ink-total"), "the block is over the limit, and it is said")
    assert "block" in browser.text("#ink-what") and "cover.kdl:37" in browser.text("#ink-what"), browser.text("#ink-what")
    browser.point(5, 5)


def reading(browser, x, y):
    where = re.search(r"(-?[\d.]+) mm across, (-?[\d.]+) mm down", browser.text("#ink-what"))
    if not where or abs(float(where[1]) - x) > 0.3 or abs(float(where[2]) - y) > 0.3:
        return None
    return [float(one.removesuffix(" %")) for one in browser.js("return [...document.querySelectorAll('#ink .bar .number')].map(e => e.textContent)")]


def plates_alone(browser, **_):
    browser.sharp()
    browser.forget()
    browser.click('#plates [aria-label="Black alone"]')
    until(lambda: browser.requests("plates=3"), "the black plate is asked for")
    assert browser.text("#plates-count") == "1 of 4", browser.text("#plates-count")
    browser.click("#all-plates")
    assert browser.text("#plates-count") == "all"
    browser.click("#over")
    until(lambda: any("/tile/" in one for one in browser.requests("plates=over")), "places over the limit are asked for")
    browser.click("#over")


def edit(browser, folder, **_):
    """A changed word asks for the tiles that its element touches, and for no others."""
    browser.click("#whole")
    browser.sharp()
    before = set(browser.requests("/tile/"))
    browser.forget()
    file = Path(folder) / "cover.kdl"
    file.write_text(file.read_text().replace("Seven winters, one press.", "Nine winters, two presses."))
    until(lambda: browser.requests("/tile/"), "the edit arrives")
    browser.sharp()
    asked = [re.search(r"z=(\d)&x=(\d+)&y=(\d+)", one) for one in browser.requests("/tile/")]
    steps = {int(one[1]) for one in asked}
    assert len(steps) == 1, steps
    side = TILE / (600 / 2 ** (5 - steps.pop())) * 25.4
    # The note stands on the back, from 3 mm beside the fore edge's safe area to the spine; 15 mm down, one line.
    touched = {(x, y) for x in range(int((110 + BLEED) // side) + 1) for y in range(int((15 + BLEED - 2) // side), int((25 + BLEED) // side) + 1)}
    tiles = {(int(one[2]), int(one[3])) for one in asked}
    assert tiles and tiles <= touched, f"asked for {tiles}, the words touch {touched}"
    assert len(asked) == len(tiles), "each once"
    assert before, "tiles were there before"
    # All that stays is a larger part.
    whole = math.ceil(241 / side) * math.ceil(184 / side)
    assert len(tiles) < whole, f"{len(tiles)} of {whole}"


def compares(browser, **_):
    """The last build stands on the left of the slider; the edit is behind us."""
    browser.click("#compare-last")
    until(lambda: browser.shown("#slider"), "the slider is shown")
    browser.sharp()
    divider = browser.box("#divider")
    stage = browser.box("#stage")
    assert abs(divider[0] + divider[2] / 2 - stage[0] - stage[2] / 2) <= 1, "it stands in the middle"
    assert any("~" in one for one in browser.requests("/tile/")) or any("~" in one for one in browser.requests("/tiles/")), "the earlier build is asked for"
    browser.click("#compare-end")


def tries(browser, binary, folder, **_):
    """Another page count moves the folds to where `measure` puts them in a file that states it, and findings appear."""
    other = Path(folder) / "other"
    other.mkdir()
    text = (Path(folder) / "cover.kdl").read_text()
    (other / "cover.kdl").write_text(text.replace("pages 240", "pages 84"))
    said = subprocess.run([binary, "measure", "cover.kdl"], cwd=other, capture_output=True, text=True).stdout
    wanted = [float(one) for one in re.findall(r"fold at +([\d.]+) mm", said)]
    width = float(re.search(r"flat width +([\d.]+) mm", said)[1])
    rules = [one["rule"] for one in report(binary, other)["findings"]]
    count = len(report(binary, folder)["findings"])
    browser.js("document.getElementById('trying-part').open = true")
    browser.js("const f = document.getElementById('fact-pages'); f.value = '84'; f.dispatchEvent(new Event('input', { bubbles: true }))")
    until(lambda: browser.shown("#trial"), lambda: f"it is said that this is tried: {browser.text('#trying')}")
    assert "Nothing is written" in browser.text("#trial")
    until(lambda: [one for one in folds(browser, width) if abs(one - wanted[1]) < 0.5], lambda: f"the folds at {folds(browser, width)} move to {wanted}")
    pixel = width / browser.box("#lines .line.trim")[2]
    for found, there in zip(folds(browser, width), wanted, strict=True):
        assert abs(found - there) <= pixel, f"fold at {found}, measure says {there}"
    shown = browser.js("return [...document.querySelectorAll('#findings .pick .rule')].map(e => e.textContent)")
    assert shown == rules, f"{shown}, the file that states it has {rules}"
    fresh = browser.js("return [...document.querySelectorAll('#findings .kind')].filter(e => e.textContent.includes('new with this try')).length")
    assert fresh == len(rules) - count > 0, f"{fresh} findings are marked as new, of {len(rules)}; {count} stand in the file"
    assert text == (Path(folder) / "cover.kdl").read_text(), "nothing is written"
    browser.click("#as-written")
    until(lambda: not browser.shown("#trial"), "back to the file")
    until(lambda: abs(folds(browser, TRIM[0])[1] - 125) < 0.5, "the folds are back")
    assert browser.js("return document.querySelectorAll('#findings .pick').length") == count, "and so are the findings"


def folds(browser, width):
    left, _, wide, _ = browser.box("#lines .line.trim")
    found = browser.js("return [...document.querySelectorAll('#lines .line.folds')].map(e => e.getBoundingClientRect().left)")
    return sorted((one - left) * width / wide for one in found)


def mistake(browser, folder, **_):
    """The last good picture stays, the mistake stands above it at its line; mended, it goes."""
    file = Path(folder) / "cover.kdl"
    good = file.read_text()
    line = good[: good.index("bleed 3")].count("\n") + 1
    file.write_text(good.replace("bleed 3", "bleed {"))
    until(lambda: browser.shown("#mistake"), "the mistake is shown")
    said = browser.text("#mistake")
    assert "last good picture" in said and re.search(r"cover\.kdl:\d+", said), said
    assert painted(browser), "the picture stays"
    assert int(re.search(r"cover\.kdl:(\d+)", said)[1]) >= line - 1, said
    file.write_text(good)
    until(lambda: not browser.shown("#mistake"), "mended")


CHECKS = [opens, pins, list_of_findings, inks, plates_alone, edit, compares, tries, mistake]
