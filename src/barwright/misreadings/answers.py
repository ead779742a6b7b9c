"""What a student with one misreading answers: the error is acted out on the excerpt, and the answer follows.

None, False or no claim mean that the error does not show here; the right answer is never given as a wrong one.

In which order a student puts groups of symbols, shortest first: by the lengths that the student believes."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TypeVar

from barwright.counting.counts import format_row
from barwright.misreadings.belief import (
    LABELING,
    Misreading,
    Reading,
    Row,
    totals,
    true_reading,
    true_room,
)
from barwright.misreadings.believed_rows import Sheet, row_by_lengths, sheet_of
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import (
    FULL_MEASURE_REST,
    Symbol,
    Symbols,
    total,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import ticks, whole_notes

# Length of a filler that contradicts the student's own belief.
NEVER = -1
# Answered whatever stands there.
# The dotted whole note, in quarter notes and in eighth notes.
MOST_BEATS, MOST_EIGHTHS = 6, 12
NOT_LOOKING = frozenset({"four-four-taken-for-granted"})


def _taken(m: Misreading, right: Reading) -> Reading | None:
    return None if m.bears_on == "filler" else m.act(right)


def _aim(m: Misreading, right: Reading) -> tuple[int, Symbols]:
    """What a student puts in the blank of an excerpt: what fills the room believed (in ticks), or the symbols wanted.

    The room is the true one where the error does not show, or the room is not asked for.
    """
    reading = _taken(m, right)
    return (true_room(right.excerpt), ()) if reading is None else aim_of(reading)


def aim_of(reading: Reading) -> tuple[int, Symbols]:
    """What a student with this reading puts in the blank: what fills so many ticks, or the very symbols."""
    blank = reading.excerpt.blank
    assert blank is not None
    if reading.wants:
        return true_room(reading.excerpt), reading.wants
    if reading.room is not None:
        return reading.room, ()
    return reading.capacity - totals(reading)[blank[0]], ()


def gap(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> Fraction | None:
    """Room in whole notes that the student believes is left for the blank, possibly none or less.

    None if it is the true one, so that only fillers may be misread, or if the student does not ask for the room at all.

    >>> from barwright.misreadings import MISREADINGS
    >>> from barwright.rhythm.text import parse_excerpt
    >>> str(gap(MISREADINGS["rests-take-no-time"], parse_excerpt("4/4 q rq q _"), Conventions()))
    '1/2'
    """
    if excerpt.blank is None:
        return None
    room, _ = _aim(m, true_reading(excerpt, conventions))
    return None if room == true_room(excerpt) else whole_notes(room)


def believed_length(m: Misreading, symbols: Symbols, meter: Meter, conventions: Conventions) -> Fraction:
    """Length in whole notes that the student gives to symbols which are to fill a blank.

    An error of tallying what is printed leaves the filler its true value; but a filler that the student's own belief
    gives another length is none that this student would pick: who gives rests no time fills nothing with a rest, who
    takes every symbol for one beat fills two beats with no half note. Its length is then below 0.
    """
    return whole_notes(_believed(m, true_reading(Excerpt(meter, (symbols,)), conventions)))


def _believed(m: Misreading, right: Reading) -> int:
    """The believed length of symbols, of which `right` is the right reading, in ticks."""
    reading = m.act(right)
    if m.bears_on == "printed":
        return NEVER if reading is not None and reading.lengths != right.lengths else sum(right.lengths[0])
    return sum((reading or right).lengths[0])


def fills(m: Misreading, symbols: Symbols, excerpt: Excerpt, conventions: Conventions) -> bool:
    """Whether the student puts exactly these symbols, which are in truth wrong, in the blank."""
    meter = excerpt.meter
    room, wanted = _aim(m, true_reading(excerpt, conventions))
    if wanted:
        taken = all(s == wanted[0] for s in symbols)
    else:
        taken = room > 0 and believed_length(m, symbols, meter, conventions) == whole_notes(room)
    return taken and ticks(total(symbols, meter)) != true_room(excerpt)


ByLength = Mapping[int, tuple[Symbols, ...]]


@dataclass(frozen=True, slots=True)
class Candidates:
    """Groups of symbols that may fill a blank in one meter, sorted once for all excerpts (lengths in ticks).

    By their true length, by the length above 0 that each misreading gives them, and by the symbol of which they are
    made alone.
    """

    true: ByLength
    believed: tuple[tuple[Misreading, ByLength], ...]
    alike: Mapping[Symbol, tuple[Symbols, ...]]


def candidates_of(
    misreadings: tuple[Misreading, ...], groups: tuple[Symbols, ...], meter: Meter, conventions: Conventions
) -> Candidates:
    """The groups of symbols sorted by what each misreading makes of them."""
    right = [true_reading(Excerpt(meter, (group,)), conventions) for group in groups]
    believed = []
    for m in misreadings:
        by_length = _grouped(zip((_believed(m, each) for each in right), groups, strict=True))
        believed.append((m, {length: of_length for length, of_length in by_length.items() if length > 0}))
    alike = _grouped((g[0], g) for g in groups if all(s == g[0] for s in g))
    return Candidates(_grouped((ticks(total(g, meter)), g) for g in groups), tuple(believed), alike)


_Key = TypeVar("_Key")


def _grouped(pairs: Iterable[tuple[_Key, Symbols]]) -> dict[_Key, tuple[Symbols, ...]]:
    grouped: dict[_Key, list[Symbols]] = {}
    for key, symbols in pairs:
        grouped.setdefault(key, []).append(symbols)
    return {key: tuple(groups) for key, groups in grouped.items()}


def fillings_among(
    candidates: Candidates, excerpt: Excerpt, conventions: Conventions, keys: Iterable[Symbols] = ()
) -> dict[Symbols, tuple[str, ...]]:
    """Every wrong group of the candidates that `fills` for some of their misreadings, with the ids of those.

    Sorted for the meter of the excerpt; what comes back is as if each group had been asked about by itself.

    Misreadings by which all of `keys` seem to fill the blank are left out: a student may be right by them. Where there
    are several keys, one of which a student would not tick, a wrong one beside the others tells which misreading it is.
    """
    fillings = believed_fillings(candidates, excerpt, conventions)
    right = frozenset(candidates.true.get(true_room(excerpt), ()))
    seeming = [frozenset(fillings.get(symbols, ())) for symbols in keys]
    mute: frozenset[str] = frozenset.intersection(*seeming) if seeming else frozenset()
    told = (
        (symbols, tuple(m for m in ids if m not in mute)) for symbols, ids in fillings.items() if symbols not in right
    )
    return {symbols: ids for symbols, ids in told if ids}


def believed_fillings(
    candidates: Candidates, excerpt: Excerpt, conventions: Conventions
) -> dict[Symbols, tuple[str, ...]]:
    """Every group that some misreading puts in the blank, right ones too, with the ids of all that do."""
    right = true_reading(excerpt, conventions)
    fillings: dict[Symbols, tuple[str, ...]] = {}
    for m, by_length in candidates.believed:
        room, wanted = _aim(m, right)
        for symbols in candidates.alike.get(wanted[0], ()) if wanted else by_length.get(room, ()):
            fillings[symbols] = (*fillings.get(symbols, ()), m.id)
    return fillings


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
    return next((labels for _, labels, _ in rows((m,), excerpt, conventions)), None)


def rows(
    misreadings: Iterable[Misreading], excerpt: Excerpt, conventions: Conventions
) -> Iterator[tuple[Misreading, Row, str]]:
    """The `row` of each misreading that gives one, and the same as text: all held against one sheet."""
    sheet = sheet_of(excerpt, conventions)
    if sheet is None:
        return
    for m in misreadings:
        if m not in sheet.wrong:
            sheet.wrong[m] = _wrong(m, sheet)
        wrong = sheet.wrong[m]
        if wrong is not None:
            yield m, *wrong


def _wrong(m: Misreading, sheet: Sheet) -> tuple[Row, str] | None:
    believed = _row(m, sheet) if m.exercises & LABELING else None
    if believed is None or believed == sheet.onsets:
        return None
    text = format_row(believed)
    return None if text == sheet.text else (believed, text)


def _row(m: Misreading, sheet: Sheet) -> Row | None:
    reading = m.act(sheet.reading)
    if reading is None or reading.labels is not None:
        return None if reading is None else reading.labels
    return None if reading.lengths is sheet.reading.lengths else row_by_lengths(reading)


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
    return believers((m,), excerpt, conventions) != []


def believers(misreadings: Iterable[Misreading], excerpt: Excerpt, conventions: Conventions) -> list[str]:
    """Ids of those under which an excerpt is believed full, in their order; the same as asking one by one."""
    if (FULL_MEASURE_REST,) in excerpt.measures:
        return []
    right = true_reading(excerpt, conventions)
    full = is_full(right)
    asked = (m for m in misreadings if m.replaces == "grouping" or not full)
    return [m.id for m in asked if (reading := _taken(m, right)) is not None and is_full(reading)]


def contented(misreadings: Iterable[Misreading], excerpt: Excerpt, conventions: Conventions) -> frozenset[str]:
    """Ids of those by which a truly full excerpt is believed full in its own meter as well.

    Errors of grouping are left out: they take a full measure for another meter's, and that is what they tell. So are
    those of a student who does not look at the measure.
    """
    right = true_reading(excerpt, conventions)
    looking = (m for m in misreadings if m.replaces != "grouping" and m.id not in NOT_LOOKING)
    taken = ((m.id, _taken(m, right)) for m in looking)
    return frozenset(m for m, reading in taken if reading is None or is_full(reading))


def is_full(reading: Reading) -> bool:
    """Whether every measure is believed to be exactly full; with a pickup the last may be shortened by it."""
    held = totals(reading)
    if not reading.excerpt.pickup:
        return held.count(reading.capacity) == len(held)
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
    """Whether a student would say that it lasts so many beats: whole, with a half, one part of a beat over 2 or 4.

    Nobody looks at a symbol and says that it lasts none, or more than any is drilled to last.
    """
    beats = Fraction(reading.lengths[0][0], reading.beat or reading.unit)
    if not 0 < beats <= (MOST_EIGHTHS if reading.meter.bottom > 4 else MOST_BEATS):
        return False
    return beats.denominator <= 2 or (beats.numerator == 1 and reading.meter.bottom < 8)


def _fit(reading: Reading) -> str:
    lasts, holds, beat = reading.lengths[0][0], reading.holds or reading.capacity, reading.beat or reading.unit
    return f"{'fits' if lasts <= holds else 'fits-not'} {Fraction(lasts, beat)} {Fraction(holds, beat)}"


Groups = tuple[Symbols, ...]


@cache
def seeming_length(m: Misreading, group: Symbols, meter: Meter, conventions: Conventions) -> Fraction:
    """Length in whole notes that the student gives to a group printed on its own."""
    reading = m.act(true_reading(Excerpt(meter, (group,)), conventions))
    return total(group, meter) if reading is None else whole_notes(totals(reading)[0])


def seeming_order(m: Misreading, groups: Groups, meter: Meter, conventions: Conventions) -> Groups | None:
    """The groups as the student orders them, shortest first.

    None if that is the right order, and where two groups seem equally long: then the student can only guess.

    >>> from barwright.misreadings import MISREADINGS
    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import format_groups, parse_groups
    >>> right = parse_groups("q < h < w")
    >>> wrong = seeming_order(MISREADINGS["filled-head-lasts-longer"], right, parse_meter("4/4"), Conventions())
    >>> format_groups(wrong)
    'h < q < w'
    """
    lengths = {group: seeming_length(m, group, meter, conventions) for group in groups}
    if len(set(lengths.values())) < len(groups):
        return None
    order = tuple(sorted(groups, key=lengths.__getitem__))
    return None if order == tuple(sorted(groups, key=lambda g: total(g, meter))) else order
