"""Wrong answers from misreadings: each error is acted out on the excerpt, and where it leads is what is offered.

Every function gives the wrong answers with the ids of all misreadings that lead to each; answers that are right are
left out. Nothing else is ever offered.
"""

from collections.abc import Iterable
from functools import cache, lru_cache
from random import Random

from barwright.items.asks import Offers, Question, Space
from barwright.items.drawing import in_meter, listed_measures, readable_measure
from barwright.items.model import Answer, AnswerKind
from barwright.items.near import has_few_measures, near_rhythms
from barwright.items.taught import Taught
from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.answers import believes_full, claims, fillings, hears, missing, row
from barwright.rhythm.beaming import beams_decide
from barwright.rhythm.capacity import measure_count
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import count_labels, format_row, labelled_events, normal_row
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols, total
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_measures, format_symbols

# Wrong figures are looked for until so many misreadings lead to one: enough to choose from, no more.
ENOUGH = 6
# Near rhythms on which every misreading is acted out, where there are many: more cost time and lead to little.
MOST_NEAR = 12
# Of the legal measures of another meter, so many at most are kept to try.
POOL = 60


@cache
def misreadings_for(ask: str, taught: Taught) -> tuple[Misreading, ...]:
    """The misreadings that may serve an ask and speak only of what is taught, in the order of the table."""
    return tuple(m for m in MISREADINGS.values() if ask in m.asks and m.nameable(taught.tokens, ties=taught.ties))


def _gathered(kind: AnswerKind, found: Iterable[tuple[str, str]], right: Iterable[str]) -> Offers:
    """(answer text, misreading id) pairs by answer, those in `right` left out."""
    banned, offers = set(right), dict[Answer, tuple[str, ...]]()
    for text, misreading in found:
        if text not in banned:
            answer = Answer(kind, text)
            if misreading not in offers.get(answer, ()):
                offers[answer] = (*offers.get(answer, ()), misreading)
    return offers


def filling_offers(ask: str, excerpt: Excerpt, space: Space, candidates: tuple[Symbols, ...]) -> Offers:
    """Groups of symbols of the wrong length that a student would put in the blank."""
    found = fillings(misreadings_for(ask, space.taught), candidates, excerpt, space.conventions)
    return {Answer("symbols", format_symbols(symbols)): ids for symbols, ids in found.items()}


def number_offers(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong numbers of missing bottom-number units."""
    blank = excerpt.blank
    assert blank is not None
    gap = excerpt.meter.capacity - total(excerpt.measures[blank[0]], excerpt.meter)
    answers = ((missing(m, excerpt, space.conventions), m.id) for m in misreadings_for(ask, space.taught))
    found = ((str(number), m) for number, m in answers if number is not None and number > 0)
    return _gathered("number", found, (str(gap / excerpt.meter.unit),))


def row_offers(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong rows of counts; rows that only look different are one row."""
    house = space.conventions
    right = normal_row(format_row(count_labels(excerpt, house)), house)
    seen: dict[str, str] = {}
    found = []
    for m in misreadings_for(ask, space.taught):
        labels = row(m, excerpt, house)
        if labels is not None:
            text = format_row(labels)
            same = normal_row(text, house)
            if same != right and text:
                found.append((seen.setdefault(same, text), m.id))
    return _gathered("row", found, ())


def label_offers(ask: str, question: Question, space: Space) -> Offers:
    """Wrong labels under the marked symbol."""
    excerpt, house = question.excerpt, space.conventions
    assert excerpt.mark is not None
    measure = excerpt.mark[0]
    place = [e.index for e, _ in labelled_events(excerpt, house)[measure]].index(excerpt.mark[1])
    bare = Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup)
    right = normal_row(question.keys[0].text, house)
    found = []
    for m in misreadings_for(ask, space.taught):
        labels = row(m, bare, house)
        if labels is not None and labels[measure][place] and normal_row(labels[measure][place], house) != right:
            found.append((labels[measure][place], m.id))
    return _gathered("row", found, ())


