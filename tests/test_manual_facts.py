"""What the README and the manual say is so: names, files, words of columns, codes, the screen."""

from __future__ import annotations

import io
import re
import sys
from typing import Any

import pytest
import typer
from conftest import ROOT
from typer.testing import CliRunner

from mailmerge.cli import app, manual as command
from mailmerge.cli.common import FAULT, INTERRUPTED, READY, STOPPED, UNHEARD, WRONG
from mailmerge.guests.columns import FIELDS, recognised
from mailmerge.manual import FILES, TASKS, page
from mailmerge.shelves import shelf

PAGES = (*TASKS, *FILES)


def told() -> dict[str, str]:
    """Return what users are told: each page by its name, and the README."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    return {"README": readme} | {name: page(name).text for name in PAGES}


def options_of(each: Any) -> set[str]:
    """Return the long options of a command, or of the whole program."""
    return {word for parameter in each.params for word in parameter.opts if word.startswith("--")}


PROGRAM: Any = typer.main.get_command(app)
COMMANDS: dict[str, Any] = dict(PROGRAM.commands)


def test_every_file_of_the_library_that_is_told_is_there() -> None:
    for name, text in told().items():
        for path in re.findall(r"templates/[\w/.-]*\w", text):
            assert (ROOT / path).exists(), (name, path)


@pytest.mark.parametrize("kind", ["blank", "layout", "machine"])
def test_every_name_of_the_library_that_is_told_is_there(kind: str) -> None:
    """In files (``blank = "…"``) as in calls (``--blank …``)."""
    there = set(shelf(f"{kind}s"))  # type: ignore[arg-type]
    named = re.compile(rf'\b{kind} = "([a-z0-9-]+)"|--{kind} ([a-z0-9-]+)(?=[\s`])')
    said = {
        ("".join(found), name) for name, text in told().items() for found in named.findall(text)
    }
    assert len(said) > 1
    for value, name in said:
        assert value in there or (kind, value) == ("blank", "any"), (name, value)


def test_words_of_columns_that_are_told_are_recognised() -> None:
    """And every column that a list may have is told; first and last names make up a name."""
    rows = re.findall(r"^\| (\w+) \| ([^|]+) \|", page("guest-list").text, re.M)
    said = {column: words for column, words in rows if column != "column"}
    assert {*said, "first", "last"} == set(FIELDS)
    for column, words in said.items():
        for word in re.split(r", | \.\.\. or | and ", words.strip()):
            takes = {"name", "first", "last"} if column == "name" else {column}
            assert {field for field, _ in recognised([word])} & takes, (column, word)


def test_commands_that_write_json_are_told_and_no_others() -> None:
    able = {name for name, each in COMMANDS.items() if "--json" in options_of(each)}
    paragraphs = page("exit-codes").text.split("\n\n")
    (about,) = (each for each in paragraphs if "`--json`" in each)
    assert set(re.findall(r"`([a-z-]+)`", about)) - {"--json"} == able


def test_exit_codes_that_are_told_are_those_that_there_are() -> None:
    said = re.findall(r"^\| (\d+) \|", page("exit-codes").text, re.M)
    assert [int(code) for code in said] == [READY, UNHEARD, WRONG, STOPPED, FAULT, INTERRUPTED]


class Terminal(io.StringIO):
    """Somebody's screen."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize("name", PAGES)
def test_nothing_of_a_page_is_cut_off_on_a_narrow_screen(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is to be typed, cells of tables and the page's last words: blanks and signs aside."""
    screen = Terminal()
    monkeypatch.setattr(sys, "stdout", screen)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("TERM", "xterm-256color")
    command.manual(name)
    shown = re.sub(r"\x1b\][^\x1b]*\x1b\\|\x1b\[[\d;]*m", "", screen.getvalue())
    assert max(map(len, shown.splitlines())) <= 80
    run_together = "".join(shown.split())
    text = page(name).text
    for row in re.findall(r"^ {4,}(\S.*)$", text, re.M):
        assert "".join(row.split()) in run_together, row
    codes = re.findall(r"^\| `([^`]+)`", text, re.M)
    assert [code for code in codes if code[:12] not in run_together] == []
    last = re.findall(r"\w+", re.sub(r"\]\([^)]*\)", "", text))[-1]
    assert last in run_together[-60:]


def test_a_shell_completes_commands_and_options() -> None:
    def completed(words: str) -> set[str]:
        ask = {
            "_MAILMERGE_COMPLETE": "complete_bash",
            "COMP_WORDS": words,
            "COMP_CWORD": str(len(words.split()) - 1),
        }
        return set(CliRunner().invoke(app, [], env=ask, prog_name="mailmerge").output.split())

    assert completed("mailmerge manua") == {"manual"}
    assert completed("mailmerge kee") == {"keep-sizes", "keep-recipe", "keep-layout"}
    assert completed("mailmerge quote --quan") == {"--quantity"}
    assert "--install-completion" in options_of(PROGRAM)
    assert any(
        "`mailmerge --install-completion`" in " ".join(text.split()) for text in told().values()
    )
