"""The ledger: an order's single memory, a SQLite file in the order's folder.

It holds who is who, what was made, what the client said, and what became of every cup. Every change
is one transaction, which is the lock as well: two of them at once are not possible, and one that is
cut off has never been. Readers see what was there before.
"""

from __future__ import annotations

import datetime as dt
import json
import secrets
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, Literal, TypeVar

from mailmerge import provenance
from mailmerge.artwork import Own
from mailmerge.files import Root, is_link, leads_elsewhere, read_file
from mailmerge.findings import BeingChanged, InputError
from mailmerge.items import Entry
from mailmerge.ledger import words
from mailmerge.ledger.conversation import Answer, Asked, Decision
from mailmerge.ledger.copies import copies_in
from mailmerge.ledger.money import Account, Part, Payment, Sum
from mailmerge.ledger.standing import (
    Addition,
    Correction,
    Event,
    Handover,
    OpenQuestion,
    Record,
    SetApart,
    Settlement,
    Timing,
    entry_in,
)
from mailmerge.ledger.who import Known
from mailmerge.progress import CHANGES

_CLOCK = "clock"
"""The fact that tells for which item the clock runs, and since when."""

LEDGER = "ledger.sqlite"
LEDGER_FILES = (LEDGER, f"{LEDGER}-wal", f"{LEDGER}-shm", f"{LEDGER}-journal")
"""The ledger, and what SQLite keeps beside it while it is open (SQLite, Temporary Files)."""
SYNCHRONOUS = "FULL"
"""What was put on record is on the disk, whatever happens next (SQLite's PRAGMA synchronous)."""

