"""The manual and the README: commands run, links lead somewhere, nothing is left out."""

from __future__ import annotations

import json
import re
import shlex
import shutil
from pathlib import Path

import openpyxl
import pytest
from conftest import ROOT
from typer.testing import CliRunner

from mailmerge.blanks import Blank
from mailmerge.blanks.model import Band, Coat, Handle, Taper, Zone
from mailmerge.cli import app
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger
from mailmerge.machines import Machine
from mailmerge.machines.model import Bed, Rotary
from mailmerge.manual import FILES, TASKS, page, pages
from mailmerge.orders.order import KeptSize, OrderFile, OrderTable
from mailmerge.workshop.settings.recipes import Recipe

README = ROOT / "README.md"
PAGES = ("README", *TASKS, *FILES)

PLAYERS = (
    "Amelie Roth", "Bo Dahl", "Zoë Lind", "Carla Ek", "Dag Falk", "Eva Gran", "Matthew Klein",
    "Ines Holm", "Jonas Ivar", "Karin Jung", "Lars Kvist", "Mia Lund", "Nils Moe",
)  # fmt: skip

ASKS = {
    "mailmerge measure": "Give readings, such as --around",
    "mailmerge shop": "there is no terminal to ask on",
    "mailmerge forget gala": "Add --yes if you are sure",
}
"""These ask on a terminal; without one they say how to answer, and end with 2."""


def text_of(name: str) -> str:
    return README.read_text(encoding="utf-8") if name == "README" else page(name).text


def commands_in(name: str) -> list[str]:
    """Return the command lines in a page's blocks of code."""
    return re.findall(r"^ {4,}(mailmerge .*?)(?: {3,}.*)?$", text_of(name), re.M)


def run(line: str) -> tuple[int, str]:
    """Run a command line as a person would, with nobody at the terminal."""
    result = CliRunner().invoke(app, shlex.split(line)[1:])
    if isinstance(result.exception, InputError):
        return 2, str(result.exception)
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.output


