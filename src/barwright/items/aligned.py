"""Rows of counts that can be picked symbol by symbol: one label of one word under each sound and each rest."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import product
from random import Random

from barwright.items.asks import Offers, Question, Space
from barwright.items.drawing import (
    drawn_excerpt,
    listed_excerpts,
    listed_measures,
    readable_count,
    readable_measure,
)
from barwright.items.model import Answer
from barwright.items.offers import misreadings_for
from barwright.misreadings.answers import rows
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import (
    Row,
    all_conventions_rows,
    count_labels,
    format_row,
    labels_if_counted,
    normal_row,
    parse_row,
)
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter

LEAST_LABELS = 2
MOST_LABELS = 12  # in one list: more are no longer looked through
# Every excerpt is held against all counting conventions, which takes a millisecond, and in some meters not one of a
# hundred can be asked. So many excerpts of a space are all tried; of more, some whose measures can be asked alone.
MOST_EXCERPTS = 4_000
MOST_TRIED = 1_000  # measures of a meter, and then excerpts of those found


def is_aligned(labels: Row) -> bool:
    """Whether no label is of several words, so that its text is read back symbol by symbol, or of none, such as `()`.

    >>> is_aligned((("1-2", "(3)"),)), is_aligned((("1 2", "3"),)), is_aligned((("1", ""),)), is_aligned((("1", "()"),))
    (True, False, False, False)
    """
    return parse_row(format_row(labels)) == labels and all(label.strip("()") for row in labels for label in row)


def aligned_question(excerpt: Excerpt, space: Space) -> Question | None:
    """The question which count belongs under each symbol.

    None with a single symbol, with one that has no count, and where another class could pick, from the labels of the
    right row, a label that is right for it and wrong here: all of them are on offer under every symbol.
    """
    house = space.conventions
    if not _can_be_picked(excerpt, house):
        return None
    labels = count_labels(excerpt, house)
    return Question(excerpt, (Answer("row", format_row(labels)),)) if sum(map(len, labels)) >= LEAST_LABELS else None


@lru_cache(2 * MOST_EXCERPTS)
def _can_be_picked(excerpt: Excerpt, conventions: Conventions) -> bool:
    """Whether its labels are words, few enough for a list, and wrong in every class under all symbols but their own."""
    labels = labels_if_counted(excerpt, conventions)
    if labels is None or not is_aligned(labels):
        return False
    offered = _labels(format_row(labels), conventions)
    return len(set(offered)) <= MOST_LABELS and _right_elsewhere(excerpt, conventions).isdisjoint(offered)


@lru_cache(maxsize=256)
def lists_all(space: Space) -> bool:
    """Whether `listed_aligned` gives every question: where there are not too many excerpts to try them all."""
    counts: list[int] = [readable_count(space, meter) ** space.measures for meter in space.meters]
    return sum(counts) <= MOST_EXCERPTS


def listed_aligned(space: Space) -> Iterator[Question]:
    """Questions of a space, each once, in a fixed order: all of them, or those found in MOST_TRIED tries a meter."""
    if lists_all(space):
        return filter(None, (aligned_question(excerpt, space) for excerpt in listed_excerpts(space)))
    return filter(None, _found(space))


def drawn_aligned(space: Space, rng: Random) -> Question | None:
    """The question about a random excerpt, None if it has none.

    In a large space measures that cannot even be asked alone are exchanged first, or most draws would be in vain.
    """
    excerpt = drawn_excerpt(space, rng)
    meter, measures = excerpt.meter, excerpt.measures
    alone = (Excerpt(meter, (symbols,)) for symbols in measures)
    if not lists_all(space) and not all(_can_be_picked(each, space.conventions) for each in alone):
        able = _pickable_measures(replace(space, meters=(meter,)))
        measures = _some(able, space.measures, rng) if able else measures
    return _question_about(measures, meter, space)


def _some(able: tuple[Symbols, ...], count: int, rng: Random) -> tuple[Symbols, ...]:
    return tuple(able[rng.randrange(len(able))] for _ in range(count))


def _question_about(measures: tuple[Symbols, ...], meter: Meter, space: Space) -> Question | None:
    """The question about these measures, unless all are silent."""
    excerpt = Excerpt(meter, measures)
    return None if all(s.silent for s in excerpt.symbols) else aligned_question(excerpt, space)


def _found(space: Space) -> Iterator[Question | None]:
    """Questions about measures that can be asked alone, None for each try in vain; meter by meter."""
    for meter in space.meters:
        able = _pickable_measures(replace(space, meters=(meter,)))
        tries: Iterable[tuple[Symbols, ...]] = product(able, repeat=space.measures)
        if len(able) ** space.measures > MOST_TRIED:
            rng = Random(str(meter))
            tries = dict.fromkeys(_some(able, space.measures, rng) for _ in range(MOST_TRIED))
        yield from (_question_about(measures, meter, space) for measures in tries)


@lru_cache(maxsize=64)
def _pickable_measures(space: Space) -> tuple[Symbols, ...]:
    """The measures that can be asked alone, of the one meter of a space: of all its measures, or of drawn ones."""
    (meter,) = space.meters
    tried: Iterable[Symbols] = listed_measures(space, meter)
    if readable_count(space, meter) > MOST_TRIED:
        rng = Random(f"{space.alphabet.tokens} {meter}")
        tried = dict.fromkeys(readable_measure(space, meter, rng) for _ in range(MOST_TRIED))
    return tuple(symbols for symbols in tried if _can_be_picked(Excerpt(meter, (symbols,)), space.conventions))


def aligned_offers(question: Question, space: Space, _rng: Random) -> Offers:
    """Wrong rows with a label for each label of the right one.

    Left out are rows with a label that another class writes under some symbol (it is picked by itself, and right), and
    rows that would make the lists too long.
    """
    house, excerpt = space.conventions, question.excerpt
    right = _labels(question.keys[0].text, house)
    elsewhere = _right_elsewhere(excerpt, house)
    spelt: dict[str, str] = {}
    found: dict[Answer, tuple[str, ...]] = {}
    for m, labels, text in rows(misreadings_for("count-under-each", space.taught), excerpt, house):
        if not is_aligned(labels):
            continue
        own = _labels(text, house)
        short = len({*right, *own}) <= MOST_LABELS
        if short and len(own) == len(right) and own != right and elsewhere.isdisjoint(own):
            answer = Answer("row", spelt.setdefault(normal_row(text, house), text))
            found[answer] = (*found.get(answer, ()), m.id)
    return found


def _labels(row: str, conventions: Conventions) -> tuple[str, ...]:
    """The labels of a row as they are compared, barlines dropped."""
    return tuple(normal_row(label, conventions) for measure in parse_row(row) for label in measure)


@lru_cache(1 << 12)
def _right_elsewhere(excerpt: Excerpt, conventions: Conventions) -> frozenset[str]:
    """Labels that some other class writes under a symbol where this class writes another one."""
    right = _labels(format_row(count_labels(excerpt, conventions)), conventions)
    others = (row.replace("|", " ").split() for row in all_conventions_rows(excerpt, conventions))
    full = [row for row in others if len(row) == len(right)]
    return frozenset(label for row in full for label, own in zip(row, right, strict=True) if label != own)