MIGRATIONS = (
    """
    CREATE TABLE fact (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
    CREATE TABLE guest (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        row INTEGER NOT NULL,          -- in the list, at the last merge
        fields TEXT NOT NULL,          -- JSON: the list's own texts, cleaned
        gone INTEGER NOT NULL DEFAULT 0
    ) STRICT;
    CREATE TABLE former (              -- names that a guest had in an earlier list
        guest INTEGER NOT NULL REFERENCES guest (id), name TEXT NOT NULL, UNIQUE (guest, name)
    ) STRICT;
    CREATE TABLE item (
        number INTEGER PRIMARY KEY AUTOINCREMENT,  -- never given to another cup
        guest INTEGER NOT NULL REFERENCES guest (id),
        cup INTEGER NOT NULL,
        gone INTEGER NOT NULL DEFAULT 0,
        seal TEXT,                     -- of the artwork; NULL while the item is stopped
        about TEXT NOT NULL,           -- JSON: the texts that the artwork engraves, by field
        entry TEXT NOT NULL,           -- JSON: the item in report.json
        digests TEXT NOT NULL,         -- JSON: SHA-256 by the name of each of its files
        fingerprint TEXT NOT NULL,     -- of everything that the files were made from
        UNIQUE (guest, cup)
    ) STRICT;
    CREATE TABLE letter_size (
        line INTEGER NOT NULL,
        text TEXT NOT NULL,            -- of the line, in the layout
        role TEXT NOT NULL,
        letter_height REAL NOT NULL,
        PRIMARY KEY (line, role)
    ) STRICT;
    CREATE TABLE pack (id TEXT PRIMARY KEY, made TEXT NOT NULL) STRICT;
    CREATE TABLE shown (
        pack TEXT NOT NULL REFERENCES pack (id),
        item INTEGER NOT NULL REFERENCES item (number),
        seal TEXT NOT NULL,
        about TEXT NOT NULL,           -- JSON: the texts that were shown, by field
        PRIMARY KEY (pack, item)
    ) STRICT;
    CREATE TABLE answer (
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        seal TEXT NOT NULL,            -- of the artwork that was seen
        verdict TEXT NOT NULL CHECK (verdict IN ('yes', 'change')),
        words TEXT NOT NULL,
        wanted TEXT NOT NULL,          -- JSON: new texts by field, as far as they are known
        about TEXT NOT NULL,           -- JSON: the texts that were seen
        said_by TEXT NOT NULL,
        way TEXT NOT NULL,
        said_at TEXT NOT NULL,         -- by the clock of whoever said it
        at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE correction (
        id INTEGER PRIMARY KEY,
        guest INTEGER NOT NULL REFERENCES guest (id),
        field TEXT NOT NULL,
        was TEXT NOT NULL,             -- in the list; it holds as long as the list says this
        text TEXT NOT NULL,
        words TEXT NOT NULL,           -- of the answer that asked for it
        said_by TEXT NOT NULL,
        at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE event (
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        what TEXT NOT NULL CHECK (what IN ('released', 'withdrawn', 'engraved', 'spoiled')),
        seal TEXT NOT NULL,
        place INTEGER,                 -- in the run, of what was released
        reason TEXT NOT NULL DEFAULT '',  -- why it was released without a yes
        at TEXT NOT NULL
    ) STRICT;
    CREATE INDEX item_of_guest ON item (guest);
    CREATE INDEX answer_of_item ON answer (item);
    CREATE INDEX event_of_item ON event (item);
    """,
    """
    CREATE TABLE timing (
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        seal TEXT NOT NULL,
        machine TEXT NOT NULL,         -- the name of its profile
        motion TEXT NOT NULL,          -- a digest of how the profile says that it moves
        lines INTEGER NOT NULL,        -- of all passes together
        worked_out REAL NOT NULL,      -- seconds, by profile and settings alone
        took REAL NOT NULL,            -- seconds, by the clock
        at TEXT NOT NULL
    ) STRICT;
    """,
    """
    INSERT INTO fact VALUES ('schema', '1');  -- of the records in item.entry
    """,
    """
    -- Packs are counted in the order of making; each keeps its workbook as it was sent.
    ALTER TABLE pack ADD COLUMN number INTEGER NOT NULL DEFAULT 0;
    UPDATE pack SET number = rowid;
    ALTER TABLE pack ADD COLUMN list BLOB;
    CREATE TABLE arrival (             -- what came in at once, or was told the maker
        id INTEGER PRIMARY KEY,
        way TEXT NOT NULL,
        said_by TEXT NOT NULL,
        said_at TEXT NOT NULL,         -- by the clock of whoever said it
        pack INTEGER NOT NULL,         -- number of the pack that it answers; 0 for none
        after INTEGER NOT NULL,        -- number of the newest pack when it came in
        page TEXT NOT NULL,            -- what the page that saved it is known by
        saving INTEGER NOT NULL,       -- counted by that page; 0 where it came from none
        digest TEXT NOT NULL,          -- of all that it says
        at TEXT NOT NULL
    ) STRICT;
    INSERT INTO arrival SELECT id, way, said_by, said_at,
        coalesce((SELECT max(number) FROM shown JOIN pack ON pack.id = shown.pack
            WHERE shown.item = answer.item AND shown.seal = answer.seal
            AND answer.way <> 'confirm' AND pack.made <= answer.at), 0),
        (SELECT count(*) FROM pack WHERE pack.made <= answer.at), '', 0, 'answer ' || id, at
        FROM answer;
    CREATE TABLE word (                -- what was said about an item
        id INTEGER PRIMARY KEY,
        arrival INTEGER NOT NULL REFERENCES arrival (id),
        item INTEGER NOT NULL REFERENCES item (number),
        seal TEXT NOT NULL,            -- of the artwork that was seen
        verdict TEXT NOT NULL CHECK (verdict IN ('yes', 'change')),
        words TEXT NOT NULL,
        wanted TEXT NOT NULL,          -- JSON: new texts by field, as far as they are known
        about TEXT NOT NULL            -- JSON: the texts that were seen
    ) STRICT;
    INSERT INTO word SELECT id, id, item, seal, verdict, words, wanted, about FROM answer;
    ALTER TABLE event ADD COLUMN after INTEGER NOT NULL DEFAULT 0;
    UPDATE event SET after = coalesce((SELECT max(id) FROM answer WHERE answer.at <= event.at), 0);
    DROP TABLE answer;
    CREATE TABLE decision (            -- the maker's, over what is said against an item
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        up_to INTEGER NOT NULL,        -- the last word that it is about
        said_by TEXT NOT NULL,
        reason TEXT NOT NULL,
        at TEXT NOT NULL
    ) STRICT;
    -- Before, a yes closed what was said against the same artwork. What was so, stays so.
    INSERT INTO decision (item, up_to, said_by, reason, at)
        SELECT item, max(word.id), said_by, '', at FROM word
        JOIN arrival ON arrival.id = word.arrival WHERE verdict = 'yes' GROUP BY item;
    CREATE TABLE question (            -- what came in and is not understood
        id INTEGER PRIMARY KEY,
        arrival INTEGER NOT NULL REFERENCES arrival (id),
        items TEXT NOT NULL,           -- JSON: the numbers of those that it may concern
        place TEXT NOT NULL,           -- where it stood, in words
        words TEXT NOT NULL,
        fields TEXT NOT NULL,          -- JSON: the texts of the guest that it may be about
        outcome TEXT NOT NULL DEFAULT '',  -- what was decided; '' while it is open
        said_by TEXT NOT NULL DEFAULT '',
        at TEXT NOT NULL DEFAULT ''
    ) STRICT;
    CREATE TABLE addition (            -- guests that the list does not hold
        id INTEGER PRIMARY KEY,
        question INTEGER NOT NULL REFERENCES question (id),
        guest INTEGER REFERENCES guest (id),  -- since the next merge
        fields TEXT NOT NULL           -- JSON: their texts by field
    ) STRICT;
    CREATE INDEX word_of_item ON word (item);
    """,
    """
    CREATE TABLE mistake (             -- what was put on record of a cup, and was not so
        event INTEGER PRIMARY KEY REFERENCES event (id),
        at TEXT NOT NULL
    ) STRICT;
    """,
    """
    CREATE TABLE own (                 -- how single cups are set; the last of each line holds
        id INTEGER PRIMARY KEY,
        item INTEGER NOT NULL REFERENCES item (number),
        line INTEGER NOT NULL,         -- of the layout
        text TEXT NOT NULL,            -- of that line, in the layout
        letter_height REAL,
        rows TEXT NOT NULL,            -- JSON
        font TEXT NOT NULL,
        said_by TEXT NOT NULL,
        at TEXT NOT NULL
    ) STRICT;
    """,
    """
    CREATE TABLE addition_now (        -- guests that have no row of their own in the list
        id INTEGER PRIMARY KEY,
        question INTEGER REFERENCES question (id),  -- with which they came
        beside INTEGER REFERENCES guest (id),       -- whose row holds them, too
        guest INTEGER REFERENCES guest (id),        -- since the next merge
        fields TEXT NOT NULL                        -- JSON: their texts by field
    ) STRICT;
    INSERT INTO addition_now (id, question, guest, fields)
        SELECT id, question, guest, fields FROM addition;
    DROP TABLE addition;
    ALTER TABLE addition_now RENAME TO addition;
    """,
    """
    CREATE TABLE handover (            -- cups that somebody has taken with them
        id INTEGER PRIMARY KEY,
        engraving INTEGER NOT NULL REFERENCES event (id),  -- of that cup
        given_to TEXT NOT NULL,
        day TEXT NOT NULL,
        at TEXT NOT NULL,
        taken_back TEXT                -- when; NULL while it holds
    ) STRICT;
    CREATE TABLE agreement (           -- what the order is to cost; the last one holds
        id INTEGER PRIMARY KEY,
        amount TEXT NOT NULL,          -- decimal
        currency TEXT NOT NULL,
        at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE payment (
        id INTEGER PRIMARY KEY,
        part TEXT NOT NULL CHECK (part IN ('deposit', 'rest')),
        amount TEXT NOT NULL,          -- decimal
        currency TEXT NOT NULL,
        way TEXT NOT NULL,
        day TEXT NOT NULL,
        at TEXT NOT NULL,
        taken_back TEXT                -- when; NULL while it holds
    ) STRICT;
    """,
    """
    CREATE TABLE state (               -- every state that this record has been in, or gone on from
        number INTEGER NOT NULL,
        mark TEXT NOT NULL,
        PRIMARY KEY (number, mark)
    ) STRICT, WITHOUT ROWID;
    INSERT INTO state
        SELECT CAST(value AS INTEGER),
            CASE WHEN instr(value, ' ') THEN substr(value, instr(value, ' ') + 1) ELSE '' END
        FROM fact WHERE key = 'state' AND CAST(value AS INTEGER) > 0;
    """,
)
"""SQL from each version of the schema to the next; the first one makes it."""


