"""Independent pieces of work, done here, by several processes or by a cluster: by `concurrent.futures` in each case.

A piece is a value that goes out and a value that comes back; whoever works on it opens no folder of a quiz, so nothing
is lost with a worker that dies, and its pieces are done again. What comes back never depends on who did it.
"""

import gc
import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, ProcessPoolExecutor, wait
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, TypeVar

from barwright.errors import BarwrightError
from barwright.tasks.saying import counted

Key = TypeVar("Key")
Given = TypeVar("Given")
Result = TypeVar("Result")
Tell = Callable[[str], None]
"""Is told, in one line, what whoever waits should know at once."""

MOST_WORKERS = 256
MOST_ENDS = 3  # workers that end over one piece of work before it is given up
AHEAD = 2  # pieces that each worker has before it, so that none waits for the next
LOOK_SECONDS = 5  # between two looks whether all workers of a cluster are there


@dataclass(frozen=True, slots=True)
class Lost:
    """What comes back for a piece over which worker after worker ended."""

    text: str


@dataclass(frozen=True, slots=True)
class Engine:
    """What does the work: `opened` gives an executor for so many `workers`, and `closed` ends it at once.

    `given_up`: errors of an engine that begins a piece anew by itself, and stops at last. `there`: the names of its
    workers, if it can tell.
    """

    workers: int
    opened: Callable[[], Executor]
    closed: Callable[[Executor], None]
    given_up: tuple[type[BaseException], ...] = ()
    there: Callable[[], frozenset[str]] = frozenset


def _silent(_line: str) -> None:
    """Tells nobody."""


@dataclass(slots=True)
class Crew:
    """Those who work; without an engine everything is done here, one piece after another."""

    engine: Engine | None = None
    tell: Tell = _silent
    _pool: Executor | None = None
    _seen: frozenset[str] = field(default_factory=frozenset)

    @property
    def workers(self) -> int:
        """How many pieces are worked on at the same time."""
        return 1 if self.engine is None else self.engine.workers

    def warm(self) -> None:
        """Lets the workers get ready while something else is done here."""
        if self.engine is not None:
            for _ in range(self.engine.workers):
                self._submit(self.engine, _nothing, None)

    def done(
        self, work: Callable[[Given], Result], pieces: Iterable[tuple[Key, Given]]
    ) -> Iterator[tuple[Key, Result | Lost]]:
        """What comes of each piece, by its key, as soon as it is there; pieces are asked for as workers are free."""
        if self.engine is None:
            for key, given in pieces:
                yield key, work(given)
        else:
            yield from self._spread(self.engine, work, iter(pieces))

    def mapped(self, work: Callable[[Given], Result], given: Sequence[Given]) -> list[Result]:
        """What comes of each, in their order; BarwrightError where it cannot be had."""
        if self.engine is None or len(given) < 2:
            return [work(each) for each in given]
        results: dict[int, Result] = {}
        for number, result in self.done(work, enumerate(given)):
            if isinstance(result, Lost):
                raise BarwrightError(result.text)
            results[number] = result
        return [results[number] for number in range(len(given))]

    def close(self) -> None:
        """Ends all workers at once, whatever they are at."""
        if self._pool is not None and self.engine is not None:
            self.engine.closed(self._pool)
        self._pool = None

    def _spread(
        self, engine: Engine, work: Callable[[Given], Result], pieces: Iterator[tuple[Key, Given]]
    ) -> Iterator[tuple[Key, Result | Lost]]:
        running: dict[Future[Result], tuple[Key, Given]] = {}
        suspects: deque[tuple[Key, Given]] = deque()
        given_up: deque[tuple[Key, Given]] = deque()
        while True:
            while not suspects and len(running) < engine.workers * AHEAD and (piece := next(pieces, None)) is not None:
                running[self._submit(engine, work, piece[1])] = piece
            if not running and not suspects:
                # A cluster counts a worker's end against all that waited for that worker, too.
                for key, given in given_up:
                    yield key, self._once_more(engine, work, given)
                return
            for future in self._ready(engine, running):
                piece = running.pop(future)
                try:
                    yield piece[0], future.result()
                except BrokenExecutor:
                    suspects.append(piece)
                except engine.given_up:
                    given_up.append(piece)
            if suspects and not running:
                self._told_end(len(suspects))
                while suspects:
                    key, given = suspects.popleft()
                    yield key, self._alone(engine, work, given)

    def _ready(self, engine: Engine, running: Iterable[Future[Result]]) -> list[Future[Result]]:
        """The pieces that are done, one at least; while it waits it looks whether a worker of a cluster is gone."""
        ready: set[Future[Result]] = set()
        while not ready:
            ready, _ = wait(list(running), timeout=LOOK_SECONDS, return_when=FIRST_COMPLETED)
            there = engine.there()
            if gone := self._seen - there:
                self.tell(f"{counted(len(gone), 'worker')} of the cluster ended: what they were at is done again.")
            self._seen = there
        return [future for future in running if future in ready]

    def _alone(self, engine: Engine, work: Callable[[Given], Result], given: Given) -> Result | Lost:
        """One piece with nothing beside it, so that a worker that ends can only have ended over this."""
        for _ in range(MOST_ENDS):
            try:
                return self._submit(engine, work, given).result()
            except BrokenExecutor:
                self._told_end(1)
        return Lost(_lost_text())

    def _once_more(self, engine: Engine, work: Callable[[Given], Result], given: Given) -> Result | Lost:
        """One piece with nothing beside it, on a cluster that begins it anew by itself."""
        future = self._submit(engine, work, given)
        self._ready(engine, [future])
        try:
            return future.result()
        except engine.given_up:
            return Lost(_lost_text())

    def _told_end(self, pieces: int) -> None:
        self.close()
        self.tell(
            f"A worker ended before it was done: {counted(pieces, 'piece')} of work that it may have had, done again."
        )

    def _submit(self, engine: Engine, work: Callable[[Given], Result], given: Given) -> Future[Result]:
        for _ in range(MOST_ENDS):
            self._pool = self._pool or engine.opened()
            try:
                return self._pool.submit(work, given)
            except BrokenExecutor:  # a worker ended while it had nothing to do
                self.close()
        raise BarwrightError("workers end as soon as they begin: is there memory enough? Take fewer --workers")


