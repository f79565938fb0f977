"""The whole talk about an order, in random order, against a small model of who said what last.

The model below knows nothing of the ledger. It is told each word as it is heard and answers one
question: may a cup of this item, with this text and these bytes, lie in the folder to engrave from?
"""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import SimpleNamespace
from typing import Literal

import pytest
from conftest import Samples
from hypothesis import HealthCheck, Phase, settings, strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from shop import GUESTS, Shop

from mailmerge.answers.incoming import Said
from mailmerge.deeds import client, making
from mailmerge.deeds.client import Accept
from mailmerge.deeds.questions import NO_CHOICES, Question
from mailmerge.findings import InputError
from mailmerge.items import making as making_items
from mailmerge.ledger.standing import Record

Verdict = Literal["yes", "change"]
PHONE = "telephone"


@dataclass(frozen=True)
class Seen:
    """How an item looked to somebody."""

    text: str
    look: str
    """A digest of its artwork's bytes."""
    seal: str


@dataclass(eq=False)
class Word:
    """What somebody said once about one item, however often it comes in."""

    item: int
    who: str
    verdict: Verdict
    seen: Seen
    words: str
    wanted: dict[int, str]
    """New texts by place, where they were told; else all of the cup may be meant."""
    pack: int
    """Which pack showed it; the newest one at the time where it was told on the telephone."""
    page: str = ""
    saving: int = 0
    """Of its page; the first one that this word was in."""
    heard: int = 0
    """When it came in first, as a count of all that has happened."""
    newest: int = 0
    """Which pack was the newest one then."""

    def is_about(self, text: str) -> bool:
        """Whether the texts that it is about are still there."""
        before, now = self.seen.text.split("|"), text.split("|")
        return all(before[at] == now[at] for at in self.wanted or range(len(before)))

    def is_met_by(self, text: str) -> bool:
        """Whether a text is just what was wanted."""
        now = text.split("|")
        return bool(self.wanted) and all(now[at] == it for at, it in self.wanted.items())


@dataclass
class Talk:
    """Who said what last about which text: the rules in as few lines as they take."""

    people: tuple[str, ...] = ()
    needs: str = "one"
    packs: int = 0
    moment: int = 0
    words: list[Word] = field(default_factory=list)
    decided: dict[int, int] = field(default_factory=dict)
    waived: list[tuple[int, str, int]] = field(default_factory=list)

    def now(self) -> int:
        self.moment += 1
        return self.moment

    def hear(self, word: Word) -> None:
        if word not in self.words:
            word.heard, word.newest = self.now(), self.packs
            self.words.append(word)

    def decide(self, item: int) -> None:
        self.decided[item] = self.now()

    def waive(self, item: int, look: str) -> None:
        self.waived.append((item, look, self.now()))

    def about(self, item: int, verdict: Verdict) -> list[Word]:
        """Return the words about an item that no later saving of the same page has replaced."""
        every = [word for word in self.words if word.item == item]
        return [
            word for word in every
            if word.verdict == verdict
            and not any(w.page == word.page and w.saving > word.saving for w in every if w.page)
        ]  # fmt: skip

    def yeses(self, item: int) -> list[Word]:
        """Return the yeses of people who are asked."""
        return [w for w in self.about(item, "yes") if not self.people or w.who in self.people]

    def objections(self, item: int) -> list[Word]:
        """Return what neither its own person nor the maker has closed, whatever the text is now."""
        return [
            word for word in self.about(item, "change")
            if word.heard > self.decided.get(item, 0)
            and not any(
                yes.who == word.who != "" and yes.page != PHONE and yes.pack > word.newest
                and word.is_about(yes.seen.text)
                for yes in self.about(item, "yes")
            )
        ]  # fmt: skip

    def against(self, item: int, text: str) -> list[Word]:
        """Return the open objections to a text."""
        return [word for word in self.objections(item) if word.is_about(text)]

    def asks_anew(self, item: int, text: str) -> list[Word]:
        """Return the objections to other texts that this one is not the answer to by itself."""
        return [
            word for word in self.objections(item)
            if not word.is_about(text) and not word.is_met_by(text)
        ]  # fmt: skip

    def _counts(self, yes: Word) -> bool:
        """Whether nothing that may be later speaks against a yes."""
        others = [word for word in self.yeses(yes.item) if word.seen.look != yes.seen.look]
        own = [
            w
            for w in self.about(yes.item, "change")
            if w.who == yes.who != "" and w.is_about(yes.seen.text)
        ]
        return (
            not any(_may_be_later(word, yes) for word in others)
            and not any(
                word.heard > yes.heard or (yes.page != PHONE and word.pack >= yes.pack)
                for word in own
            )
            and not any(
                word.heard > yes.heard or word.pack > yes.pack
                for word in self.asks_anew(yes.item, yes.seen.text)
            )
        )

    def _is_waived(self, item: int, seen: Seen) -> bool:
        """Whether the maker has taken it on, and nobody wants anything else since."""
        at = max(
            (at for number, of, at in self.waived if (number, of) == (item, seen.look)), default=0
        )
        since = [yes.heard for yes in self.yeses(item) if yes.seen.look != seen.look]
        since += [word.heard for word in self.asks_anew(item, seen.text)]
        return at > max(since, default=0)

    def is_free(self, item: int, seen: Seen) -> bool:
        if self.against(item, seen.text):
            return False
        if self._is_waived(item, seen):
            return True
        said = {y.who for y in self.yeses(item) if y.seen.look == seen.look and self._counts(y)}
        return said >= set(self.people) if self.needs == "all" else bool(said)