def now() -> str:
    """Return the time as it is put on record: local, with its offset from UTC, to the second."""
    return as_on_record(dt.datetime.now())


def as_on_record(when: dt.datetime) -> str:
    """Return a time as it is put on record: local, with its offset from UTC, to the second."""
    return when.astimezone().isoformat(timespec="seconds")


@dataclass(frozen=True, slots=True)
class Made:
    """What an item came to."""

    fingerprint: str
    """Of everything that it was made from."""
    entry: Entry
    digests: Mapping[str, str]
    """SHA-256 by the names of its files."""


class Ledger:
    """An open ledger, to be read; use :func:`open_ledger`."""

    def __init__(self, folder: Path, connection: sqlite3.Connection) -> None:
        self.folder = folder
        self.root = Root(folder)
        self._db = connection

    # What is known

    @property
    def order_id(self) -> str:
        """What the order's proof packs and answers know it by: eight random characters."""
        return self.fact("order") or ""

    def fact(self, key: str) -> str | None:
        """Return a single value, or None if it was never put on record."""
        row = self._db.execute("SELECT value FROM fact WHERE key = ?", (key,)).fetchone()
        return None if row is None else str(row[0])

    def may_have_been(self, state: int, mark: str) -> bool:
        """Whether the record was once in a state, or the state is from before it kept them."""
        first, was = self._db.execute(
            "SELECT min(number), max(number = ? AND mark = ?) FROM state", (state, mark)
        ).fetchone()
        return first is None or state < first or bool(was)

    @property
    def is_of_this_engine(self) -> bool:
        """Whether this engine made what is on record."""
        return self.fact("engine") == provenance.engine_mark()

    @property
    def on_machine(self) -> tuple[int, str] | None:
        """The item whose clock runs, and since when (ISO 8601); None while none does."""
        told = json.loads(self.fact(_CLOCK) or "null")
        return (int(told[0]), str(told[1])) if told else None

    def guests(self) -> list[Known]:
        """Return every guest there ever was, in the order in which they came up."""
        items: dict[int, list[int]] = {}
        made = {
            guest
            for (guest,) in self._db.execute(
                "SELECT guest FROM item JOIN event ON event.item = item.number"
            )
        }
        said = dict(
            self._db.execute(
                "SELECT guest, verdict FROM item JOIN word ON word.item = item.number "
                "ORDER BY word.id"
            )
        )
        corrected = {guest for (guest,) in self._db.execute("SELECT guest FROM correction")}
        for guest, number in self._db.execute("SELECT guest, number FROM item ORDER BY cup"):
            items.setdefault(guest, []).append(number)
        return [
            Known(
                guest,
                row,
                self._texts(fields),
                tuple(items.get(guest, ())),
                bool(gone),
                guest in made,
                guest in corrected,
                said.get(guest, ""),
            )
            for guest, row, fields, gone in self._db.execute(
                "SELECT id, row, fields, gone FROM guest ORDER BY id"
            )
        ]

    def active(self) -> list[int]:
        """Return the numbers of the items that are wanted."""
        found = self._db.execute("SELECT number FROM item WHERE NOT gone ORDER BY number")
        return [number for (number,) in found]

    def records(self, after_release: bool = False) -> list[Record]:
        """Return everything about every item, by number.

        Parameters
        ----------
        after_release
            Only of items that were released once: of a large order these are few for long.
        """
        answers, events, corrections = self._answers(), self._events(), self._corrections()
        decisions, asked, apart = self._decisions(), self.asked, self.set_apart()
        handovers = self._handovers()
        questions = _by_item((each.items, each) for each in self.questions())
        settled = _by_item((each.question.items, each) for each in self.settlements())
        return [
            Record(
                number=number,
                guest=guest,
                cup=cup,
                gone=bool(gone),
                seal=seal,
                about=self._texts(about),
                report=entry,
                digests=self._texts(digests),
                answers=tuple(answers.get(number, ())),
                events=tuple(events.get(number, ())),
                corrections=tuple(corrections.get(guest, ())),
                decisions=tuple(decisions.get(number, ())),
                questions=tuple(questions.get(number, ())),
                settled=tuple(settled.get(number, ())),
                asked=asked,
                apart=tuple(apart.get(number, ())),
                handed=handovers.get(number),
            )
            for number, guest, cup, gone, seal, about, entry, digests in self._db.execute(
                "SELECT number, guest, cup, gone, seal, about, entry, digests FROM item "
                "WHERE NOT ? OR number IN (SELECT item FROM event) ORDER BY number",
                (after_release,),
            )
        ]

    def _texts(self, text: str) -> dict[str, Any]:
        """Return texts by their names that were kept as JSON; see :meth:`_values`."""
        return self._values(text, dict)

    def _list(self, text: str) -> list[Any]:
        """Return a list that was kept as JSON; see :meth:`_values`."""
        return self._values(text, list)

    def _values(self, text: str, kind: type[Kept]) -> Kept:
        """Return what was kept as JSON.

        Raises
        ------
        LedgerDamaged
            It is none, or another kind: the file has changed beneath SQLite, which has no sums
            over its pages.
        """
        try:
            found = json.loads(text)
            if not isinstance(found, kind):
                raise TypeError(words.other_kind(text))
        except (ValueError, TypeError) as error:
            said = words.damaged(self.folder / LEDGER, error, self.folder)
            raise LedgerDamaged(said) from None
        return found

    def made(self, number: int) -> Made | None:
        """Return what an item came to at the last merge; None if it is new."""
        row = self._db.execute(
            "SELECT fingerprint, entry, digests FROM item WHERE number = ? AND NOT gone", (number,)
        ).fetchone()
        if row is None:
            return None
        return Made(str(row[0]), entry_in(row[1], number), self._texts(row[2]))

    def files(self) -> set[str]:
        """Return the names of all files that belong to items, gone ones not."""
        rows = self._db.execute("SELECT digests FROM item WHERE NOT gone")
        return {name for (digests,) in rows for name in self._texts(digests)}

    def next_number(self) -> int:
        """Return the number of the next new item: above every one that was ever given."""
        row = self._db.execute("SELECT seq FROM sqlite_sequence WHERE name = 'item'").fetchone()
        return 1 if row is None else int(row[0]) + 1

    def corrections(self) -> dict[int, tuple[Correction, ...]]:
        """Return what was corrected, by guest, oldest first."""
        return {guest: tuple(found) for guest, found in self._corrections().items()}

    def set_apart(self) -> dict[int, list[SetApart]]:
        """Return how single cups were set differently, and as the others again, oldest first."""
        found: dict[int, list[SetApart]] = {}
        for item, line, text, height, rows, font, said_by, at in self._db.execute(
            "SELECT item, line, text, letter_height, rows, font, said_by, at FROM own ORDER BY id"
        ):
            own = Own(line, height, tuple(self._list(rows)), font)
            found.setdefault(item, []).append(SetApart(own, text, said_by, at))
        return found

    def letter_sizes(self) -> list[tuple[int, str, str, float]]:
        """Return line, its text, role and letter height (mm) of the cups that were released."""
        found = self._db.execute("SELECT line, text, role, letter_height FROM letter_size")
        return found.fetchall()

    def former_names(self) -> set[str]:
        """Return the names that guests had in earlier lists."""
        return {name for (name,) in self._db.execute("SELECT name FROM former")}

    def timings(self) -> list[tuple[int, Timing]]:
        """Return how long items took by the clock, oldest first."""
        found = self._db.execute(
            "SELECT item, seal, machine, motion, lines, worked_out, took, at "
            "FROM timing ORDER BY id"
        )
        return [(item, Timing(*rest)) for item, *rest in found]

    def shown_in(self, pack: str) -> dict[int, str]:
        """Return the seal of every item that a proof pack showed; empty for an unknown pack."""
        rows = self._db.execute("SELECT item, seal FROM shown WHERE pack = ?", (pack,))
        return dict(rows.fetchall())

    def texts_in(self, pack: str) -> dict[int, dict[str, str]]:
        """Return the texts of every item that a proof pack showed, by field."""
        rows = self._db.execute("SELECT item, about FROM shown WHERE pack = ?", (pack,))
        return {item: self._texts(about) for item, about in rows}

    def list_sent(self, pack: str) -> bytes:
        """Return the workbook of a proof pack as it was sent; empty where it was not kept."""
        found = self._db.execute("SELECT list FROM pack WHERE id = ?", (pack,)).fetchone()
        return b"" if found is None or found[0] is None else bytes(found[0])

    def was_shown(self, number: int, seal: str, by: str = "") -> bool:
        """Whether any proof pack showed an item with this seal, made by some time (ISO 8601)."""
        found = self._db.execute(
            "SELECT made FROM shown JOIN pack ON pack.id = pack WHERE item = ? AND seal = ?",
            (number, seal),
        )
        times = [dt.datetime.fromisoformat(made) for (made,) in found]
        return any(not by or made <= dt.datetime.fromisoformat(by) for made in times)

    def pack_made(self, pack: str) -> str:
        """Return when a proof pack of the order was made (ISO 8601)."""
        found = self._db.execute("SELECT made FROM pack WHERE id = ?", (pack,)).fetchone()
        return str(found[0])

    def first_shown(self) -> dict[tuple[int, str], str]:
        """Return when a proof pack first showed an item with a seal, for all that were shown."""
        found = self._db.execute(
            "SELECT item, seal, MIN(made) FROM shown JOIN pack ON pack.id = pack "
            "GROUP BY item, seal"
        )
        return {(item, seal): made for item, seal, made in found}

    @property
    def asked(self) -> Asked:
        """Whose yes the order wants, as its file said when it was last looked at."""
        people, needs = self._list(self.fact("asked") or '[[], "one"]')
        return Asked(tuple(people), needs == "all")

    def questions(self) -> list[OpenQuestion]:
        """Return what came back, was not understood, and is not settled yet, oldest first."""
        return [question for question, *settled in self._questions() if not settled[0]]

    def settlements(self) -> list[Settlement]:
        """Return what was settled, oldest question first."""
        return [Settlement(*each) for each in self._questions() if each[1]]

    def _questions(self) -> list[tuple[OpenQuestion, str, str, str]]:
        """Return every question with its outcome, by whom and when; ``""`` while it is open."""
        found = self._db.execute(
            "SELECT question.id, items, place, words, fields, arrival.said_by, arrival.at, "
            "outcome, question.said_by, question.at "
            "FROM question JOIN arrival ON arrival.id = arrival ORDER BY question.id"
        )
        return [
            (
                OpenQuestion(number, tuple(self._list(items)), place, said, self._texts(fields),
                             by, at),
                *settled,
            )
            for number, items, place, said, fields, by, at, *settled in found
        ]  # fmt: skip

    def additions(self) -> list[Addition]:
        """Return the guests without a row of their own, in the order in which they came."""
        found = self._db.execute("SELECT id, guest, fields, beside FROM addition ORDER BY id")
        return [
            Addition(number, guest, self._texts(fields), beside)
            for number, guest, fields, beside in found
        ]

    def asked_about(self, pack: str) -> list[tuple[str, list[int], str, str]]:
        """Return all that was not understood in answers to a pack: whose, items, place, words."""
        found = self._db.execute(
            "SELECT arrival.said_by, items, place, words FROM question "
            "JOIN arrival ON arrival.id = arrival WHERE pack = ?",
            (self.pack_number(pack),),
        )
        return [(by, self._list(items), place, said) for by, items, place, said in found]

    def has_come(self, digest: str) -> bool:
        """Whether something that says exactly this came in before."""
        found = self._db.execute("SELECT 1 FROM arrival WHERE digest = ? LIMIT 1", (digest,))
        return found.fetchone() is not None

    def pack_number(self, pack: str) -> int:
        """Return which pack of the order it is, counted from 1; 0 if there is none such."""
        found = self._db.execute("SELECT number FROM pack WHERE id = ?", (pack,)).fetchone()
        return 0 if found is None else int(found[0])

    def newest_pack(self) -> tuple[str, int]:
        """Return what the newest proof pack is known by, and its number; 0 where there is none."""
        found = self._db.execute("SELECT id, number FROM pack ORDER BY number DESC LIMIT 1")
        return found.fetchone() or ("", 0)

    def has_heard_since(self, pack: int) -> bool:
        """Whether anything came in since a proof pack was made."""
        found = self._db.execute("SELECT 1 FROM arrival WHERE after >= ? LIMIT 1", (pack,))
        return found.fetchone() is not None

    def _answers(self) -> dict[int, list[Answer]]:
        """Return what was said, by item, oldest first.

        A later saving of a page takes the place of its earlier ones: of their yeses always, of what
        they object to where it says something about the same item. Whoever enters a name on a page
        answers for what was saved there without one.
        """
        found: dict[int, list[Answer]] = {}
        pages: dict[tuple[int, str], tuple[tuple[str, ...], int, int]] = {}
        for item, page, wanted, about, overtaken, *rest in self._db.execute(
            "SELECT item, page, wanted, about, EXISTS ("
            "  SELECT 1 FROM arrival later WHERE later.page = arrival.page "
            "  AND arrival.page <> '' AND arrival.said_by IN ('', later.said_by) "
            "  AND later.saving > arrival.saving AND (verdict = 'yes' OR EXISTS ("
            "    SELECT 1 FROM word other WHERE other.arrival = later.id "
            "    AND other.item = word.item))), "
            "seal, verdict, words, said_by, way, said_at, at, word.id, pack, after "
            "FROM word JOIN arrival ON arrival.id = arrival ORDER BY word.id"
        ):
            seal, verdict, remark, said_by, way, said_at, at, number, pack, after = rest
            said = (said_by, seal, verdict, remark, wanted)
            if page and pages.get((item, page), ((), 0, 0))[0] == said:
                _, number, after = pages[item, page]  # the very word, saved once more
            pages[item, page] = (said, number, after)
            answer = Answer(
                seal, verdict, remark, self._texts(wanted), self._texts(about), said_by, way,
                said_at, at, number, pack, after, bool(overtaken),
            )  # fmt: skip
            found.setdefault(item, []).append(answer)
        return found

    def _decisions(self) -> dict[int, list[Decision]]:
        found: dict[int, list[Decision]] = {}
        for item, *rest in self._db.execute(
            "SELECT item, up_to, said_by, reason, at FROM decision ORDER BY id"
        ):
            found.setdefault(item, []).append(Decision(*rest))
        return found

    def _events(self) -> dict[int, list[Event]]:
        found: dict[int, list[Event]] = {}
        for item, *rest in self._db.execute(
            "SELECT item, what, seal, place, reason, at, after FROM event "
            "WHERE id NOT IN (SELECT event FROM mistake) ORDER BY id"
        ):
            found.setdefault(item, []).append(Event(*rest))
        return found

    def _handovers(self) -> dict[int, Handover]:
        """Return who has taken the cup that an item has now, by item."""
        return {
            item: Handover(*rest)
            for item, *rest in self._db.execute(
                "SELECT item, given_to, day, handover.at FROM handover "
                "JOIN event ON event.id = engraving WHERE taken_back IS NULL "
                "AND engraving IN (SELECT max(id) FROM event "
                "WHERE id NOT IN (SELECT event FROM mistake) GROUP BY item)"
            )
        }

    @property
    def account(self) -> Account:
        """What was agreed and paid, in the order in which it was put on record."""
        row = self._db.execute(
            "SELECT amount, currency FROM agreement ORDER BY id DESC LIMIT 1"
        ).fetchone()
        payments = (
            Payment(number, part, Sum(Decimal(amount), currency), way, dt.date.fromisoformat(day))
            for number, part, amount, currency, way, day in self._db.execute(
                "SELECT id, part, amount, currency, way, day FROM payment "
                "WHERE taken_back IS NULL ORDER BY id"
            )
        )
        return Account(None if row is None else Sum(Decimal(row[0]), row[1]), tuple(payments))

    def _corrections(self) -> dict[int, list[Correction]]:
        found: dict[int, list[Correction]] = {}
        for guest, field, was, text, remark, said_by, at in self._db.execute(
            "SELECT guest, field, was, text, words, said_by, at FROM correction ORDER BY id"
        ):
            found.setdefault(guest, []).append(Correction(field, was, text, remark, said_by, at))
        return found

    # How it is changed

    @property
    def is_used(self) -> bool:
        """Whether anything was ever put on record."""
        (facts,) = self._db.execute(
            "SELECT count(*) FROM fact WHERE key NOT IN ('order', 'schema')"
        ).fetchone()
        return bool(facts) or self.next_number() > 1

    @contextmanager
    def writing(self) -> Iterator[LedgerChange]:
        """Make what is done inside one change: all of it, or on any error none of it.

        Raises
        ------
        InputError
            Another change is being made at this moment, or it cannot be written.
        """
        with _said(self.folder):
            self._db.execute("BEGIN IMMEDIATE")
            change, was_changed = LedgerChange(self.folder, self._db), self.folder in CHANGES
            try:
                yield change
                if change.has_changed:
                    CHANGES.add(self.folder)
                self._db.execute("COMMIT")
            except BaseException:
                if self._db.in_transaction:
                    self._db.execute("ROLLBACK")
                    if not was_changed:
                        CHANGES.take_back(self.folder)
                raise

    def shrink(self) -> None:
        """Write the file anew without its free pages, and empty the log beside it.

        Raises
        ------
        InputError
            Somebody else reads it at this moment.
        """
        with _said(self.folder):
            self._db.execute("VACUUM")
            (busy, *_) = self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
            if busy:
                raise InputError(words.open_elsewhere(self.folder / LEDGER))

    def texts(self) -> Iterator[str]:
        """Pass over every text that is on record, in whatever table."""
        for table in self._tables():
            for row in self._db.execute(f"SELECT * FROM {table}"):
                yield from (value for value in row if isinstance(value, str))

    def _tables(self) -> list[str]:
        found = self._db.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
        )
        return [name for (name,) in found]

    @property
    def size(self) -> int:
        """How many bytes the whole ledger has."""
        (pages,), (length,) = (
            self._db.execute(f"PRAGMA {name}").fetchone() for name in ("page_count", "page_size")
        )
        return int(pages) * int(length)

    @property
    def said(self) -> str:
        """What changes whenever people have said, asked or decided something."""
        tables = ("arrival", "decision", "correction", "addition", "own")
        counts = [self._db.execute(f"SELECT max(id) FROM {each}").fetchone()[0] for each in tables]
        settled = self._db.execute("SELECT count(*) FROM question WHERE outcome <> ''").fetchone()
        asked = self._db.execute("SELECT max(id) FROM question").fetchone()
        return json.dumps([*counts, *settled, *asked])

    def image(self) -> bytes:
        """Return the whole ledger as one file that needs no other beside it.

        Nobody but SQLite may open the ledger's own files: a process that closes one loses its locks
        on it (SQLite, How To Corrupt An SQLite Database File, 2.2). So SQLite itself hands out what
        is in it, this change and what waits in the log included. Bytes 18 and 19 say that there is
        no log (SQLite, Database File Format, 1.3.3).
        """
        data = memoryview(self._db.serialize())
        return b"".join((data[:18], b"\1\1", data[20:]))

    def last_place(self) -> int:
        """Return the highest place in a run that was ever given; 0 before the first release."""
        return int(self._db.execute("SELECT coalesce(max(place), 0) FROM event").fetchone()[0])


