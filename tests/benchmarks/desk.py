"""How quick the desk is: ``python tests/benchmarks/desk.py ORDER``, of an order that was merged.

Not part of the test command; it prints, and asserts nothing. A desk is started as people start it,
and looked at by Chromium: from its start to a page, the first page of all cups until every picture
in view is there, the list, a text as it is typed until its cup is shown, a changed layout until
its cups are, and memory at rest. Beside the clock stands the desk's own processor time: it holds
where others use the computer as well.
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
from pathlib import Path

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


def laid_out(page: Page, address: str, times: int = 8) -> list[float]:
    """Return the seconds from each change of a layout until all cups that it shows are there."""
    page.goto(address)
    page.goto(page.evaluate("() => document.querySelector('a[href*=\"layout/change\"]').href"))
    field = page.locator("input[name='line.1.letter_height.max']")
    page.wait_for_timeout(3000)
    took = []
    for number in range(times):
        page.evaluate("document.querySelector('#live').replaceChildren()")
        began = time.perf_counter()
        field.fill(f"{12 + number % 4} mm")
        page.wait_for_function(
            "() => { const seen = [...document.querySelectorAll('#live img')];"
            " return seen.length && seen.every((each) => each.complete); }"
        )
        took.append(time.perf_counter() - began)
    return sorted(took[1:])


def processor(pid: int) -> float:
    """Return the seconds of processor time that a process has used."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


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


def memory(pid: int) -> float:
    """Return the MB of a process and those that it has started, shared pages counted once."""
    listed = subprocess.run(["ps", "-eo", "pid=,ppid="], capture_output=True, text=True, check=True)
    pairs = [tuple(map(int, line.split())) for line in listed.stdout.splitlines()]
    family = {pid}
    while more := {own for own, parent in pairs if parent in family} - family:
        family |= more
    told = [Path(f"/proc/{each}/smaps_rollup").read_text() for each in family]
    return sum(int(re.findall(r"^Pss:\s+(\d+)", text, re.M)[0]) for text in told) / 1024


@contextmanager
def ending(desk: subprocess.Popen[str]) -> Iterator[None]:
    """End a desk, whatever goes wrong."""
    try:
        yield
    finally:
        desk.terminate()
        desk.wait(20)


def main(order: str) -> None:
    """Start a desk, look at it, and print what was found."""
    began = time.perf_counter()
    call = [sys.executable, "-m", "mailmerge", "desk", order, "--no-browser", "--port", "8569"]
    desk = subprocess.Popen(call, stdout=subprocess.PIPE, text=True)
    assert desk.stdout is not None
    entry = next(
        found[0] for line in desk.stdout if (found := re.findall(r"http://\S+key=\S+", line))
    )
    answers = time.perf_counter() - began
    with sync_playwright() as play, ending(desk):
        browser = play.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page(viewport={"width": 1280, "height": 900}, bypass_csp=True)
        page.set_default_timeout(120_000)
        page.goto(entry)
        cups = page.url
        print(f"start to an address that answers: {answers:.2f} s, to a page: "
              f"{time.perf_counter() - began:.2f} s with a browser's own start; "
              f"processor: {processor(desk.pid):.2f} s")  # fmt: skip
        print(f"at rest: {memory(desk.pid):.0f} MB")
        count = int(page.locator("[aria-current] > .number").first.inner_text())
        first = timed(page, cups)
        print(f"first page of {count} cups: {first:.2f} s, again {timed(page, cups):.2f} s")
        print(f"list: {timed(page, cups.replace('/cups', '/list?show=all')):.2f} s")
        took = laid_out(page, f"{cups}/layout")
        print(f"changed layout: median {took[len(took) // 2]:.2f} s, most {took[-1]:.2f} s")
        took = typed(page, f"{cups}/1/change")
        print(f"typed text: median {took[len(took) // 2]:.2f} s, 95 of 100 within "
              f"{took[int(len(took) * 0.95)]:.2f} s")  # fmt: skip
        print(f"with the warm process: {memory(desk.pid):.0f} MB")
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1])