def _may_be_later(other: Word, yes: Word) -> bool:
    """Whether a yes to other artwork may have been said after a yes: clocks say nothing about it.

    What answers an older pack is taken for older: it is no word against what a newer one showed.
    """
    if other.page == PHONE and yes.page == PHONE:
        return other.heard > yes.heard
    return other.pack > yes.pack or (other.page == PHONE and other.pack == yes.pack)


class Undrawn:
    """A proof that nobody looks at."""

    palette = SimpleNamespace(colours=())

    def strip(self) -> None:
        """Draw nothing."""


class Cut(BaseException):
    """A call that is cut off."""


class Disk:
    """Ends a call before one of its steps on the disk."""

    steps = 0
    folder = "."

    @classmethod
    def hook(cls, event: str, arguments: tuple[object, ...]) -> None:
        if cls.steps and event in ("open", "os.rename", "os.remove", "os.mkdir"):
            if not str(arguments[0]).startswith(cls.folder):
                return
            cls.steps -= 1
            if cls.steps == 0:
                raise Cut

    @classmethod
    @contextmanager
    def cut_before(cls, step: int, folder: Path) -> Iterator[None]:
        cls.steps, cls.folder = step, str(folder)
        try:
            yield
        except Cut:
            pass
        finally:
            cls.steps = 0


NAMES = {"Anna Berg": "Anne Berg", "Bo Dahl": "Bob Dahl", "Carla Ek": "Karla Ek"}
NAMES |= {after: before for before, after in NAMES.items()}
NAMES["Dag Falk"] = "Dagny Falk"
NAMES["Dagny Falk"] = "Dag Falk"
ROLES = ["Violin", "Horn", "Cello"]
WHO = st.sampled_from(["Anna Reed", "Anna Reed", "Bo Dahl", "Anna Reed-Smith", "", ""])
ITEM = st.sampled_from([0, 0, 0, 0, 0, 1, 2])
AT = st.integers(0, 9)
HOURS = st.sampled_from([None, -30, -3, 0, 2, 11])
NOON = dt.datetime(2026, 11, 27, 12, 0, tzinfo=dt.UTC)


@dataclass(frozen=True)
class Reply:
    """What somebody wants to say about an item that a pack shows."""

    who: str
    at: int
    verdict: Verdict
    back: int
    """How many packs ago it was shown."""
    is_to_a_new_pack: bool
    place: int | None
    """Which text is to be another one."""
    way: str
    hours: int | None
    """By how much the clock is wrong; None for a word without a time."""
    is_late: bool


