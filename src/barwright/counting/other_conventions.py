"""The rows of counts that classes with other conventions would write under the same rhythm."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import accumulate, pairwise, product
from typing import Any

from barwright.counting.kodaly import kodaly_labels
from barwright.counting.labels import (
    EXCERPTS_KEPT,
    Labeller,
    labeller,
    labeller_of,
    meter_shown,
    rest_style,
    spans,
    struck,
)
from barwright.counting.rows import format_row, normal_row
from barwright.counting.systems import (
    QUARTERS,
    SYSTEMS,
    THIRDS,
    Words,
    by_groups,
    group_beats,
)
from barwright.rhythm.conventions import (
    BY_BEATS,
    EFFECTS,
    Conventions,
    Counting,
    Where,
    convention_values,
    counting_conventions,
)
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.grouping import groupings
from barwright.rhythm.meter import THREE_EIGHT, TWO_TWO, Meter

# Numbers in additive meters counted by groups, for groups of two, three and four (common practice): split like beats
# (1 la li 2 &), or beginning again with every group (1 2 3 1 2).
BY_GROUP: tuple[dict[int, Words], ...] = (
    {2: QUARTERS, 3: THIRDS["beat"], 4: QUARTERS},
    {2: QUARTERS, 3: THIRDS["beat_and_a"], 4: QUARTERS},
    {2: {0: "1", 6: "2"}, 3: {0: "1", 4: "2", 8: "3"}, 4: {0: "1", 3: "2", 6: "3", 9: "4"}},
)
# Systems that go by the groups of additive meters (`systems.counted_beats`).
BY_FELT_BEATS = tuple(system for system in BY_BEATS if system != "numbers")

Labels = tuple[str | None, ...]


@dataclass(frozen=True, slots=True)
class SoundShape:
    """All that counts go by, sound by sound, measures run together; `ends` tells where each measure ends."""

    spans: list[tuple[int, int, bool]]
    kodaly: Labels
    silent: list[bool]
    held: list[bool]
    ends: list[int]


@dataclass(frozen=True, slots=True)
class Way:
    """One way to count: its system; whether it writes counts only where sounds begin; whether it is the class's own."""

    system: Counting
    onset_only: bool
    own: bool = False


ByBeats = tuple[Way, Labeller]


def all_conventions_rows(excerpt: Excerpt, conventions: Conventions) -> frozenset[str]:
    """Normal rows (`normal_row` under these conventions) of this rhythm in every other set of counting conventions.

    All values of all conventions that change counts or their signs (`Effect`), all counting systems, and for additive
    meters every grouping; where a set names onsets only, also with nothing under a part that is held over a barline.
    A set that writes what this one writes gives the same row again; one that has no count for this rhythm gives none.
    Raises RhythmError for a blank.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> sorted(all_conventions_rows(parse_excerpt("2/4 h"), Conventions()))
    ['1', '1-&-2-&', 'du', 'ta', 'ta-a']
    """
    return _all_rows(excerpt, conventions, told=False)


@lru_cache(EXCERPTS_KEPT)
def arguable_rows(excerpt: Excerpt, conventions: Conventions) -> frozenset[str]:
    """The rows of `all_conventions_rows` but those that the rules printed with the question rule out (`Effect.told`).

    >>> from barwright.rhythm.text import parse_excerpt
    >>> half_notes = parse_excerpt("2/2 h h")
    >>> sorted(all_conventions_rows(half_notes, Conventions()) - arguable_rows(half_notes, Conventions()))
    ['1 3', '1-&-2-& 3-&-4-&', '1-2 3-4']
    """
    return _all_rows(excerpt, conventions, told=True)


def _all_rows(excerpt: Excerpt, conventions: Conventions, *, told: bool) -> frozenset[str]:
    shape = _shape(excerpt)
    kodaly = Way("kodaly", onset_only=True, own=conventions.counting == "kodaly")
    ways = {(shape.kodaly, kodaly)}  # many conventions write the same row: each once
    triplets = any(span[2] for span in shape.spans)
    for way, label in _ways_by_beats(excerpt.meter, conventions, triplets=triplets, told=told):
        words = [label(*span) for span in shape.spans]
        ways.add((tuple(words), way))
    ways.update(_as_shown(excerpt, shape, conventions))
    return frozenset(row for words, way in ways for row in _rows(words, shape, way, conventions))


def _as_shown(excerpt: Excerpt, shape: SoundShape, conventions: Conventions) -> Iterator[tuple[Labels, Way]]:
    """The syllables of an additive meter whose groups change with what each measure shows."""
    meters = [meter_shown(excerpt, number) for number in range(len(excerpt.measures))]
    if meters[0] == excerpt.meter:
        return
    for written in _syllable_ways(conventions):
        labels: list[str | None] = []
        for meter, (start, end) in zip(meters, pairwise([0, *shape.ends]), strict=True):
            label = labeller(meter, written)
            labels += [label(*span) for span in shape.spans[start:end]]
        yield tuple(labels), Way(written.counting, onset_only=True, own=written == conventions)


def _syllable_ways(conventions: Conventions) -> tuple[Conventions, ...]:
    changes: list[dict[str, Any]] = []
    for system in BY_FELT_BEATS:
        keys = tuple(name for name in counting_conventions(system) if EFFECTS[name].where == "anywhere")
        changes += [{"counting": system, **dict(zip(keys, chosen, strict=True))} for chosen in _every_value(keys)]
    return tuple(replace(conventions, **changed) for changed in changes)


