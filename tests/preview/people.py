"""For everyone: the wall, keyboard alone, and what axe-core finds in light and dark."""

from pathlib import Path

import selenium_axe_python
from selenium.webdriver.common.keys import Keys

from browser import until

AXE = Path(selenium_axe_python.__file__).parent / "axe-core" / "axe.min.js"


def keyboard(browser, preview, **_):
    """Tab reaches every part in the order that they are read; keys do what the help says; the focus is seen."""
    browser.js("window.scrollTo(0, 0); document.querySelector('.skip').focus()")
    order = ["skip"]
    for _ in range(60):
        browser.press(Keys.TAB)
        name = browser.focused()
        if name in ("BODY", "skip"):
            break
        order.append(name)
        ring = browser.js("const s = getComputedStyle(document.activeElement); return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2")
        assert ring, f"the focus on {name} is seen"
    for earlier, later in zip(["look", "help", "stage", "smaller", "true-size"], ["help", "stage", "smaller", "true-size", "over"]):
        assert earlier in order and later in order, f"{earlier} and {later} are reached: {order}"
        assert order.index(earlier) < order.index(later), f"{earlier} before {later}: {order}"
    browser.press("i")
    assert browser.focused() == "stage"
    until(lambda: "mm across" in browser.text("#ink-what"), "the middle is read")
    first = browser.text("#ink-what .where")
    browser.press(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT, Keys.ARROW_DOWN)
    until(lambda: browser.text("#ink-what .where") not in ("", first), "the point moves")
    until(lambda: "percent" in browser.js("return document.getElementById('ink-said').textContent"), "it is said")
    lines = lambda: browser.js("return document.querySelectorAll('#lines .line.trim').length")
    assert lines() == 1
    browser.press("t")
    until(lambda: lines() == 0, "the trim's line goes")
    browser.press("t")
    until(lambda: lines() == 1, "and comes")
    browser.press(".")
    assert browser.js("return document.activeElement.getAttribute('aria-current')") == "true", "the first finding is chosen"
    browser.press("w", "?")
    assert browser.shown("#help-dialog")
    browser.press(Keys.ESCAPE)
    until(lambda: not browser.shown("#help-dialog"), "the help closes")
    browser.press("2")
    until(lambda: browser.text("#plates-count") == "3 of 4", "a plate goes")
    browser.press("0")
    until(lambda: browser.text("#plates-count") == "all", "and comes")


def true_size(browser, **_):
    """A card of ISO/IEC 7810 ID-1 (85.60 mm) as wide as 428 pixels: 5 pixels are a millimetre, and so is the sheet."""
    browser.click("#true-size")
    assert browser.shown("#card-dialog")
    browser.js("const s = document.getElementById('card-width'); s.value = 428; s.dispatchEvent(new Event('input'))")
    width, height = browser.box("#card")[2:]
    assert abs(width / height - 85.60 / 53.98) < 0.02, (width, height)
    browser.click("#card-keep")
    until(lambda: abs(browser.box("#lines .line.trim")[2] - 235 * 5) <= 1, lambda: f"235 mm are 1175 pixels: {browser.box('#lines .line.trim')}")
    assert browser.text("#scale") == "100 %", browser.text("#scale")
    browser.click("#whole")


def small(browser, **_):
    """A telephone 360 pixels wide: nothing stands out at the side."""
    browser.size(360, 740, 2)
    until(lambda: 340 <= browser.box("#stage")[2] <= 360, "the sheet is as wide as the screen")
    wide = browser.js("return document.documentElement.scrollWidth")
    assert wide <= 360, f"{wide} pixels wide"
    browser.size(1600, 1000)


def axe(browser, what):
    if not browser.js("return !!window.axe"):
        browser.js(AXE.read_text())
    for scheme in ("light", "dark"):
        browser.scheme(scheme)
        found = browser.driver.execute_async_script("const done = arguments[0]; axe.run().then(done, (e) => done({ violations: [{ id: String(e), nodes: [] }] }))")
        said = [f"{one['id']}: {[node['html'][:120] for node in one['nodes'][:3]]}" for one in found["violations"]]
        assert not said, f"{what}, {scheme}: {said}"
        assert len(found.get("passes", [])) > 15, "axe-core looked"
    browser.scheme("light")


def accessible(browser, **_):
    browser.js("for (const one of document.querySelectorAll('.side details')) one.open = true")
    for key in "bsnled":
        browser.press(key)
    axe(browser, "a cover")
    browser.click("#help")
    axe(browser, "the help")
    browser.press(Keys.ESCAPE)


def wall(browser, catalogue, **_):
    """The example's catalogue: 28 titles, each built; words and states filter; Enter opens; only what is seen is asked for."""
    browser.open(catalogue.address)
    until(lambda: browser.js("return document.querySelectorAll('#titles li').length") == 28, "28 titles hang on the wall")
    seen = "return [...document.querySelectorAll('#titles img.front:not([hidden])')].filter(e => e.naturalWidth > 0).length"
    until(lambda: browser.js(seen) >= 6, "fronts are shown")
    browser.sharp()
    below = "const f = innerHeight + 600; return [...document.querySelectorAll('#titles li')].filter(e => e.getBoundingClientRect().top > f).filter(e => e.querySelector('img[src]')).length"
    assert browser.js(below) == 0, "what is far below is not asked for"
    axe(browser, "the wall")
    browser.js("const w = document.getElementById('word'); w.value = 'hornfels'; w.dispatchEvent(new Event('input'))")
    assert browser.js("return document.querySelectorAll('#titles li:not([hidden])').length") == 1
    assert browser.text("#wall-count") == "1 title of 28", browser.text("#wall-count")
    until(lambda: "built, no findings" in browser.text("#titles li:not([hidden]) .state"), "its state is said")
    browser.click('input[value="failed"]')
    assert browser.js("return document.querySelectorAll('#titles li:not([hidden])').length") == 0
    browser.click('input[value="all"]')
    browser.js("document.querySelector('#titles li:not([hidden]) a').focus()")
    browser.press(Keys.ENTER)
    until(lambda: browser.shown("#lines .line.trim"), "the title is open")
    assert "Hornfels" in browser.text("#title")
    browser.sharp()
    browser.click("#to-wall")
    until(lambda: browser.shown("#titles"), "back at the wall")


CHECKS = [keyboard, true_size, small, accessible, wall]