REPLIES = st.builds(
    Reply,
    who=WHO,
    at=ITEM,
    verdict=st.sampled_from(["yes", "yes", "change"]),
    back=st.sampled_from([0, 0, 0, 1, 2]),
    is_to_a_new_pack=st.sampled_from([False, False, False, True]),
    place=st.sampled_from([None, 0, 1]),
    way=st.sampled_from(["file", "file", "text", "workbook"]),
    hours=HOURS,
    is_late=st.sampled_from([False, False, True]),
)


@dataclass
class Page:
    """A pack's page in somebody's browser: what was tapped stays, and savings are counted."""

    words: dict[int, Word] = field(default_factory=dict)
    savings: int = 0


@dataclass
class Letter:
    """What was sent once, and may arrive whenever."""

    way: str
    who: str
    at: str
    pack: str
    words: tuple[Word, ...]
    page: str = ""
    saving: int = 0


class WholeConversation(RuleBasedStateMachine):
    """Everything that client, maker, disk and post can do with an order, in any sequence."""

    folder: Path
    merged: Path
    count = 0

    def __init__(self) -> None:
        super().__init__()
        type(self).count += 1
        self.shop = Shop.copied(self.merged, self.folder / f"order-{self.count}")
        self.rows = [dict(row) for row in GUESTS[:3]]
        self.lists = [[dict(row) for row in self.rows]]
        self.talk = Talk()
        self.packs: list[dict[int, Seen]] = []
        self.pages: dict[tuple[str, int], Page] = {}
        self.post: list[Letter] = []
        self.engraved: set[int] = set()
        self.steps = 0
        self.pack()
        self.copy = self._ledger()

    def teardown(self) -> None:
        shutil.rmtree(self.shop.folder)

    # What there is

    def _records(self) -> list[Record]:
        return list(self.shop.records().values())

    def _seen(self, record: Record) -> Seen | None:
        if record.gone or not record.entry.artwork:
            return None
        text = "|".join(line.text for line in record.entry.lines)
        return Seen(text, self.looks[record.seal or ""], record.seal or "")

    def _item(self, at: int, *standing: str) -> int:
        """Choose an item: of those that stand so, if there are any."""
        every = self._records()
        fitting = [each for each in every if each.standing in standing] or every
        return fitting[at % len(fitting)].number

    def _look(self) -> None:
        """Remember the bytes behind each seal, as they were made first."""
        self.looks = dict(getattr(self, "looks", {}))
        for record in self._records():
            if not record.gone and record.entry.artwork and record.seal not in self.looks:
                made = (self.shop.folder / "merged" / record.entry.artwork).read_bytes()
                self.looks[record.seal or ""] = hashlib.sha256(made).hexdigest()

    # Calls

    def _call(self, deed: Callable[[], object]) -> None:
        """Make a call; where it is to be cut off, cut it off first, and make it again."""
        if self.steps:
            with Disk.cut_before(self.steps, self.shop.folder):
                deed()
            self.steps = 0
            self._look()
            self.only_what_is_free_lies_in_the_folder(self.shop.records())
        deed()

    def _merge(self) -> None:
        self.shop.list(self.rows)
        self.lists.append([dict(row) for row in self.rows])
        self._call(self._merged)
        self._look()

    def _merged(self) -> None:
        """Merge; whoever is in question is who the first choice says."""
        choices = NO_CHOICES
        while isinstance(
            asked := making.merge(self.shop.folder, choices=choices, jobs=1), Question
        ):
            choices = asked.options[0].answer

    @rule(steps=st.integers(1, 30))
    def next_call_is_cut_off(self, steps: int) -> None:
        self.steps = steps

    # The list

    @rule(at=ITEM, role=st.sampled_from([None, *ROLES]))
    def name_or_role_changes(self, at: int, role: str | None) -> None:
        row = self.rows[at % len(self.rows)]
        if role is None:
            row["Name"] = NAMES[row["Name"]]
        else:
            row["Role"] = role
        self._merge()

    @rule(back=st.integers(1, 4))
    def an_old_list_comes_back(self, back: int) -> None:
        self.rows = [dict(row) for row in self.lists[-1 - back % len(self.lists)]]
        self._merge()

    @rule(at=AT)
    def list_grows_shrinks_or_is_sorted(self, at: int) -> None:
        match at:
            case 0 | 1 if len(self.rows) < 4:
                self.rows.append({"Name": "Dag Falk", "Role": "Oboe"})
            case 2 | 3 if len(self.rows) > 2:
                del self.rows[at % len(self.rows)]
            case _:
                self.rows.reverse()
        self._merge()

    # The client

    def pack(self) -> None:
        self._look()
        shown = {r.number: seen for r in self._records() if (seen := self._seen(r))}
        with self.shop.changing() as change:
            number = change.newest_pack()[1] + 1
            records = [record for record in change.records() if record.number in shown]
            change.put_pack(f"PACK-{number:04d}", number, records, b"")
        self.packs.append(shown)
        self.talk.packs = number

    @rule(replies=st.lists(REPLIES, min_size=3, max_size=9), rest=st.sampled_from(["", "late"]))
    def people_answer(self, replies: list[Reply], rest: str) -> None:
        late = []
        for reply in replies:
            if reply.is_to_a_new_pack:
                self.pack()
            self.post.append(self._written(reply))
            if reply.is_late:
                late.append(self.post[-1])
            else:
                self._arrives(self.post[-1])
        for letter in late if rest else ():
            self._arrives(letter)

    @rule(at=ITEM, who=WHO)
    def a_text_is_confirmed_and_another_one_and_the_old_list_comes_back(
        self, at: int, who: str
    ) -> None:
        """Confirm a text, then another one, and bring the old list back: it wants a new yes."""
        row = self.rows[at % len(self.rows)]
        before = row["Role"]
        self._says_yes(who, row["Name"])
        row["Role"] = next(role for role in ROLES if role != before)
        self._merge()
        self._says_yes(who, row["Name"])
        row["Role"] = before
        self._merge()
        self.all_is_as_the_model_says()

    def _says_yes(self, who: str, name: str) -> None:
        """Have somebody say yes, on a new pack, to all cups of a name."""
        self.pack()
        for at, item in enumerate(sorted(self.packs[-1])):
            if self.packs[-1][item].text.startswith(name):
                reply = Reply(who, at, "yes", 0, False, None, "file", 0, False)
                self.post.append(self._written(reply))
                self._arrives(self.post[-1])

    def _written(self, reply: Reply) -> Letter:
        number = max(len(self.packs) - reply.back, 1)
        word, who = self._word(reply, number), reply.who
        time = "" if reply.hours is None else (NOON + dt.timedelta(hours=reply.hours)).isoformat()
        pack = f"PACK-{number:04d}"
        if reply.way == "workbook" or not who:
            return Letter(reply.way, who, "" if reply.way == "workbook" else time, pack, (word,))
        page = self.pages.setdefault((who, number), Page())
        page.savings += 1
        word.page, word.saving = f"{who}/{number}", page.savings
        if word.item not in page.words or "change" in (word.verdict, page.words[word.item].verdict):
            page.words[word.item] = word  # else it says yes once more
        words = tuple(page.words.values())
        return Letter(reply.way, who, time, pack, words, word.page, page.savings)

    def _word(self, reply: Reply, number: int) -> Word:
        shown = self.packs[number - 1]
        item = sorted(shown)[reply.at % len(shown)]
        seen, place = shown[item], reply.place
        if reply.verdict == "yes":
            return Word(item, reply.who, "yes", seen, "", {}, number)
        texts = seen.text.split("|")
        wanted = {
            at: text for at, text in enumerate((NAMES[texts[0]], ROLES[len(self.post) % 3]))
            if at == place and text != texts[at]
        }  # fmt: skip
        return Word(item, reply.who, "change", seen, f"w{len(self.post)}", wanted, number)

    @precondition(lambda self: self.post)
    @rule(at=st.integers(0, 4))
    def something_arrives_late_or_again(self, at: int) -> None:
        self._arrives(self.post[-1 - at % len(self.post)])

    def _arrives(self, letter: Letter) -> None:
        said = [
            Said(
                w.item,
                w.seen.seal,
                w.verdict,
                w.words,
                {("name", "role")[at]: text for at, text in w.wanted.items()},
            )
            for w in letter.words
        ]
        self._call(lambda: self.shop.answer(
            *said, at=letter.at, by=letter.who, pack=letter.pack, page=letter.page,
            saving=letter.saving, way=letter.way,
        ))  # fmt: skip
        for word in letter.words:
            self.talk.hear(word)
        self.all_is_as_the_model_says()

    # The maker

    @rule(at=ITEM, who=WHO, ago=st.sampled_from([None, 1, 30]))
    def somebody_says_yes_on_the_telephone(self, at: int, who: str, ago: int | None) -> None:
        item = self._item(at)
        record = self.shop.records()[item]
        if not (seen := self._seen(record)):
            return
        on = dt.datetime.now().astimezone() - dt.timedelta(hours=ago) if ago else None
        by = who or "phone"
        try:
            self._call(lambda: client.confirm(self.shop.folder, [str(item)], by, on))
        except InputError as error:
            was_not_shown = ago and "No proof pack had shown" in str(error)
            assert was_not_shown or (self.talk.people and who not in self.talk.people)
        else:
            self.talk.hear(Word(item, who, "yes", seen, "", {}, self.talk.packs, PHONE))

    @precondition(lambda self: any(word.verdict == "change" for word in self.talk.words))
    @rule(at=ITEM, replies=st.lists(REPLIES, max_size=3))
    def the_maker_decides(self, at: int, replies: list[Reply]) -> None:
        item = self._item(at, "to change", "they disagree")
        try:
            self._call(lambda: client.decide(self.shop.folder, [str(item)], "Ina Holm", "so be it"))
        except InputError:
            seen = self._seen(self.shop.records()[item])
            assert not seen or not self.talk.against(item, seen.text)
        else:
            self.talk.decide(item)
        self.all_is_as_the_model_says()
        self.people_answer(replies, "")

    @precondition(lambda self: any(word.wanted for word in self.talk.words))
    @rule(at=ITEM)
    def the_maker_takes_a_correction(self, at: int) -> None:
        item = self._item(at, "to change", "they disagree")
        record = self.shop.records()[item]
        if record.gone or record.about["name"] not in NAMES:
            return
        texts = {"name": NAMES[record.about["name"]]}
        client.accept(self.shop.folder, Accept((item,), texts, "the maker"), jobs=1)
        self._look()

    @rule(
        people=st.sampled_from([(), ("Anna Reed",), ("Anna Reed", "Bo Dahl")]), both=st.booleans()
    )
    def others_are_asked(self, people: tuple[str, ...], both: bool) -> None:
        needs = "all" if both and len(people) == 2 else "one"
        file = self.shop.folder / "order.toml"
        text = file.read_text().split("\n[client]")[0]
        if people:
            text += f"\n[client]\npeople = {list(people)}\nneeds = '{needs}'\n"
        file.write_text(text)
        self._merge()
        self.talk.people, self.talk.needs = people, needs

    @rule(reason=st.sampled_from(["", "at sea"]))
    def release(self, reason: str) -> None:
        before = {number: self._seen(record) for number, record in self.shop.records().items()}
        self._call(lambda: self.shop.release(reason=reason))
        for number in self.shop.to_engrave():
            seen = before[number]
            if reason and seen and not self.talk.is_free(number, seen):
                self.talk.waive(number, seen.look)

    @rule(at=AT, is_spoiled=st.booleans())
    def a_cup_is_engraved_or_spoiled(self, at: int, is_spoiled: bool) -> None:
        if not (lying := sorted(self.shop.to_engrave())):
            return
        item = lying[at % len(lying)]
        (self.shop.spoiled if is_spoiled else self.shop.engraved)(item)
        self.engraved.add(item)
        self.only_what_is_free_lies_in_the_folder(self.shop.records())
        if is_spoiled:
            self.engraved.discard(item)

    @rule(at=AT, folder=st.sampled_from(["merged/artwork", "to-engrave"]))
    def a_file_is_edited_by_hand(self, at: int, folder: str) -> None:
        paths = sorted((self.shop.folder / folder).glob("*.svg"))
        if paths:
            paths[at % len(paths)].write_text("<svg/>")
        self.shop.release()

    def _told(self, number: int) -> str:
        """Return what the model has heard about an item."""
        record = self.shop.records()[number]
        talk, seen = self.talk, self._seen(record)
        heard = "\n".join(str(word) for word in talk.words if word.item == number)
        rest = talk.decided.get(number), talk.waived, talk.people, talk.needs
        return f"item {number} is {record.standing}: {seen}\n{heard}\nand {rest}"

    @rule()
    def an_older_ledger_comes_back(self) -> None:
        """Bring back an older ledger, as synced folders do; once told, the newest is put back."""
        newest = self._ledger()
        self._put_ledger(self.copy)
        try:
            self.shop.release()
        except InputError:
            self._put_ledger(newest)
        self.copy = self._ledger()

    def _ledger(self) -> dict[Path, bytes]:
        return {path: path.read_bytes() for path in self.shop.folder.glob("ledger.sqlite*")}

    def _put_ledger(self, files: dict[Path, bytes]) -> None:
        for path in self.shop.folder.glob("ledger.sqlite*"):
            path.unlink()
        for path, data in files.items():
            path.write_bytes(data)

    @invariant()
    def all_is_as_the_model_says(self) -> None:
        records = self.shop.records()
        self.only_what_is_free_lies_in_the_folder(records)
        self._a_release_would_let_out_what_is_free(records)
        self._every_word_is_on_record(records)
        active = [record for record in records.values() if not record.gone]
        assert sorted(r.entry.row for r in active) == list(range(2, len(self.rows) + 2))

    def only_what_is_free_lies_in_the_folder(self, records: dict[int, Record]) -> None:
        lying = self.shop.to_engrave()
        assert lying.keys().isdisjoint(self.engraved)
        for number, path in lying.items():
            seen = self._seen(records[number])
            assert seen, f"item {number} is gone or stopped"
            assert hashlib.sha256(path.read_bytes()).hexdigest() == seen.look
            assert self.talk.is_free(number, seen), self._told(number)

    def _a_release_would_let_out_what_is_free(self, records: dict[int, Record]) -> None:
        for number, record in records.items():
            seen = self._seen(record)
            if seen and number not in self.engraved:
                is_free = record.standing in ("confirmed", "released", "spoiled")
                assert is_free == self.talk.is_free(number, seen), self._told(number)

    def _every_word_is_on_record(self, records: dict[int, Record]) -> None:
        for word in self.talk.words:
            said = [
                (a.verdict, a.seal, a.words)
                for a in records[word.item].answers
                if word.who in a.said_by
            ]
            assert (word.verdict, word.seen.seal, word.words) in said, word