class LedgerDamaged(InputError):
    """A ledger's file cannot be read as one."""


class LedgerChange(Ledger):
    """A ledger inside a change: what writes wants one, and only :meth:`Ledger.writing` gives it."""

    def __init__(self, folder: Path, connection: sqlite3.Connection) -> None:
        super().__init__(folder, connection)
        self._changes_before = connection.total_changes

    @property
    def has_changed(self) -> bool:
        """Whether the change has put anything on record so far."""
        return self._db.total_changes != self._changes_before

    def take_over(self, other: Ledger) -> None:
        """Put everything that another ledger says in the place of what this one says.

        Numbers of items that were given meanwhile are not given again.
        """
        self._db.execute("PRAGMA defer_foreign_keys = ON")
        tables = self._tables()
        for table in tables:
            self._db.execute(f"DELETE FROM {table}")
        for table in tables:
            for row in other._db.execute(f"SELECT * FROM {table}"):
                self._db.execute(f"INSERT INTO {table} VALUES ({', '.join('?' * len(row))})", row)
        for table, last in other._db.execute("SELECT name, seq FROM sqlite_sequence"):
            self._db.execute(
                "INSERT INTO sqlite_sequence SELECT ?, 0 WHERE NOT EXISTS "
                "(SELECT 1 FROM sqlite_sequence WHERE name = ?)",
                (table, table),
            )
            self._db.execute(
                "UPDATE sqlite_sequence SET seq = max(seq, ?) WHERE name = ?", (last, table)
            )

    def set_on_machine(self, number: int | None, since: dt.datetime | None = None) -> None:
        """Put on record that the clock runs for an item since a time, or for none.

        Parameters
        ----------
        since
            None for now.
        """
        told = as_on_record(since) if since else now()
        self.set_fact(_CLOCK, json.dumps(None if number is None else [number, told]))

    def set_fact(self, key: str, value: str) -> None:
        """Put a single value on record in place of what it was."""
        self._db.execute("INSERT OR REPLACE INTO fact VALUES (?, ?)", (key, value))

    def put_state(self, number: int, mark: str) -> None:
        """Put a state on record as one that the record is in, or goes on from."""
        self._db.execute("INSERT OR IGNORE INTO state VALUES (?, ?)", (number, mark))

    def put_guest(self, guest: int | None, row: int, fields: Mapping[str, str]) -> int:
        """Put a guest on record, a new one for None; return who it is."""
        text = _json(fields)
        if guest is None:
            added = self._db.execute("INSERT INTO guest (row, fields) VALUES (?, ?)", (row, text))
            assert added.lastrowid is not None
            return added.lastrowid
        (was,) = self._db.execute("SELECT fields FROM guest WHERE id = ?", (guest,)).fetchone()
        if (name := self._texts(was)["name"]) != fields["name"]:
            self._db.execute("INSERT OR IGNORE INTO former VALUES (?, ?)", (guest, name))
        self._db.execute(
            "UPDATE guest SET row = ?, fields = ?, gone = 0 WHERE id = ?", (row, text, guest)
        )
        return guest

    def put_item(
        self,
        guest: int,
        entry: Entry,
        about: Mapping[str, str],
        digests: Mapping[str, str],
        fingerprint: str,
    ) -> None:
        """Put what an item came to on record, in place of what it was."""
        self._db.execute(
            "INSERT INTO item (number, guest, cup, gone, seal, about, entry, digests, fingerprint) "
            "VALUES (?, ?, ?, 0, ?, ?, ?, ?, ?) ON CONFLICT (number) DO UPDATE SET gone = 0, "
            "seal = excluded.seal, about = excluded.about, entry = excluded.entry, "
            "digests = excluded.digests, fingerprint = excluded.fingerprint",
            (
                entry.item, guest, entry.cup, entry.seal, _json(about), entry.to_json(),
                _json(digests), fingerprint,
            ),
        )  # fmt: skip

    def put_gone(self, numbers: Iterable[int]) -> None:
        """Put on record that items are not wanted any more."""
        self._db.executemany("UPDATE item SET gone = 1 WHERE number = ?", [(n,) for n in numbers])
        self._db.execute(
            "UPDATE guest SET gone = 1 WHERE id NOT IN (SELECT guest FROM item WHERE NOT gone)"
        )

    def put_letter_sizes(self, sizes: Iterable[tuple[int, str, str, float]]) -> None:
        """Put the letter heights of what is released on record; those that are there hold."""
        self._db.executemany("INSERT OR IGNORE INTO letter_size VALUES (?, ?, ?, ?)", list(sizes))

    def settled_sizes(self) -> list[tuple[int, str, str, float]]:
        """Return line, its text, role and letter height (mm) that the last merge settled on."""
        return [tuple(size) for size in self._list(self.fact("sizes") or "[]")]

    def forget_letter_sizes(self) -> None:
        """Let the letter heights go: no cup has them any more."""
        self._db.execute("DELETE FROM letter_size")

    def put_asked(self, people: Iterable[str], needs: str) -> None:
        """Put on record whose yes the order wants: of ``one`` of these people, or of ``all``."""
        self.set_fact("asked", _json([list(people), needs]))

    def put_pack(self, pack: str, number: int, shown: Iterable[Record], listed: bytes) -> None:
        """Put on record what a proof pack shows: the seal and texts of each item, and its list."""
        self._db.execute(
            "INSERT OR IGNORE INTO pack VALUES (?, ?, ?, ?)", (pack, now(), number, listed)
        )
        self._db.executemany(
            "INSERT OR IGNORE INTO shown VALUES (?, ?, ?, ?)",
            [(pack, each.number, each.seal, _json(each.about)) for each in shown],
        )

    def put_arrival(
        self,
        way: str,
        said_by: str,
        said_at: str = "",
        pack: str = "",
        page: str = "",
        saving: int = 0,
        digest: str = "",
    ) -> int:
        """Put on record that something came in; return what it is known by.

        Parameters
        ----------
        pack
            The proof pack that it answers; ``""`` for none.
        page, saving
            What the page that saved it is known by, and its count; none of another way.
        digest
            Of all that it says.
        """
        added = self._db.execute(
            "INSERT INTO arrival (way, said_by, said_at, pack, after, page, saving, digest, at) "
            "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (
                way, said_by, said_at, self.pack_number(pack), self.newest_pack()[1], page, saving,
                digest, now(),
            ),
        )  # fmt: skip
        assert added.lastrowid is not None
        return added.lastrowid

    def put_answer(self, number: int, arrival: int, answer: Answer) -> None:
        """Put on record what was said about an item, in something that came in."""
        self._db.execute(
            "INSERT INTO word (arrival, item, seal, verdict, words, wanted, about) "
            "VALUES (?, ?, ?, ?, ?, ?, ?)",
            (
                arrival, number, answer.seal, answer.verdict, answer.words,
                _json(answer.wanted), _json(answer.about),
            ),
        )  # fmt: skip

    def put_decision(self, number: int, said_by: str, reason: str) -> None:
        """Put on record that the maker decides over all that was said about an item so far."""
        self._db.execute(
            "INSERT INTO decision (item, up_to, said_by, reason, at) "
            "SELECT ?, coalesce(max(id), 0), ?, ?, ? FROM word WHERE item = ?",
            (number, said_by, reason, now(), number),
        )

    def put_question(
        self, arrival: int, items: Iterable[int], place: str, said: str, fields: Mapping[str, str]
    ) -> int:
        """Put on record that something was not understood; return its number.

        Parameters
        ----------
        arrival
            What it came with.
        items
            Those that it may concern.
        place
            Where it stood, in words.
        fields
            Texts of the guest that it may be about, by field.
        """
        added = self._db.execute(
            "INSERT INTO question (arrival, items, place, words, fields) VALUES (?, ?, ?, ?, ?)",
            (arrival, _json(sorted(items)), place, said, _json(fields)),
        )
        assert added.lastrowid is not None
        return added.lastrowid

    def settle_question(self, number: int, outcome: str, said_by: str) -> None:
        """Put on record what was decided about an open question."""
        self._db.execute(
            "UPDATE question SET outcome = ?, said_by = ?, at = ? WHERE id = ?",
            (outcome, said_by, now(), number),
        )

    def put_addition(self, question: int, fields: Mapping[str, str]) -> None:
        """Put a guest on record whom the list does not hold, and who came with a question."""
        self._db.execute(
            "INSERT INTO addition (question, fields) VALUES (?, ?)", (question, _json(fields))
        )

    def put_beside(self, guest: int, fields: Mapping[str, str]) -> None:
        """Put a guest on record whom the row of another one holds, too."""
        self._db.execute(
            "INSERT INTO addition (beside, fields) VALUES (?, ?)", (guest, _json(fields))
        )

    def put_added(self, number: int, guest: int) -> None:
        """Put on record which guest an addition is, since a merge has made their cup."""
        self._db.execute("UPDATE addition SET guest = ? WHERE id = ?", (guest, number))

    def end_addition(self, number: int) -> None:
        """Let an addition go: the list holds the guest by now, or nobody wants the cup."""
        self._db.execute("DELETE FROM addition WHERE id = ?", (number,))

    def put_correction(self, guest: int, correction: Correction) -> None:
        """Put a new text for a guest on record."""
        self._db.execute(
            "INSERT INTO correction (guest, field, was, text, words, said_by, at) "
            "VALUES (?, ?, ?, ?, ?, ?, ?)",
            (
                guest, correction.field, correction.was, correction.text, correction.words,
                correction.said_by, correction.at,
            ),
        )  # fmt: skip

    def put_apart(self, number: int, apart: SetApart) -> None:
        """Put on record how a line of one cup is set from now on."""
        own = apart.own
        self._db.execute(
            "INSERT INTO own (item, line, text, letter_height, rows, font, said_by, at) "
            "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            (
                number, own.line, apart.text, own.letter_height, _json(own.rows), own.font,
                apart.said_by, apart.at,
            ),
        )  # fmt: skip

    def put_event(self, number: int, event: Event) -> None:
        """Put on record what became of an item."""
        self._db.execute(
            "INSERT INTO event (item, what, seal, place, reason, at, after) "
            "VALUES (?, ?, ?, ?, ?, ?, (SELECT coalesce(max(id), 0) FROM word))",
            (number, event.what, event.seal, event.place, event.reason, event.at),
        )

    def put_mistake(self, number: int) -> None:
        """Put on record that the last thing that became of an item was none."""
        self._db.execute(
            "INSERT INTO mistake SELECT max(id), ? FROM event "
            "WHERE item = ? AND id NOT IN (SELECT event FROM mistake)",
            (now(), number),
        )

    def put_handover(self, number: int, to: str, day: dt.date) -> None:
        """Put on record who has taken an item's cup with them."""
        self._db.execute(
            "INSERT INTO handover (engraving, given_to, day, at) SELECT max(id), ?, ?, ? "
            "FROM event WHERE item = ? AND id NOT IN (SELECT event FROM mistake)",
            (to, day.isoformat(), now(), number),
        )

    def take_handover_back(self, number: int) -> None:
        """Put on record that an item's cup was not handed over, or is back."""
        self._db.execute(
            "UPDATE handover SET taken_back = ? WHERE taken_back IS NULL "
            "AND engraving IN (SELECT id FROM event WHERE item = ?)",
            (now(), number),
        )

    def put_agreement(self, agreed: Sum) -> None:
        """Put on record what the order is to cost."""
        self._db.execute(
            "INSERT INTO agreement (amount, currency, at) VALUES (?, ?, ?)",
            (str(agreed.amount), agreed.currency, now()),
        )

    def put_payment(self, part: Part, paid: Sum, way: str, day: dt.date) -> None:
        """Put on record what was paid, how and when."""
        self._db.execute(
            "INSERT INTO payment (part, amount, currency, way, day, at) VALUES (?, ?, ?, ?, ?, ?)",
            (part, str(paid.amount), paid.currency, way, day.isoformat(), now()),
        )

    def take_payment_back(self, number: int) -> None:
        """Put on record that a payment was none."""
        self._db.execute("UPDATE payment SET taken_back = ? WHERE id = ?", (now(), number))

    def put_timing(self, number: int, timing: Timing) -> None:
        """Put on record how long an item took; of a cup that was timed before, in place of it."""
        self._db.execute("DELETE FROM timing WHERE item = ? AND seal = ?", (number, timing.seal))
        self._db.execute(
            "INSERT INTO timing (item, seal, machine, motion, lines, worked_out, took, at) "
            "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            (
                number, timing.seal, timing.machine, timing.motion, timing.lines,
                timing.worked_out, timing.took, timing.at,
            ),
        )  # fmt: skip

    def clear(self, key: str, value: str) -> None:
        """Take everything off the record but what the order is known by, and one fact instead."""
        self._db.execute("PRAGMA defer_foreign_keys = ON")
        for table in self._tables():
            if table != "fact":
                self._db.execute(f"DELETE FROM {table}")
        self._db.execute("DELETE FROM fact WHERE key NOT IN ('order', 'schema')")
        self.set_fact(key, value)


