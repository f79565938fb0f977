"""How long cups take: against closed forms, against a head moved in small steps, and the trade."""

from __future__ import annotations

import datetime as dt
import json
import math
import re
import shutil
import sqlite3
import statistics
from pathlib import Path

import head
import numpy as np
import pytest
import shapely
from conftest import DEMO, LayoutOf, guest_named
from draws import drawn
from hypothesis import given, settings, strategies as st
from outside import file_of_the_test_machine, refused, said
from shop import GUESTS, MONDAY, Shop, keep_recipe

from mailmerge.artwork import compose, read_outlines, sheet_of, write_svg
from mailmerge.blanks import Blank
from mailmerge.deeds import papers, timing
from mailmerge.deeds.timing import Logged
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger
from mailmerge.ledger.who import Choices
from mailmerge.lettering import Outline
from mailmerge.lettering.flat import polygons
from mailmerge.lettering.outline import joined
from mailmerge.machines import Machine, load_on
from mailmerge.machines.motion import Axis, Motion, motion_mark, motion_of
from mailmerge.orders import open_order
from mailmerge.shelves import load, validated
from mailmerge.units import format_minutes, parse_minutes
from mailmerge.workshop.settings.recipes import Settings
from mailmerge.workshop.shop.hours import Hours, scheduled
from mailmerge.workshop.shop.shop import Shop as Business, ShopFile, open_shop
from mailmerge.workshop.timing.batch import batch_of
from mailmerge.workshop.timing.estimate import Engraving, engraving_of, overhead_of, plan_of
from mailmerge.workshop.timing.scan import scan_lines, seconds_of
from mailmerge.workshop.timing.tally import Log, Timed, read_log


def rectangle(left: float, top: float, width: float, height: float) -> Outline:
    corners = [(left, top), (left + width, top), (left + width, top + height), (left, top + height)]
    return Outline("MLLLZ", np.array(corners, dtype=float))


HEAD, TURN = Axis(300.0, 1000.0), Axis(100.0, 500.0)


@pytest.mark.parametrize("first", [0, 1])
@pytest.mark.parametrize(("width", "height", "interval", "passes"), [
    (40.0, 12.0, 0.1, 1), (3.0, 50.0, 0.25, 2), (80.0, 0.5, 0.05, 3),
])  # fmt: skip
def test_a_filled_rectangle_takes_what_its_closed_form_says(
    first: int, width: float, height: float, interval: float, passes: int
) -> None:
    """Kinematics, any physics textbook.

    It takes v / a to a speed, over v^2 / (2 a), and 2 sqrt(d / a) for a short move.
    """
    v, a = 150.0, HEAD.acceleration or 0.0
    box = (5.0, 7.0, width, height) if first == 0 else (7.0, 5.0, height, width)
    lines = scan_lines([rectangle(*box)], interval, first)
    count = round(height / interval)
    assert len(lines) == count
    run_up = v * v / (2 * a)
    step = 2 * math.sqrt(interval / 500.0)
    one = count * (width / v + 2 * v / a) + (count - 1) * step

    def move(way: float, axis: Axis) -> float:
        top, most = axis.acceleration or 0.0, axis.speed
        if way < most**2 / top:
            return 2 * math.sqrt(way / top)
        return way / most + most / top

    ends_low = count % 2 == 0
    last = 5 - run_up if ends_low else 5 + width + run_up
    out = max(move(abs(5 - run_up), HEAD), move(7 + interval / 2, TURN))
    home = max(move(abs(last), HEAD), move(7 + height - interval / 2, TURN))
    across = 0.0 if ends_low else width + 2 * run_up
    back = max(move(across, HEAD), move(height - interval, TURN))
    expected = out + passes * one + (passes - 1) * back + home
    found = seconds_of(lines, passes, Motion(v, HEAD, TURN, first))
    assert found == pytest.approx(expected, rel=1e-3)


SHAPES = {
    "triangle": [Outline("MLLZ", np.array([(10.0, 4.0), (34.0, 16.0), (18.0, 9.0)]))],
    "far apart": [rectangle(4, 4, 9, 3), rectangle(30, 11, 5, 2)],
    "ring": [rectangle(20, 20, 10, 10), rectangle(22, 22, 6, 6)],
    "beside": [rectangle(3, 3, 4, 4), rectangle(22, 3, 4, 4)],
}


