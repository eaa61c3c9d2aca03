"""What a hand does on the page: two fingers, the divider, revisions, editions, copies, an editor; and the catalogue's mistakes."""

import shutil
import subprocess
from pathlib import Path

from browser import Preview, at, until
from sheet import COPY, TRIM


def leave(browser, own):
    """A page whose program has ended would go on asking for it."""
    browser.open("about:blank")
    own.end()


def touch(browser, kind, *points):
    points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
    browser.driver.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def two_fingers(browser, **_):
    """Fingers that end twice as far apart show the sheet twice as large, and what lay between them stays there."""
    browser.click("#whole")
    browser.sharp()
    left, top, width, height = browser.box("#stage")
    x, y = left + width / 2, top + height / 2
    before = browser.box("#lines .line.trim")
    touch(browser, "touchStart", (x - 60, y), (x + 60, y))
    for far in (80, 100, 120):
        touch(browser, "touchMove", (x - far, y), (x + far, y))
    touch(browser, "touchEnd")
    after = browser.box("#lines .line.trim")
    assert abs(after[2] / before[2] - 2) < 0.02, f"{after[2]} pixels of {before[2]}"
    share = lambda box: ((x - box[0]) / box[2], (y - box[1]) / box[3])
    assert all(abs(one - other) < 0.005 for one, other in zip(share(before), share(after))), f"{before} became {after}"
    browser.click("#whole")


def divider(browser, folder, **_):
    """The earlier picture stands left of the divider, wherever a hand puts it, and the present one right of it."""
    file = Path(folder) / "cover.kdl"
    good = file.read_text()
    browser.sharp()
    stage = browser.box("#stage")
    middle, to = stage[0] + stage[2] / 2, stage[0] + stage[2] * 0.65
    file.write_text(good.replace("swatch sea c=80", "swatch sea c=20"))
    until(lambda: pale(browser, to + 30), "the sea turns pale")
    browser.click("#compare-last")
    until(lambda: browser.shown("#slider"), "the slider is shown")
    mouse = lambda kind, x: browser.driver.execute_cdp_cmd(
        "Input.dispatchMouseEvent", {"type": kind, "x": x, "y": stage[1] + 60, "button": "left", "buttons": 1, "clickCount": 1}
    )
    mouse("mousePressed", middle)
    mouse("mouseMoved", to)
    mouse("mouseReleased", to)
    assert abs(browser.js("return Number(document.getElementById('slider').value)") - 65) <= 1
    until(lambda: dark(browser, to - 30) and pale(browser, to + 30), "dark to the left, pale to the right")
    browser.click("#compare-end")
    file.write_text(good)
    until(lambda: dark(browser, to + 30), "the sea is dark again")


def pale(browser, x):
    """Whether the sea is pale at a place of the page: little cyan leaves red light."""
    return (red_light(browser, x) or 0) > 150


def dark(browser, x):
    light = red_light(browser, x)
    return light is not None and light <= 150


def red_light(browser, x):
    """At a place of the page, 150 mm down the sheet; nothing while its tile is on the way."""
    _, y = at(browser, TRIM, 0, 150)
    there = "const b = c.getBoundingClientRect(), i = 4 * (Math.round((arguments[1] - b.top) * h / b.height) * w + Math.round((arguments[0] - b.left) * w / b.width)); return [...data.slice(i, i + 4)]"
    red, _, _, alpha = browser.js(COPY + there, x, y)
    return red if alpha == 255 else None


def revision(browser, folder, **_):
    """A comparison with a revision of the repository asks for that revision; one that is not there is said to be none."""
    git = lambda *words: subprocess.run(["git", "-c", "user.name=A", "-c", "user.email=a@b.example", *words], cwd=folder, check=True, capture_output=True)
    git("init", "--quiet")
    git("add", "cover.kdl")
    git("commit", "--quiet", "--message", "first")
    browser.js("document.getElementById('compare-part').open = true; document.getElementById('revision').value = 'HEAD'")
    browser.forget()
    browser.js("document.getElementById('compare').requestSubmit()")
    until(lambda: browser.shown("#slider"), lambda: f"the slider is shown: {browser.text('#compare-said')}")
    browser.sharp()
    assert browser.text("#then-word").lower() == "head", browser.text("#then-word")
    assert any("~r" in one for one in browser.requests("/tiles/")), browser.requests("/tiles/")
    browser.click("#compare-end")
    browser.js("document.getElementById('revision').value = 'no-such'; document.getElementById('compare').requestSubmit()")
    until(lambda: "no-such" in browser.text("#compare-said"), lambda: f"there is none: {browser.text('#compare-said')}")
    # The answer 422 is what is wanted here, and the browser notes it.
    noted = browser.console()
    assert all("422" in one for one in noted), noted


