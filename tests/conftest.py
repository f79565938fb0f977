from __future__ import annotations

import gc
import itertools
import os
import pickle
import random
import re
import shutil
import sqlite3
import subprocess
from bisect import bisect_right
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from functools import cache
from pathlib import Path

import names
import pytest
import typer.testing
from boxfont import write_box_font
from draws import ALL, LONG, drawn
from hypothesis import settings
from packs import NAMES, order_of, packed as packed_order
from playwright.sync_api import Browser, sync_playwright
from shop import GUESTS, Shop

from mailmerge.answers.packs import Packed
from mailmerge.artwork import Composition, Layout, sheet_of, write_svg
from mailmerge.blanks import Blank
from mailmerge.checks import check_item
from mailmerge.findings import Finding
from mailmerge.guests import Guest, Hand, Remark
from mailmerge.ledger import ledger
from mailmerge.machines import Loading, Machine, Page
from mailmerge.merge import merge
from mailmerge.orders import open_order
from mailmerge.reading import room
from mailmerge.shelves import validated

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "demo" / "winter-gala"


@cache
def _census(file: str) -> tuple[list[float], list[str]]:
    """Return a list of the package ``names``: its cumulative shares, and the names."""
    words = Path(file).read_text(encoding="ascii").split()
    return [float(share) for share in words[2::4]], words[::4]


def _drawn(file: str) -> str:
    """Draw a name as the package does, which reads its list anew for every name."""
    shares, drawn = _census(file)
    at = bisect_right(shares, random.random() * 90)
    return drawn[at] if at < len(drawn) else ""


names.get_name = _drawn

gc.set_threshold(20_000, 20, 20)
"""What all tests import lies in memory and stays: looking whether it is garbage takes a while."""

os.sync = lambda: None
ledger.SYNCHRONOUS = "OFF"
"""No test cuts the power; and all that anybody writes on the computer would be waited for."""

room.asked = lambda _file, call, given: call(*given)
room.ready = lambda _module: None
"""Tests read within their own process, where a fault shows its traceback and lines are counted as
run; `test_reading` and whatever starts the program itself do not."""

os.sched_getaffinity = lambda _: {0}
"""Other tests have the other cores; and what this process has drawn once, it has at hand."""

typer.main.get_command = cache(typer.main.get_command)
typer.testing._get_command = typer.main.get_command
"""The commands are put together once, not for each call of one: that takes a tenth of a second."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Declare ``--long`` and ``--all``: how much is run of what there is."""
    parser.addoption("--long", action="store_true", help="run the long tests too, as CI does")
    parser.addoption("--all", action="store_true", help="draw all samples, for hours of quiet")


def pytest_configure(config: pytest.Config) -> None:
    """Say how many samples are drawn where a test does not say it; a slow desk is no fault.

    The long tests are left out of a run of all files alone: whoever names a file wants all of it.
    """
    whole = config.args_source is not pytest.Config.ArgsSource.ARGS
    if config.getoption("--all"):
        os.environ[ALL] = "1"
    if config.getoption("--long") or config.getoption("--all") or not whole:
        os.environ[LONG] = "1"
    settings.register_profile("ours", max_examples=drawn(40, 100), deadline=None)
    settings.load_profile("ours")


@pytest.fixture(scope="session")
def samples() -> Callable[[int, int], int]:
    """Return a function that says how many samples to draw: by default, and with ``--all``."""
    return drawn


LONGEST = ("test_no_real_name_loses", "test_whole_conversation", "test_planted")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out the long tests, if so; skip those on a desk whose outside program is missing.

    In CI the latter fail. The longest ones come first: at the end of a run one core would wait
    for the other.
    """
    if LONG not in os.environ:
        left = [item for item in items if item.get_closest_marker("long")]
        items[:] = [item for item in items if not item.get_closest_marker("long")]
        config.hook.pytest_deselected(items=left)
    items.sort(key=lambda item: not _is_long(item))
    for item in items:
        marker = item.get_closest_marker("outside")
        if marker and not os.environ.get("CI") and not _is_here(marker.args[0]):
            item.add_marker(pytest.mark.skip(reason=f"{marker.args[0]} is not installed"))


def _is_long(item: pytest.Item) -> bool:
    """Whether a test is begun before the others."""
    return bool(item.get_closest_marker("long")) or any(each in item.nodeid for each in LONGEST)


def _is_here(outside: str) -> bool:
    """Whether a program, or a file given by its path, is installed."""
    return Path(outside).exists() if "/" in outside else shutil.which(outside) is not None


@pytest.fixture(scope="session", autouse=True)
def _nobodys_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """See that what is made for several tests together does not read anybody's real shop."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("MAILMERGE_SHOP", str(tmp_path_factory.mktemp("no-shop")))
        yield