@pytest.mark.parametrize("first", [0, 1])
@pytest.mark.parametrize("name", SHAPES)
def test_a_head_moved_in_small_steps_needs_as_long(name: str, first: int) -> None:
    shapes = SHAPES[name]
    shape = shapely.unary_union([shapely.Polygon(each.points) for each in shapes])
    for interval, passes, speed in ((0.5, 1, 80.0), (0.7, 2, 200.0)):
        along, across = (HEAD, TURN) if first == 0 else (TURN, HEAD)
        speed = min(speed, along.speed)
        found = seconds_of(
            scan_lines([joined(shapes)], interval, first), passes,
            Motion(speed, along, across, first), (5.0, 60.0),
        )  # fmt: skip
        home = (5.0, 60.0) if first == 0 else (60.0, 5.0)
        expected = head.run(
            shapely.affinity.translate(shape, -home[0], -home[1]), interval, passes, speed,
            head.Axis(along.speed, along.acceleration or 0.0),
            head.Axis(across.speed, across.acceleration or 0.0), 1 - first,
        )  # fmt: skip
        assert found == pytest.approx(expected, rel=0.01)


def cup(
    layout_of: LayoutOf, blank: Blank, machine: Machine, name: str
) -> tuple[bytes, tuple[float, float]]:
    """Return a cup's artwork, and where on its page the head starts."""
    layout = layout_of({"text": "{name}", "font": "Great Vibes"})
    composition = compose(layout, blank, guest_named(name), {}, Path())
    span = composition.span()
    loading = load_on(blank, machine, None, (span.left, span.right))
    artwork = write_svg(sheet_of(composition, blank, loading, 0.1), "t", "d")
    return artwork, loading.page.start


@pytest.mark.parametrize("scan", ["along", "around"])
def test_lettering_takes_as_long_as_the_head_that_is_moved(
    scan: str, layout_of: LayoutOf, blank: Blank
) -> None:
    machine = load(Machine, "machines", "diode-rotary", Path()).model_copy(update={"scan": scan})
    artwork, start = cup(layout_of, blank, machine, "Zoë Lindqvist")
    assert max(start) > 50  # and not at the corner
    set_to = Settings(power="50", speed=150.0, passes=1, interval=0.6)
    found = engraving_of(artwork, machine, set_to, "left", start)
    outlines = read_outlines(artwork).values()
    # Around the contours one after the other: what lies inside another one is a hole.
    rings = [shapely.Polygon(flat) for each in outlines for flat in polygons(each, 0.01)]
    shape = rings[0]
    for ring in rings[1:]:
        shape = shape.symmetric_difference(ring)
    shape = shapely.affinity.translate(shape, -start[0], -start[1])  # from where the head is
    # The mouth is to the left: the rotary moves the page's y, and the head its x.
    x, y = head.Axis(300.0, 1000.0), head.Axis(100.0, 500.0)
    along, across, is_y = (x, y, 1) if scan == "along" else (y, x, 0)
    expected = head.run(shape, 0.6, 1, min(150.0, along.speed), along, across, is_y)
    assert found.seconds == pytest.approx(expected, rel=0.01)
    assert found.lines == len(head.lines_of(shape, 0.6, is_y))


def test_which_axis_the_rotary_moves() -> None:
    machine = load(Machine, "machines", "diode-rotary", Path())
    fast = Settings(power="50", speed=400.0, interval=0.1)
    assert motion_of(machine, fast.speed, "left").first == 0
    assert motion_of(machine, fast.speed, "away").first == 1
    assert motion_of(machine, fast.speed, None).first == 0
    assert motion_of(machine, fast.speed, "left").speed == 300.0  # the head's own limit
    around = machine.model_copy(update={"scan": "around"})
    assert motion_of(around, fast.speed, "left").first == 1
    assert motion_of(around, fast.speed, "left").speed == 100.0  # the rotary's
    assert motion_of(around, fast.speed, None).speed == 300.0  # flat goods do not turn


def test_the_frame_for_a_dry_trace_is_not_counted(layout_of: LayoutOf, blank: Blank) -> None:
    machine = load(Machine, "machines", "diode-rotary", Path())
    set_to = Settings(power="50", speed=150.0, interval=0.2)
    framed, start = cup(layout_of, blank, machine, "Ann")
    bare = framed[: framed.index(b"<g ")] + framed[framed.index(b"</g>") + 4 :]
    assert engraving_of(framed, machine, set_to, "left", start) == engraving_of(
        bare, machine, set_to, "left", start
    )


def test_an_unknown_acceleration_leaves_the_run_up_out() -> None:
    lines = scan_lines([rectangle(0, 0, 30, 1)], 0.5, 0)
    still = Axis(300.0, None)
    seconds = seconds_of(lines, 1, Motion(100.0, still, still, 0))
    # Two lines of 30 mm at 100 mm/s, a step of 0.5 mm, out 0.25 mm and home 0.75 mm at 300 mm/s.
    assert seconds == pytest.approx(0.6 + 1.5 / 300)