def answers_file(folder: Path, wish: int | None) -> Path:
    """Return what the client's page saves: yes to all but one, which is to change."""
    with open_ledger(folder) as ledger:
        ((pack,),) = ledger._db.execute("SELECT id FROM pack ORDER BY made DESC LIMIT 1")
        shown = ledger.shown_in(pack)
        said = [
            {"item": n, "seal": seal, "answer": "change", "words": "Mathew with one t"}
            if n == wish
            else {"item": n, "seal": seal, "answer": "yes"}
            for n, seal in shown.items()
        ]
        told = {"kind": "answers to a proof pack", "version": 1, "order": ledger.order_id,
                "pack": pack, "by": "Ms Roth", "at": "", "answers": said}  # fmt: skip
    file = folder.parent / "answers.json"
    file.write_text(json.dumps(told), encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a list, an order whose client wants a change, and one released."""
    folder = tmp_path_factory.mktemp("desk")
    book = openpyxl.Workbook()
    assert book.active is not None
    for row in (("Name", "Instrument"), *((name, "Violin") for name in PLAYERS)):
        book.active.append(row)
    book.save(folder / "guests.xlsx")
    with pytest.MonkeyPatch.context() as patched:
        patched.chdir(folder)
        patched.setenv("MAILMERGE_SHOP", str(folder / "shop"))
        for line in ("mailmerge new gala --list guests.xlsx", "mailmerge merge gala",
                     "mailmerge proof gala"):  # fmt: skip
            assert run(line)[0] == 0, line
        file = answers_file(folder / "gala", wish=7)
        assert run(f"mailmerge answers gala {file}")[0] == 0
        shutil.copytree("gala", "asking")
        assert run('mailmerge confirm gala 7 --by "phone"')[0] == 0
        assert run("mailmerge release gala")[0] == 0
    return folder


@pytest.mark.parametrize("name", [name for name in PAGES if commands_in(name)])
def test_every_command_line_runs(
    name: str, desk: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the order of the page; from nothing but a list where the page begins an order."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MAILMERGE_SHOP", str(tmp_path / "shop"))
    shutil.copy(desk / "guests.xlsx", tmp_path)
    begins = any(line.startswith("mailmerge new ") for line in commands_in(name))

    def lay_out() -> None:
        shutil.rmtree("gala", ignore_errors=True)
        shutil.copytree(desk / ("asking" if name == "proofs-and-answers" else "gala"), "gala")

    if not begins:
        lay_out()
    for line in commands_in(name):
        if " --accept " in line:
            lay_out()  # each is one of several ways
        if line.endswith(" FILE"):
            line = line.replace("FILE", str(answers_file(tmp_path / "gala", wish=None)))
        code, said = run(line)
        if line in ASKS:
            assert (code, ASKS[line] in said) == (2, True), (line, said)
        else:
            assert code in (0, 3), (line, said)


def test_the_pages_are_the_files_that_travel() -> None:
    there = {path.stem for path in (ROOT / "mailmerge" / "manual").glob("*.md")}
    assert there == {*TASKS, *FILES}
    assert [p.name for p in pages()] == [*TASKS, *FILES]
    assert all(p.text.startswith(f"# {p.title}\n") for p in pages())


def test_pages_are_short_and_so_is_the_readme() -> None:
    assert len(README.read_text(encoding="utf-8").splitlines()) <= 250
    for p in pages():
        assert len(p.text.split()) < 1900, p.name


@pytest.mark.parametrize("name", PAGES)
def test_links_lead_somewhere(name: str) -> None:
    here = ROOT if name == "README" else ROOT / "mailmerge" / "manual"
    for link in re.findall(r"\]\(([^)]+)\)", text_of(name)):
        assert (here / link).exists(), link


def test_every_page_is_reached_from_another() -> None:
    linked = {link for name in PAGES for link in re.findall(r"\]\(([\w-]+)\.md\)", text_of(name))}
    listed = run("mailmerge manual")[1]
    for name in (*TASKS, *FILES):
        assert f"  {name} " in listed
    assert {"order-file", "blank-file", "layout-file", "findings", "guest-list"} <= linked


def keys_of(*models: type) -> set[str]:
    fields = (field for model in models for field in model.model_fields.items())  # type: ignore[attr-defined]
    return {info.alias or key for key, info in fields}


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("order-file", keys_of(OrderTable, KeptSize, OrderFile) - {"order"}),
        ("blank-file", keys_of(Blank, Band, Handle, Zone, Taper, Coat) - {"note"}),
        ("machine-file", keys_of(Machine, Bed, Rotary) - {"note"}),
        ("recipe-file", keys_of(Recipe)),
    ],
)
def test_a_files_page_tells_every_key(name: str, keys: set[str]) -> None:
    told = page(name).text
    for key in keys:
        forms = (f"`{key}`", f"    {key} = ", f"[{key}]", f"`{key} = ", f"a {key} instead")
        assert any(form in told for form in forms), key


def test_a_page_is_shown_and_a_wrong_name_meant_well() -> None:
    code, said = run("mailmerge manual measure-a-blank")
    assert (code, said) == (0, page("measure-a-blank").text)
    code, said = run("mailmerge manual mesure-a-blank")
    assert code == 2
    assert 'did you mean "measure-a-blank"?' in said


def test_figures_of_the_trade_are_not_copied() -> None:
    """Values that others use in their instructions serve as check values in tests alone."""
    files = [README, *(ROOT / "mailmerge").rglob("*.md"), *(ROOT / "mailmerge").rglob("*.py"),
             *(ROOT / "templates").rglob("*.toml")]  # fmt: skip
    for file in files:
        text = file.read_text(encoding="utf-8")
        for figure in ("12 3/8", "12.375", "12:08", "314 mm", "31.4 cm"):
            assert figure not in text, (file.name, figure)
