"""The manual and the README: commands run, links lead somewhere, nothing is left out."""

from __future__ import annotations

import json
import re
import shlex
import shutil
from pathlib import Path
from unittest.mock import Mock

import openpyxl
import pytest
from conftest import ROOT
from typer.main import get_command
from typer.testing import CliRunner

from mailmerge.answers.incoming import _File
from mailmerge.answers.said import Answers, Said, check_of
from mailmerge.artwork.layout import Arc, Border, Layout, LetterHeight, Line, Ornament, Ring
from mailmerge.blanks import Blank
from mailmerge.blanks.model import Band, Coat, Handle, Taper, Zone
from mailmerge.cli import app
from mailmerge.cli.manual import _print_markdown
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger
from mailmerge.machines import Machine
from mailmerge.machines.model import Bed, Rotary
from mailmerge.manual import FILES, TASKS, page, pages
from mailmerge.orders.order import Client, KeptSize, OrderFile, OrderTable
from mailmerge.workshop.settings.recipes import Recipe
from mailmerge.workshop.shop.shop import ShopFile

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
    return re.findall(r"^ {4,}(?:\$ )?(mailmerge .*?)(?: {3,}.*)?$", text_of(name), re.M)


def run(line: str) -> tuple[int, str]:
    """Run a command line as a person would, with nobody at the terminal."""
    result = CliRunner().invoke(app, shlex.split(line)[1:], obj=Mock())
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
        told = {"kind": "answers to a proof pack", "version": 2, "order": ledger.order_id,
                "pack": pack, "page": "K7QM-24XR", "saving": 1, "by": "Ms Roth", "at": "",
                "answers": said}  # fmt: skip
        answers = (Said(s["item"], s["seal"], s["answer"], s.get("words", ""), {}) for s in said)
        came = Answers("file", "Ms Roth", "", tuple(answers), pack, "K7QM-24XR", 1)
        told["check"] = check_of(came)
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
        with open_ledger(folder / "asking") as ledger, ledger.writing() as change:
            came = change.put_arrival("workbook", "Ms Roth")
            change.put_question(came, [7], "in the list, row 12, beside the table", "smaller?", {})
            change.put_question(came, [], "in the list, row 20", "Otto Ny", {"name": "Otto Ny"})
        for line in ("decide gala 7 --by Ina --because 'as it is'", "confirm gala 7 --by phone"):
            assert run(f"mailmerge {line}")[0] == 0, line
        assert run("mailmerge release gala")[0] == 0
    return folder


EVERY_DAY = ("start-an-order", "proofs-and-answers")
"""Pages whose commands run in the suite for every day; those of all others run with ``--long``."""


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(name, marks=() if name in EVERY_DAY else pytest.mark.long)
        for name in PAGES
        if commands_in(name)
    ],
)
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


def test_every_page_is_listed_and_reached_from_another() -> None:
    listed = run("mailmerge manual")[1]
    for p in pages():
        assert f"  {p.name:<24} {p.summary}\n" in listed
        others = "".join(text_of(name) for name in (*TASKS, *FILES) if name != p.name)
        assert f"]({p.name}.md)" in others, p.name


def test_a_page_says_in_one_line_what_it_is_good_for() -> None:
    """The line fits the list of pages on a screen of 80 columns, and is a paragraph of its own."""
    for p in pages():
        assert re.fullmatch(r"[A-Za-z].{10,51}\.", p.summary), p.name
        assert p.text.startswith(f"# {p.title}\n\n{p.summary}\n\n"), p.name


def test_code_stands_on_a_screen_without_a_break() -> None:
    """Commands are left as long as they are typed; no fence hides one from the tests."""
    for p in pages():
        assert "```" not in p.text, p.name
        for row in re.findall(r"^ {4}(?! *mailmerge ).*$", p.text, re.M):
            assert len(row) <= 76, (p.name, row)


