"""The project's own rules: style, types, one-way imports, the wheel, the demo's workbook."""

from __future__ import annotations

import datetime as dt
import json
import re
import runpy
import subprocess
import sys
import zipfile
from pathlib import Path

import codes_of_findings as codes
import openpyxl
import pytest
from conftest import DEMO, ROOT, pytest_collection_modifyitems
from draws import LONG


def told() -> str:
    """Return all that users are told: the README and the pages of the manual."""
    pages = [ROOT / "README.md", *sorted((ROOT / "mailmerge" / "manual").glob("*.md"))]
    return "\n\n".join(page.read_text(encoding="utf-8") for page in pages)


def tool(*arguments: str) -> None:
    result = subprocess.run(
        [sys.executable, "-m", *arguments], cwd=ROOT, capture_output=True, text=True
    )
    assert result.returncode == 0, result.stdout + result.stderr


def test_ruff_finds_nothing() -> None:
    tool("ruff", "check", ".")


def test_the_code_is_formatted() -> None:
    tool("ruff", "format", "--check", ".")


def test_mypy_strict() -> None:
    tool("mypy")


def test_no_name_is_dead(tmp_path: Path) -> None:
    # What a template names is used as well; vulture reads Python alone.
    texts = [path.read_text(encoding="utf-8") for path in (ROOT / "mailmerge").rglob("*.html")]
    named = {name for text in texts for name in re.findall(r"\.([A-Za-z_]\w*)", text)}
    used = tmp_path / "in_templates.py"
    used.write_text("\n".join(f"_.{name}" for name in sorted(named)), encoding="utf-8")
    tool("vulture", "mailmerge", str(used))


def test_rooms_import_one_way() -> None:
    lint = Path(sys.executable).with_name(
        "lint-imports.exe" if sys.platform == "win32" else "lint-imports"
    )
    result = subprocess.run([str(lint)], cwd=ROOT, capture_output=True, text=True)
    assert result.returncode == 0, result.stdout + result.stderr


def test_top_level_holds_only_what_belongs_there() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    if listed.returncode != 0:
        pytest.skip("not a git checkout")
    top = {name.split("/")[0] for name in listed.stdout.splitlines()}
    assert top == {
        ".ci", ".github", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md", "demo",
        "mailmerge", "pyproject.toml", "templates", "tests",
    }  # fmt: skip
    endings = {Path(name).suffix for name in listed.stdout.splitlines()}
    assert not endings & {".ttf", ".otf", ".woff", ".woff2", ".ttc"}


def test_no_source_is_ignored() -> None:
    """What git ignores is in nobody's checkout, and hatchling leaves it out of the wheel."""
    ignored = ["git", "ls-files", "--others", "--ignored", "--exclude-standard", "--"]
    told = subprocess.run(
        [*ignored, "mailmerge", "templates"], cwd=ROOT, capture_output=True, text=True
    )
    if told.returncode != 0:
        pytest.skip("not a git checkout")
    assert [name for name in told.stdout.splitlines() if "__pycache__" not in name] == []


@pytest.mark.long
def test_templates_travel_in_the_wheel_and_are_found_there(tmp_path: Path) -> None:
    built = subprocess.run(
        # The source archive first, and the wheel out of it: what is missing in one is in neither.
        # With the backend that is installed: an environment of its own for each takes far longer.
        [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(tmp_path), str(ROOT)],
        capture_output=True, text=True,
    )  # fmt: skip
    assert built.returncode == 0, built.stdout + built.stderr
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path / "site")
        packed = {name for name in archive.namelist() if name.endswith(".py")}
    assert packed == {
        path.relative_to(ROOT).as_posix() for path in (ROOT / "mailmerge").rglob("*.py")
    }
    # What an installer does: the files of the wheel on the import path, far from the checkout.
    code = (
        f"import sys; sys.path.insert(0, {str(tmp_path / 'site')!r})\n"
        "import json, mailmerge.shelves as shelves, mailmerge.manual as manual\n"
        "from mailmerge.provenance import engine_mark\n"
        "assert (shelves.templates() / 'schemas' / 'report-1.json').is_file()\n"
        "print(json.dumps([shelves.__file__, str(shelves.templates()), "
        "sorted(shelves.shelf('blanks')), sorted(shelves.shelf('layouts')), "
        "[page.name for page in manual.pages()], engine_mark()]))"
    )
    shown = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    module, templates, blanks, layouts, pages, mark = json.loads(shown.stdout)
    assert module.startswith(str(tmp_path))
    assert templates.startswith(str(tmp_path))
    from mailmerge import manual, provenance, shelves

    assert pages == [page.name for page in manual.pages()]
    assert mark == provenance.engine_mark()
    assert shelves.templates() == ROOT / "templates"
    assert blanks == sorted(shelves.shelf("blanks"))
    assert layouts == sorted(shelves.shelf("layouts"))