def test_nothing_takes_no_time() -> None:
    assert len(scan_lines([], 0.1, 0)) == 0
    assert seconds_of(scan_lines([], 0.1, 0), 2, Motion(100.0, HEAD, TURN, 0)) == 0


def test_a_name_over_a_role_takes_what_the_trade_says(gala: Path) -> None:
    """Common practice: on a 40 oz class tumbler, two passes at 150 mm/s, about 12 minutes."""
    machine = open_order(DEMO).design.machine
    start = validated(
        Settings, {"power": 80, "speed": 150, "passes": 2, "interval": 0.1}, "common practice"
    )
    artworks = [path.read_bytes() for path in sorted((gala / "artwork").iterdir())]
    assert len(artworks) > 30
    mark = 0.0, math.pi * 98 * 0.75  # the handle to the front, the mouth to the left
    minutes = [
        engraving_of(artwork, machine, start, "left", mark).seconds / 60 for artwork in artworks
    ]
    assert statistics.median(minutes) == pytest.approx(12, rel=0.15)
    assert 6 < min(minutes) < max(minutes) < 24  # no name is off by a factor of two


# What the clock has said


M = validated(
    Machine, {"name": "M", "spot": 0.1, "speed": 300, "bed": {"width": 100, "depth": 100}}, "test"
)


def timed(
    item: int, lines: int, worked_out: float, took: float, machine: str = "m", of: Machine = M
) -> Timed:
    return Timed(
        item=item, machine=machine, motion=motion_mark(of), lines=lines, worked_out=worked_out,
        took=took,
    )  # fmt: skip


def test_the_overhead_is_found_again() -> None:
    cups = [timed(n, lines, base, base + 0.05 * lines) for n, (lines, base) in enumerate(
        [(400, 300.0), (900, 700.0), (650, 480.0), (1200, 1000.0)]
    )]  # fmt: skip
    found = overhead_of(cups, M)
    assert found.seconds == pytest.approx(0.05)
    assert found.cups == 4
    assert found.worst_error == pytest.approx(0.0, abs=1e-9)
    assert found.added_to(Engraving(100.0, 200)) == pytest.approx(110.0)


def test_two_cups_are_too_few_and_other_machines_do_not_count() -> None:
    cups = [timed(1, 400, 300, 320), timed(2, 500, 400, 425), timed(3, 1, 1, 99, "Other")]
    assert overhead_of(cups, M).cups == 0
    assert overhead_of(cups, M).added_to(Engraving(100.0, 200)) == 100.0
    assert overhead_of([*cups, timed(4, 450, 350, 372)], M).cups == 3


def test_what_was_timed_under_another_profile_is_left_out() -> None:
    slower = M.model_copy(update={"acceleration": 250.0})
    cups = [timed(n, 400, 300, 320, of=slower) for n in range(5)]
    assert overhead_of(cups, M).cups == 0
    assert overhead_of(cups, slower).cups == 5
    assert motion_mark(M.model_copy(update={"spot": 0.2, "note": "x"})) == motion_mark(M)


def test_the_error_is_told_from_each_cup_left_out() -> None:
    cups = [timed(1, 100, 100, 110), timed(2, 200, 200, 220), timed(3, 100, 100, 140)]
    # Left out 1: (200 20 + 100 40) / (200^2 + 100^2) = 0.16 a line: 116 s, 6 of 110 off.
    # Left out 2: (100 10 + 100 40) / (2 100^2) = 0.25: 250 s, 30 of 220 off.
    # Left out 3: (100 10 + 200 20) / (100^2 + 200^2) = 0.1: 110 s, 30 of 140 off.
    found = overhead_of(cups, M)
    assert found.median_error == pytest.approx(30 / 220)
    assert found.worst_error == pytest.approx(30 / 140)
    # All: (100 10 + 200 20 + 100 40) / (100^2 + 200^2 + 100^2) = 0.15; 470 s instead of 400.
    assert found.seconds == pytest.approx(0.15)
    assert found.share == pytest.approx(0.175)


@settings(max_examples=drawn(25, 60), deadline=None)
@given(st.lists(st.tuples(st.integers(1, 3000), st.floats(1, 3000), st.floats(1, 5000)),
                min_size=3, max_size=8))  # fmt: skip
def test_least_squares_agrees_with_numpy(rows: list[tuple[int, float, float]]) -> None:
    cups = [timed(n, *row) for n, row in enumerate(rows)]
    lines = np.array([[row[0]] for row in rows], dtype=float)
    beyond = np.array([row[2] - row[1] for row in rows])
    expected = np.linalg.lstsq(lines, beyond, rcond=None)[0][0]
    assert overhead_of(cups, M).seconds == pytest.approx(expected, rel=1e-6, abs=1e-9)


