"""Beginning an order: what its list does not say is asked, and nothing is written before."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from openpyxl import Workbook
from outside import cli

from mailmerge.deeds.making import NOTHING_SAID, AboutList, Given, Started, new
from mailmerge.deeds.questions import Question
from mailmerge.findings import InputError
from mailmerge.orders import open_order


def question(folder: Path, list_file: Path, said: AboutList = NOTHING_SAID) -> Question[AboutList]:
    """Begin an order that leaves something open; see that nothing was written."""
    asked = new(folder, list_file, said=said)
    assert isinstance(asked, Question)
    assert not folder.exists()
    return asked


def started(folder: Path, list_file: Path, said: AboutList) -> Started:
    begun = new(folder, list_file, said=said)
    assert isinstance(begun, Started)
    return begun


def names_in(folder: Path) -> list[str]:
    order = open_order(folder)
    return [guest.name for guest in order.guests.guests()]


def test_columns_that_the_list_does_not_tell_are_asked_for(tmp_path: Path) -> None:
    """Also below a title, which is narrower than the header; one question after the other."""
    lists = tmp_path / "l.csv"
    lists.write_text("Wintergala\nWer,Was,Wo\nAnn Berg,Horn,links\nBo Dahl,Oboe,rechts\n")
    folder = tmp_path / "gala"
    first = question(folder, lists)
    assert [(option.key, option.words) for option in first.options[:-1]] == [
        ("1", "Wer"), ("2", "Was"), ("3", "Wo"),
    ]  # fmt: skip
    assert (
        'which column is the name. 1 is "Wer" (Ann Berg, Bo Dahl). 2 is "Was" (Horn, Oboe). '
        in first.words
    )
    second = question(folder, lists, first.options[0].answer)
    assert "which column is the role" in second.words
    assert [option.words for option in second.options[:-1]] == ["Was", "Wo"]
    begun = started(folder, lists, second.options[0].answer)
    assert begun.columns == {"name": "Wer", "role": "Was"}
    assert begun.open_question == ""
    assert names_in(folder) == ["Ann Berg", "Bo Dahl"]


def test_two_columns_that_could_be_the_role_are_both_offered(tmp_path: Path) -> None:
    lists = tmp_path / "l.csv"
    lists.write_text("Name,Part,Position\nAnn Berg,Horn,links\n")
    folder = tmp_path / "gala"
    asked = question(folder, lists)
    assert [option.words for option in asked.options[:-1]] == ["Part", "Position"]
    assert started(folder, lists, asked.options[0].answer).columns["role"] == "Part"


def test_headers_that_are_alike_are_not_offered(tmp_path: Path) -> None:
    """By such a header an order could not say which one is meant; there is the file for that."""
    lists = tmp_path / "l.csv"
    lists.write_text("Name,Part,part\nAnn Berg,Horn,links\n")
    begun = started(tmp_path / "gala", lists, NOTHING_SAID)
    assert "Two columns could be the role" in begun.open_question
    with pytest.raises(InputError, match="Two columns could be the role"):
        open_order(tmp_path / "gala")


def test_of_several_sheets_one_is_asked_for(tmp_path: Path) -> None:
    book = Workbook()
    for title, name in (("Players", "Ann Berg"), ("Choir", "Bo Dahl")):
        sheet = book.create_sheet(title)
        for row in (("Name", "Role"), (name, "Alto")):
            sheet.append(row)
    book.save(tmp_path / "l.xlsx")
    folder = tmp_path / "gala"
    asked = question(folder, tmp_path / "l.xlsx")
    assert asked.words == 'Several sheets could hold the guests. 1 is "Players". 2 is "Choir".'
    assert started(folder, tmp_path / "l.xlsx", asked.options[1].answer).open_question == ""
    assert names_in(folder) == ["Bo Dahl"]


@pytest.mark.parametrize(
    ("text", "answered", "changes"),
    [
        ("Wer,Was\nAnn,Horn\n", 0, {"[columns]": "", "name": "Wer", "role": "Was"}),
        ("Wer,Was\nAnn,Horn\n", 1, {"role": "Was"}),
        ("Name,Part,Title\nAnn,Horn,x\n", 0, {"[columns]": "", "role": "Part"}),
    ],
)
def test_what_is_left_open_has_its_place_in_the_order(
    tmp_path: Path, text: str, answered: int, changes: dict[str, str]
) -> None:
    """Where some was answered and the rest is left, too."""
    lists, folder = tmp_path / "l.csv", tmp_path / "gala"
    lists.write_text(text)
    said = NOTHING_SAID
    for _ in range(answered):
        said = question(folder, lists, said).options[0].answer
    begun = started(folder, lists, question(folder, lists, said).options[-1].answer)
    assert begun.open_question
    with pytest.raises(InputError):
        open_order(folder)
    file = folder / "order.toml"
    lines = file.read_text().splitlines()
    for key, header in changes.items():
        (at,) = (n for n, line in enumerate(lines) if line.split(" = ")[0] == f"# {key}")
        lines[at] = f'{key} = "{header}"' if header else key
    file.write_text("\n".join(lines))
    assert names_in(folder) == ["Ann"]


def test_a_field_of_the_layout_is_asked_for(tmp_path: Path) -> None:
    lists, folder = tmp_path / "l.csv", tmp_path / "gala"
    lists.write_text("Name,Desk\nAnn Berg,3\n")
    asked = new(folder, lists, Given(layout="name-over-role"))
    assert isinstance(asked, Question)
    assert 'which column is the role. Is it "Desk" (3)?' in asked.words


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")
def test_on_a_terminal_it_is_typed(tmp_path: Path) -> None:
    import pty

    (tmp_path / "l.csv").write_text("Wer,Was\nAnn Berg,Horn\n")
    main, other = pty.openpty()
    os.write(main, b"7\n1\ny\n")
    done = subprocess.run(
        [sys.executable, "-m", "mailmerge", "new", "gala", "--list", "l.csv"],
        stdin=other, stdout=subprocess.PIPE, stderr=other, text=True, cwd=tmp_path, timeout=60,
    )  # fmt: skip
    shown = os.read(main, 65536).decode()
    os.close(main)
    os.close(other)
    assert done.returncode == 0, shown
    assert "This is not an answer. Type 1, 2, or n." in shown
    assert 'name: column "Wer"' in done.stdout
    assert open_order(tmp_path / "gala").guests.columns.titles["role"] == "Was"


def test_what_is_not_used_is_offered_with_its_first_values(tmp_path: Path) -> None:
    """By the command that begins an order, and by the one that makes it."""
    lists, folder = tmp_path / "l.csv", tmp_path / "gala"
    lists.write_text("Attendee,What they do,Beaker,Lefty?\nAnn Berg,Horn,navy,yes\n")
    told = cli("new", folder, "--list", lists)
    assert 'role: column "What they do"' in told
    unused = '  not used: "Beaker" (navy). To use one, put its header under [columns]'
    assert unused in told
    made = cli("merge", folder, "--jobs", 1)
    assert 'name from "Attendee", role from "What they do", hand from "Lefty?"' in made
    assert unused in made


def test_a_field_that_is_missing_names_the_columns_that_were_seen(tmp_path: Path) -> None:
    lists = tmp_path / "l.csv"
    lists.write_text("Name,Was\nAnn Berg,Horn\n")
    with pytest.raises(InputError, match=r'no field \{role\}.*Columns not used: "Was"'):
        cli("merge", lists, "--layout", "name-over-role")
