"""Wrong rhythms for a row of counts: the legal measures that a student with one misreading, or two, reads from it.

Where a class has few legal measures in a meter, all of them are sorted once by how every error counts them. Of many,
those near the right one are; what is heard amiss is written down as a rhythm either way. Lines of several measures have
too many rhythms to read back: of them those near the right one are tried (`wrong_answers.rhythm_offers`).
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache, partial
from itertools import islice
from random import Random

from barwright.asks.ask import Offers, Question, Space
from barwright.asks.drawn_excerpts import listed_measures, readable, readable_count
from barwright.asks.wrong_answers import KEPT, misreadings_for, rhythm_offers
from barwright.asks.wrong_rhythms import near_rhythms
from barwright.counting.counts import count_labels, format_row, normal_row
from barwright.counting.rows import parse_row
from barwright.items.item import Answer
from barwright.misreadings import JOINT
from barwright.misreadings.belief import Row
from barwright.misreadings.read_back import read_back, rhythms_read
from barwright.misreadings.rhythm_of_row import counts_a_measure, rhythms_of_row
from barwright.notation.legality import is_legal
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt, format_measures, parse_measures

# Legal measures that are all sorted by their counts; and by those that two errors lead to, which takes longer.
ALL_MEASURES, WITH_PAIRS = 400, 120
# Of more measures those one step from the right one are looked at, and so many of so many two steps away.
STEPS = 6


def read_rhythms(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong rhythms that one misreading leads to."""
    return {answer: ids for answer, ids in _rhythms(ask, excerpt, space).items() if JOINT not in ids[0]}


def rhythm_pairs(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Wrong rhythms that two misreadings held at once lead to, and no one alone."""
    return {answer: ids for answer, ids in _rhythms(ask, excerpt, space).items() if JOINT in ids[0]}


@lru_cache(maxsize=KEPT)
def _rhythms(ask: str, excerpt: Excerpt, space: Space) -> Offers:
    """Every wrong rhythm with the ids of single misreadings, or of pairs where no one alone leads to it."""
    if len(excerpt.measures) > 1:
        return rhythm_offers(ask, excerpt, space, Random(format_excerpt(excerpt)))
    read = _read(ask, excerpt, space)
    return {Answer("measures", format_measures((measure,))): ids for measure, ids in read.items()}


def _read(ask: str, excerpt: Excerpt, space: Space) -> dict[Symbols, tuple[str, ...]]:
    meter, conventions, asked = excerpt.meter, space.conventions, misreadings_for(ask, space.taught)
    count = readable_count(space, meter)
    few = count <= ALL_MEASURES
    measures = _listed(space, meter) if few else _near(excerpt, space)
    given = count_labels(excerpt, conventions)
    # Where sixteenths may have no count, any error may give another number of labels.
    by_number = not few and conventions.compound_16ths != "none"
    labels = len(normal_row(format_row(given), conventions).split()) if by_number else None
    index = read_back(measures, meter, asked, conventions, with_pairs=count <= WITH_PAIRS, labels=labels)
    written = None if few else partial(_legal, space, meter)
    return rhythms_read(index, given, asked, conventions, written=written)


def rhythms_if_right(question: Question, answers: Sequence[Answer], space: Space) -> Mapping[Answer, frozenset[Answer]]:
    """Which of the right rhythm and these wrong ones would be offered, as wrong, if any of them were the one counted.

    Nothing of a line of measures. Of a meter of which there are too many to act out pairs of errors on all, only by
    single ones.
    """
    meter, (key,), pickup = question.excerpt.meter, question.keys, question.excerpt.pickup
    if len(question.excerpt.measures) > 1:
        return {}
    measures = {answer: parse_measures(answer.text)[0] for answer in (key, *answers)}
    if readable_count(space, meter) <= WITH_PAIRS:
        led = (_rhythms("rhythm-for-counts", Excerpt(meter, (each,), pickup), space) for each in measures.values())
        return {answer: frozenset(measures).intersection(offers) for answer, offers in zip(measures, led, strict=True)}
    conventions, asked = space.conventions, misreadings_for("rhythm-for-counts", space.taught)
    index = read_back(tuple(measures.values()), meter, asked, conventions)
    named = {symbols: answer for answer, symbols in measures.items()}
    return {
        answer: frozenset(
            named[other]
            for other in rhythms_read(
                index, count_labels(Excerpt(meter, (symbols,), pickup), conventions), asked, conventions
            )
        )
        for answer, symbols in measures.items()
    }


def counts_a_rhythm(_question: Question, answer: Answer, space: Space) -> bool:
    """Whether a row counts some rhythm in a meter of this class, however unusual: whoever sees no figure cannot tell.

    Rows of kodaly are all taken for such, as its words do not go by places.
    """
    if space.conventions.counting == "kodaly":
        return True
    first, *others = [_meters_counted(labels, space) for labels in parse_row(answer.text)]
    return bool(first.intersection(*others))


@lru_cache(maxsize=1 << 13)
def _meters_counted(labels: tuple[str, ...], space: Space) -> frozenset[Meter]:
    """The meters of the class in which the labels of one measure count some rhythm."""
    tokens, ties, conventions = space.taught.tokens, space.taught.ties, space.conventions
    return frozenset(m for m in space.meters if counts_a_measure(labels, m, tokens, conventions, ties=ties))


@lru_cache(maxsize=64)
def _listed(space: Space, meter: Meter) -> tuple[Symbols, ...]:
    return tuple(listed_measures(space, meter))


def _near(excerpt: Excerpt, space: Space) -> tuple[Symbols, ...]:
    """Legal measures one step away, and some of those two steps away."""
    rng = Random(format_excerpt(excerpt))
    near = list(near_rhythms(excerpt, space, rng))
    further = (other for each in near[:STEPS] for other in islice(near_rhythms(each, space, rng), STEPS))
    return tuple({each.measures[0]: None for each in (*near, *further)})


def _legal(space: Space, meter: Meter, row: Row) -> Iterator[Symbols]:
    """The legal measures of the class that a row of one measure stands for."""
    for (measure,) in rhythms_of_row(row, meter, space.taught.tokens, space.conventions):
        if is_legal(measure, meter, space.conventions) and readable(measure, meter, space):
            yield measure
