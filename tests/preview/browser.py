"""A browser and a running preview: what every check needs. Chromium is driven through its own protocol."""

import re
import shutil
import subprocess
import threading
import time

from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.action_chains import ActionChains

PATIENCE = 300  # seconds for one thing to come about, in a build without optimisation on a busy machine


class Preview:
    """`jaconet preview` with the address that it prints."""

    def __init__(self, binary, words, folder):
        self.process = subprocess.Popen([binary, "preview", *words], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        self.said = []
        threading.Thread(target=lambda: self.said.extend(self.process.stdout), daemon=True).start()
        self.address = until(self.found, lambda: f"an address is printed: {self.said}")

    def found(self):
        match = re.search(r"http://127\.0\.0\.1:\d+/\?key=\S+", "".join(list(self.said)))
        return match and match[0]

    def end(self):
        self.process.terminate()
        self.process.wait(PATIENCE)


def until(true, what):
    """Waits for something to become true, and answers it."""
    begun = time.monotonic()
    while time.monotonic() - begun < PATIENCE:
        found = true()
        if found:
            return found
        time.sleep(0.02)
    raise AssertionError(f"not in {PATIENCE} s: {what() if callable(what) else what}")


class Browser:
    def __init__(self):
        options = webdriver.ChromeOptions()
        # As root, in a box without a screen, chromium's own box cannot be made.
        for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--lang=en-GB"):
            options.add_argument(word)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
        options.binary_location = shutil.which("chromium")
        driver = shutil.which("chromedriver")
        assert options.binary_location and driver, "chromium and chromedriver are installed"
        self.driver = webdriver.Chrome(options=options, service=Service(driver))
        self.driver.set_script_timeout(PATIENCE)
        self.size(1600, 1000)

    def size(self, width, height, ratio=1):
        self.driver.execute_cdp_cmd(
            "Emulation.setDeviceMetricsOverride", {"width": width, "height": height, "deviceScaleFactor": ratio, "mobile": False}
        )

    def scheme(self, name):
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": name}]})

    def open(self, address):
        self.driver.get(address)

    def js(self, script, *words):
        return self.driver.execute_script(script, *words)

    def text(self, selector):
        return self.js("return document.querySelector(arguments[0])?.innerText ?? ''", selector)

    def shown(self, selector):
        return self.js("const e = document.querySelector(arguments[0]); return !!e && e.getClientRects().length > 0", selector)

    def box(self, selector):
        """Left, top, width and height on the page."""
        return self.js("const b = document.querySelector(arguments[0]).getBoundingClientRect(); return [b.left, b.top, b.width, b.height]", selector)

    def click(self, selector):
        self.js("document.querySelector(arguments[0]).click()", selector)

    def point(self, x, y):
        self.driver.execute_cdp_cmd("Input.dispatchMouseEvent", {"type": "mouseMoved", "x": x, "y": y})

    def press(self, *keys):
        for key in keys:
            ActionChains(self.driver, duration=0).send_keys(key).perform()

    def focused(self):
        return self.js("const e = document.activeElement; return e.id || e.getAttribute('aria-label') || e.className || e.tagName")

    def requests(self, part):
        """Addresses that were asked for since `forget`, those with this part."""
        return self.js("return performance.getEntriesByType('resource').map(e => e.name).filter(n => n.includes(arguments[0]))", part)

    def forget(self):
        self.js("performance.clearResourceTimings()")

    def sharp(self):
        """Waits until all tiles are there, and nothing more has been asked for a while."""
        count = lambda: self.js("return [performance.getEntriesByType('resource').length, document.getElementById('stage').ariaBusy]")
        begun = time.monotonic()
        last, since = count(), begun
        while time.monotonic() - since < 0.4:
            assert time.monotonic() - begun < PATIENCE, "the page comes to rest"
            time.sleep(0.05)
            found = count()
            if found != last or found[1] == "true":
                last, since = found, time.monotonic()

    def console(self):
        return [f"{entry['level']} {entry['message']}" for entry in self.driver.get_log("browser")]


def at(browser, trim, x, y):
    """Where a place of the sheet (millimetres) stands on the page, by the line of the trim; its lines stand on half pixels."""
    left, top, width, height = browser.box("#lines .line.trim")
    return left + x * width / trim[0], top + y * height / trim[1]
