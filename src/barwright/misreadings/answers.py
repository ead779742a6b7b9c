"""What a student with one misreading answers: the error is acted out on the excerpt, and the answer follows.

None, False or no claim mean that the error does not show here; the right answer is never given as a wrong one.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import cache, lru_cache

from barwright.misreadings.reading import LABELING, Misreading, Reading, Row, true_reading
from barwright.misreadings.rows import counted_reading, row_by_lengths
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import format_row
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import FULL_MEASURE_REST, Symbols, total
from barwright.rhythm.meter import Meter

NOTHING = Fraction(0)
KEPT = 1 << 14


def reading_of(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Reading | None:
    """The excerpt as a student with this misreading takes it; None where the error does not show in what is printed."""
    return None if m.bears_on == "filler" else m.act(true_reading(excerpt, conventions))


@lru_cache(maxsize=KEPT)
def _aim(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> tuple[Fraction | None, Fraction, Symbols]:
    """The room believed (None as for `gap`), the true room, and the very symbols wanted if there are such."""
    assert excerpt.blank is not None
    number, right = excerpt.blank[0], true_reading(excerpt, conventions)
    true_room = right.capacity - sum(right.lengths[number], NOTHING)
    reading = reading_of(m, excerpt, conventions)
    if reading is None or reading.wants:
        return None, true_room, () if reading is None else reading.wants
    if reading.room is not None:
        return reading.room, true_room, ()
    return reading.capacity - sum(reading.lengths[number], NOTHING) - reading.over, true_room, ()


def gap(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Fraction | None:
    """Room in whole notes that the student believes is left for the blank, possibly none or less.

    None if the error does not show in what is printed (then the room is the true one, and only fillers may be misread),
    or if the student does not ask for the room at all.

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
    room, true_room, wanted = _aim(m, excerpt, conventions)
    meter = excerpt.meter
    if wanted:
        taken = all(s == wanted[0] for s in symbols)
    else:
        room = true_room if room is None else room
        taken = room > 0 and believed_length(m, symbols, meter, conventions) == room
    return taken and total(symbols, meter) != true_room


@lru_cache(maxsize=1024)
def _by_length(
    m: Misreading, candidates: tuple[Symbols, ...], meter: Meter, conventions: Conventions
) -> Mapping[Fraction, tuple[Symbols, ...]]:
    found: dict[Fraction, list[Symbols]] = {}
    for symbols in candidates:
        found.setdefault(believed_length(m, symbols, meter, conventions), []).append(symbols)
    return {length: tuple(each) for length, each in found.items()}


def fillings(
    misreadings: Iterable[Misreading], candidates: tuple[Symbols, ...], excerpt: Excerpt, conventions: Conventions
) -> dict[Symbols, tuple[str, ...]]:
    """Every wrong candidate that `fills` for some of the misreadings, with their ids; the same as asking one by one."""
    meter = excerpt.meter
    found: dict[Symbols, tuple[str, ...]] = {}
    for m in misreadings:
        room, true_room, wanted = _aim(m, excerpt, conventions)
        room = true_room if room is None else room
        if wanted:
            able: Iterable[Symbols] = (c for c in candidates if all(s == wanted[0] for s in c))
        else:
            able = _by_length(m, candidates, meter, conventions).get(room, ()) if room > 0 else ()
        for symbols in able:
            if total(symbols, meter) != true_room:
                found[symbols] = (*found.get(symbols, ()), m.id)
    return found


def missing(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Fraction | None:
    """The answer to how many bottom-number notes are missing; None if the error gives no other positive number."""
    room, true_room, _ = _aim(m, excerpt, conventions)
    if room is None or room <= 0 or room == true_room:
        return None
    return room / excerpt.meter.unit


def row(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Row | None:
    """The counts that the student writes, one label a sound or rest; None if they are the right ones.

    A label may hold several counts (`1 2`), or be empty: written into the one before, or not written.

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
    return None if found is None or right.right is None or format_row(found) == format_row(right.right) else found


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
    totals = [sum(lengths, NOTHING) + reading.over for lengths in reading.lengths]
    if not reading.excerpt.pickup:
        return all(t == reading.capacity for t in totals)
    first, *others, last = totals
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
    fits = {"not-longer": lasts <= holds, "equal": lasts == holds, "always": True}[reading.verdict]
    unit = reading.meter.unit
    return f"{'fits' if fits else 'fits-not'} {lasts / unit} {holds / unit}"