@pytest.mark.parametrize("columns", [80, 120])
def test_a_page_on_a_terminal_is_set_and_fits(
    columns: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    for p in pages():
        _print_markdown(p.on_screen)
        set_ = capsys.readouterr().out
        assert p.title in set_
        assert max(map(len, set_.splitlines())) <= min(columns, 100), p.name
        assert not re.search(r"\*\*|\]\(|^#|\|---", set_, re.M), p.name


def test_a_link_on_a_screen_says_what_to_type() -> None:
    for p in pages():
        assert ".md)" not in p.on_screen, p.name
        targets = re.findall(r"\]\(([\w-]+)\.md\)", p.text)
        assert [t for t in targets if f"`mailmerge manual {t}`" not in p.on_screen] == []
    assert "`mailmerge manual blank-file` explains" in page("measure-a-blank").on_screen


def options() -> dict[str, set[str]]:
    """Return what each command takes, from its own parameters; "" is the program itself."""
    group = get_command(app)
    commands = {"": group, **group.commands}  # type: ignore[attr-defined]
    return {
        name: {"--help", *(option for each in command.params for option in each.opts)}
        for name, command in commands.items()
    }


def test_what_a_sentence_names_is_there() -> None:
    """Commands and options in the running text, which no test runs, exist as they are told."""
    known = options()
    known[""] |= {"--install-completion", "--show-completion"}
    checked = 0
    for name in PAGES:
        for code in re.findall(r"`([^`\n]+)`", text_of(name)):
            said = set(re.findall(r"--[a-z][a-z-]*", code))
            if code.startswith("mailmerge "):
                first = code.split()[1]
                assert said <= known["" if first.startswith("-") else first], (name, code)
            elif code.startswith("--"):
                assert said <= set().union(*known.values()), (name, code)
            checked += code.startswith(("mailmerge ", "--"))
    assert checked > 30


def keys_of(*models: type) -> set[str]:
    fields = (field for model in models for field in model.model_fields.items())  # type: ignore[attr-defined]
    return {info.alias or key for key, info in fields}


SHOP = (ShopFile, *(
    field.annotation for field in ShopFile.model_fields.values()
    if hasattr(field.annotation, "model_fields")
))  # fmt: skip
"""The shop's file and its tables."""


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("order-file", keys_of(OrderTable, Client, KeptSize, OrderFile) - {"order"}),
        ("blank-file", keys_of(Blank, Band, Handle, Zone, Taper, Coat) - {"note"}),
        ("machine-file", keys_of(Machine, Bed, Rotary) - {"note"}),
        ("recipe-file", keys_of(Recipe)),
        (
            "layout-file",
            keys_of(Layout, Line, LetterHeight, Arc, Ring, Ornament, Border) - {"note"},
        ),
        ("shop-file", keys_of(*SHOP) | {"step", "blanks"}),
    ],
)
def test_a_files_page_tells_every_key(name: str, keys: set[str]) -> None:
    told = page(name).text
    for key in keys:
        forms = (f"`{key}`", f"    {key} = ", f"[{key}]", f"`{key} = ", f"{{ {key} = ",
                 f", {key} = ", f"[[price.{key}]]", f"[price.{key}]")  # fmt: skip
        assert any(form in told for form in forms), key


def test_the_answers_file_on_its_page_is_one() -> None:
    (block,) = re.findall(r"^ {4}\{\n(?: {4}.*\n)+", page("answers-files").text, re.M)
    answers = _File.model_validate(json.loads(block)).answers
    assert [(each.item, each.answer) for each in answers] == [(3, "yes"), (7, "change")]


def test_a_page_is_shown_and_a_wrong_name_meant_well() -> None:
    code, said = run("mailmerge manual measure-a-blank")
    assert (code, said) == (0, page("measure-a-blank").on_screen)
    assert run("mailmerge manual measure-a-blank.md") == (code, said)
    code, said = run("mailmerge manual mesure-a-blank")
    assert code == 2
    assert 'no page "mesure-a-blank". Did you mean "measure-a-blank"?' in said


def test_figures_of_the_trade_are_not_copied() -> None:
    """Values that others use in their instructions serve as check values in tests alone."""
    told = [README, *(ROOT / "mailmerge").rglob("*.md")]
    built = [*(ROOT / "mailmerge").rglob("*.py"), *(ROOT / "templates").rglob("*.toml")]
    for file in (*told, *built):
        text = file.read_text(encoding="utf-8")
        for figure in ("12 3/8", "12.375", "12:08", "314 mm", "31.4 cm"):
            assert figure not in text, (file.name, figure)
    for file in told:
        text = file.read_text(encoding="utf-8")
        for figure in ("11 5/8", "11.625", "9:40", "295 mm", "29.5 cm"):
            assert figure not in text, (file.name, figure)