# Hours


def at(day: int, hour: int, minute: int = 0) -> dt.datetime:
    return dt.datetime(2026, 11, 29 + day if day < 2 else day - 1, hour, minute).replace(
        month=11 if day < 2 else 12
    )


def test_work_waits_for_the_shop_to_open() -> None:
    slots = scheduled(Hours(), at(1, 7), [60, 60])
    assert slots == [(at(1, 9), at(1, 10)), (at(1, 10), at(1, 11))]


def test_a_cup_is_not_left_lying_over_closing_time() -> None:
    slots = scheduled(Hours(), at(1, 16, 30), [20, 20])
    assert slots == [(at(1, 16, 30), at(1, 16, 50)), (at(2, 9), at(2, 9, 20))]


def test_lunch_and_the_weekend_are_no_hours() -> None:
    hours = validated(Hours, {"friday": "09:00-12:00, 13:00-16:00", "monday": "closed"}, "test")
    friday = dt.datetime(2026, 11, 27, 11, 50)
    slots = scheduled(hours, friday, [15, 180, 30])
    assert [slot.start for slot in slots] == [
        dt.datetime(2026, 11, 27, 13, 0),
        dt.datetime(2026, 12, 1, 9, 0),  # Monday is closed
        dt.datetime(2026, 12, 1, 12, 0),
    ]


def test_what_fits_into_no_day_starts_with_one() -> None:
    (slot,) = scheduled(Hours(), at(1, 10), [600])
    assert slot == (at(2, 9), at(2, 19))


def test_hours_that_adjoin_are_one() -> None:
    hours = validated(
        Hours,
        {"monday": "09:00-12:00, 12:00-24:00", "tuesday": "00:00-06:00", "wednesday": "closed"},
        "test",
    )
    # Over noon, and over midnight.
    assert scheduled(hours, at(1, 11, 50), [20])[0].start == at(1, 11, 50)
    assert scheduled(hours, at(1, 23, 50), [20])[0].start == at(1, 23, 50)
    assert scheduled(hours, at(2, 0, 5), [300])[0].start == at(2, 0, 5)
    assert hours.longest == 21 * 60
    always = dict.fromkeys(
        ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"),
        "00:00-24:00",
    )
    round_the_clock = validated(Hours, always, "test")
    (slot,) = scheduled(round_the_clock, at(1, 23), [48 * 60])
    assert slot.start == at(1, 23)


@pytest.mark.parametrize(
    ("hours", "found"),
    [
        ({"monday": "9-17"}, 'monday: Found "9-17". Enter hours such as "09:00-17:00"'),
        ({"monday": "17:00-09:00"}, "monday: .* in the order of the day"),
        ({"monday": "09:00-12:00, 11:00-13:00"}, "monday: .* without overlaps"),
        ({"monday": "09:00-25:00"}, "up to 24:00"),
        (dict.fromkeys(("monday", "tuesday", "wednesday", "thursday", "friday"), "closed"),
         "without an open hour"),
    ],
)  # fmt: skip
def test_hours_that_are_none_are_refused(hours: dict[str, str], found: str) -> None:
    with pytest.raises(InputError, match=found):
        validated(Hours, hours, "test")


def test_a_plan_holds_setting_up_loading_and_the_last_cup() -> None:
    values = {"minutes": {"setup": 20, "loading": 5, "handling": 7}}
    business = Business(Path(), validated(ShopFile, values, "test"), True)
    plan = plan_of(business, {3: 600.0, 1: 300.0}, MONDAY)
    assert list(plan.cups) == [3, 1]
    assert plan.cups[3] == (at(1, 9, 20), at(1, 9, 35))
    # Five minutes of engraving, and meanwhile seven to clean and pack the one before.
    assert plan.cups[1] == (at(1, 9, 35), at(1, 9, 47))
    assert plan.done == at(1, 9, 54)
    assert plan.is_ready_by(dt.date(2026, 11, 30))
    assert not plan.is_ready_by(dt.date(2026, 11, 29))
    assert plan_of(business, {1: 9 * 3600.0}, MONDAY).past_closing == (1,)


def test_the_machine_waits_for_the_hands() -> None:
    """Ten minutes each at the machine, an hour each to clean and pack."""
    values = {"minutes": {"setup": 0, "loading": 5, "handling": 60},
              "hours": {"monday": "00:00-24:00"}}  # fmt: skip
    business = Business(Path(), validated(ShopFile, values, "test"), True)
    plan = plan_of(business, dict.fromkeys(range(10), 600.0), MONDAY)
    # 5 + 10, then nine times 5 + 60, then 60 for the last one.
    assert plan.done == MONDAY + dt.timedelta(minutes=15 + 9 * 65 + 60)


