"""``mailmerge measure``: readings of tape and callipers become a blank, or are refused."""

from __future__ import annotations

import math
import re
import shlex
import subprocess
from pathlib import Path

import outside
import pytest
from hypothesis import given, strategies as st
from typer.testing import CliRunner

from mailmerge.blanks import Blank, Coat
from mailmerge.blanks.asking import Answers, answered, next_question
from mailmerge.blanks.measuring import (
    Rest,
    Tapes,
    coats_in,
    girth,
    inches_as_typed,
    measure,
    measured_blank,
)
from mailmerge.cli import app
from mailmerge.deeds.measuring import begin, measure_as_answered
from mailmerge.findings import InputError
from mailmerge.shelves import load, validated
from mailmerge.units import format_inches, parse_length, parse_lengths

REST = Rest(190.0, (45.0, 165.0), 26.0, 12.0, 5.0)


def run(*arguments: str) -> str:
    result = CliRunner().invoke(app, ["measure", *arguments], catch_exceptions=False)
    assert result.exit_code == 0
    return result.output


def refused(*arguments: str) -> str:
    with pytest.raises(InputError) as error:
        CliRunner().invoke(app, ["measure", *arguments], catch_exceptions=False)
    return str(error.value)


def test_mean_and_spread() -> None:
    found = measure("around", [314.0, 315.0, 313.0])
    assert (found.mean, found.spread) == (314, 2)


def test_readings_that_contradict_each_other_are_refused() -> None:
    measure("around", [300.0, 303.0])  # a hundredth of the mean of 301.5 mm
    with pytest.raises(InputError, match=r"contradict each other\. 300 mm, 304 mm differ by 4 mm"):
        measure("around", [300.0, 304.0])
    measure("across", [20.0, 21.0])  # never under a millimetre
    with pytest.raises(InputError, match=r"differ by 1.1 mm; at most 1 mm"):
        measure("across", [20.0, 21.1])


def test_tape_and_callipers_must_agree() -> None:
    # C = pi d, any handbook: 100 mm across are 314.16 mm around.
    agree = girth("", [314.0], [100.0])
    assert agree
    assert agree.circumference == 314
    assert girth("", [], [100.0]).circumference == pytest.approx(100 * math.pi)
    assert girth("", [], []) is None
    with pytest.raises(InputError, match=r"318 mm around, but 100 mm across goes with 314.16 mm"):
        girth("", [318.0], [100.0])


def test_two_tapes_along_the_wall_or_straight_up() -> None:
    """The triangle 24, 32, 40: radii 24 mm apart, 32 mm straight up, 40 mm along the wall."""
    low, high = (girth("", [2 * math.pi * radius], []) for radius in (48.0, 72.0))
    assert low
    assert high
    up = Tapes(low, high, measure("", [32.0]), True, 0.0)
    along = Tapes(low, high, measure("", [40.0]), False, 0.0)
    assert up.distance == pytest.approx(40)
    assert along.distance == 40
    blank, _ = measured_blank("x", [Coat(name="x", colour="#000000")], up, Rest(60, (5, 55)))
    assert math.sin(math.radians(blank.tilt)) == pytest.approx(24 / 40, rel=1e-4)
    with pytest.raises(InputError, match=r"radii differ by 24 mm, but along the wall .* only 20"):
        Tapes(low, high, measure("", [20.0]), False, 0.0).check()


@given(
    around=st.floats(200, 500), height=st.floats(60, 250), handle=st.floats(0, 20),
    taper=st.floats(-0.6, 0.6),
)  # fmt: skip
def test_the_file_says_what_was_measured(
    around: float, height: float, handle: float, taper: float
) -> None:
    import tomllib

    low = girth("", [around - taper * 25], [])
    high = girth("", [around + taper * 25], [])
    assert low
    assert high
    tapes = Tapes(low, high, measure("", [50.0]), False, 5.0)
    blank, text = measured_blank(
        "Mine", coats_in("red #aa0000"), tapes, Rest(height, (10, height - 10), handle, 5.0)
    )
    assert validated(Blank, tomllib.loads(text), "again") == blank
    assert blank.circumference_at(30) == pytest.approx(around, abs=0.02)
    assert blank.coat[0].name == "red"


