"""How quick the desk is: ``python tests/benchmarks/desk.py ORDER``, of an order that was merged.

Not part of the test command; it prints, and asserts nothing. A desk is started as people start it,
again and again, until its page is answered whole. Then one is looked at by Chromium: the first page
of all cups until every picture in view is there, the list, a changed layout until its cups are
shown, a text as it is typed until its cup is; and memory, of all processes together, once nobody
has asked for a while. Beside the clock of a start stands the desk's own processor time: it says
more where others use the computer as well, as does the load that is printed first.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.cookiejar import CookieJar
from pathlib import Path
from statistics import median
from urllib.request import HTTPCookieProcessor, build_opener

from playwright.sync_api import Page, sync_playwright

COMPLETE = """() => [...document.images].every((each) => {
  const box = each.getBoundingClientRect();
  return box.top > innerHeight || box.bottom < 0 || (each.complete && each.naturalWidth > 0);
})"""
"""Whether every picture in view is there."""


def timed(page: Page, address: str) -> float:
    """Return the seconds until a page is complete as far as it is in view."""
    began = time.perf_counter()
    page.goto(address, wait_until="domcontentloaded")
    page.wait_for_function(COMPLETE)
    return time.perf_counter() - began


def laid_out(page: Page, address: str, pid: int, times: int = 8) -> tuple[list[float], float]:
    """Return the seconds from each change of a layout until all cups that it shows are there.

    Beside them stands the processor time that the desk has taken for each.
    """
    page.goto(address)
    page.goto(page.evaluate("() => document.querySelector('a[href*=\"layout/change\"]').href"))
    field = page.locator("input[name='line.1.letter_height.max']")
    page.wait_for_timeout(3000)
    took, used = [], 0.0
    for number in range(times):
        page.evaluate("document.querySelector('#live').replaceChildren()")
        if number == 1:  # the first one is left out
            used = processor(*family(pid))
        began = time.perf_counter()
        field.fill(f"{12 + number / 10:g} mm")  # another one each time, for the last ones are kept
        page.wait_for_function(
            "() => { const seen = [...document.querySelectorAll('#live img')];"
            " return seen.length && seen.every((each) => each.complete); }"
        )
        took.append(time.perf_counter() - began)
    return sorted(took[1:]), (processor(*family(pid)) - used) / (times - 1)


def processor(*processes: int) -> float:
    """Return the seconds of processor time that processes have used."""
    told = [Path(f"/proc/{each}/stat").read_text().rpartition(")")[2].split() for each in processes]
    return sum(int(each[11]) + int(each[12]) for each in told) / os.sysconf("SC_CLK_TCK")


def typed(page: Page, address: str, times: int = 20) -> list[float]:
    """Return the seconds from each letter that is typed until the cup with it is shown."""
    page.goto(address)
    field = page.locator("form[data-live] input[type=text]").first
    page.wait_for_timeout(3000)  # the warm process gets ready as soon as a cup is opened
    took = []
    for number in range(times):
        page.evaluate("document.querySelector('#live').replaceChildren()")
        began = time.perf_counter()
        field.fill(f"Ann {'abcdefghij'[number % 10]}")
        page.wait_for_function("document.querySelector('#live img')?.complete")
        took.append(time.perf_counter() - began)
    return sorted(took[1:])


def family(pid: int) -> set[int]:
    """Return a process and those that it has started."""
    listed = subprocess.run(["ps", "-eo", "pid=,ppid="], capture_output=True, text=True, check=True)
    pairs = [tuple(map(int, line.split())) for line in listed.stdout.splitlines()]
    found = {pid}
    while more := {own for own, parent in pairs if parent in found} - found:
        found |= more
    return {each for each in found if Path(f"/proc/{each}").exists()}  # ps itself is gone by now


def memory(pid: int) -> float:
    """Return the MB of a process and those that it has started, shared pages counted once."""
    told = [Path(f"/proc/{each}/smaps_rollup").read_text() for each in family(pid)]
    return sum(int(re.findall(r"^Pss:\s+(\d+)", text, re.M)[0]) for text in told) / 1024


@contextmanager
def started(*given: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Start a desk as people do; give it and the address that it says, and end it."""
    call = [sys.executable, "-m", "mailmerge", "desk", *given, "--no-browser", "--port", "8569"]
    desk = subprocess.Popen(call, stdout=subprocess.PIPE, text=True)
    try:
        assert desk.stdout is not None
        told = (re.search(r"http://\S+key=\S+", line) for line in desk.stdout)
        yield desk, next(found[0] for found in told if found)
    finally:
        desk.terminate()
        desk.wait(20)


def begun(*given: str) -> tuple[float, float]:
    """Return the seconds from the command to a whole page, and the processor time until then."""
    began = time.perf_counter()
    with started(*given) as (desk, entry):
        build_opener(HTTPCookieProcessor(CookieJar())).open(entry).read()
        return time.perf_counter() - began, processor(desk.pid)


STARTS = 7
QUIET = 65
"""Seconds after which a desk lets go of what it keeps at hand, and some more."""


def main(order: str) -> None:
    """Start desks, look at one, and print what was found."""
    print(f"load of the machine: {os.getloadavg()[0]:.1f}, cores: {os.cpu_count()}")
    for called, given in (("all orders", ()), ("the order", (order,))):
        clock, used = zip(*(begun(*given) for _ in range(STARTS)), strict=True)
        print(f"start to the page of {called}: median {median(clock):.2f} s, "
              f"least {min(clock):.2f} s; processor: {median(used):.2f} s")  # fmt: skip
    with sync_playwright() as play, started(order) as (desk, entry):
        browser = play.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page(viewport={"width": 1280, "height": 900}, bypass_csp=True)
        page.set_default_timeout(120_000)
        page.goto(entry)
        cups = page.url
        page.wait_for_timeout(5000)
        count = int(page.locator("[aria-current] > .number").first.inner_text())
        first = timed(page, cups)
        print(f"first page of {count} cups: {first:.2f} s, again {timed(page, cups):.2f} s")
        print(f"list: {timed(page, cups.replace('/cups', '/list?show=all')):.2f} s")
        took, used = laid_out(page, f"{cups}/layout", desk.pid)
        print(f"changed layout: median {median(took):.2f} s, most {took[-1]:.2f} s; "
              f"processor: {used:.2f} s")  # fmt: skip
        took = typed(page, f"{cups}/1/change")
        print(f"typed text: median {median(took):.2f} s, 95 of 100 within "
              f"{took[int(len(took) * 0.95)]:.2f} s")  # fmt: skip
        print(f"memory at work: {memory(desk.pid):.0f} MB")
        page.goto("about:blank")
        time.sleep(QUIET)
        print(f"memory at rest, {QUIET} s later: {memory(desk.pid):.0f} MB")
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1])