def test_the_end_of_the_due_day_is_in_time() -> None:
    values = {"minutes": {"setup": 0, "loading": 0, "handling": 0},
              "hours": {"monday": "09:00-24:00"}}  # fmt: skip
    business = Business(Path(), validated(ShopFile, values, "test"), True)
    plan = plan_of(business, {1: 15 * 3600.0}, MONDAY)
    assert plan.done == at(2, 0)
    assert plan.is_ready_by(dt.date(2026, 11, 30))
    assert plan.is_ready_by(dt.date(9999, 12, 31))


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [("11:25", 11 + 25 / 60), ("1:02:30", 62.5), ("12.5", 12.5), ("12 min", 12), (7, 7),
     ("90:00", 90)],
)  # fmt: skip
def test_minutes_as_people_type_them(typed: object, minutes: float) -> None:
    assert parse_minutes(typed) == pytest.approx(minutes)


@pytest.mark.parametrize("typed", ["12:60", "1:60:00", "-3", "soon", "", True, "99999999", None])
def test_what_is_no_time_is_refused(typed: object) -> None:
    with pytest.raises(ValueError, match=r'^Found ".*"\. Give a time such as'):
        parse_minutes(typed)


def test_minutes_are_written_as_a_clock_shows_them() -> None:
    assert [format_minutes(s) for s in (0, 59.6, 685, 3725)] == ["0:00", "1:00", "11:25", "1:02:05"]


# An order, its cups and the clock


@pytest.fixture(scope="module")
def timed_once(tmp_path_factory: pytest.TempPathFactory, merged_once: Path) -> tuple[Path, Path]:
    """Return an order whose machine has numbers, and its shop, which has a recipe for it.

    Four cups are released. Both are copied, and never changed.
    """
    folder = tmp_path_factory.mktemp("timed")
    shop = Shop.copied(merged_once, folder / "concert")
    text = (shop.folder / "order.toml").read_text(encoding="utf-8")
    machine = 'spot = "0.01 mm"\nspeed = 300\nacceleration = 1000\n'
    (shop.folder / "order.toml").write_text(text.replace('spot = "0.01 mm"\n', machine))
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("MAILMERGE_SHOP", str(folder / "shop"))
        keep_recipe(
            machine=file_of_the_test_machine(folder), coat="black", power=60, speed=150, passes=2
        )
        shop.merge()
        shop.yes(1, 2, 3, 4)
        shop.release()
    return shop.folder, folder / "shop"


@pytest.fixture
def timed_shop(timed_once: tuple[Path, Path], tmp_path: Path, shop_folder: Path) -> Shop:
    """Return that workshop, to be changed."""
    order, business = timed_once
    shutil.copytree(business, shop_folder, dirs_exist_ok=True)
    return Shop.copied(order, tmp_path / "concert")


def log(shop: Shop, item: object, took: float = 685) -> Logged:
    return timing.log(shop.folder, str(item), took)


def took_on_log() -> dict[int, float]:
    """Return the seconds of every cup on the shop's log."""
    timed = read_log(open_shop()).timed
    found = {each.item: each.took for each in timed}
    assert len(found) == len(timed)
    return found


def test_time_of_an_order(timed_shop: Shop) -> None:
    timed = timed_shop.time()
    jobs = timed.batch.jobs
    assert [job.record.number for job in jobs] == [1, 2, 3, 4, 5]
    assert all(job.choice and job.choice.is_tried for job in jobs)
    seconds = list(timed.batch.seconds.values())
    assert seconds == [job.seconds for job in jobs]
    assert timed.seconds == pytest.approx(sum(seconds))
    first, *others = (each / 60 for each in seconds)
    minutes = 30 + 5 * 4 + first + sum(max(each, 4) for each in others) + 4
    assert timed.together == pytest.approx(minutes)
    assert timed.plan is not None
    assert timed.plan.setup.start == MONDAY
    assert (timed.plan.done - MONDAY).total_seconds() == pytest.approx(60 * minutes, abs=0.01)
    assert (timed.due, timed.in_time) == (None, None)  # the order has no due date
    assert timed.defaults == (
        "setup 30 min", "loading 4 min", "handling 4 min",
        "opening hours Monday to Friday 9:00 to 17:00",
    )  # fmt: skip
    timed_shop.engraved(1, 2, 3, 4)
    assert list(timed_shop.time().batch.seconds) == [5]
    timed_shop.confirm(5)
    timed_shop.release()
    timed_shop.engraved(5)
    nothing = timed_shop.time()
    assert (nothing.batch.jobs, nothing.plan, nothing.seconds) == ((), None, 0)


