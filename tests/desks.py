"""A visitor at the desk for tests: what a browser would ask and send, without one; or with one."""

from __future__ import annotations

import pickle
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import uvicorn
from axe_playwright_python.base import AXE_SCRIPT
from httpx2 import Response
from playwright.sync_api import Browser, Page
from starlette.testclient import TestClient

from mailmerge.deeds.known import Known, remember
from mailmerge.desk.app import MOST, application, bench_application
from mailmerge.desk.asking import Desk
from mailmerge.desk.guard import Door
from mailmerge.desk.server import listening_on
from mailmerge.desk.warm import Warm
from mailmerge.desk.work import Work

HOST, SECRET, COOKIE = "127.0.0.1:8417", "s" * 43, "desk-8417"
OWN = f"http://{HOST}"
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
"""The rules of axe-core that a page is held to: W3C, WCAG 2.2 AA, and its own of good practice."""

OF_COLOURS = ["color-contrast", "link-in-text-block"]
"""Those of them that go by colours."""

LOOKING = """async options => {
  const {passes, violations} = await axe.run(options);
  const against = violations.map(each => [each.id, each.nodes[0].html.slice(0, 120)]);
  return [passes.length, against];
}"""


class Here(Warm):
    """What is tried, in this process: what is drawn once, all have. It travels as to another."""

    def call(self, deed: Callable[..., Any], /, *given: Any, **named: Any) -> Any:
        deed, given, named = pickle.loads(pickle.dumps((deed, given, named)))
        return pickle.loads(pickle.dumps(deed(*given, **named)))

    def begin_each(self, deed: Callable[..., Any], given: Sequence[tuple[Any, ...]]) -> None:
        pickle.dumps((deed, given))


class Visitor:
    """A browser that was let in, at the page of an order."""

    def __init__(self, order: Path | None = None, only_bench: bool = False) -> None:
        self.known: Known | None = remember(order) if order else None
        bench_of = self.known.key if self.known and only_bench else None
        self.desk = Desk(bench_of)
        self.desk.warm = Here()
        door = Door(frozenset({HOST}), SECRET, COOKIE, MOST)
        told = {"Origin": OWN, "Sec-Fetch-Site": "same-origin"}
        app = (bench_application if only_bench else application)(self.desk, door)
        self.client = TestClient(app, base_url=OWN, headers=told)
        self.client.cookies.set(COOKIE, SECRET)

    def at(self, *parts: object) -> str:
        """Return an address of the order's."""
        assert self.known is not None
        return "/".join(["/orders", self.known.key, *map(str, parts)])

    def asks(self, *parts: object) -> Response:
        """Ask for a page of the order's."""
        return self.client.get(self.at(*parts))

    def sends(self, *parts: object, files: dict[str, tuple[str, bytes]] | None = None,
              **fields: str) -> Response:  # fmt: skip
        """Send a form to an address of the order's, and follow where it leads."""
        return self.client.post(self.at(*parts), data=fields, files=files)

    def waits(self) -> Work:
        """Wait for the work that was begun for the order, and return it."""
        assert self.known is not None
        work = self.desk.works.of(self.known.key)
        assert work is not None, "nothing was begun"
        while self.desk.works.is_busy(self.known.key):
            assert work.ended.wait(60), "it does not end"
            before, work = work, self.desk.works.of(self.known.key) or work
            assert work is not before or not work.is_at_work
        assert work.ended.wait(60), "it does not end"
        return work


@contextmanager
def holding(visitor: Visitor, doing: str = "Waiting") -> Iterator[None]:
    """Let something be at work, called so, until what stands below is through."""
    assert visitor.known is not None
    file = visitor.known.folder / "held"
    file.touch()
    visitor.desk.works.begin(visitor.known.key, doing, held_by, file, then="/")
    yield
    file.unlink()


def held_by(file: Path, watch: object) -> None:
    """Wait until a file is gone."""
    del watch
    while file.exists():
        time.sleep(0.05)


@contextmanager
def answering(*orders: Path) -> Iterator[tuple[str, list[Known]]]:
    """Let a desk answer a real browser; give the address that lets it in, and the known orders."""
    listening = listening_on("127.0.0.1", None, first=0)
    host, port = listening.getsockname()[:2]
    door = Door(frozenset({f"{host}:{port}"}), SECRET, f"desk-{port}", MOST)
    desk = Desk()
    config = uvicorn.Config(application(desk, door), log_level="warning", access_log=False)
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    try:
        yield f"http://{host}:{port}/enter?key={SECRET}", [remember(order) for order in orders]
    finally:
        server.should_exit = True
        thread.join(10)
        desk.end()


@contextmanager
def open_page(browser: Browser, entry: str, **kind: Any) -> Iterator[Page]:
    """Open a page in a browser that is let in; nothing may go wrong on it.

    Parameters
    ----------
    kind
        Of the browser's context: its ``viewport``, ``bypass_csp`` for scripts from outside.
    """
    context = browser.new_context(**kind)
    page = context.new_page()
    page.set_default_timeout(90_000)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    page.on("response", lambda got: faults.append(got.url) if got.status >= 400 else None)
    page.goto(entry)
    yield page
    context.close()
    assert faults == [], faults


def against_wcag(page: Page, *schemes: str) -> list[tuple[str, str, str]]:
    """Return what axe-core finds against a page: the scheme, the rule, and where its markup begins.

    The schemes differ in their colours alone, so in all but the first only what judges these is
    run. The page stands still for it: between two colours a contrast is neither's. Axe's rules
    are run from outside the page, so its context needs ``bypass_csp``.
    """
    page.evaluate(AXE_SCRIPT)
    found = []
    for scheme in schemes:
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
        is_first = scheme == schemes[0]
        rules = (
            {"type": "tag", "values": WCAG} if is_first else {"type": "rule", "values": OF_COLOURS}
        )
        passed, against = page.evaluate(LOOKING, {"runOnly": rules, "resultTypes": ["violations"]})
        assert passed > (10 if is_first else 0), "axe-core has looked at nothing"
        found += [(scheme, *each) for each in against]
    return found
