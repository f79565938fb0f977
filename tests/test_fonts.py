"""Fonts for a list, their licences, specimens; damaged fonts."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path

import fontpkg
import numpy as np
import pytest
from boxfont import write_box_font
from conftest import DEMO, Samples
from fontTools.ttLib import TTFont
from PIL import Image
from typer.testing import CliRunner

from mailmerge.cli import app
from mailmerge.findings import InputError
from mailmerge.lettering import families, licence_of, open_font

HERE = Path()
RUNNER = CliRunner()
CASES = 30, 520
"""Of each kind."""


@pytest.mark.long
@pytest.mark.parametrize(
    ("family", "packed"),
    [("Great Vibes", False), ("Cinzel", False), ("Amiri", False), ("Great Vibes", True)],
    ids=["static", "variable", "arabic", "woff2"],
)
def test_no_damaged_font_crashes_or_hangs(family: str, packed: bool, samples: Samples) -> None:
    """Truncations and changed bytes, 2,080 cases with ``--all``, each within ten seconds."""
    cases = samples(*CASES)
    script = Path(__file__).with_name("fuzz_fonts.py")
    result = subprocess.run(
        [
            sys.executable, "-X", "faulthandler", str(script), str(fontpkg.path(family)),
            "20261212", str(cases), *(["packed"] if packed else []),
        ],
        capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    assert result.returncode == 0, result.stdout + result.stderr[-3000:]
    opened, refused = (int(word) for word in result.stdout.split() if word.isdigit())
    assert opened + refused == cases
    assert refused > 10


@pytest.mark.parametrize("share", [0.5, 0.9, 0.999])
def test_a_font_that_is_cut_short_is_refused(share: float, tmp_path: Path) -> None:
    data = Path(fontpkg.path("Great Vibes")).read_bytes()
    (tmp_path / "cut.ttf").write_bytes(data[: int(len(data) * share)])
    with pytest.raises(InputError, match=r"cut\.ttf: The file is not a whole font\."):
        open_font("cut.ttf", 400, tmp_path)


def with_names(path: Path, fs_type: int, **names: str) -> Path:
    """Write the box font with embedding bits and licence strings of its own."""
    write_box_font(path)
    font = TTFont(path)
    font["OS/2"].fsType = fs_type
    for name_id, text in names.items():
        font["name"].setName(text, int(name_id.removeprefix("n")), 3, 1, 0x409)
    font.save(path)
    return path


@pytest.mark.parametrize(
    ("bits", "words", "restricted"),
    [
        # OpenType specification, OS/2 table, fsType.
        (0x000, "may be embedded and installed", False),
        (0x002, "not to be embedded in anything without its owner's leave (restricted)", True),
        (0x004, "may be embedded to view and print", False),
        (0x008, "may be embedded and edited", False),
        (0x104, "may be embedded to view and print, not in parts", False),
        (0x208, "may be embedded and edited, as bitmaps only", False),
    ],
)
def test_embedding_bits_in_words(bits: int, words: str, restricted: bool, tmp_path: Path) -> None:
    font = open_font(str(with_names(tmp_path / "f.ttf", bits)), 400, HERE)
    found = licence_of(font)
    assert (found.embedding, found.restricted) == (words, restricted)


def test_licence_strings_are_the_files_own(tmp_path: Path) -> None:
    """Name IDs 0, 13 and 14 of the OpenType specification, read by fontTools as well."""
    path = with_names(tmp_path / "f.ttf", 0, n0="(c) Test", n13="Ask first.", n14="https://x.test")
    found = licence_of(open_font(str(path), 400, HERE))
    assert (found.copyright, found.words, found.url) == ("(c) Test", "Ask first.", "https://x.test")
    for family in families():
        font = open_font(str(family.name), 400, HERE)
        stated = licence_of(font)
        with TTFont(font.path, lazy=True) as opened:
            for name_id, ours in ((0, stated.copyright), (13, stated.words), (14, stated.url)):
                assert ours == " ".join((opened["name"].getDebugName(name_id) or "").split())


def test_a_restricted_font_is_a_warning_in_every_order_that_uses_it(tmp_path: Path) -> None:
    with_names(tmp_path / "mine.ttf", 2)
    (tmp_path / "guests.csv").write_text("Name\nAB\nHH\n")
    (tmp_path / "l.toml").write_text(
        'name = "x"\n[[line]]\ntext = "{name}"\nfont = "mine.ttf"\n'
        'letter_height = { max = "9 mm", min = "5 mm" }\n'
    )
    result = RUNNER.invoke(
        app, ["check", str(tmp_path / "guests.csv"), "--layout", str(tmp_path / "l.toml"), "--json"]
    )
    (found,) = json.loads(result.output)["order"]["findings"]
    assert (found["code"], found["severity"]) == ("font-restricted", "warning")
    assert "Test Boxes says of itself: not to be embedded" in found["message"]
    assert "not legal advice" in found["advice"]


def judged(*arguments: str) -> dict[str, dict]:
    result = RUNNER.invoke(app, ["fonts", *arguments, "--json"])
    assert result.exit_code == 0, result.output + str(result.exception)
    return {row["family"]: row for row in json.loads(result.output)}


def test_fonts_are_judged_for_a_list() -> None:
    found = judged("--list", str(DEMO), "--fonts", "Great Vibes,EB Garamond,Lora")
    assert list(found) == ["Great Vibes", "EB Garamond", "Lora"]
    vibes, garamond = found["Great Vibes"], found["EB Garamond"]
    assert vibes["connects"]
    assert not garamond["connects"]
    assert set("αξ李") <= set(vibes["lacks"])
    assert set(garamond["lacks"]) == set("李美玲🎻")  # it holds Greek and Cyrillic
    assert "Αλέξανδρος Παππάς" in vibes["guests"]
    assert vibes["licence_url"].startswith("https://openfontlicense.org")
    # Checked against the font's own character map, by fontTools.
    for family, row in found.items():
        with TTFont(fontpkg.path(family), lazy=True) as opened:
            cmap = opened.getBestCmap()
        assert all(ord(char) not in cmap for char in row["lacks"])


def test_the_letter_height_is_what_the_order_would_settle_on(gala: Path) -> None:
    height = judged("--list", str(DEMO), "--fonts", "Great Vibes")["Great Vibes"][
        "letter_height_mm"
    ]
    report = json.loads((gala / "report.json").read_text(encoding="utf-8"))
    assert report["order"]["sizes"][0]["letter_height_mm"] == pytest.approx(height, abs=0.01)


def test_a_font_file_of_ones_own_is_judged_too(box_font: Path, tmp_path: Path) -> None:
    (tmp_path / "guests.csv").write_text("Name\nHo\nH\u00e9\n", encoding="utf-8")
    found = judged("--list", str(tmp_path / "guests.csv"), "--layout", "name-alone",
                   "--fonts", str(box_font))  # fmt: skip
    row = found["Test Boxes"]
    assert (row["lacks"], row["guests"], row["guests_lacking"]) == (["é"], ["Hé"], 1)


def test_fonts_in_words_says_that_it_is_no_legal_advice() -> None:
    result = RUNNER.invoke(app, ["fonts", "--list", str(DEMO), "--fonts", "Lora"])
    words = " ".join(result.output.split())
    assert "not legal advice" in words
    assert "Keep your own proof of licence with the order" in words


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["fonts", "--fonts", "Lora"], "--fonts goes with --list"),
        (
            ["fonts", "--list", str(DEMO), "--fonts", "Loro"],
            '"Loro" is not installed. Did you mean "Lora"',
        ),
        (
            ["specimen", str(DEMO), "--fonts", ",".join(["Lora"] * 13)],
            "Found 13 fonts. A specimen shows 12 at most.",
        ),
        (["specimen", str(DEMO), "--fonts", "no.ttf"], "no.ttf: The file cannot be read"),
    ],
)
def test_wrong_calls_are_said(arguments: list[str], says: str) -> None:
    result = RUNNER.invoke(app, arguments)
    assert result.exit_code != 0
    assert says in str(result.exception)


def test_a_specimen_shows_three_names_in_each_font(tmp_path: Path) -> None:
    file = tmp_path / "specimen.png"
    result = RUNNER.invoke(
        app, ["specimen", str(DEMO), "--fonts", "Great Vibes,EB Garamond", "--out", str(file)]
    )
    assert result.exit_code == 0, result.output
    picture = np.asarray(Image.open(io.BytesIO(file.read_bytes())).convert("RGB")).astype(int)
    assert picture.shape[1] == 1800
    coat = (picture == (0x5C, 0x14, 0x22)).all(axis=2) | (
        (picture[..., 0] > 70) & (picture[..., 1] < 40) & (picture[..., 2] < 60)
    )
    # Two rows of three faces: count the runs of coat along and down the picture.
    row = coat[200]
    assert (np.diff(row.astype(int)) == 1).sum() >= 3
    columns = coat[:, 80]
    assert (np.diff(columns.astype(int)) == 1).sum() == 2


def test_the_telling_names_are_shortest_longest_and_trickiest() -> None:
    from mailmerge.candidates import telling_names
    from mailmerge.guests import Guest

    guests = [
        Guest(2 + at, {"name": name, "first": name, "last": "", "role": ""})
        for at, name in enumerate(["Jo Li", "Maximilian Untersberger", "Zoë Ångström", "Anna May"])
    ]
    assert [g.name for g in telling_names(guests, [])] == [
        "Jo Li", "Maximilian Untersberger", "Zoë Ångström",
    ]  # fmt: skip