def test_a_stopped_item_counts_as_the_mean_of_the_others(timed_shop: Shop) -> None:
    timed_shop.list([{"Name": "Anna Berg", "Role": "Violin"}, {"Name": "Bo Dahl", "Role": "Horn"},
                     {"Name": "X" * 200, "Role": "Harp"}])  # fmt: skip
    timed_shop.merge(Choices(gone=frozenset({3, 4, 5})))
    batch = timed_shop.time().batch
    assert list(batch.seconds) == [1, 2, 6]
    assert batch.without_artwork == [6]
    assert batch.jobs[2].engraving is None
    assert batch.seconds[6] == pytest.approx((batch.seconds[1] + batch.seconds[2]) / 2)


def test_logged_cups_mend_the_estimate_in_this_and_in_other_orders(
    timed_shop: Shop,
) -> None:
    before = {job.record.number: job.engraving for job in timed_shop.time().batch.jobs}

    def mended(item: int) -> float:
        """Return a tenth of a second more for each line than the profile says."""
        engraving = before[item]
        assert engraving is not None
        return engraving.seconds + 0.1 * engraving.lines

    for item in (1, 2):
        assert log(timed_shop, item, mended(item)).overhead.cups == 0
    logged = log(timed_shop, timed_shop.to_engrave()[3].name, mended(3))
    assert logged.job.record.number == 3
    assert logged.job.engraving == before[3]
    assert logged.took == mended(3)
    assert before[3] is not None
    assert logged.worked_out == before[3].seconds
    assert logged.not_logged == ""
    assert logged.overhead.cups == 3
    assert logged.overhead.seconds == pytest.approx(0.1)
    assert logged.overhead.share > 0
    after = timed_shop.time().batch
    assert after.overhead == logged.overhead
    assert after.overhead.worst_error < 1e-9
    assert after.seconds[5] == pytest.approx(mended(5))
    # The same machine in another order knows it, too: by the shop's log alone.
    machine = open_order(timed_shop.folder).design.machine
    assert overhead_of(read_log(open_shop()).timed, machine) == logged.overhead
    # A cup that is timed once more takes the place of what was said about it.
    log(timed_shop, 1, 599)
    assert took_on_log() == {1: 599, 2: mended(2), 3: mended(3)}


def test_what_cannot_be_timed_is_said(timed_shop: Shop) -> None:
    for item, took, words in (
        (5, 685, 'Item 5 is "waiting". Only an item that was released or engraved'),
        (99, 685, "This order has no item 99"),
        (1, 0, "The time by the clock is not above 0"),
        (1, -60, "The time by the clock is not above 0"),
        (1, float("nan"), "The time by the clock is not above 0"),
        (1, float("inf"), "or it is longer than any cup takes"),
        (1, 1e12, "or it is longer than any cup takes"),
        ("001_003-carla-ek.svg", 540, "This is of another order, or of an older"),
        ("001_005-eva-gran.svg", 540, "Item 5 was never released"),
    ):
        with pytest.raises(InputError, match=words):
            log(timed_shop, item, took)
    with open_ledger(timed_shop.folder) as ledger:
        assert ledger.timings() == []
    assert took_on_log() == {}


def test_a_machine_without_settings_is_named(shop: Shop) -> None:
    timed = shop.time()
    assert timed.batch.machine.name == "Test machine"
    assert timed.batch.seconds == {}
    assert timed.batch.without_settings == [1, 2, 3, 4, 5]
    assert (timed.plan, timed.together) == (None, 0)


def test_a_time_is_compared_with_the_recipe_of_its_day(timed_shop: Shop) -> None:
    """What is kept after a cup was engraved says nothing about that cup."""
    timed_shop.engraved(1)
    later = timed_shop.records()[1].events[-1].at[:10]
    recipes = (open_shop().folder / "recipes").glob("*.toml")
    (path,) = recipes
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(f"date = {later}", "date = 2024-01-01"), encoding="utf-8")
    assert log(timed_shop, 1).settings.startswith("power 60 %, 150 mm/s, 2 passes")
    # A recipe of a later day than the cup's is in a file that somebody has written by hand.
    with open_ledger(timed_shop.folder) as ledger:
        records = [ledger.records()[0]]
    design = open_order(timed_shop.folder).design
    path.with_name("new.toml").write_text(
        text.replace("150 mm/s", "75 mm/s").replace("60 %", "61 %"), encoding="utf-8"
    )
    then, now = dt.date(2024, 1, 2), dt.date.fromisoformat(later)
    seconds = [
        batch_of(timed_shop.folder, records, design.machine, open_shop(), Log(()), day)
        .jobs[0]
        .seconds
        for day in (then, now)
    ]
    assert None not in seconds
    assert seconds[0] != seconds[1]


