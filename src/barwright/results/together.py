"""What a student answers to an item who holds two misreadings that show in it, acted out one after the other.

Told only where it is neither right nor what one of the two leads to alone, and can be answered; ticks of several
choices, and what is said of a signature, are left out. Where nothing is told a student follows one of the two.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from barwright.asks import ASKS
from barwright.counting.counts import count_labels, format_row, normal_row, spans
from barwright.items.item import Item
from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.answers import aim_of, candidates_of
from barwright.misreadings.belief import Reading, totals, true_reading
from barwright.misreadings.exclusions import contradict
from barwright.misreadings.pair_fillings import pair_candidates_of, pair_fillings
from barwright.misreadings.pairs import Alone, Pair, pair_believers, pair_rows, pairs_of
from barwright.misreadings.pairs import acted as acted_by_both
from barwright.results.acting import Answered, acted, answered, can_be_answered, is_open, right_answers
from barwright.results.answers import Held
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_groups, format_symbols, parse_groups, parse_measures, parse_symbols
from barwright.rhythm.values import whole_notes

Told = Iterator[tuple[Pair, str]]
"""Pairs, and the text of what each leads to."""


def compatible(one: str, other: str) -> bool:
    """Whether a student may hold both misreadings (by their ids) at once.

    >>> compatible("dots-passed-over", "dot-doubles"), compatible("dots-passed-over", "rests-take-no-time")
    (False, True)
    """
    return not contradict(MISREADINGS[one], MISREADINGS[other])


def led_together(names: Iterable[str], item: Item) -> tuple[tuple[Held, Answered], ...]:
    """Pairs of these misreadings, by their sorted ids, with what a student who holds both answers to the item.

    >>> from barwright.items.item import Answer, Choice
    >>> from barwright.rhythm.conventions import Conventions
    >>> from barwright.rhythm.text import parse_excerpt
    >>> key = Choice(Answer("row", "(1-2) 3 4"), ())
    >>> item = Item("write-counts", parse_excerpt("4/4 rh q q"), Conventions(), (key,))
    >>> led_together(["every-rest-is-one-beat", "rest-counts-without-parentheses"], item)
    ((('every-rest-is-one-beat', 'rest-counts-without-parentheses'), ('1 2 3',)),)
    """
    act = _TOGETHER.get(ASKS[item.ask].exercise)
    showing = tuple(MISREADINGS[name] for name in names if name in MISREADINGS)
    if act is None or len(showing) < 2:
        return ()
    on_offer = {answered((choice.answer.text,), item) for choice in item.choices}
    right = right_answers(item)
    alone = {m: led.answers if (led := acted(m, item)) else () for m in showing}
    together: dict[tuple[Held, Answered], None] = {}
    for pair, text in act(showing, item):
        answer = answered((text,), item)
        known = answer in right or answer in alone[pair.first] or answer in alone[pair.second]
        if not known and (is_open(item) or answer in on_offer):
            together[tuple(sorted((pair.first.id, pair.second.id))), answer] = None
    return tuple(together)


def _rows(showing: Sequence[Misreading], item: Item) -> Told:
    rows = pair_rows(showing, item.excerpt, item.conventions)
    return ((pair, text) for pair, row, text in rows if can_be_answered(row, item))


def _labels(showing: Sequence[Misreading], item: Item) -> Told:
    excerpt = item.excerpt
    assert excerpt.mark is not None
    measure, index = excerpt.mark
    bare = Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup)
    sounds = [span.at for span in spans(bare)[measure]]
    place = sounds.index(index)
    for pair, row, _ in pair_rows(showing, bare, item.conventions):
        if len(row[measure]) == len(sounds) and row[measure][place]:
            yield pair, row[measure][place]


def _rhythms(showing: Sequence[Misreading], item: Item) -> Told:
    """The rhythms on offer that are counted as the given row."""
    given = normal_row(format_row(count_labels(item.excerpt, item.conventions)), item.conventions)
    for choice in item.wrong:
        rhythm = Excerpt(item.excerpt.meter, parse_measures(choice.answer.text), item.excerpt.pickup)
        for pair, _, text in pair_rows(showing, rhythm, item.conventions):
            if normal_row(text, item.conventions) == given:
                yield pair, choice.answer.text


def _number(showing: Sequence[Misreading], item: Item) -> Told:
    right = true_reading(item.excerpt, item.conventions)
    alone = Alone(right, {m: None if m.bears_on == "filler" else m.act(right) for m in showing})
    for pair in pairs_of(tuple(m for m, reading in alone.taken.items() if reading is not None)):
        reading = acted_by_both(pair, alone)
        room, wanted = (0, ()) if reading is None else aim_of(reading)
        if room > 0 and not wanted:
            yield pair, str(whole_notes(room) / item.excerpt.meter.unit)


def _fillings(showing: Sequence[Misreading], item: Item) -> Told:
    if ASKS[item.ask].interaction == "several":
        return
    groups = tuple(parse_symbols(choice.answer.text) for choice in item.choices)
    meter, conventions = item.excerpt.meter, item.conventions
    pairs = pair_candidates_of(tuple(showing), groups, meter, conventions)
    single = candidates_of(tuple(showing), groups, meter, conventions)
    keys = [parse_symbols(key.answer.text) for key in item.keys]
    for group, those in pair_fillings(pairs, single, item.excerpt, conventions, keys).items():
        yield from ((pair, format_symbols(group)) for pair in those)


def _meters(showing: Sequence[Misreading], item: Item) -> Told:
    for choice in item.wrong:
        excerpt = replace(item.excerpt, meter=parse_meter(choice.answer.text))
        yield from ((pair, choice.answer.text) for pair in pair_believers(showing, excerpt, item.conventions))


def _rhythms_for_meter(showing: Sequence[Misreading], item: Item) -> Told:
    for choice in item.wrong:
        excerpt = Excerpt(item.excerpt.meter, parse_measures(choice.answer.text))
        yield from ((pair, choice.answer.text) for pair in pair_believers(showing, excerpt, item.conventions))


def _orders(showing: Sequence[Misreading], item: Item) -> Told:
    """The groups, shortest first, where no two seem equally long."""
    groups = parse_groups(item.keys[0].answer.text)
    readings = [true_reading(Excerpt(item.excerpt.meter, (group,)), item.conventions) for group in groups]

    def order(taken: Callable[[Reading], Reading | None]) -> tuple[Symbols, ...]:
        lengths = [totals(taken(reading) or reading)[0] for reading in readings]
        ranked = sorted(range(len(groups)), key=lengths.__getitem__)
        return tuple(groups[n] for n in ranked) if len(set(lengths)) == len(groups) else ()

    for pair in pairs_of(tuple(showing)):
        ordered = order(partial(_both, pair))
        if ordered:
            yield pair, format_groups(ordered)


def _both(pair: Pair, right: Reading) -> Reading | None:
    """A group as who holds both takes it; one of the errors may not show in it."""
    alone = Alone(right)
    one, other = alone.by(pair.first), alone.by(pair.second)
    return acted_by_both(pair, alone) if one is not None and other is not None else one or other


_TOGETHER: dict[str, Callable[[Sequence[Misreading], Item], Told]] = {
    "finish-measure": _fillings,
    "finish-measure-with-two": _fillings,
    "drag-into-the-blank": _fillings,
    "beats-left": _number,
    "shortest-first": _orders,
    "counts-for-rhythm": _rows,
    "write-counts": _rows,
    "count-under-each": _rows,
    "count-under-mark": _labels,
    "rhythm-for-counts": _rhythms,
    "time-signature-for-rhythm": _meters,
    "rhythm-for-time-signature": _rhythms_for_meter,
}
