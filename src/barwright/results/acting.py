"""What a student who holds a misreading answers to an item: every one of the catalogue is acted out on the excerpt.

The record names a misreading only where an answer of it is on offer, and of typed answers only the foreseen ones. Here
all are acted out again, so that an answer which is not on offer tells something, too.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from barwright.asks import ASKS
from barwright.asks.pieces import placing_of
from barwright.counting.counts import (
    count_labels,
    format_row,
    labels_if_counted,
    normal_row,
    spans,
)
from barwright.items.item import Item
from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.adding_up import SLIPS
from barwright.misreadings.answers import (
    NOT_LOOKING,
    believed_fillings,
    believers,
    candidates_of,
    claims,
    contented,
    gap,
    hears,
    missing,
    row,
    seeming_order,
)
from barwright.misreadings.belief import Row, true_reading
from barwright.misreadings.count_signs import SHOWN_BY_NOTES
from barwright.results.answers import Administered
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbol
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import (
    format_groups,
    format_symbol,
    parse_groups,
    parse_measures,
    parse_symbols,
)

Answered = tuple[str, ...]
"""What a response holds: the texts picked, as they are compared (see `compared`), sorted."""


@dataclass(frozen=True, slots=True)
class Acted:
    """Where a misreading leads in an item: to one of these answers, equally likely; none of them is on offer if empty.

    A right answer may be among them, where it seems right to the student as well.
    """

    answers: tuple[Answered, ...]


AWAY = Acted(())


def compared(text: str, item: Item) -> str:
    """An answer as it is compared with others: rows and numbers that only look different are one.

    >>> from barwright.rhythm.conventions import Conventions
    >>> from barwright.rhythm.text import parse_excerpt
    >>> item = Item("beats-left", parse_excerpt("4/4 q q _"), Conventions(), ())
    >>> compared("2/4", item), compared(" 1.5 ", item)
    ('1/2', '3/2')
    """
    kind = ASKS[item.ask].answer
    text = " ".join(text.split())
    if kind == "row":
        return normal_row(text, item.conventions)
    if kind == "number":
        try:
            return str(Fraction(text.replace(",", ".").replace(" ", "")))
        except (ValueError, ZeroDivisionError):
            return text
    return text


def answered(texts: Iterable[str], item: Item) -> Answered:
    """A response as it is compared: each text, sorted.

    >>> from barwright.rhythm.conventions import Conventions
    >>> from barwright.rhythm.text import parse_excerpt
    >>> answered(["q q", "h"], Item("all-that-fit", parse_excerpt("4/4 q q _"), Conventions(), ()))
    ('h', 'q q')
    """
    return tuple(sorted({compared(text, item) for text in texts}))


def right_answers(item: Item) -> tuple[Answered, ...]:
    """The responses that are fully right: all keys where several are to be ticked, else any of them."""
    keys = [compared(key.answer.text, item) for key in item.keys]
    return (tuple(sorted(keys)),) if ASKS[item.ask].interaction == "several" else tuple((key,) for key in keys)


@lru_cache(maxsize=1 << 16)
def acted(misreading: Misreading, item: Item) -> Acted | None:
    """Where a student with this misreading is led; None where it does not show, and the answer is right.

    >>> from barwright.items.item import Answer, Choice
    >>> from barwright.rhythm.conventions import Conventions
    >>> from barwright.rhythm.text import parse_excerpt
    >>> choices = tuple(Choice(Answer("symbols", text), ids) for text, ids in (("q", ()), ("h", ("x",))))
    >>> item = Item("finish-measure", parse_excerpt("4/4 q rq q _"), Conventions(), choices)
    >>> acted(MISREADINGS["rests-take-no-time"], item)
    Acted(answers=(('h',),))
    >>> acted(MISREADINGS["eighth-gets-a-full-beat"], item) is None
    True
    """
    credited = tuple(c.answer for c in item.wrong if misreading.id in c.misreadings)
    led = ACTS[ASKS[item.ask].exercise](misreading, item) if ASKS[item.ask].exercise in misreading.exercises else None
    if not credited:
        return led
    own = tuple(answered((answer.text,), item) for answer in credited)
    if ASKS[item.ask].interaction == "several":
        return led if led is not None and led.answers else _ticked(item, [answer.text for answer in credited])
    return Acted(tuple(dict.fromkeys((*own, *(led.answers if led else ())))))


def _ticked(item: Item, texts: Iterable[str]) -> Acted:
    return Acted((answered(texts, item),))


def _led(item: Item, texts: Iterable[str]) -> Acted:
    """To those of the answers that are on offer; any can be typed or put together."""
    answers = dict.fromkeys(answered((text,), item) for text in texts)
    if is_open(item):
        return Acted(tuple(answers))
    on_offer = {answered((c.answer.text,), item) for c in item.choices}
    return Acted(tuple(each for each in answers if each in on_offer))


def is_open(item: Item) -> bool:
    """Whether a student can give answers that are not on offer: typed, or put together from parts."""
    return ASKS[item.ask].interaction in ("entry", "inline", "order")


def _filling(m: Misreading, item: Item) -> Acted | None:
    """Every choice that seems to fill the room; all of them are ticked where several may be."""
    groups = {parse_symbols(c.answer.text): c for c in item.choices}
    candidates = candidates_of((m,), tuple(groups), item.excerpt.meter, item.conventions)
    seem = [groups[symbols] for symbols in believed_fillings(candidates, item.excerpt, item.conventions)]
    if set(seem) == set(item.keys):
        return None
    texts = [choice.answer.text for choice in seem]
    return _ticked(item, texts) if texts and ASKS[item.ask].interaction == "several" else _led(item, texts)


def _number(m: Misreading, item: Item) -> Acted | None:
    if gap(m, item.excerpt, item.conventions) is None:
        return None
    number = missing(m, item.excerpt, item.conventions)
    return AWAY if number is None else _led(item, (str(number),))


def _row(m: Misreading, item: Item) -> Acted | None:
    labels = row(m, item.excerpt, item.conventions)
    if labels is None:
        return None
    text = format_row(labels)
    if answered((text,), item) in right_answers(item):
        return None
    return _led(item, (text,) if text and can_be_answered(labels, item) else ())


def can_be_answered(labels: Row, item: Item) -> bool:
    """Whether a student can answer these counts: where each is picked from a list, only labels of the list."""
    if ASKS[item.ask].interaction != "inline":
        return True
    placing = placing_of(item)
    assert placing is not None
    listed = {normal_row(text, item.conventions) for text in placing.texts}
    every = [label for measure in labels for label in measure]
    return len(every) == len(placing.slots) and all(normal_row(label, item.conventions) in listed for label in every)


def _label(m: Misreading, item: Item) -> Acted | None:
    """The label under the mark, in the row that is written under the whole excerpt."""
    excerpt = item.excerpt
    assert excerpt.mark is not None
    measure, index = excerpt.mark
    if m.id in SHOWN_BY_NOTES and excerpt.measures[measure][index].silent:
        return None
    bare = Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup)
    labels = row(m, bare, item.conventions)
    if labels is None:
        return None
    label = labels[measure][[span.at for span in spans(bare)[measure]].index(index)]
    return None if answered((label,), item) in right_answers(item) else _led(item, (label,) if label else ())


def _rhythm_for_counts(m: Misreading, item: Item) -> Acted | None:
    """Every rhythm that the student counts as the given row, or as the row that is heard in its place."""
    conventions, excerpt = item.conventions, item.excerpt
    labels = count_labels(excerpt, conventions)
    given = normal_row(format_row(labels), conventions)
    heard = hears(m, labels, conventions)
    wanted = given if heard is None else normal_row(format_row(heard), conventions)
    seem = []
    for choice in item.choices:
        rhythm = Excerpt(excerpt.meter, parse_measures(choice.answer.text), excerpt.pickup)
        own = row(m, rhythm, conventions) or labels_if_counted(rhythm, conventions)
        if own is not None and normal_row(format_row(own), conventions) == wanted:
            seem.append(choice)
    return None if set(seem) == set(item.keys) else _led(item, [c.answer.text for c in seem])


def _meter(m: Misreading, item: Item) -> Acted | None:
    """Every time signature whose measures seem full; who does not look at the measures finds the right one by luck."""
    excerpt, conventions = item.excerpt, item.conventions
    wrong = [
        choice.answer.text
        for choice in item.wrong
        if (meter := parse_meter(choice.answer.text)).unit == excerpt.meter.unit or m.id not in SLIPS
        if believers((m,), replace(excerpt, meter=meter), conventions)
    ]
    if m.id in NOT_LOOKING:
        return None if m.act(true_reading(excerpt, conventions)) is not None else _led(item, wrong)
    return _beside_the_key(m, item, wrong, sees=m.id in contented((m,), excerpt, conventions))


def _rhythm_for_meter(m: Misreading, item: Item) -> Acted | None:
    """Every rhythm whose measures seem full."""
    meter, conventions = item.excerpt.meter, item.conventions
    rhythms = {c.answer.text: Excerpt(meter, parse_measures(c.answer.text)) for c in item.wrong}
    wrong = [text for text, rhythm in rhythms.items() if believers((m,), rhythm, conventions)]
    return _beside_the_key(m, item, wrong, sees=m.id in contented((m,), item.excerpt, conventions))


def _beside_the_key(m: Misreading, item: Item, wrong: list[str], *, sees: bool) -> Acted | None:
    """The wrong answers, with the right one if it seems right as well; an error of grouping tells those apart."""
    if not wrong and (sees or m.replaces == "grouping"):
        return None
    return _led(item, [*wrong, *(key.answer.text for key in item.keys if sees)])


def _claim(m: Misreading, item: Item) -> Acted | None:
    texts = claims(m, item.excerpt, item.target, item.conventions)
    wrong = [text for text in texts if answered((text,), item) not in right_answers(item)]
    return _led(item, wrong) if wrong else None


def _order(m: Misreading, item: Item) -> Acted | None:
    groups = parse_groups(item.keys[0].answer.text)
    order = seeming_order(m, groups, item.excerpt.meter, item.conventions)
    return None if order is None else _led(item, (format_groups(order),))


ACTS: dict[str, Callable[[Misreading, Item], Acted | None]] = {
    "finish-measure": _filling,
    "finish-measure-with-two": _filling,
    "beats-left": _number,
    "all-that-fit": _filling,
    "drag-into-the-blank": _filling,
    "shortest-first": _order,
    "counts-for-rhythm": _row,
    "rhythm-for-counts": _rhythm_for_counts,
    "count-under-mark": _label,
    "write-counts": _row,
    "count-under-each": _row,
    "time-signature-for-rhythm": _meter,
    "rhythm-for-time-signature": _rhythm_for_meter,
    "does-it-fit": _claim,
    "what-the-numbers-say": _claim,
}


def tokens_of(given: Iterable[Administered]) -> tuple[frozenset[str], bool]:
    """The symbols that a quiz shows, as taught tokens, and whether it has ties: what its class has been taught."""
    items = {asked.id: asked.item for form in given for asked in form.items}.values()
    symbols = {symbol for item in items for symbol in _shown(item)}
    tokens = {format_symbol(s).removesuffix("~") for s in symbols if s.kind != "blank"}
    return frozenset(tokens), any(s.tied for s in symbols)


def _shown(item: Item) -> Iterator[Symbol]:
    yield from item.excerpt.symbols
    kind = ASKS[item.ask].answer
    for choice in item.choices if kind in ("symbols", "measures") else ():
        if kind == "symbols":
            yield from parse_symbols(choice.answer.text)
        else:
            yield from (symbol for measure in parse_measures(choice.answer.text) for symbol in measure)


def serving(given: Iterable[Administered]) -> tuple[Misreading, ...]:
    """The misreadings of the catalogue that can show in a quiz, in the order of the table."""
    given = tuple(given)
    exercises = {ASKS[asked.item.ask].exercise for form in given for asked in form.items}
    named = {
        m
        for form in given
        for asked in form.items
        for each in asked.offered
        for held in each.alternatives
        for m in held
    }
    tokens, ties = tokens_of(given)
    able = (m for m in MISREADINGS.values() if m.exercises & exercises and m.nameable(tokens, ties=ties))
    wanted = {*named, *(m.id for m in able)}
    return tuple(m for m in MISREADINGS.values() if m.id in wanted)
