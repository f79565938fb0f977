"""Draw cases for minutes, and keep what fails: ``python -m tests.fuzz --minutes 30 [READER…]``.

Readers are ``lists``, ``drawings``, ``fonts``, ``settings``, ``answers`` and ``ledgers``. ``disks``
lets steps of nine commands fail in every way, and ``pairs`` runs two commands at once, in an order
that the seed says, as long as there is time. Each has the same share of it. A case that fails lies
in ``tests/fuzz/corpus``, made as small as it gets; the suite tries it from then on. What is printed
is for DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

import conftest  # noqa: F401  (reads in this process, and waits for no disk)

from fuzz import disks, kept, pairs
from fuzz.exploring import explored
from fuzz.readers import READERS
from fuzz.rule import judged

OTHERS = {"disks": (disks.trials, disks.all_of_them), "pairs": (pairs.pairs, pairs.all_of_them)}


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="READER")
    parser.add_argument("--minutes", type=float, default=30.0, help="for all of it together")
    parser.add_argument("--seed", type=int, default=int(time.time()))
    given = parser.parse_args(arguments)
    names = given.names or [*READERS, *OTHERS]
    if unknown := set(names) - {*READERS, *OTHERS}:
        parser.error(f"no reader is called {', '.join(sorted(unknown))}")
    readers = [READERS[name] for name in names if name in READERS]
    failed, share = 0, given.minutes * 60 / len(names)
    if readers:
        print("| reader | cases | read | cases/s | worst s/kB | slowest s | grown MB | failed |")
        print("|---|---|---|---|---|---|---|---|", flush=True)
    for reader in readers:
        for case in kept.cases(reader.name).values():
            judged(reader, case)
        told = explored(reader, share, given.seed)
        count = told.read + told.refused
        print(
            f"| {reader.name} | {count:,} | {told.read:,} | {count / max(told.seconds, 1e-9):.0f} "
            f"| {told.worst:.2f} | {told.slowest:.2f} | {told.grown / 1e6:.0f} | {told.failed} |",
            flush=True,
        )
        failed += told.failed
    for name in names:
        if name in OTHERS:
            start = time.monotonic()
            there_are, try_them = OTHERS[name]
            everything: list[Any] = list(there_are())
            random.Random(given.seed).shuffle(everything)
            count, wrong = try_them(everything, start + share)
            took = time.monotonic() - start
            print(
                f"{name}: {count:,} of {len(everything):,} tried in {took:.0f} s, "
                f"{len(wrong)} failed"
            )
            print(*wrong, sep="\n")
            failed += len(wrong)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