@pytest.fixture(scope="session")
def _new_folder(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Return a function that makes a folder, by number: pytest's own reads all names there are."""
    parent, number = tmp_path_factory.mktemp("each"), itertools.count()

    def made(name: str) -> Path:
        folder = parent / f"{next(number)}-{re.sub(r'[^A-Za-z0-9]+', '-', name)[:30]}"
        folder.mkdir()
        return folder

    return made


@pytest.fixture
def tmp_path(request: pytest.FixtureRequest, _new_folder: Callable[[str], Path]) -> Path:
    """Return a folder of the test's own."""
    return _new_folder(request.node.name.removeprefix("test_"))


@pytest.fixture(autouse=True)
def shop_folder(_new_folder: Callable[[str], Path], monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give every test a shop's folder of its own: nobody's real one is read or written."""
    folder = _new_folder("shop")
    monkeypatch.setenv("MAILMERGE_SHOP", str(folder))
    return folder


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Return a browser, one for all tests of a process: it takes a second to start.

    As long as it is there, no other loop of ``asyncio`` can be run in the same thread.
    """
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with sync_playwright() as play:
        browser = play.chromium.launch(
            executable_path=shutil.which("chromium"), args=[*root, "--disable-gpu"]
        )
        yield browser
        browser.close()


Office = Callable[..., None]


@pytest.fixture(scope="session")
def office(tmp_path_factory: pytest.TempPathFactory) -> Office:
    """Return a function that lets LibreOffice write files anew: as what, where, and which.

    What it makes at its first start it finds at the next one.
    """
    at = tmp_path_factory.mktemp("office").as_uri()

    def written_anew(kind: str, folder: Path, *files: Path) -> None:
        call = ["soffice", f"-env:UserInstallation={at}", "--headless", "--convert-to", kind]
        subprocess.run(
            [*call, "--outdir", folder, *files], check=True, capture_output=True, timeout=120
        )

    return written_anew


Shared = Callable[[str, Callable[[Path], object]], Path]


@pytest.fixture(scope="session")
def _shared(tmp_path_factory: pytest.TempPathFactory) -> Shared:
    """Return a function that has something made once for all processes that run the tests.

    Who comes while another one makes it waits: a lock of SQLite's ends with whoever holds it.
    """
    base = tmp_path_factory.getbasetemp()
    base = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base

    def made_once(name: str, make: Callable[[Path], object]) -> Path:
        folder, whole = base / f"shared-{name}", base / f"shared-{name}.whole"
        with closing(sqlite3.connect(base / f"shared-{name}.lock", timeout=600)) as lock:
            lock.execute("BEGIN EXCLUSIVE")
            if not whole.exists():
                folder.mkdir()
                make(folder)
                whole.touch()
        return folder

    return made_once


@pytest.fixture(scope="session")
def box_font(_shared: Shared) -> Path:
    return _shared("font", lambda folder: write_box_font(folder / "boxes.ttf")) / "boxes.ttf"


@pytest.fixture
def blank() -> Blank:
    """300 mm around, 100 high, a band from 20 to 80, a handle zone of 25 mm to each side.

    The drinker's face is centred on s = 225 and at most 2 * (75 - 25) = 100 mm wide, which the
    visible arc of 120 degrees (100 mm) allows too.
    """
    return validated(
        Blank,
        {
            "name": "Test cup",
            "circumference": "300 mm",
            "height": "100 mm",
            "band": {"from": "20 mm", "to": "80 mm"},
            "handle": {"width": "30 mm", "clearance": "10 mm"},
            "coat": [{"name": "black", "colour": "#101010"}],
        },
        "test",
    )


FINE_BEAM = validated(
    Machine,
    {
        "name": "Test machine",
        "spot": 0.01,
        "bed": {"width": 1000, "depth": 1000},
        "rotary": {
            "drive": "chuck",
            "mouth": "away",
            "datum": "tick",
            "largest_diameter": 400,
            "length": 1000,
            "under_head": 1000,
            "clearance": 100,
        },
    },
    "test",
)
"""Finer than anything that the tests of other things engrave, and large enough for all of it."""


def upright(blank: Blank) -> Loading:
    """Return a loading whose page is the upright page: ``x = s``, ``y`` down from the mouth."""
    page = Page(blank.page_width, blank.height)
    drive = None if blank.is_flat else "chuck"
    return Loading(page, drive, "tick", "tick", 0.0, 0.0, 0.0, blank.tilt, ())


def upright_svg(composition: Composition, blank: Blank, title: str = "t") -> bytes:
    """Return the artwork of a composition on the upright page."""
    return write_svg(sheet_of(composition, blank, upright(blank)), title, "d")


def found_in(
    guest: Guest,
    composition: Composition,
    blank: Blank,
    engraved: frozenset[str],
    remarks: tuple[Remark, ...] = (),
) -> list[Finding]:
    """Return the findings about an item on a machine that can do everything."""
    loading = upright(blank)
    found = list(check_item(guest, composition, blank, FINE_BEAM, loading, engraved, remarks))
    for finding in found:
        for said in (finding.message, finding.advice):
            assert re.match(r"[^a-zà-ÿ].*[.?]$", said), said  # whole sentences
    return found


LayoutOf = Callable[..., Layout]
Samples = Callable[[int, int], int]


@pytest.fixture
def layout_of(box_font: Path) -> LayoutOf:
    """Return a function that makes a layout in the box font out of its lines."""

    def made(
        *lines: dict[str, object],
        face: str = "drinker",
        visible_angle: float = 120,
        **more: object,
    ) -> Layout:
        defaults = {"font": str(box_font), "letter_height": {"max": "14 mm", "min": "7 mm"}}
        return validated(
            Layout,
            {
                "name": "Test",
                "face": face,
                "visible_angle": visible_angle,
                "line": [defaults | line for line in lines],
                **more,
            },
            "test",
        )

    return made


def guest_named(name: str, role: str = "", hand: Hand = Hand.RIGHT, **more: str) -> Guest:
    first, _, last = name.partition(" ")
    return Guest(2, {"name": name, "first": first, "last": last, "role": role, **more}, hand)


@pytest.fixture(scope="session")
def gala(_shared: Shared) -> Path:
    """Return what a merge of the demo's order made; it is read, and never changed."""
    return _shared("gala", lambda out: merge(open_order(DEMO), out, jobs=1))


@pytest.fixture(scope="session")
def merged_once(_shared: Shared, box_font: Path) -> Path:
    """Return an order of five guests that was merged once; it is copied, and never changed."""

    def make(folder: Path) -> None:
        shop = Shop(folder, box_font)
        shop.list(GUESTS)
        shop.merge()

    return _shared("merged-once", make)


@pytest.fixture
def shop(tmp_path: Path, merged_once: Path) -> Shop:
    """Return a workshop with an order of five guests that was merged once, to be changed."""
    return Shop.copied(merged_once, tmp_path / "concert")


@pytest.fixture(scope="session")
def packed_once(_shared: Shared, merged_once: Path) -> Path:
    """Return the same order with its first proof pack; it is copied, and never changed."""
    made = _shared(
        "packed-once", lambda folder: Shop.copied(merged_once, folder / "concert").pack()
    )
    return made / "concert"


@pytest.fixture
def packed(tmp_path: Path, packed_once: Path) -> Shop:
    """Return the same workshop with its first proof pack, to be changed."""
    return Shop.copied(packed_once, tmp_path / "concert")


@pytest.fixture(scope="session")
def pack_of_names(tmp_path_factory: pytest.TempPathFactory, _shared: Shared) -> Packed:
    """Return the pack of an order with names of many kinds; it is read or copied, never changed."""

    def make(folder: Path) -> None:
        pack = packed_order(order_of(folder / "concert", NAMES))
        (folder / "pack").write_bytes(pickle.dumps(pack))

    made = _shared("names", make)
    packed: Packed = pickle.loads((made / "pack").read_bytes())
    # Its ledger is opened: what each process reads is its own.
    own = shutil.copytree(made / "concert", tmp_path_factory.mktemp("names") / "concert")
    return replace(packed, folder=own / packed.folder.name)
