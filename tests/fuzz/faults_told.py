"""What every message must be, and the count of a run: shared by the fuzzers of this folder."""

import re
import resource
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from types import TracebackType

MOST_SECONDS = 5  # of the process
MOST_WAITED = 60  # seconds by the clock, which other work on the machine may fill
MOST_LETTERS = 1_200
# Words of Python and of its libraries that no teacher knows.
PYTHON = re.compile(
    r"\b(?:True|False|None|NaN|nan|inf|Infinity|datetime|Decimal|dict|tuple|str|int|bool|pydantic|tomllib|TOML|"
    r"Traceback|JSONDecodeError|ValueError|TypeError|KeyError|object at|surrogateescape|codec|utf-8'|ordinal)\b|"
    r"\\x[0-9a-f]{2}|\\u[0-9a-f]{4}|<class|\[\]|\{\}|Input should|Expecting"
)


@dataclass(slots=True)
class Run:
    """What a run found: `falls` are inputs on which something fell, with what it was."""

    inputs: int = 0
    accepted: int = 0
    refused: int = 0
    slowest: float = 0.0
    falls: Counter[str] = field(default_factory=Counter)
    first: dict[str, bytes] = field(default_factory=dict)

    def fall(self, what: str, content: bytes) -> None:
        """Counts one fall, and keeps the first input of its kind."""
        self.falls[what] += 1
        self.first.setdefault(what, content)

    def told(self, name: str) -> str:
        """The numbers in lines."""
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        lines = [
            f"{name}: {self.inputs:,} inputs, {self.accepted:,} accepted, {self.refused:,} refused, "
            f"slowest {self.slowest:.2f} s, most memory {most} MB, {self.falls.total()} falls"
        ]
        lines += [f"  {count} x {what}\n    {self.first[what][:300]!r}" for what, count in self.falls.most_common(20)]
        return "\n".join(lines)


@dataclass(frozen=True, slots=True)
class _Watched:
    """What falls inside is counted with its place, and the run goes on: it shows every kind of fall, not the first."""

    run: Run
    content: bytes

    def __enter__(self) -> None:
        """Nothing is done before."""

    def __exit__(self, _: object, error: BaseException | None, trace: TracebackType | None) -> bool:
        if not isinstance(error, Exception):
            return False  # nothing fell, or somebody ends the run
        last = traceback.extract_tb(trace)[-1]
        place = f"{last.filename.split('/')[-1]}:{last.lineno}"
        self.run.fall(f"{type(error).__name__} in {place}: {str(error)[:100]}", self.content)
        return True


def message_faults(message: str, content: bytes) -> Iterable[str]:
    """What is wrong with one message about a file of this content; words that stand in the file are its own."""
    if not message.isprintable():
        yield f"a sign that is not seen, in {message[:200]!r}"
    if len(message) > MOST_LETTERS:
        yield f"a message of {len(message)} letters: {message[:200]!r}"
    found = PYTHON.search(message)
    if found is not None and found[0].encode() not in content:
        yield f"{found[0]!r} in {message[:200]!r}"


def examine(run: Run, content: bytes, messages: Callable[[bytes], Iterable[str]]) -> None:
    """Adds one input to the run; `messages` gives all faults that are told of it, none where it is accepted."""
    started, called = time.process_time(), time.monotonic()
    told: list[str] = []
    with _Watched(run, content):
        told = list(messages(content))
    seconds, waited = time.process_time() - started, time.monotonic() - called
    run.inputs += 1
    run.slowest = max(run.slowest, seconds)
    run.accepted += not told
    run.refused += bool(told)
    if seconds > MOST_SECONDS:
        run.fall(f"over {MOST_SECONDS} s", content)
    if waited > MOST_WAITED:
        run.fall(f"waited for over {MOST_WAITED} s", content)
    for message in told:
        for fault in message_faults(message, content):
            run.fall(fault, content)