def test_the_demo_list_is_the_one_its_script_writes(tmp_path: Path) -> None:
    script = runpy.run_path(str(ROOT / "demo" / "make_list.py"))
    script["main"].__globals__["HERE"] = tmp_path
    script["main"]()

    def cells(path: Path) -> list[list[object]]:
        return [
            [cell.value for cell in row]
            for sheet in openpyxl.load_workbook(path)
            for row in sheet.iter_rows()
        ]

    assert cells(tmp_path / "guests.xlsx") == cells(DEMO / "guests.xlsx")


def test_the_readme_tells_every_key_of_a_layout() -> None:
    from mailmerge.artwork.layout import Arc, Layout, Line, Ornament, Ring

    readme = told()
    for model in (Layout, Line, Arc, Ring, Ornament):
        for key in set(model.model_fields) - {"note", "visible_angle"}:
            # In the table, in an example, or as the name of a table of the file.
            forms = (f"`{key}`", f"`{key} = ", f"{{ {key} = ", f", {key} = ", f"\n    {key} = ",
                    f"[[{key}]]")  # fmt: skip
            assert any(words in readme for words in forms), (model, key)


def test_the_readme_names_every_command_and_finding() -> None:
    readme = told()
    from mailmerge.cli import app

    for command in app.registered_commands:
        assert command.callback is not None
        assert f"mailmerge {command.name or command.callback.__name__}" in readme
    for words in ("python3 demo/run.py", "python3 tests/run.py"):
        assert words in readme