def edition(browser, binary, folder, **_):
    """An edition can be tried: its words stand among what is printed, and nothing is written."""
    home = Path(folder) / "editions"
    home.mkdir()
    text = (Path(folder) / "cover.kdl").read_text() + '\nedition harbour {\n    book { title "The Harbour Orchard" }\n}\n'
    (home / "cover.kdl").write_text(text)
    own = Preview(binary, ["cover.kdl"], home)
    try:
        browser.open(own.address)
        until(lambda: browser.shown("#titles li, #lines .line.trim"), "it is open")
        if browser.shown("#titles"):
            browser.click("#titles li a")
        until(lambda: browser.shown("#lines .line.trim"), "the cover is open")
        choices = "return [...document.querySelectorAll('#fact-edition option')].map(e => e.textContent)"
        until(lambda: "harbour" in browser.js(choices), lambda: f"the edition is offered: {browser.js(choices)}")
        browser.js("const s = document.getElementById('fact-edition'); s.value = 'harbour'; s.dispatchEvent(new Event('input', { bubbles: true }))")
        until(lambda: "edition harbour" in browser.text("#trial"), lambda: f"it is tried: {browser.text('#trying-said')}")
        browser.js("document.getElementById('elements-part').open = true")
        until(lambda: "The Harbour Orchard" in browser.text("#elements"), lambda: browser.text("#elements"))
        assert text == (home / "cover.kdl").read_text() and sorted(one.name for one in home.iterdir()) == ["cover.kdl"], "nothing is written"
    finally:
        leave(browser, own)


def editor(browser, binary, folder, **_):
    """Copy gives `file:line` to the clipboard; Open runs the command that the user stated, with file and line."""
    home = Path(folder) / "editor"
    home.mkdir()
    shutil.copy(Path(folder) / "cover.kdl", home)
    own = Preview(binary, ["cover.kdl", "--editor", "touch {file}.{line}.opened"], home)
    try:
        browser.open(own.address)
        until(lambda: browser.shown("#finding-1 .source code"), "a finding is listed")
        place = browser.text("#finding-1 .source code")
        browser.driver.execute_cdp_cmd("Browser.grantPermissions", {"permissions": ["clipboardReadWrite", "clipboardSanitizedWrite"]})
        browser.click(f'#finding-1 [aria-label="Copy {place}"]')
        copied = lambda: browser.driver.execute_async_script("const done = arguments[0]; navigator.clipboard.readText().then(done, (fault) => done(String(fault)))")
        until(lambda: copied() == place, lambda: f"{copied()} is {place}")
        browser.click(f'#finding-1 [aria-label="Open {place} in the editor"]')
        file, line = place.rsplit(":", 1)
        until((home / f"{file}.{line}.opened").exists, "the editor is started")
    finally:
        leave(browser, own)


def still(browser, folder, **_):
    """Who wants less motion sees what changed framed, without any movement."""
    browser.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [{"name": "prefers-reduced-motion", "value": "reduce"}]})
    file = Path(folder) / "cover.kdl"
    good = file.read_text()
    browser.js("window.flashed = []; new MutationObserver(() => { for (const e of document.querySelectorAll('.flash')) window.flashed.push(getComputedStyle(e).animationName); }).observe(document.getElementById('flashes'), { childList: true })")
    file.write_text(good.replace("top safe 10", "top safe 14"))
    flashed = until(lambda: browser.js("return window.flashed"), "what changed is framed")
    assert set(flashed) == {"none"}, flashed
    file.write_text(good)
    browser.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


def mistakes_of_a_catalogue(browser, preview, binary, folder, **_):
    """A mistake in the table stands above the wall at its line; mended, it goes. Then back to the first cover."""
    home = Path(folder) / "catalogue"
    home.mkdir()
    (home / "catalogue.kdl").write_text('catalogue {\n    template "cover.kdl"\n    titles "titles.csv"\n}\n')
    (home / "cover.kdl").write_text((Path(folder) / "cover.kdl").read_text().replace('"The Tin Orchard"', '"?"'))
    good = "stem,title\ntin,The Tin Orchard\nlead,The Lead Orchard\n"
    (home / "titles.csv").write_text(good)
    own = Preview(binary, ["catalogue.kdl"], home)
    try:
        browser.open(own.address)
        hung = lambda: browser.js("return document.querySelectorAll('#titles li').length")
        until(lambda: hung() == 2, "two titles hang on the wall")
        assert not browser.shown("#list-mistake"), browser.text("#list-mistake")
        (home / "titles.csv").write_text(good.replace("title", "title,tilte", 1))
        until(lambda: "titles.csv:1" in browser.text("#list-mistake"), lambda: f"the mistake is shown: {browser.text('#list-mistake')}")
        assert hung() == 2, "the titles are there"
        (home / "titles.csv").write_text(good)
        until(lambda: not browser.shown("#list-mistake"), "mended")
    finally:
        leave(browser, own)
    browser.open(preview.address)
    until(lambda: browser.shown("#lines .line.trim"), "the sheet is drawn")


CHECKS = [two_fingers, divider, revision, still, edition, editor, mistakes_of_a_catalogue]