Kept = TypeVar("Kept")


def _by_item(kept: Iterable[tuple[Iterable[int], Kept]]) -> dict[int, list[Kept]]:
    """Return things by each of the items that they are about."""
    found: dict[int, list[Kept]] = {}
    for items, each in kept:
        for item in items:
            found.setdefault(item, []).append(each)
    return found


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


@contextmanager
def open_ledger(
    folder: Path, missing: Literal["make", "refuse", "replace"] = "refuse"
) -> Iterator[Ledger]:
    """Open an order's ledger.

    Parameters
    ----------
    folder
        The order's folder.
    missing
        What to do where there is none yet. Where there was one, ``replace`` alone makes another.

    Raises
    ------
    InputError
        There is none, it is of a newer program, damaged, in use, or a link; or there was one, and
        it is lost.
    """
    path = folder / LEDGER
    if is_link(path):
        raise InputError(leads_elsewhere(path))
    is_there = path.exists() and path.stat().st_size > 0  # one without a byte was a ledger once
    if missing != "replace" and not is_there and copies_in(folder):
        raise InputError(words.ledger_lost(path, folder))
    if missing == "refuse" and not is_there:
        raise InputError(words.nothing_merged(folder))
    with _said(folder):
        connection = sqlite3.connect(path, timeout=2.0, isolation_level=None)
        try:
            _prepare(path, connection)
            ledger = Ledger(folder, connection)
            # A first merge that was called off or refused has left an empty one.
            if missing == "refuse" and not ledger.is_used:
                raise InputError(words.nothing_merged(folder))
            yield ledger
        finally:
            connection.close()