def rhythm_offers(ask: str, excerpt: Excerpt, space: Space, rng: Random) -> Offers:
    """Wrong rhythms for a row of counts: those that a student would count so, or that the row is heard as."""
    house = space.conventions
    labels = count_labels(excerpt, house)
    given = normal_row(format_row(labels), house)
    misreadings = misreadings_for(ask, space.taught)
    heard: dict[str, list[str]] = {}
    for m in misreadings:
        other = hears(m, labels, house)
        if other is not None:
            heard.setdefault(normal_row(format_row(other), house), []).append(m.id)
    found: list[tuple[str, str]] = []
    unlike = [(n, own) for n in near_rhythms(excerpt, space, rng) if (own := _normal_count(n, house)) != given]
    found += [(format_measures(n.measures), m) for n, own in unlike for m in heard.get(own, ())]
    for near, _ in unlike if has_few_measures(space, excerpt.meter) else unlike[:MOST_NEAR]:
        if len({m for _, m in found}) >= ENOUGH:
            break
        for m in misreadings:
            wrong = row(m, near, house)
            if wrong is not None and normal_row(format_row(wrong), house) == given:
                found.append((format_measures(near.measures), m.id))
    return _gathered("measures", found, (format_measures(excerpt.measures),))


def meter_offers(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong time signatures that a student would find filled; of equal length only where the beams tell them apart."""
    found = []
    for meter in space.taught.meters:
        if meter.capacity == excerpt.meter.capacity and not beams_decide(excerpt, meter):
            continue
        read = in_meter(excerpt, meter)
        found += [
            (str(meter), m.id)
            for m in misreadings_for(ask, space.taught)
            if meter != excerpt.meter and believes_full(m, read, space.conventions)
        ]
    return _gathered("meter", found, ())


@lru_cache(maxsize=1 << 12)
def _normal_count(excerpt: Excerpt, house: Conventions) -> str:
    return normal_row(format_row(count_labels(excerpt, house)), house)


@cache
def _pool(space: Space, meter: Meter) -> tuple[Symbols, ...]:
    """Legal measures of a meter: all if they are few, else so many drawn ones, always the same for the same space."""
    if measure_count(space.alphabet, meter, space.conventions) <= POOL:
        return tuple(listed_measures(space, meter))
    rng = Random(f"{space.alphabet.tokens} {meter}")
    return tuple(dict.fromkeys(readable_measure(space, meter, rng) for _ in range(POOL)))


@lru_cache(maxsize=1 << 11)
def _believers(ask: str, space: Space, meter: Meter, symbols: Symbols) -> tuple[str, ...]:
    """Ids of the misreadings under which these symbols seem to fill the meter."""
    read = Excerpt(meter, (symbols,))
    return tuple(m.id for m in misreadings_for(ask, space.taught) if believes_full(m, read, space.conventions))


def wrong_measure_offers(ask: str, excerpt: Excerpt, space: Space, rng: Random) -> Offers:
    """Measures of another length, each legal in a taught meter, that a student would find to fill this meter."""
    others = [m for m in space.taught.meters if m.capacity != excerpt.meter.capacity]
    able = [(meter, symbols) for meter in others for symbols in _pool(space, meter)]
    found: list[tuple[str, str]] = []
    while able and len({m for _, m in found}) < 2 * ENOUGH:
        index = rng.randrange(len(able))
        able[index], able[-1] = able[-1], able[index]
        meter, symbols = able.pop()
        measures = (symbols, *_companions(ask, excerpt, space, meter, symbols, rng))
        if len(measures) == len(excerpt.measures):
            ids = [set(_believers(ask, space, excerpt.meter, each)) for each in measures]
            found += [(format_measures(measures), m) for m in sorted(set.intersection(*ids))]
    return _gathered("measures", found, ())


def _companions(
    ask: str, excerpt: Excerpt, space: Space, meter: Meter, symbols: Symbols, rng: Random
) -> tuple[Symbols, ...]:
    """More measures of the same wrong length for a longer figure, believed full by some who believe it of the first."""
    if len(excerpt.measures) == 1:
        return ()
    first = set(_believers(ask, space, excerpt.meter, symbols))
    able = [s for s in _pool(space, meter) if first & set(_believers(ask, space, excerpt.meter, s))]
    return tuple(able[rng.randrange(len(able))] for _ in excerpt.measures[1:]) if able else ()


def claim_offers(ask: str, question: Question, space: Space) -> Offers:
    """Wrong statements: verdict and reason for a symbol, or what a number of the time signature says."""
    found = [
        (text, m.id)
        for m in misreadings_for(ask, space.taught)
        for text in claims(m, question.excerpt, question.target, space.conventions)
    ]
    return _gathered("claim", found, (k.text for k in question.keys))
