"""Who makes the items: this process, or others on all cores; in the list's order either way."""

from __future__ import annotations

import os
import signal
from collections import deque
from collections.abc import Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from itertools import islice

from mailmerge.faults import telling
from mailmerge.files import Stage
from mailmerge.findings import InputError
from mailmerge.guests import Survey
from mailmerge.items import Item
from mailmerge.merge import words
from mailmerge.merge.making import Done, Result, Task, make_and_stage
from mailmerge.orders import Design
from mailmerge.progress import end_with_parent
from mailmerge.voice import speak

_CHUNK = 8
"""Items that a worker takes at a time."""


_ALONE = 12
"""Fewer items than this are made without starting other processes."""

_MOST = 61
"""Workers: Windows waits for no more processes at once (Python, ``ProcessPoolExecutor``)."""


def carried_out(
    design: Design, tasks: Iterator[Task], stage: Stage, jobs: int, survey: Survey
) -> Iterator[Done]:
    """Make and stage what is to be made, in the list's order, whoever makes it."""
    if jobs == 1 or survey.items < _ALONE:
        for task in tasks:
            made = task.kept if task.is_kept else make_and_stage(design, task.item, stage)
            yield Done(task, *made)
        return
    try:
        started = _start_worker, (design, stage)
        with ProcessPoolExecutor(min(jobs, _MOST), None, *started) as pool:
            waiting: deque[tuple[list[Task], Future[list[Result]] | None]] = deque()
            try:
                while True:
                    # Few chunks ahead of the slowest: the list streams, it is not gathered.
                    while len(waiting) < 3 * jobs and (chunk := list(islice(tasks, _CHUNK))):
                        items = [task.item for task in chunk if not task.is_kept]
                        waiting.append((chunk, pool.submit(_make_chunk, items) if items else None))
                    if not waiting:
                        return
                    chunk, future = waiting.popleft()
                    results = iter(future.result() if future else ())
                    for task in chunk:
                        yield Done(task, *(task.kept if task.is_kept else next(results)))
            finally:
                for _, future in waiting:
                    if future:
                        future.cancel()
    except BrokenProcessPool:
        raise InputError(words.WORKER_ENDED) from None


_worker: tuple[Design, Stage] | None = None


def _start_worker(design: Design, stage: Stage) -> None:
    global _worker
    speak()
    _worker = design, stage
    end_with_parent()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the process that waits for this one answers it


@telling
def _make_chunk(items: list[Item]) -> list[Result]:
    assert _worker is not None
    design, stage = _worker
    return [make_and_stage(design, item, stage) for item in items]


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return os.cpu_count() or 1