def test_what_lies_on_the_machine_is_compared_with_todays_recipe(timed_shop: Shop) -> None:
    """A cup that was released on another day and is not put on record as engraved yet."""
    with sqlite3.connect(timed_shop.folder / "ledger.sqlite") as connection:
        connection.execute("UPDATE event SET at = '2024-01-05T10:00:00+00:00'")
    connection.close()
    assert log(timed_shop, 1).settings.startswith("power 60 %")
    with sqlite3.connect(timed_shop.folder / "ledger.sqlite") as connection:
        connection.execute("UPDATE event SET what = 'engraved'")
    connection.close()
    # On the fifth of January there was no recipe, and the test's machine has no starting point.
    with pytest.raises(InputError, match="item 2: No recipe is known for black on Test machine"):
        log(timed_shop, 2)


def test_a_time_of_other_artwork_is_refused(timed_shop: Shop) -> None:
    timed_shop.engraved(1, 2)
    timed_shop.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[2:]])
    timed_shop.merge(Choices(gone=frozenset({2})))
    with pytest.raises(
        InputError, match="item 1: The artwork has changed since this cup was released"
    ):
        log(timed_shop, 1)
    with pytest.raises(InputError, match="Item 2 is no longer in the list"):
        log(timed_shop, 2)


def test_what_the_time_adds_up_to_is_what_the_plan_takes(
    timed_shop: Shop, shop_folder: Path
) -> None:
    (shop_folder / "shop.toml").write_text(
        '[minutes]\nhandling = 30\n[hours]\nmonday = "00:00-24:00"\n'
    )
    begin = MONDAY.replace(hour=0)
    timed = timed_shop.time(begin)
    assert timed.waiting > 60
    work = 30 + 5 * 4 + timed.seconds / 60 + 30
    assert timed.together == pytest.approx(work + timed.waiting)
    assert timed.plan is not None
    took = (timed.plan.done - begin).total_seconds()
    assert took == pytest.approx(60 * timed.together, abs=0.01)
    days = "Tuesday, Wednesday, Thursday, Friday, Saturday and Sunday"
    assert timed.defaults == ("setup 30 min", "loading 4 min", f"opening hours on {days}")


@pytest.mark.parametrize(
    "start",
    [
        dt.datetime(9999, 12, 31, 9, 0),
        dt.datetime(1999, 12, 31, 9, 0),
        dt.datetime(2026, 12, 5, 9, 0, tzinfo=dt.UTC),
        dt.datetime(2026, 12, 5, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=2))),
    ],
)
def test_a_start_that_is_none_is_refused(timed_shop: Shop, start: dt.datetime) -> None:
    with pytest.raises(InputError, match="This is not a time by the clock in the shop"):
        timed_shop.time(start)


@pytest.fixture
def stopped(timed_shop: Shop) -> Shop:
    """Return a workshop whose only item is stopped."""
    timed_shop.list([{"Name": "X" * 200, "Role": "Harp"}])
    timed_shop.merge(Choices(unsure_are_gone=True))
    timed_shop.merge()  # no cup is released any more, so no letter height holds
    return timed_shop


def test_where_everything_is_stopped_nobody_knows(stopped: Shop) -> None:
    timed = stopped.time()
    assert timed.batch.without_artwork == [6]
    assert timed.batch.without_settings == []
    assert timed.batch.seconds == {}
    assert timed.plan is None
    with pytest.raises(InputError, match="Every item is stopped"):
        stopped.quote()


@pytest.fixture
def slow(timed_shop: Shop) -> Shop:
    """Return a workshop whose rotary moves slower than its recipe asks for."""
    text = (timed_shop.folder / "order.toml").read_text(encoding="utf-8")
    slow = text.replace("acceleration = 1000\n", 'acceleration = 1000\nscan = "around"\n').replace(
        "[machine.rotary]\n", "[machine.rotary]\nspeed = 60\n"
    )
    (timed_shop.folder / "order.toml").write_text(slow, encoding="utf-8")
    timed_shop.merge()
    return timed_shop


def test_settings_that_are_faster_than_an_axis_are_told(slow: Shop, tmp_path: Path) -> None:
    jobs = slow.time().batch.jobs
    assert [job.choice.settings.speed for job in jobs if job.choice] == [150] * 5
    assert [job.limit for job in jobs] == [60] * 5
    keep_recipe(machine=file_of_the_test_machine(tmp_path), coat="black", speed=60)
    assert [job.limit for job in slow.time().batch.jobs] == [None] * 5  # just as fast