def _shape(excerpt: Excerpt) -> SoundShape:
    measures = spans(excerpt)
    every = [s for measure in measures for s in measure]
    words = [kodaly_labels(m, s, excerpt.meter) for m, s in zip(measures, excerpt.measures, strict=True)]
    return SoundShape(
        spans=[(s.onset, s.length, s.triplet) for s in every],
        kodaly=tuple(word for measure in words for word in measure),
        silent=[s.silent for s in every],
        held=[s.held for s in every],
        ends=[*accumulate(map(len, measures))],
    )


def _rows(words: Labels, shape: SoundShape, way: Way, conventions: Conventions) -> Iterator[str]:
    """The normal rows of one way to count, with every way to mark rests; without the class's own row."""
    if None in words:
        return
    # Crossing out and parentheses give one normal row: one of them stands for both.
    marked = "strike" if conventions.rest_counts == "strike" else "parentheses"
    mine = {conventions.rest_counts if conventions.rest_counts in _other_styles() else marked}
    plain = ("plain",) if way.system == "kodaly" else ()  # sh says rest without any mark
    if plain and rest_style(conventions) == "plain":
        mine.update(plain)
    held = True in shape.held
    for style in (marked, *_other_styles(), *plain) if True in shape.silent else sorted(mine)[:1]:
        row = _dressed(words, shape, style)
        if not (way.own and style in mine):
            yield _normal(row, shape, way.system, conventions)
        if held and way.onset_only:
            started = ["" if h else word for word, h in zip(row, shape.held, strict=True)]
            yield _normal(started, shape, way.system, conventions)


@cache
def _other_styles() -> tuple[str, ...]:
    """The marks of rests that do not give the same normal row as parentheses do."""
    return tuple(str(value) for value in convention_values()["rest_counts"] if value not in ("parentheses", "strike"))


def _every_value(names: tuple[str, ...]) -> Iterator[tuple[object, ...]]:
    """All combinations of the values of some conventions."""
    values = convention_values()
    return product(*(values[name] for name in names))


def _dressed(words: Labels, shape: SoundShape, style: str) -> list[str]:
    """The counts as they are written (`labels.dressed`, all at once); one R for each rest, as in a normal row."""
    row = [word or "" for word in words]
    if True in shape.silent:
        pairs = zip(row, shape.silent, strict=True)
        if style == "strike":
            row = [struck(word) if quiet else word for word, quiet in pairs]
        else:
            sign = {"R": "R", "plain": "{}"}.get(style, "({})")
            row = [sign.format(word) if word and quiet else word for word, quiet in pairs]
    if True in shape.held:
        row = [f"-{word}" if word and held else word for word, held in zip(row, shape.held, strict=True)]
    return row


def _normal(row: list[str], shape: SoundShape, system: Counting, conventions: Conventions) -> str:
    """The normal row; short cut where labels, joined, are normal as they stand (a test compares the two)."""
    told = SYSTEMS[system].numbered or True not in shape.held
    if told and conventions.counting == "numbers" and conventions.triplet != "three_e":
        return " ".join([word for word in row if word])
    measures = (row[start:end] for start, end in pairwise([0, *shape.ends]))
    return normal_row(format_row(tuple(map(tuple, measures))), conventions)


@cache
def _ways_by_beats(meter: Meter, conventions: Conventions, *, triplets: bool, told: bool) -> tuple[ByBeats, ...]:
    """Every way to count by beats in this meter, the class's own among them; `triplets`: whether they matter.

    With `told` only those that keep to what the class's printed rules settle.
    """
    ways = [*_by_group(meter)]
    for system in BY_BEATS:
        keys = tuple(
            name
            for name in _keys(meter, system, triplets=triplets)
            if not (told and conventions.counting in EFFECTS[name].told)
        )
        for chosen in _every_value(keys):
            changed: dict[str, Any] = dict(zip(keys, chosen, strict=True))
            written = replace(conventions, counting=system, **changed)
            if written.triplet == "trip_let" and conventions.triplet == "la_li" and conventions.counting == system:
                continue  # `normal_row` takes trip let for la li
            meters = _grouped(meter) if by_groups(meter) and system != "numbers" else (meter,)
            onset_only = system != "numbers" or written.held == "onset_only"
            own = written == conventions and len(meters) == 1
            ways += [(Way(system, onset_only, own), labeller(each, written)) for each in meters]
    return tuple(ways)


def _keys(meter: Meter, system: Counting, *, triplets: bool) -> Iterator[str]:
    """The conventions that can change a row of this system in this meter."""
    matters: dict[Where, bool] = {
        "anywhere": True,
        "2/2": meter is TWO_TWO,
        "3/8": meter is THREE_EIGHT,
        "thirds": meter.kind == "compound" or meter is THREE_EIGHT,
        "triplets": triplets,
    }
    yield from (name for name in counting_conventions(system) if matters[EFFECTS[name].where])


def _grouped(meter: Meter) -> tuple[Meter, ...]:
    return tuple(Meter(meter.top, meter.bottom, groups) for groups in groupings(meter))


def _by_group(meter: Meter) -> Iterator[ByBeats]:
    """Numbers counted by the groups of an additive meter."""
    for each in _grouped(meter) if by_groups(meter) else ():
        beats = group_beats(each)
        for words in BY_GROUP:
            tables = tuple((words[beat.parts], None) for beat in beats)
            again = words is BY_GROUP[-1]
            label = labeller_of(beats, tables, held="subdivisions" if again else "beats")
            yield Way("numbers", onset_only=False), label
