"""Wrong answers from misreadings: each error is acted out on the excerpt, and where it leads is what is offered.

Every function gives the wrong answers with the ids of all misreadings that lead to each; answers that are right are
left out. Nothing else is ever offered.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from random import Random
from typing import NamedTuple

from barwright.asks.ask import Offers, Question, Space
from barwright.asks.drawn_excerpts import (
    fillers,
    in_meter,
    listed_measures,
    readable_count,
    readable_measure,
)
from barwright.asks.wrong_rhythms import has_few_measures, near_rhythms
from barwright.counting.counts import (
    count_labels,
    format_row,
    labels_if_counted,
    normal_row,
    spans,
)
from barwright.counting.labels import first_count
from barwright.items.item import Answer, AnswerKind
from barwright.items.taught import Taught
from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.adding_up import SLIPS
from barwright.misreadings.answers import (
    Candidates,
    believers,
    candidates_of,
    claims,
    contented,
    fillings_among,
    hears,
    missing,
    rows,
)
from barwright.misreadings.count_signs import SHOWN_BY_NOTES
from barwright.notation.beaming import beams_decide
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_measures, format_symbols, parse_symbols

# Wrong figures are looked for until so many misreadings lead to one: enough to choose from, no more.
ENOUGH = 6
# Near rhythms on which every misreading is acted out, where there are many: more cost time and lead to little.
MOST_NEAR = 12
# Wrong measures that are looked for of each length.
OF_EACH_LENGTH = 6
# Of the legal measures of another meter, so many at most are kept to try.
POOL = 150
# Excerpts whose wrong answers are remembered: parallel forms try the same ones again and again.
KEPT = 1 << 11


@lru_cache(maxsize=1 << 10)
def misreadings_for(exercise: str, taught: Taught) -> tuple[Misreading, ...]:
    """The misreadings that show in an exercise and speak only of what is taught, in the order of the table."""
    able = (m for m in MISREADINGS.values() if exercise in m.exercises)
    return tuple(m for m in able if m.nameable(taught.tokens, ties=taught.ties))


def _gathered(kind: AnswerKind, led: Iterable[tuple[str, str]]) -> Offers:
    """(answer text, misreading id) pairs by answer."""
    offers: dict[str, dict[str, None]] = {}
    for text, misreading in led:
        offers.setdefault(text, {})[misreading] = None
    return {Answer(kind, text): tuple(ids) for text, ids in offers.items()}


@lru_cache(maxsize=KEPT)
def filling_offers(ask: str, question: Question, space: Space, widths: tuple[int, ...]) -> Offers:
    """Groups of so many symbols, of the wrong length, that a student would put in the blank.

    A misreading by which a key seems to fit as well tells nothing, and is left out.
    """
    excerpt, conventions = question.excerpt, space.conventions
    candidates = filling_candidates(ask, space.taught, widths, excerpt.meter, conventions)
    keys = (parse_symbols(key.text) for key in question.keys)
    fillings = fillings_among(candidates, excerpt, conventions, keys)
    return {filling_answer(symbols): ids for symbols, ids in fillings.items()}


@lru_cache(maxsize=256)
def filling_candidates(
    ask: str, taught: Taught, widths: tuple[int, ...], meter: Meter, conventions: Conventions
) -> Candidates:
    """The groups of so many symbols that may fill a blank, by what every misreading makes of them."""
    groups = tuple(group for width in widths for group in fillers(taught.tokens, width))
    return candidates_of(misreadings_for(ask, taught), groups, meter, conventions)


def filling_answer(symbols: Symbols) -> Answer:
    """A group of symbols as an answer."""
    return Answer("symbols", format_symbols(symbols))


@lru_cache(maxsize=KEPT)
def number_offers(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong numbers of missing bottom-number units."""
    answers = ((missing(m, excerpt, space.conventions), m.id) for m in misreadings_for(ask, space.taught))
    return _gathered("number", ((str(number), m) for number, m in answers if number is not None))