def test_the_command_says_and_writes_it(tmp_path: Path) -> None:
    out = tmp_path / "my-cup.toml"
    said = run(
        "--around", "12 3/8 in", "--around", "12 7/16 in", "--height", "190 mm",
        "--band-from", "45 mm", "--band-to", "165 mm", "--handle", "26 mm", "--clearance", "12 mm",
        "--stands-out", "5 mm", "--name", "My cup", "--out", str(out),
    )  # fmt: skip
    # 12 3/8 and 12 7/16 in: 314.325 and 315.9125 mm (NIST SP 811, appendix B.8).
    assert "mean 315.12 mm  (12 3/8 in), spread 1.59 mm, 2 readings" in said
    assert f"diameter {315.11875 / math.pi:.2f} mm" in said
    assert "face, drinker: 105 mm" in said
    # A chuck that is told 1 mm too much around turns a line of 105 mm by 1 / 315 too little.
    assert "comes out 0.33 mm wider or narrower (0.32%)" in said
    blank = load(Blank, "blanks", str(out), tmp_path)
    assert blank.page_width == pytest.approx(315.12)
    assert (blank.zones[0].edge, blank.handle.stands_out) == (25, 5)
    assert "tape 314.32 mm, 315.91 mm" in out.read_text(encoding="utf-8")
    assert (blank.inches, blank.name) == (16, "My cup")
    again = "--around", "314", "--height", "100", "--out"
    said = refused(*again, str(out), "--name", "Another")
    assert "is there already. It is left as it is" in said
    # A name that another blank has, here or in the library, is no name.
    other = str(tmp_path / "other.toml")
    assert "The blank has no name" in refused(*again, other)
    for name in ("my CUP", "lowball-10oz", "Lowball, 10 oz class"):
        assert f'is called "{name}" already' in refused(*again, other, "--name", name)
    assert not Path(other).exists()


def test_a_tapered_wall_by_the_command() -> None:
    said = run(
        "--around-base", "230 mm", "--across-base", "73.2 mm", "--around-top", "300 mm",
        "--apart", "100 mm", "--height", "150 mm", "--lower", "10 mm",
    )  # fmt: skip
    lean = math.degrees(math.asin(70 / 100 / 2 / math.pi))
    assert f"leans by {lean:.2f}° ({2 * lean:.2f}° from side to side), wider at the mouth" in said
    # The band is the whole wall; its middle is 75 mm up: 230 + 0.7 * 65.
    assert "in the middle of the band 275.5 mm around" in said
    assert "around at the base, by tape: mean 230 mm, spread 0 mm, 1 reading" in said


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ((), "Give readings, such as --around"),
        (("--around", "314"), r"--height: The length is missing\. Give one"),
        (("--around", "wide", "--height", "1"), r"--around: Found .wide.\. Give a length"),
        (
            ("--around", "314", "--around-top", "300", "--height", "1"),
            "straight wall and of a tapered wall",
        ),
        (("--around-top", "300", "--height", "1"), "or of two"),
        (("--around-top", "300", "--around-base", "280", "--height", "1"), "either --apart"),
        (
            ("--around", "314", "--height", "100", "--out", "x.txt"),
            r"x.txt: The name of a blank file ends in \.toml",
        ),
        (
            ("--around", "314", "--height", "100", "--band-to", "120"),
            "the measures: band: Found from 0 to 120",
        ),
        (
            ("--around", "0", "--height", "100"),
            r"around, by tape: Found 0 mm\. A reading is above 0",
        ),
    ],
)
def test_what_the_command_refuses(arguments: tuple[str, ...], says: str) -> None:
    assert re.search(says, refused(*arguments))


def typed_on_a_terminal(
    answers: str, folder: Path, call: str = "mailmerge measure"
) -> subprocess.CompletedProcess[str]:
    return outside.typed(answers, *shlex.split(call)[1:], folder=folder)


END_OF_INPUT = "\x04"


