"""Lines of a bank file become entries; what cannot be read is told by line and kept as it is, and the rest goes on.

Canonical lines are taken at sight, others by the models.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from operator import attrgetter, lt
from typing import Any, Literal

from pydantic import ValidationError

from barwright.bank.checking import content_faults
from barwright.bank.entries import HEADER, Entry, canonical, canonical_entries, ident_of
from barwright.bank.json_text import JsonError, json_object
from barwright.bank.merging import merged
from barwright.bank.model import Content, Line
from barwright.bank.shapes import COPY, shape_text
from barwright.bank.text_patterns import FORMAT, VERSION
from barwright.errors import BankError
from barwright.showing import shown


def parse_entry(line: str) -> Entry:
    """The entry of a line, whether canonical or not; BankError, with the mend, for one that cannot be read.

    Checked are the shape of everything and that every id is that of what it names; not whether the item is right.
    """
    known = canonical_entries(f"{line}\n")
    if known:
        return known[0]
    return modelled_entry(line)


def modelled_entry(line: str) -> Entry:
    """The entry of a line that the models read, made canonical; BankError, with the mend, for one that they refuse."""
    try:
        json_object(line)
        read = Line.model_validate_json(line)
    except JsonError as error:
        raise BankError(f"{error}: {COPY}") from error
    except ValidationError as error:
        raise BankError(shape_text(error)) from error
    content = canonical(read.content.model_dump(mode="json"))
    if ident_of(content) != read.id:
        raise BankError(_changed(content, read.id))
    records = {ident: canonical(record.model_dump(mode="json")) for ident, record in read.records.items()}
    pairs = tuple(sorted(records.items()))
    for ident, text in pairs:
        if ident_of(text) != ident:
            raise BankError(
                f"record {shown(ident)} does not give this id but {shown(ident_of(text))}, so it was "
                f"changed by hand: take the "
                "line from another copy of the bank, or delete the record"
            )
    return Entry(read.id, content, pairs)


def _changed(content: str, ident: str) -> str:
    """That the content was changed, with what is wrong in it if that can be seen."""
    seen = content_faults(Content.model_validate_json(content).model_dump())
    why = f"{seen[0]}; " if seen else ""
    return (
        f"{why}the content does not give the id {shown(ident)} but {shown(ident_of(content))}, so it was "
        f"changed by hand: take "
        "the line from another copy of the bank, or delete it"
    )


RECORD_FORMAT = "barwright-record"  # of a quiz: what `make` writes beside its packages
MOST_LINE_BYTES = 500_000
MOST_FAULTS = 1000
MOST_LATE = 200_000
RUN_BYTES = 8_000_000  # of lines out of order that are sorted at once: some 60 MB of memory

_BOM = b"\xef\xbb\xbf"
_ITEM = b'{"content":'
# In a canonical line these bytes stand once: no text can hold them, since a quotation mark in it has a \ before it.
_ID_FOLLOWS = b'},"id":"'
_ID = re.compile(_ID_FOLLOWS + rb'([0-9a-f]{16})"')

Numbered = tuple[int, bytes | None]
"""A line by its number from 1, without its end; None for one of over MOST_LINE_BYTES."""


@dataclass(frozen=True, slots=True)
class Block:
    """Whole lines of a file, of which the first has this number; `raw` is None for one line that is too long to hold.

    The header is a block of its own.
    """

    first: int
    raw: bytes | None

    @property
    def count(self) -> int:
        """How many lines it has; the last may lack its end."""
        return 1 if self.raw is None else self.raw.count(b"\n") + (not self.raw.endswith(b"\n"))

    @property
    def lines(self) -> Iterator[Numbered]:
        """Its lines one by one."""
        if self.raw is None:
            return iter([(self.first, None)])
        lines = enumerate(self.raw.removesuffix(b"\n").split(b"\n"), start=self.first)
        return ((number, line if len(line) <= MOST_LINE_BYTES else None) for number, line in lines)


Blocks = Callable[[], Iterable[Block]]
"""The blocks of a file, from its start whenever called."""


@dataclass(frozen=True, slots=True)
class LineFault:
    """What is wrong with one line, and the line itself.

    A `line` may be kept as it is when the file is written anew; where the `header` is not what it must be, or a line is
    too `long` to be held, nothing may be written.
    """

    line: int
    text: str
    kind: Literal["line", "header", "long"] = "line"
    raw: bytes = b""


_HEAD = Block(0, HEADER.encode())


@dataclass(slots=True)
class Faults:
    """The faults of one file, gathered while it is read; `name` is what the teacher calls the file."""

    name: str
    found: list[LineFault] = field(default_factory=list)

    def add(self, fault: LineFault) -> None:
        """Keeps one fault; BankError if they are so many that this cannot be a bank."""
        if len(self.found) == MOST_FAULTS:
            raise BankError(f"{self.name}: over {MOST_FAULTS} lines cannot be read: is this a bank?")
        self.found.append(fault)

    @property
    def told(self) -> tuple[str, ...]:
        """One message a fault, in the order of the file."""
        return tuple(f"{self.name}, line {f.line}: {f.text}" for f in sorted(self.found, key=attrgetter("line")))

    @property
    def kept(self) -> tuple[bytes, ...]:
        """The faulty lines as they are, for a file that is written anew. BankError if writing would lose anything."""
        for fault in self.found:
            if fault.kind != "line":
                raise BankError(f"{self.name}, line {fault.line}: {fault.text}. Nothing was written")
        return tuple(f.raw for f in self.found)


def entries_in(blocks: Iterable[Block], faults: Faults) -> Iterator[tuple[int, Entry]]:
    """Every entry that can be read, with its line, in the order of the file; `faults` gains the rest.

    BankError for a file that is the record of a quiz.
    """
    headed = False
    for block in blocks:
        known = _canonical(block) if headed else None
        if known is not None:
            yield from enumerate(known, start=block.first)
            continue
        for number, raw in block.lines:
            if raw is not None and not raw.strip():
                continue
            if not headed:
                headed = True
                _refuse_record(faults.name, number, raw or b"")
                fault = header_fault(raw or b"")
                if fault:
                    faults.add(LineFault(number, fault, "header"))
                if not fault or not (raw or b"").startswith(_ITEM):
                    continue
            try:
                yield number, parse_entry(_decoded(raw))
            except BankError as error:
                faults.add(LineFault(number, str(error), "long" if raw is None else "line", raw or b""))
    if not headed:
        faults.add(LineFault(1, f"the file is empty: a bank begins with {HEADER}", "header"))


def _canonical(block: Block) -> list[Entry] | None:
    """The entries of a block all of whose lines are canonical and true; None if each must be looked at."""
    try:
        return None if block.raw is None else canonical_entries(block.raw.removesuffix(b"\n").decode() + "\n")
    except UnicodeDecodeError:
        return None


def _decoded(raw: bytes | None) -> str:
    if raw is None:
        raise BankError(f"over {MOST_LINE_BYTES} bytes: no item is so long; delete the line")
    try:
        return raw.decode().rstrip("\r")
    except UnicodeDecodeError as error:
        raise BankError(
            f"byte {error.start + 1} is not UTF-8 text: take the line from another copy of the bank, or delete it"
        ) from error


def header_fault(raw: bytes) -> str:
    """What is wrong with the first line of a bank, and the mend; empty if nothing is."""
    header = _head(raw)
    version = header.get("version") if header.get("format") == FORMAT else None
    if type(version) is int and version > VERSION:
        return (
            f"this bank has format version {version}, and this Barwright knows {VERSION}: update Barwright; until then "
            f"only lines as those of version {VERSION} are read"
        )
    sound = type(version) is int and version == VERSION and len(header) == 2
    return "" if sound else f"this is not the first line of a bank: put {HEADER} before all others"


def _refuse_record(name: str, number: int, raw: bytes) -> None:
    """BankError if this first line is that of the record of a quiz, which is easily taken for a bank."""
    if _head(raw).get("format") == RECORD_FORMAT:
        raise BankError(
            f"{name}, line {number}: this is the record of a quiz, not a bank: add it to a bank with barwright bank add"
        )


def _head(raw: bytes) -> dict[str, Any]:
    """The first line of a file as an object; empty if it is none."""
    try:
        return json_object(raw.removeprefix(_BOM).decode())
    except ValueError:
        return {}


def late_lines(blocks: Iterable[Block], name: str) -> dict[int, bytes]:
    """The lines that stand below one with the same or a greater id, or whose id cannot be seen at once.

    BankError if they are too many to be told one by one, or if the file is the record of a quiz.
    """
    late: dict[int, bytes] = {}
    for block, is_late in _parted(blocks, name):
        if is_late:
            late[block.first] = block.raw or b""
        if len(late) > MOST_LATE:
            raise BankError(f"{name}: over {MOST_LATE} lines are out of order: is this a bank?")
    return late


def _parted(blocks: Iterable[Block], name: str) -> Iterator[tuple[Block, bool]]:
    """All lines of a file in its order, and whether they are late (`late_lines`); a late line is a block of its own.

    BankError if the file is the record of a quiz.
    """
    highest, headed = b"", False
    for block in blocks:
        ids = [] if block.raw is None else [part[:16] for part in block.raw.split(_ID_FOLLOWS)[1:]]
        if len(ids) == block.count and ids[0] > highest and all(map(lt, ids, ids[1:])):
            highest = ids[-1]
            yield block, False
            continue
        for number, raw in block.lines:
            match, late = _ID.search(raw or b""), False
            if match is not None and match[1] > highest:
                highest = match[1]
            else:
                late = bool(raw) and (headed or (raw or b"").startswith(_ITEM))
            if not headed and (raw is None or raw.strip()):
                headed = True
                _refuse_record(name, number, raw or b"")
            yield Block(number, raw), late


Aside = Callable[[list[Entry]], Iterable[Entry]]
"""Keeps entries somewhere until they are asked for, once and in their order."""


def in_memory(entries: list[Entry]) -> list[Entry]:
    """Keeps them where they are."""
    return entries


def ordered_entries(
    blocks: Blocks, faults: Faults, aside: Aside = in_memory, *, run_bytes: int = RUN_BYTES
) -> Iterator[Entry]:
    """The entries of a file sorted by id, each once, whatever the order of its lines.

    Lines out of order are sorted in runs of so many bytes, and each run is put aside; nothing else is held in memory.
    """
    runs = [aside(run) for run in _late_runs(blocks(), faults, run_bytes)]
    if not runs:
        return (entry for _, entry in entries_in(blocks(), faults))
    early = (block for block, is_late in _parted(blocks(), faults.name) if not is_late)
    return merged([(entry for _, entry in entries_in(early, faults)), *runs])


def _late_runs(blocks: Iterable[Block], faults: Faults, most: int) -> Iterator[list[Entry]]:
    """The entries of late lines, sorted within each run."""
    run: list[Block] = []
    size = 0
    for block, is_late in _parted(blocks, faults.name):
        if is_late:
            run.append(block)
            size += len(block.raw or b"")
        if size > most:
            yield _sorted_run(run, faults)
            run, size = [], 0
    if run:
        yield _sorted_run(run, faults)


def _sorted_run(run: list[Block], faults: Faults) -> list[Entry]:
    return sorted((entry for _, entry in entries_in([_HEAD, *run], faults)), key=attrgetter("id"))


class DisorderError(Exception):
    """Lines that do not rise by id: the reader must begin again with `ordered_entries`."""


def rising_entries(blocks: Blocks, faults: Faults) -> Iterator[Entry]:
    """The entries of a file that is sorted, in one pass; raises DisorderError as soon as one is not above the last."""
    last = ""
    for _, entry in entries_in(blocks(), faults):
        if entry.id <= last:
            raise DisorderError
        last = entry.id
        yield entry
