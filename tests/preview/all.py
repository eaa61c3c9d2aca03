"""Every check of the page in one browser: `all.py BINARY FOLDER CATALOGUE`. FOLDER holds a copy of cover.kdl, to be edited."""

import sys
import time
import traceback

import deeds
import people
import sheet
from browser import Browser, Preview


def main(binary, folder, catalogue_file):
    browser = Browser()
    running = []
    faults = 0
    try:
        running.append(preview := Preview(binary, ["cover.kdl"], folder))
        running.append(catalogue := Preview(binary, [catalogue_file], folder))
        for check in sheet.CHECKS + deeds.CHECKS + people.CHECKS:
            begun = time.monotonic()
            try:
                check(browser=browser, preview=preview, catalogue=catalogue, binary=binary, folder=folder)
                said = browser.console()
                assert not said, f"the console is not clean: {said}"
                fault = ""
            except Exception:
                fault = traceback.format_exc(limit=-3)
                faults += 1
            print(f"{'FAILED' if fault else 'ok'} {check.__name__} {time.monotonic() - begun:.1f} s\n{fault}".rstrip(), flush=True)
            if fault and check is sheet.opens:
                break
    finally:
        browser.driver.quit()
        for one in running:
            one.end()
    sys.exit(1 if faults else 0)


main(*sys.argv[1:])