def test_times_of_a_list_that_was_not_merged_are_refused(timed_shop: Shop) -> None:
    timed_shop.list([{**row, "Role": "Tutti"} for row in GUESTS])
    for deed in (timing.time, papers.run_sheet, papers.quote):
        with pytest.raises(InputError, match="has changed since the last merge"):
            deed(timed_shop.folder)


# What the commands say


def test_the_command_says_how_long_it_takes(timed_shop: Shop, shop_folder: Path) -> None:
    text = (timed_shop.folder / "order.toml").read_text(encoding="utf-8")
    due = text.replace("[order]\n", "[order]\ndue = 2026-12-01\n")
    (timed_shop.folder / "order.toml").write_text(due, encoding="utf-8")
    timed_shop.merge()
    (shop_folder / "shop.toml").write_text(
        '[minutes]\nhandling = 30\n[hours]\nmonday = "00:00-24:00"\n'
    )
    call = ("time", timed_shop.folder, "--from", "2026-11-30 00:00")
    words = said(*call)
    together = re.search(r"(\d+) min waiting for hands: (\d):(\d\d):\d\d together", words)
    assert together
    done = int(together[2]) * 60 + int(together[3])
    assert f"it is done on Mon 30 November 2026, {done // 60:02d}:{done % 60:02d}" in words
    assert "Defaults: setup 30 min, loading 4 min, opening hours on Tuesday, Wednesday" in words
    assert "(mailmerge shop)" in words
    assert "Due on 1 December 2026: in time" in words
    assert "Test cup, black: power 60 %, 150 mm/s, 2 passes" in words
    told = json.loads(said(*call, "--json"))
    timed = timed_shop.time(MONDAY.replace(hour=0))
    assert timed.plan is not None
    first = timed.batch.jobs[0]
    assert first.engraving is not None
    assert first.seconds is not None
    assert told["items"][0] == {
        "item": 1, "name": "Anna Berg", "seconds": round(first.seconds, 1),
        "is_mean_of_others": False, "lines": first.engraving.lines, "tried": True,
    }  # fmt: skip
    assert told == {
        "machine": "Test machine", "items": told["items"], "seconds": round(timed.seconds, 1),
        "overhead": {
            "seconds_a_line": 0, "timed_cups": 0, "median_error": None, "worst_error": None,
        },
        "begin": "2026-11-30T00:00:00", "done": timed.plan.done.isoformat(timespec="minutes"),
        "due": "2026-12-01", "in_time": True,
    }  # fmt: skip


def test_the_command_says_what_nobody_knows_of_the_settings(shop: Shop) -> None:
    words = said("time", shop.folder)
    assert "The settings are not known for items 1-5. There is no recipe for the coat" in words
    assert "for the coat on Test machine, and its profile" in words


def test_the_command_says_that_the_machine_is_slower(slow: Shop) -> None:
    words = said("time", slow.folder)
    assert "ask for 150 mm/s. The machine's profile allows 60 mm/s along the lines" in words


def test_the_command_says_that_everything_is_stopped(stopped: Shop) -> None:
    words = said("time", stopped.folder)
    assert "Stopped, and so are all others: item 6" in words
    assert "no recipe" not in words


@pytest.mark.parametrize("start", ["soon", "5.12.2026", "9999-12-31 09:00"])
def test_the_command_refuses_what_is_no_time(shop: Shop, start: str) -> None:
    words = refused("time", shop.folder, "--from", start)
    assert "This is not a time by the clock in the shop" in words


def test_the_command_says_what_the_clock_has_taught(timed_shop: Shop) -> None:
    for options, words in (
        ((), "Give --minutes with the time by the clock"),
        (("--minutes", "soon"), '--minutes: Found "soon". Give a time'),
        (("--minutes", "0"), "The time by the clock is not above 0, or it is longer"),
    ):
        assert words in refused("log", timed_shop.folder, 1, *options)
    jobs = {job.record.number: job for job in timed_shop.time().batch.jobs}
    heard = []
    for item in (1, 2, 3):
        engraving = jobs[item].engraving
        assert engraving is not None
        took = (engraving.seconds + 0.1 * engraving.lines) / 60
        heard.append(said("log", timed_shop.folder, item, "--minutes", took))
    assert "From 3 timed cups on" in heard[0]
    assert "From 3 timed cups on" in heard[1]
    assert "By the clock of 3 cups, your machine takes about" in heard[2]
    assert "longer than its profile says (+100 ms a line)" in heard[2]
    again = said("log", timed_shop.folder, 1, "--minutes", "11:25")
    assert "Item 1, Anna Berg: 11:25 by the clock. The profile alone says" in again
    assert "with power 60 %, 150 mm/s, 2 passes" in again
    assert took_on_log()[1] == 685