@pytest.mark.filterwarnings("ignore")
def test_nothing_lies_in_the_folder_against_anybodys_word(
    tmp_path: Path, box_font: Path, samples: Samples, monkeypatch: pytest.MonkeyPatch
) -> None:
    from hypothesis.stateful import run_state_machine_as_test

    sys.addaudithook(Disk.hook)
    monkeypatch.setattr(os, "sync", lambda: None)  # these are rules, not power cuts,
    monkeypatch.setattr(making_items, "draw_proof", lambda *_: Undrawn())  # and not pictures
    monkeypatch.setattr(making_items, "png", lambda *_: b"")
    monkeypatch.setattr(making_items, "maker_copy", lambda *_: b"")
    shop = Shop(tmp_path / "merged", box_font)
    shop.list(GUESTS[:3])
    shop.merge()
    WholeConversation.folder, WholeConversation.merged = tmp_path, shop.folder
    run_state_machine_as_test(  # type: ignore[no-untyped-call]
        WholeConversation,
        settings=settings(
            max_examples=samples(15, 300),
            stateful_step_count=16,
            deadline=None,
            suppress_health_check=list(HealthCheck),
            # What fails tells all that the model has heard; a shorter way to it takes minutes.
            phases=[Phase.reuse, Phase.generate],
        ),
    )