def test_answers_outlive_the_end_of_input(tmp_path: Path) -> None:
    """They are printed as a call, which goes on from there and makes the same blank."""
    first = 'Nan\'s "cup"\nn\n11 5/8 in, 11 11/16\n\n7 5/16\n1/2\n\n1\n'
    rest = "\ny\n1/4\nnavy, lilac\n"
    whole = typed_on_a_terminal(f"{first}{rest}whole\n", tmp_path)
    assert whole.returncode == 0, whole.stderr
    (tmp_path / "whole.toml").rename(tmp_path / "whole.txt")
    for typed in (first, first + rest[:3]):
        left = typed_on_a_terminal(typed + END_OF_INPUT, tmp_path)
        assert left.returncode != 0
        assert "Traceback" not in left.stderr
        call = left.stdout.split("To go on from there, type:\n")[1].strip()
        more = (first + rest).removeprefix(typed)
        done = typed_on_a_terminal(f"{more}part\n", tmp_path, call)
        assert done.returncode == 0, done.stderr
        (tmp_path / "part.toml").rename(tmp_path / "part.txt")
        assert (tmp_path / "part.txt").read_text() == (tmp_path / "whole.txt").read_text()


def test_what_is_given_and_not_asked_is_not_passed_over(tmp_path: Path) -> None:
    call = 'mailmerge measure --ask --name A --around 295mm --across "" --height 186mm --rise 9mm'
    done = typed_on_a_terminal("\n\n\n\nnavy\n\n", tmp_path, call)
    assert "--rise: With your other answers this is not asked" in done.stderr
    assert '--coat "navy"' in done.stdout
    assert not list(tmp_path.iterdir())


def test_on_a_terminal_it_asks(tmp_path: Path) -> None:
    """Through a real terminal, as a maker types: blank answers keep what is proposed."""
    answers = (
        "Lowball, 10 oz class\nMine\nn\n12 3/8\n12 3/8 in, 12 7/16\n99.9 mm\n"
        "190 mm\n200 mm\n45 mm\n165 mm\n26 mm\n\ny\n5 mm\nnavy, lilac\n\n"
    )  # common practice
    done = typed_on_a_terminal(answers, tmp_path)
    assert done.returncode == 0, done.stderr
    assert "Written: mine.toml" in done.stdout
    blank = load(Blank, "blanks", "mine.toml", tmp_path)
    assert blank.page_width == pytest.approx(315.12)
    assert (blank.handle.width, blank.handle.comes_off) == (26, True)
    # Ten millimetres are offered as a tape in inches has them: 7/16 in.
    assert blank.handle.clearance == pytest.approx(7 / 16 * 25.4, abs=0.005)
    assert [coat.name for coat in blank.coat] == ["navy", "lilac"]
    for said in (
        "[7/16 in]",
        "[190 mm]",
        'A blank is called "Lowball, 10 oz class" already',
        'Found "12 3/8", without a unit. Type it once with its unit',
        "From now on a number without a unit means inches",
        "band: Found from 200 to 190 mm",
    ):
        assert said in done.stdout


STRAIGHT = {
    "name": "Mine", "tapered": "n", "around": "295 mm", "across": "", "height": "186 mm",
    "band-from": "40", "band-to": "", "handle": "24", "clearance": "11", "comes-off": "",
    "stands-out": "", "coats": "navy", "file": "",
}  # fmt: skip
TAPERED = STRAIGHT | {
    "tapered": "y", "around-base": "9 1/8 in", "across-base": "", "around-top": "11 7/8",
    "across-top": "", "apart": "6 1/4", "lower": "1/2", "height": "7 3/8", "band-from": "1",
    "handle": "0", "clearance": "",
}  # fmt: skip


def asked(typed: dict[str, str], wrong: dict[str, str] | None = None) -> tuple[Answers, list[str]]:
    """Answer all questions; where there is a wrong answer, first that one. Return what was said."""
    answers, said, wrong = Answers(), [], dict(wrong or {})
    while (question := next_question(answers)) is not None:
        if text := wrong.pop(question.key, None):
            before = answers
            with pytest.raises(InputError) as error:
                answered(question, text, answers)
            said.append(str(error.value))
            assert answers == before  # nothing is lost
        answers, told = answered(question, typed[question.key], answers)
        said += [told] * bool(told)
    assert not wrong
    return answers, said


