"""Draw cases for minutes, and keep what fails: ``python -m tests.fuzz --minutes 30 [READER…]``.

Readers are ``lists``, ``drawings``, ``fonts``, ``settings``, ``answers`` and ``ledgers``. ``disks``
lets every step of nine commands fail in every way, and ``pairs`` runs two commands at once, all
pairs. A case that fails lies in ``tests/fuzz/corpus``, made as small as it gets; the suite tries it
from then on. What is printed is for DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import conftest  # noqa: F401  (reads in this process, and waits for no disk)

from fuzz import disks, kept, pairs
from fuzz.exploring import explored
from fuzz.readers import READERS
from fuzz.rule import judged

OTHERS = {"disks": disks.all_of_them, "pairs": pairs.all_of_them}


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="READER")
    parser.add_argument("--minutes", type=float, default=30.0, help="for all readers together")
    parser.add_argument("--seed", type=int, default=int(time.time()))
    given = parser.parse_args()
    names = given.names or [*READERS, *OTHERS]
    if unknown := set(names) - {*READERS, *OTHERS}:
        parser.error(f"no reader is called {', '.join(sorted(unknown))}")
    readers = [READERS[name] for name in names if name in READERS]
    failed = 0
    if readers:
        print("| reader | cases | read | cases/s | worst s/kB | slowest s | grown MB | failed |")
        print("|---|---|---|---|---|---|---|---|", flush=True)
    for reader in readers:
        for case in kept.cases(reader.name).values():
            judged(reader, case)
        told = explored(reader, given.minutes * 60 / len(readers), given.seed)
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
            count, wrong = OTHERS[name]()
            print(f"{name}: {count} tried in {time.monotonic() - start:.0f} s, {len(wrong)} failed")
            print(*wrong, sep="\n")
            failed += len(wrong)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