@contextmanager
def open_image(path: Path) -> Iterator[Ledger]:
    """Open a copy of a ledger in memory, and see that it is whole.

    Raises
    ------
    InputError
        It cannot be read, is damaged, or of a newer program.
    """
    data = read_file(path)
    if not data:  # of which SQLite says that there is no memory for it
        raise InputError(words.copy_damaged(path, words.IT_IS_EMPTY))
    with _said(path.parent, path):
        connection = sqlite3.connect(":memory:", isolation_level=None)
        try:
            connection.deserialize(data)
            found = _checked(connection)
            if found != "ok":
                raise InputError(words.copy_damaged(path, found))
            _prepare(path, connection)
            yield Ledger(path.parent, connection)
        finally:
            connection.close()


def _checked(connection: sqlite3.Connection) -> str:
    """Return what SQLite's own check of a ledger finds first: ``ok``."""
    try:
        (found,) = connection.execute("PRAGMA quick_check(1)").fetchone()
    except UnicodeDecodeError:  # it quotes of what is damaged
        raise sqlite3.DatabaseError(words.NO_TEXT) from None
    return str(found)


def _prepare(path: Path, connection: sqlite3.Connection) -> None:
    try:
        (version,) = connection.execute("PRAGMA user_version").fetchone()
        connection.execute("SELECT 1 FROM sqlite_schema").fetchone()
    except UnicodeDecodeError:  # what SQLite quotes of its tables is no text any more
        raise sqlite3.DatabaseError(words.NO_TEXT) from None
    if version > len(MIGRATIONS):
        raise InputError(words.written_by_newer_program(path, version, len(MIGRATIONS)))
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA secure_delete = ON")  # what is deleted is overwritten
    connection.execute(f"PRAGMA synchronous = {SYNCHRONOUS}")
    if version == len(MIGRATIONS):
        return
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("BEGIN IMMEDIATE")
    try:
        # Another call may have been quicker.
        (version,) = connection.execute("PRAGMA user_version").fetchone()
        for migration in MIGRATIONS[version:]:
            for statement in migration.split(";\n"):
                connection.execute(statement)
        if version == 0:
            order = readable(secrets.randbits(40))
            connection.execute("INSERT INTO fact VALUES ('order', ?)", (order,))
        connection.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


_ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"


def readable(number: int) -> str:
    """Return 40 bits as eight characters in two groups.

    Digits and capitals without those that are taken for another: 0 and O, 1 and I.
    """
    text = "".join(_ALPHABET[(number >> (5 * at)) % 32] for at in range(8))
    return f"{text[:4]}-{text[4:]}"


@contextmanager
def _said(folder: Path, file: Path | None = None) -> Iterator[None]:
    """Turn what SQLite says into our error."""
    try:
        yield
    except UnicodeEncodeError as error:
        raise InputError(words.no_letters(folder, error.object)) from None
    except sqlite3.OperationalError as error:
        said = str(error)
        if "locked" in said or "busy" in said:
            raise BeingChanged(words.being_changed(folder)) from None
        raise InputError(words.unusable(file or folder / LEDGER, said)) from None
    except sqlite3.DatabaseError as error:
        if file is not None:
            raise InputError(words.copy_damaged(file, error)) from None
        raise LedgerDamaged(words.damaged(folder / LEDGER, error, folder)) from None