@lru_cache(maxsize=KEPT)
def row_offers(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong rows of counts; rows that only look different are one row."""
    conventions = space.conventions
    right = normal_row(format_row(count_labels(excerpt, conventions)), conventions)
    seen: dict[str, str] = {}
    led = []
    for m, _, text in rows(misreadings_for(ask, space.taught), excerpt, conventions):
        same = normal_row(text, conventions)
        if same != right:
            led.append((seen.setdefault(same, text), m.id))
    return _gathered("row", led)


def label_offers(ask: str, question: Question, space: Space) -> Offers:
    """Wrong labels under the marked symbol."""
    excerpt, conventions = question.excerpt, space.conventions
    assert excerpt.mark is not None
    measure, index = excerpt.mark
    bare = Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup)
    place = [span.at for span in spans(bare)[measure]].index(index)
    key = question.keys[0].text
    right = {normal_row(text, conventions) for text in (key, first_count(key))}  # both are accepted
    mute = SHOWN_BY_NOTES if excerpt.measures[measure][index].silent else frozenset()
    asked = tuple(m for m in misreadings_for(ask, space.taught) if m.id not in mute)
    led = []
    for m, labels, _ in rows(asked, bare, conventions):
        label = labels[measure][place]
        if label and normal_row(label, conventions) not in right:
            led.append((label, m.id))
    return _gathered("row", led)


def rhythm_offers(ask: str, excerpt: Excerpt, space: Space, rng: Random) -> Offers:
    """Wrong rhythms for a row of counts: those that a student would count so, or that the row is heard as."""
    conventions = space.conventions
    labels = count_labels(excerpt, conventions)
    given = normal_row(format_row(labels), conventions)
    misreadings = misreadings_for(ask, space.taught)
    heard: dict[str, list[str]] = {}
    for m in misreadings:
        other = hears(m, labels, conventions)
        if other is not None:
            heard.setdefault(normal_row(format_row(other), conventions), []).append(m.id)
    led: list[tuple[str, str]] = []
    near = [(n, _normal_count(n, conventions)) for n in near_rhythms(excerpt, space, rng)]
    unlike = [(n, own) for n, own in near if own is not None and own != given]
    led += [(format_measures(n.measures), m) for n, own in unlike for m in heard.get(own, ())]
    for rhythm, _ in unlike if has_few_measures(space, excerpt.meter) else unlike[:MOST_NEAR]:
        if len({m for _, m in led}) >= ENOUGH:
            break
        led += [(format_measures(rhythm.measures), m) for m in _miscounts(ask, rhythm, space).get(given, ())]
    return _gathered("measures", led)


@lru_cache(maxsize=1 << 12)
def _miscounts(ask: str, excerpt: Excerpt, space: Space) -> Mapping[str, tuple[str, ...]]:
    """Normal row -> ids of the misreadings by which a student counts the excerpt so."""
    miscounts: dict[str, tuple[str, ...]] = {}
    for m, _, text in rows(misreadings_for(ask, space.taught), excerpt, space.conventions):
        wrong = normal_row(text, space.conventions)
        miscounts[wrong] = (*miscounts.get(wrong, ()), m.id)
    return miscounts


@lru_cache(maxsize=KEPT)
def meter_offers(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong time signatures that a student would find filled; of equal length only where the beams tell them apart.

    A misreading by which the right one seems filled as well tells nothing, and is left out.
    """
    asked = misreadings_for(ask, space.taught)
    mute = contented(asked, excerpt, space.conventions)
    led = []
    for meter in space.taught.meters:
        same = meter.capacity == excerpt.meter.capacity
        if same and not beams_decide(excerpt, meter):
            continue
        believed = believers(asked, in_meter(excerpt, meter), space.conventions)
        never = mute if meter.unit == excerpt.meter.unit else mute | SLIPS
        led += [(str(meter), m) for m in believed if m not in never]
    return _gathered("meter", led)


@lru_cache(maxsize=1 << 12)
def _normal_count(excerpt: Excerpt, conventions: Conventions) -> str | None:
    """None where the counting system has no count."""
    labels = labels_if_counted(excerpt, conventions)
    return None if labels is None else normal_row(format_row(labels), conventions)


def _pool(space: Space, meter: Meter) -> tuple[Symbols, ...]:
    """Legal measures of a meter: all if they are few, else so many drawn ones, always the same for the same space."""
    if readable_count(space, meter) <= POOL:
        return tuple(listed_measures(space, meter))
    rng = Random(f"{space.alphabet.tokens} {meter}")
    return tuple(dict.fromkeys(readable_measure(space, meter, rng) for _ in range(POOL)))


class _Believed(NamedTuple):
    """A legal measure of a meter, with the ids of the misreadings under which it seems to fill another one."""

    meter: Meter
    symbols: Symbols
    ids: frozenset[str]


@lru_cache(maxsize=64)
def _believable(ask: str, space: Space, meter: Meter) -> Mapping[Meter, tuple[_Believed, ...]]:
    """Measures of the taught meters of another length, with those who believe that they fill this one."""
    asked, conventions = misreadings_for(ask, space.taught), space.conventions
    return {
        other: tuple(
            _Believed(other, symbols, frozenset(believers(asked, Excerpt(meter, (symbols,)), conventions)))
            for symbols in _pool(space, other)
        )
        for other in space.taught.meters
        if other.capacity != meter.capacity
    }


def wrong_measure_offers(ask: str, excerpt: Excerpt, space: Space, rng: Random) -> Offers:
    """Measures that fill a taught meter of another length, and that a student would find to fill this one.

    Some of each length.
    """
    believable = _believable(ask, space, excerpt.meter)
    lengths: dict[Fraction, list[_Believed]] = {}
    for meter, measures in believable.items():
        lengths.setdefault(meter.capacity, []).extend(each for each in measures if each.ids)
    led: list[tuple[str, str]] = []
    for able in lengths.values():
        for first in rng.sample(able, min(len(able), OF_EACH_LENGTH)):
            measures = (first, *_companions(first, believable, len(excerpt.measures) - 1, rng))
            text = format_measures(tuple(each.symbols for each in measures))
            led += [(text, m) for m in sorted(frozenset.intersection(*(each.ids for each in measures)))]
    return _gathered("measures", led)


def _companions(
    first: _Believed, believable: Mapping[Meter, tuple[_Believed, ...]], count: int, rng: Random
) -> tuple[_Believed, ...]:
    """More measures of the same wrong length for a longer figure, believed full by some who believe it of the first."""
    able = [each for each in believable[first.meter] if first.ids & each.ids] if count else []
    return tuple(able[rng.randrange(len(able))] for _ in range(count))


@lru_cache(maxsize=KEPT)
def claim_offers(ask: str, question: Question, space: Space) -> Offers:
    """Wrong statements: verdict and reason for a symbol, or what a number of the time signature says."""
    led = [
        (text, m.id)
        for m in misreadings_for(ask, space.taught)
        for text in claims(m, question.excerpt, question.target, space.conventions)
    ]
    return _gathered("claim", led)