def test_what_takes_long_is_left_out_every_day_and_not_by_ci(
    request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    short = request.node
    long = pytest.Function.from_parent(short.parent, name="long", callobj=lambda: None)
    long.add_marker("long")
    for every, wanted in ((False, [short]), (True, [long, short])):
        monkeypatch.setenv(LONG, "1")
        if not every:
            monkeypatch.delenv(LONG)
        chosen = [short, long]
        pytest_collection_modifyitems(request.config, chosen)
        assert chosen == wanted
    assert "tests/run.py --long" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_table_of_findings_names_every_code_and_no_other() -> None:
    """Codes put together at run time included: see ``codes_of_findings.py``."""
    rows = re.findall(r"^\| finding \|.*\n(?:\|.*\n)+", told(), re.M)
    cells = [row.split("|")[1] for table in rows for row in table.splitlines()[2:]]
    named = {code for cell in cells for code in re.findall(r"`([^`]+)`", cell)}
    made = codes.made_in(ROOT / "mailmerge")
    assert len(made) > 50
    for pattern, place in made.items():
        assert any(re.fullmatch(pattern, code) for code in named), f"{place}: {pattern}"
    for code in named:
        assert any(re.fullmatch(pattern, code) for pattern in made), f"nothing makes {code}"


def test_codes_are_found_however_they_are_put_together(tmp_path: Path) -> None:
    (tmp_path / "checks.py").write_text(
        "WORDS = {2: 'two', 3: 'three'}\nSAID = {'blanks': 'stray'}\n"
        "def plain(): return Finding('a-b', 1)\n"
        "def keyword(): return Finding(severity=1, code='c-d')\n"
        "def either(stop): yield Finding('e-stop' if stop else 'e-warn', 1)\n"
        "def table(n): yield Finding(f'on-{WORDS[n]}-lines', 1)\n"
        "def looked_up(c): yield Finding(f'cleaned-{c.kind}', 1, SAID[c.kind])\n"
        "def column(line): yield Finding(f'{line.field}-is-date', 1)\n"
        "def helper(code): return Finding(code, 1)\n"
        "def calls(): return helper('f-g'), helper(code='h-i')\n"
        "def loop():\n"
        "    for wrong, code in ((1, 'j-k'), (2, 'l-m')):\n"
        "        name = f'{code}-n'\n"
        "        yield Finding(name, 1)\n"
    )
    assert set(codes.made_in(tmp_path)) == {
        "a-b", "c-d", "e-stop", "e-warn", "on-two-lines", "on-three-lines", "cleaned-blanks",
        "[a-z]+-is-date", "f-g", "h-i", "j-k-n", "l-m-n",
    }  # fmt: skip
    (tmp_path / "checks.py").write_text("def f(said): yield Finding(said.word, 1)\n")
    with pytest.raises(ValueError, match=r"checks\.py:1: cannot tell what said\.word may be"):
        codes.made_in(tmp_path)


def test_a_python_without_venv_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    script = runpy.run_path(str(ROOT / "demo" / "run.py"))
    ready = script["ready"]
    monkeypatch.setitem(ready.__globals__, "VENV", tmp_path / "venv")
    calls = []

    def no_venv(call: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        calls.append(call)
        return subprocess.CompletedProcess(call, 1, "", "ensurepip is not available")

    monkeypatch.setattr(subprocess, "run", no_venv)
    with pytest.raises(SystemExit) as ended:
        ready("test")
    assert "apt install python3-venv" in str(ended.value.code)
    assert len(calls) == 1
    monkeypatch.setattr(sys, "version_info", (3, 10, 4, "final", 0))
    with pytest.raises(SystemExit) as ended:
        ready("test")
    assert "needs Python 3.11 or newer, found 3.10.4" in str(ended.value.code)


def test_a_second_start_installs_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    script = runpy.run_path(str(ROOT / "demo" / "run.py"))
    ready = script["ready"]
    monkeypatch.setitem(ready.__globals__, "VENV", tmp_path)
    calls = []

    def done(call: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        calls.append(call)
        python = tmp_path / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
        python.parent.mkdir(exist_ok=True)
        python.touch()
        return subprocess.CompletedProcess(call, 0, "", "")

    monkeypatch.setattr(subprocess, "run", done)
    first = ready()
    assert [call[2] for call in calls] == ["venv", "pip"]
    calls.clear()
    assert ready() == first
    assert calls == []
    ready("test")  # wants more than is there
    assert [call[2] for call in calls] == ["pip", "pip"]


def test_examples_are_taken_as_they_stand() -> None:
    """Every indented block of README and manual that is TOML is a file, or a part of one."""
    import tomllib

    from mailmerge.artwork import Layout
    from mailmerge.blanks import Blank
    from mailmerge.machines import Machine
    from mailmerge.orders.order import OrderFile
    from mailmerge.shelves import validated
    from mailmerge.workshop.settings.recipes import Recipe
    from mailmerge.workshop.shop.shop import ShopFile

    order = {"order": {"title": "x", "list": "x.xlsx", "coat": "x"}}
    layout = {"name": "x", "line": [{"text": "{name}", "font": "Lora",
              "letter_height": {"max": 9, "min": 5}}]}  # fmt: skip
    coat = [{"name": "black", "colour": "#101010"}]
    blank = {"name": "x", "coat": coat, "height": "196 mm", "band": {"from": 9, "to": 99}}
    kinds = {  # a key that only this kind has; the model; what a part needs around it
        "order": (OrderFile, {}),
        "columns": (OrderFile, order),
        "blanks": (OrderFile, order),
        "spot": (Machine, {}),
        "outcome": (Recipe, {}),
        "rates": (ShopFile, {}),
        "line": (Layout, {}),
        "border": (Layout, layout),
        "circumference": (Blank, {}),
        "edge": (Blank, {}),
        "taper": (Blank, blank),
        "zone": (Blank, blank | {"circumference": "268 mm"}),
    }
    seen = {}
    for block in re.findall(r"(?:^(?: {4}.*)?\n)+", told(), re.M):
        try:
            data = tomllib.loads("\n".join(line[4:] for line in block.splitlines()))
        except tomllib.TOMLDecodeError:
            continue  # a command, a formula, JSON
        if data:
            kind = next((kind for kind in kinds if kind in data), None)
            assert kind, f"what is this? {block}"
            model, around = kinds[kind]
            seen[kind] = validated(model, {**around, **data}, "manual")
    assert set(seen) == set(kinds)
    assert seen["taper"].tilt > 3
    assert seen["edge"].is_flat
    assert seen["outcome"].date <= dt.date.today()  # a later one is refused
    shop = seen["rates"]  # It is shown with every key there is.
    for table in (shop.shop, shop.minutes, shop.rates, shop.price, shop.price.step[0]):
        assert table.model_fields_set == set(type(table).model_fields)