@pytest.mark.usefixtures("elsewhere")
@pytest.mark.parametrize(
    ("typed", "key", "wrong", "says"),
    [
        (STRAIGHT, "around", "11.6", 'Found "11.6", without a unit'),
        (STRAIGHT, "around", "11 5/8", 'Found "11 5/8", without a unit'),
        (STRAIGHT, "around", "11.6 mm", "Found 11.6 mm. A cup around is from 60 mm to 2000 mm"),
        (STRAIGHT, "around", "295 mm, 301", "The readings contradict each other"),
        (STRAIGHT, "around", "wide", 'Found "wide"'),
        (STRAIGHT, "across", "98", "Tape and callipers contradict each other"),
        (STRAIGHT, "height", "7 5/16", "A fraction needs its unit"),
        (STRAIGHT, "height", "7", "The height of a cup is from 20 mm"),
        (STRAIGHT, "band-from", "186", "band: Found from 186 to 186 mm"),
        (STRAIGHT, "band-to", "187", "lie within the height of 186 mm"),
        (STRAIGHT, "band-to", "40", "Give a lower edge below the upper one"),
        (STRAIGHT, "handle", "95", "A handle is narrower than its cup, which is 93.9 mm across"),
        (STRAIGHT, "clearance", "70", "Nothing is left of the drinker's face"),
        (STRAIGHT, "clearance", "-1", "Found -1 mm. Give a length from 0 up"),
        (STRAIGHT, "comes-off", "perhaps", "Type y for yes or n for no"),
        (STRAIGHT, "coats", "navy, Navy", 'Found the coat "Navy" twice'),
        (STRAIGHT, "coats", "lilac #zz", "A colour is written like"),
        (STRAIGHT, "coats", ",", "Say at least one coat"),
        (STRAIGHT, "file", "there.toml", "The file is there already"),
        (STRAIGHT, "file", "nowhere/x.toml", "There is no such folder"),
        (TAPERED, "around-top", "3", "No cup is so much wider at one end"),
        (TAPERED, "apart", "1/4", "Their radii differ by"),
        (TAPERED, "apart", "4, 5", "The readings contradict each other"),
        (TAPERED, "height", "6 1/2", "The upper tape lies"),
    ],
)
def test_each_answer_is_judged_at_once_and_asked_again(
    typed: dict[str, str], key: str, wrong: str, says: str
) -> None:
    Path("there.toml").write_text("")
    if typed is STRAIGHT and key == "across":
        typed = typed | {"across": "93.9"}
    _, said = asked(typed, {key: wrong})
    assert any(says in each for each in said), said


@pytest.mark.usefixtures("elsewhere")
def test_what_is_offered_and_said_is_in_the_unit_that_holds() -> None:
    answers = Answers()
    offered = {}
    while (question := next_question(answers)) is not None:
        if question.key == "height":
            with pytest.raises(InputError, match=r"A plain number means inches\.$"):
                answered(question, "high", answers)
        offered[question.key] = question.otherwise(answers)
        answers, _ = answered(question, (TAPERED | {"height": "7.3"})[question.key], answers)
    # As it was typed, so that nothing is rounded; 4 mm are at least 3/16 in.
    assert (offered["band-to"], offered["clearance"]) == ("7.3 in", "3/16 in")
    assert answers.rest.band == (25.4, answers.rest.height)
    answers, _ = asked(STRAIGHT | {"around": "29.5 cm", "height": "18.6", "band-from": "4",
                                   "handle": "2.4", "clearance": "1.1"})  # fmt: skip
    assert answers.rest == Rest(186.0, (40.0, 186.0), 24.0, 11.0, None)


@pytest.mark.usefixtures("elsewhere")
def test_back_asks_the_question_before_again() -> None:
    """So a first tape that was read wrong is mended when the callipers contradict it."""
    answers = Answers()
    for key, typed in (("name", "Mine"), ("tapered", "n"), ("around", "11 3/8 in")):
        question = next_question(answers)
        assert question is not None
        assert question.key == key
        if key == "name":
            with pytest.raises(InputError, match="This is the first question"):
                answered(question, "back", answers)
        answers, _ = answered(question, typed, answers)
    question = next_question(answers)
    assert question is not None
    with pytest.raises(InputError, match="Tape and callipers contradict each other"):
        answered(question, "94 mm", answers)
    answers, _ = answered(question, " Back ", answers)
    assert answers.unit == ""  # as it was before the tape
    for key, typed in (("around", "295 mm"), ("across", "94")):
        question = next_question(answers)
        assert question is not None
        assert question.key == key
        answers, _ = answered(question, typed, answers)
    assert answers.wall == girth("", (295.0,), (94.0,))


