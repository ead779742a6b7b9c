"""What a student with one misreading answers: the error is acted out on the excerpt, and the answer follows.

None, False or no claim mean that the error does not show here; the right answer is never given as a wrong one.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import TypeVar

from barwright.misreadings.reading import LABELING, Misreading, Reading, Row, totals, true_reading, true_room
from barwright.misreadings.rows import counted_reading, row_by_lengths, row_of_onsets
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import format_row
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import FULL_MEASURE_REST, Symbol, Symbols, total
from barwright.rhythm.meter import Meter

NOTHING = Fraction(0)
KEPT = 1 << 14


def reading_of(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Reading | None:
    """The excerpt as a student with this misreading takes it; None where the error does not show in what is printed."""
    return None if m.bears_on == "filler" else m.act(true_reading(excerpt, conventions))


@lru_cache(maxsize=KEPT)
def _aim(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> tuple[Fraction | None, Symbols]:
    """The room believed, None as for `gap`, and the very symbols wanted if there are such."""
    if excerpt.blank is None:
        return None, ()
    reading = reading_of(m, excerpt, conventions)
    if reading is None or reading.wants:
        return None, () if reading is None else reading.wants
    room = reading.room if reading.room is not None else reading.capacity - totals(reading)[excerpt.blank[0]]
    return None if room == true_room(excerpt) else room, ()


def gap(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Fraction | None:
    """Room in whole notes that the student believes is left for the blank, possibly none or less.

    None if it is the true one, so that only fillers may be misread, or if the student does not ask for the room at all.

    >>> from barwright.misreadings import MISREADINGS
    >>> from barwright.rhythm.text import parse_excerpt
    >>> str(gap(MISREADINGS["rests-take-no-time"], parse_excerpt("4/4 q rq q _"), Conventions()))
    '1/2'
    """
    return _aim(m, excerpt, conventions)[0]


@cache
def believed_length(m: Misreading, symbols: Symbols, meter: Meter, conventions: Conventions) -> Fraction:
    """Length in whole notes that the student gives to symbols which are to fill a blank."""
    if m.bears_on != "printed":
        reading = m.act(true_reading(Excerpt(meter, (symbols,)), conventions))
        if reading is not None:
            return sum(reading.lengths[0], NOTHING)
    return total(symbols, meter)


def fills(m: Misreading, symbols: Symbols, excerpt: Excerpt, conventions: Conventions) -> bool:
    """Whether the student puts exactly these symbols, which are in truth wrong, in the blank."""
    room, wanted = _aim(m, excerpt, conventions)
    meter, right = excerpt.meter, true_room(excerpt)
    if wanted:
        taken = all(s == wanted[0] for s in symbols)
    else:
        room = right if room is None else room
        taken = room > 0 and believed_length(m, symbols, meter, conventions) == room
    return taken and total(symbols, meter) != right


ByLength = Mapping[Fraction, tuple[Symbols, ...]]


@dataclass(frozen=True, slots=True)
class _Groups:
    """Candidates for a blank: by their true length, by the length above 0 that each misreading gives them, and by the
    symbol of which they are made alone.
    """

    true: ByLength
    believed: tuple[ByLength, ...]
    alike: Mapping[Symbol, tuple[Symbols, ...]]


@lru_cache(maxsize=1024)
def _groups(
    misreadings: tuple[Misreading, ...], candidates: tuple[Symbols, ...], meter: Meter, conventions: Conventions
) -> _Groups:
    believed = []
    for m in misreadings:
        by_length = _grouped((believed_length(m, c, meter, conventions), c) for c in candidates)
        believed.append({length: groups for length, groups in by_length.items() if length > 0})
    alike = _grouped((c[0], c) for c in candidates if all(s == c[0] for s in c))
    return _Groups(_grouped((total(c, meter), c) for c in candidates), tuple(believed), alike)


_Key = TypeVar("_Key")


def _grouped(pairs: Iterable[tuple[_Key, Symbols]]) -> dict[_Key, tuple[Symbols, ...]]:
    found: dict[_Key, tuple[Symbols, ...]] = {}
    for key, symbols in pairs:
        found[key] = (*found.get(key, ()), symbols)
    return found


def fillings(
    misreadings: Iterable[Misreading], candidates: tuple[Symbols, ...], excerpt: Excerpt, conventions: Conventions
) -> dict[Symbols, tuple[str, ...]]:
    """Every wrong candidate that `fills` for some of the misreadings, with their ids; the same as asking one by one."""
    asked, right = tuple(misreadings), true_room(excerpt)
    groups = _groups(asked, candidates, excerpt.meter, conventions)
    keys = frozenset(groups.true.get(right, ()))
    found: dict[Symbols, tuple[str, ...]] = {}
    for m, by_length in zip(asked, groups.believed, strict=True):
        room, wanted = _aim(m, excerpt, conventions)
        room = right if room is None else room
        for symbols in groups.alike.get(wanted[0], ()) if wanted else by_length.get(room, ()):
            if symbols not in keys:
                found[symbols] = (*found.get(symbols, ()), m.id)
    return found


def missing(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Fraction | None:
    """The answer to how many bottom-number notes are missing; None if the error gives no other positive number."""
    room = gap(m, excerpt, conventions)
    return None if room is None or room <= 0 else room / excerpt.meter.unit


def row(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Row | None:
    """The counts that the student writes, one label a sound or rest; None if they are the right ones.

    A label may hold several counts (`1 2`), or be empty: written into the one before, or not written. None too if only
    the held beats are left off: that is how other classes write, and no error.

    >>> from barwright.misreadings import MISREADINGS
    >>> from barwright.rhythm.text import parse_excerpt
    >>> format_row(row(MISREADINGS["notes-numbered-in-order"], parse_excerpt("4/4 h q q"), Conventions()))
    '1 2 3'
    """
    if not m.asks & LABELING:
        return None
    right = counted_reading(excerpt, conventions)
    reading = None if right.right is None else m.act(right)
    if reading is None or (reading.labels is None and reading.lengths is right.lengths):
        return None
    found = reading.labels or row_by_lengths(reading)
    if found is None or found == row_of_onsets(excerpt, conventions):
        return None
    return None if right.right is None or format_row(found) == format_row(right.right) else found


def hears(m: Misreading, given: Row, conventions: Conventions) -> Row | None:
    """The row of counts as the student reads it; None if the error is not one of reading, or does not show.

    >>> from barwright.misreadings import MISREADINGS
    >>> hears(MISREADINGS["hyphens-taken-for-rests"], (("1-2", "3"),), Conventions())
    (('1', '(2)', '3'),)
    """
    return None if m.hear is None else m.hear(given, conventions)


def believes_full(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> bool:
    """Whether the student takes every measure for exactly full in the excerpt's meter, though it is not.

    Where it is truly full, only a misread grouping makes the wrong meter believable (3/4 for 6/8). A full-measure rest
    shows no meter, so no error can be read from it.
    """
    reading = reading_of(m, excerpt, conventions)
    if reading is None or any(measure == (FULL_MEASURE_REST,) for measure in excerpt.measures):
        return False
    if m.replaces != "grouping" and _is_full(true_reading(excerpt, conventions)):
        return False
    return _is_full(reading)


def _is_full(reading: Reading) -> bool:
    held = totals(reading)
    if not reading.excerpt.pickup:
        return all(t == reading.capacity for t in held)
    first, *others, last = held
    ends = (reading.capacity, reading.capacity - first)
    return first < reading.capacity and all(t == reading.capacity for t in others) and last in ends


def claims(m: Misreading, excerpt: Excerpt, target: str, conventions: Conventions) -> tuple[str, ...]:
    """The wrong statements that the student agrees with: about fitting, or about the number that `target` names.

    >>> from barwright.misreadings import MISREADINGS
    >>> from barwright.rhythm.text import parse_excerpt
    >>> claims(MISREADINGS["every-measure-has-four-beats"], parse_excerpt("3/4 w", full=False), "", Conventions())
    ('fits 4 4',)
    """
    right = true_reading(excerpt, conventions)
    reading = m.act(right)
    if reading is None:
        return ()
    if target:
        claim = reading.top if target == "top" else reading.bottom
        return (claim,) if claim else ()
    claim = _fit(reading)
    return () if claim == _fit(right) or not _is_said(reading) else (claim,)


def _is_said(reading: Reading) -> bool:
    """Whether it lasts a number of beats that a student would say: whole, with a half, or one part of a beat."""
    beats = reading.lengths[0][0] / reading.meter.unit
    return beats.denominator <= 2 or beats.numerator == 1


def _fit(reading: Reading) -> str:
    lasts, holds = reading.lengths[0][0], reading.holds or reading.capacity
    fits = lasts <= holds
    unit = reading.meter.unit
    return f"{'fits' if fits else 'fits-not'} {lasts / unit} {holds / unit}"