HERE = Crew()
"""Everything is done here, one piece after another."""


def _lost_text() -> str:
    return (
        f"{MOST_ENDS} workers ended over it, one after another: is there memory enough? Take fewer --workers, and what "
        "is missing is made with --resume"
    )


def _nothing(_given: None) -> None:
    """No work at all."""


@contextmanager
def crew_of(workers: int, dask: str, tell: Tell) -> Iterator[Crew]:
    """A crew of so many processes, or that of the Dask cluster at an address; all of it ends with the block.

    BarwrightError for a number that makes no sense, for both, and for a cluster that cannot be used.
    """
    if not 1 <= workers <= MOST_WORKERS:
        raise BarwrightError(f"--workers {workers}: give a number from 1 to {MOST_WORKERS}, about one for each core")
    if dask and workers != 1:
        raise BarwrightError("--workers and --dask: give one of them, since a cluster knows how many workers it has")
    if dask:
        from barwright.tasks.cluster import cluster

        with cluster(dask) as engine:
            crew = Crew(engine, tell)
            try:
                yield crew
            finally:
                crew.close()
        return
    crew = Crew(processes(workers) if workers > 1 else None, tell)
    try:
        yield crew
    finally:
        crew.close()


def processes(workers: int) -> Engine:
    """Processes on this computer. They are started afresh, so they share nothing, on every system."""
    before = set(multiprocessing.active_children())

    def opened() -> Executor:
        context = multiprocessing.get_context("spawn")
        return ProcessPoolExecutor(workers, context, initializer=_begun, initargs=(gc.get_threshold(),))

    def closed(pool: Executor) -> None:
        for child in set(multiprocessing.active_children()) - before:
            child.terminate()
        # At once with waiting: a pool that nobody waited for is met again as Python ends, when its pipe may be closed.
        pool.shutdown(cancel_futures=True)

    return Engine(workers, opened, closed)


def _begun(threshold: tuple[int, int, int]) -> None:
    """What a worker does first: it leaves Ctrl-C to who began it, and never outlives that process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(*threshold)
    parent: Any = multiprocessing.parent_process()
    threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: Any) -> None:
    parent.join()
    os._exit(1)