@pytest.mark.usefixtures("elsewhere")
@pytest.mark.parametrize("name", ["my  CUP", "MY CUP ", "My\u00a0cup"])
def test_a_name_is_new_however_it_is_spaced_and_whatever_its_case(name: str) -> None:
    answers, _ = asked(STRAIGHT | {"name": "My cup"})
    measure_as_answered(answers)
    question = next_question(begin(Path()))
    assert question is not None
    with pytest.raises(InputError, match="already"):
        answered(question, name, begin(Path()))
    with pytest.raises(InputError, match="already"):
        run("--around", "295 mm", "--height", "186 mm", "--name", name, "--out", "b.toml")


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.mark.usefixtures("elsewhere")
def test_nothing_may_be_left_out_that_has_no_other() -> None:
    """A circumference is read by tape or by callipers; a name, a height, a coat must be there."""
    for key in ("name", "height", "coats"):
        with pytest.raises(InputError, match="This needs an answer"):
            asked(STRAIGHT | {key: ""})
    with pytest.raises(InputError, match="This needs an answer"):
        asked(STRAIGHT | {"around": "", "across": ""})
    answers, _ = asked(STRAIGHT | {"around": "", "across": "94 mm"})
    assert answers.wall is not None


@pytest.mark.usefixtures("elsewhere")
def test_who_typed_inches_is_answered_in_inches() -> None:
    answers, said = asked(TAPERED)
    assert said == ["From now on a number without a unit means inches."]
    tapes = answers.wall
    assert isinstance(tapes, Tapes)
    # 25.4 mm to the inch (NIST SP 811, appendix B.8).
    assert tapes.base.circumference == pytest.approx(9.125 * 25.4)
    assert (answers.rest.height, answers.parts) == (pytest.approx(7.375 * 25.4), 16)
    done = measure_as_answered(answers)
    assert done.file is not None
    assert load(Blank, "blanks", done.file.name, Path()).inches == 16
    metric, said = asked(STRAIGHT | {"name": "Other", "file": "metric"})
    assert said == ["From now on a number without a unit means millimetres."]
    assert measure_as_answered(metric).blank.inches is None


def test_coats_are_said_in_words() -> None:
    found = coats_in("Navy, lilac #C8A2C8, oxblood")
    assert [(coat.name, coat.colour) for coat in found] == [
        ("Navy", "#1b2a49"), ("lilac", "#c8a2c8"), ("oxblood", "#808080"),
    ]  # fmt: skip


def test_inches_as_on_the_tape() -> None:
    """25.4 mm to the inch (NIST SP 811, appendix B.8), to the nearest 1/16 or 1/32."""
    assert format_inches(314.325) == "12 3/8 in"
    assert format_inches(25.4 * (3 + 5 / 32), 32) == "3 5/32 in"
    assert format_inches(25.4 * (3 + 5 / 32), 16) == "3 1/8 in"  # halfway: the even sixteenth
    assert format_inches(25.4) == "1 in"
    assert format_inches(0.1) == "0 in"
    assert format_inches(12.7) == "1/2 in"
    assert format_inches(-12.7) == "-1/2 in"
    assert inches_as_typed("12 3/8 in") == 16
    assert inches_as_typed("12 13/32 in 4 1/4 in") == 32
    assert inches_as_typed("314 mm 31.4") is None


@given(st.integers(0, 400), st.sampled_from([16, 32]))
def test_every_division_of_the_tape_is_read_and_said_alike(steps: int, parts: int) -> None:
    assert parse_length(format_inches(steps / parts * 25.4, parts)) == pytest.approx(
        steps / parts * 25.4
    )


def test_several_lengths_in_one_answer() -> None:
    assert parse_lengths("12 in, 314; 31.4 cm") == [304.8, 314, 314]
    with pytest.raises(
        ValueError,
        match=r'Found "314,315"\. The comma may be a decimal comma, or it may stand between',
    ):
        parse_lengths("314,315")
    with pytest.raises(ValueError, match=r'Found " , "\. Give lengths with commas between'):
        parse_lengths(" , ")
