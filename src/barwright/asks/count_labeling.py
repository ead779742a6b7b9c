"""Rows of counts that can be picked symbol by symbol: one label of one word under each sound and each rest.

Count labeling: the counts under a rhythm, read or written, in the class's counting system."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import product
from random import Random

from barwright.asks.ask import (
    Ask,
    Cue,
    Offers,
    Question,
    Space,
    evenly,
    never,
)
from barwright.asks.drawn_excerpts import (
    drawn_excerpt,
    excerpt_count,
    has_few_excerpts,
    listed_excerpts,
    listed_measures,
    readable_count,
    readable_measure,
)
from barwright.asks.pair_answers import row_pairs
from barwright.asks.rhythms_for_rows import counts_a_rhythm, read_rhythms, rhythm_pairs, rhythms_if_right
from barwright.asks.wrong_answers import label_offers, misreadings_for, row_offers
from barwright.counting.counts import (
    Row,
    arguable_rows,
    count_labels,
    format_row,
    labels_if_counted,
    normal_row,
    parse_row,
    spans,
)
from barwright.items.item import Answer
from barwright.misreadings.answers import rows
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_measures

LEAST_LABELS = 2
MOST_LABELS = 12  # in one list: more are no longer looked through
# Every excerpt is held against all counting conventions, which takes a millisecond, and in some meters not one of a
# hundred can be asked. So many excerpts of a space are all tried; of more, some whose measures can be asked alone.
MOST_EXCERPTS = 4_000
MOST_TRIED = 1_000  # measures of a meter, and then excerpts of those found
METERS_TRIED = 3  # so often in all meters of a class together


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
    conventions = space.conventions
    if not _can_be_picked(excerpt, conventions):
        return None
    labels = count_labels(excerpt, conventions)
    return Question(excerpt, (Answer("row", format_row(labels)),)) if sum(map(len, labels)) >= LEAST_LABELS else None


@lru_cache(4 * MOST_EXCERPTS)
def _can_be_picked(excerpt: Excerpt, conventions: Conventions) -> bool:
    """Whether its labels are words, few enough for a list, and wrong in every class under all symbols but their own."""
    labels = labels_if_counted(excerpt, conventions)
    if labels is None or not is_aligned(labels):
        return False
    offered = _compared_labels(format_row(labels), conventions)
    return len(set(offered)) <= MOST_LABELS and _right_elsewhere(excerpt, conventions).isdisjoint(offered)


def lists_all(space: Space) -> bool:
    """Whether `listed_aligned` gives every question: where there are not too many excerpts to try them all."""
    return bool(space.own) or sum(excerpt_count(space, meter) for meter in space.meters) <= MOST_EXCERPTS


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
        if len(able) ** space.measures > (most := _most_tried(space)):
            rng = Random(str(meter))
            tries = dict.fromkeys(_some(able, space.measures, rng) for _ in range(most))
        yield from (_question_about(measures, meter, space) for measures in tries)


def _most_tried(space: Space) -> int:
    """How many measures of each meter are tried."""
    return min(MOST_TRIED, METERS_TRIED * MOST_TRIED // len(space.taught.meters))


def _pickable_measures(space: Space) -> tuple[Symbols, ...]:
    """The measures that can be asked alone, of the one meter of a space: of all its measures, or of drawn ones."""
    (meter,) = space.meters
    tried: Iterable[Symbols] = listed_measures(space, meter)
    if readable_count(space, meter) > (most := _most_tried(space)):
        rng = Random(f"{space.alphabet.tokens} {meter}")
        tried = dict.fromkeys(readable_measure(space, meter, rng) for _ in range(most))
    return tuple(symbols for symbols in tried if _can_be_picked(Excerpt(meter, (symbols,)), space.conventions))


def aligned_offers(question: Question, space: Space, _rng: Random) -> Offers:
    """Wrong rows with a label for each label of the right one.

    Left out are rows with a label that another class writes under some symbol (it is picked by itself, and right), and
    rows that would make the lists too long.
    """
    conventions, excerpt = space.conventions, question.excerpt
    right = _compared_labels(question.keys[0].text, conventions)
    elsewhere = _right_elsewhere(excerpt, conventions)
    spelt: dict[str, str] = {}
    offers: dict[Answer, tuple[str, ...]] = {}
    for m, labels, text in rows(misreadings_for("count-under-each", space.taught), excerpt, conventions):
        if not is_aligned(labels):
            continue
        own = _compared_labels(text, conventions)
        short = len({*right, *own}) <= MOST_LABELS
        if short and own != right and elsewhere.isdisjoint(own):
            answer = Answer("row", spelt.setdefault(normal_row(text, conventions), text))
            offers[answer] = (*offers.get(answer, ()), m.id)
    return offers


def _compared_labels(row: str, conventions: Conventions) -> tuple[str, ...]:
    """The labels of a row as they are compared, barlines dropped."""
    return tuple(normal_row(label, conventions) for measure in parse_row(row) for label in measure)


@lru_cache(1 << 12)
def _right_elsewhere(excerpt: Excerpt, conventions: Conventions) -> frozenset[str]:
    """Labels that some other class writes under a symbol where this class writes another one."""
    right = _compared_labels(format_row(count_labels(excerpt, conventions)), conventions)
    others = (row.replace("|", " ").split() for row in arguable_rows(excerpt, conventions))
    full = [row for row in others if len(row) == len(right)]
    return frozenset(label for row in full for label, own in zip(row, right, strict=True) if label != own)


FAMILY = "count-labeling"


def _row_question(excerpt: Excerpt, space: Space) -> Question | None:
    """None where the class's counting system has no count, as below."""
    labels = labels_if_counted(excerpt, space.conventions)
    return None if labels is None else Question(excerpt, (Answer("row", format_row(labels)),))


def _rhythm_question(excerpt: Excerpt, space: Space) -> Question | None:
    if labels_if_counted(excerpt, space.conventions) is None:
        return None
    return Question(excerpt, (Answer("measures", format_measures(excerpt.measures)),))


def _marks(excerpt: Excerpt, space: Space) -> list[tuple[int, int, str]]:
    """Measure and index of the first symbol of every sound or rest that has a label, and the label.

    Both parts of a sound that is held over a barline are left out: its count could be told with either. So is a note
    that begins where nothing is counted: its label begins with a hyphen, too.
    """
    rows = labels_if_counted(excerpt, space.conventions) or ()
    marks = []
    for number, (sounds, labels, symbols) in enumerate(zip(spans(excerpt), rows, excerpt.measures, strict=False)):
        for sound, label in zip(sounds, labels, strict=True):
            over = sound is sounds[-1] and symbols[-1].tied
            if label and not (label.startswith("-") or over):
                marks.append((number, sound.at, label))
    return marks


def _mark_question(excerpt: Excerpt, measure: int, index: int, label: str) -> Question:
    """The excerpt with that symbol marked, keyed by its label."""
    marked = Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup, (measure, index))
    return Question(marked, (Answer("row", label),))


def _draw_row(space: Space, rng: Random) -> Question | None:
    return _row_question(drawn_excerpt(space, rng), space)


def _listed_rows(space: Space) -> Iterator[Question]:
    return filter(None, (_row_question(excerpt, space) for excerpt in listed_excerpts(space)))


def _draw_rhythm(space: Space, rng: Random) -> Question | None:
    """Of single measures each has the same chance: wrong rhythms are any, and the plainest would often be right."""
    return _rhythm_question(drawn_excerpt(evenly(space) if space.measures == 1 else space, rng), space)


def _listed_rhythms(space: Space) -> Iterator[Question]:
    return filter(None, (_rhythm_question(excerpt, space) for excerpt in listed_excerpts(space)))


def _draw_mark(space: Space, rng: Random) -> Question | None:
    excerpt = drawn_excerpt(space, rng)
    marks = _marks(excerpt, space)
    return _mark_question(excerpt, *marks[rng.randrange(len(marks))]) if marks else None


def _listed_marks(space: Space) -> Iterator[Question]:
    for excerpt in listed_excerpts(space):
        yield from (_mark_question(excerpt, *each) for each in _marks(excerpt, space))


def _rows_to_pick(question: Question, space: Space, _rng: Random) -> Offers:
    return row_offers("counts-for-rhythm", question.excerpt, space)


def _rows_to_write(question: Question, space: Space, _rng: Random) -> Offers:
    return row_offers("write-counts", question.excerpt, space)


def _labels(question: Question, space: Space, _rng: Random) -> Offers:
    return label_offers("count-under-mark", question, space)


def _row_pairs(question: Question, space: Space) -> Offers:
    return row_pairs("counts-for-rhythm", question.excerpt, space, question.keys[0].text)


def _rhythms(question: Question, space: Space, _rng: Random) -> Offers:
    return read_rhythms("rhythm-for-counts", question.excerpt, space)


def _rhythm_pairs(question: Question, space: Space) -> Offers:
    return rhythm_pairs("rhythm-for-counts", question.excerpt, space)


COUNTED: frozenset[Cue] = frozenset({"rhythm", "row-asked", "signature-shown"})  # its counts are what is asked
READ: frozenset[Cue] = frozenset({"rhythm", "row", "row-shown"})  # its counts stand in the question

ASKS = (
    Ask(
        "counts-for-rhythm", FAMILY, "texts", "row",
        draw=_draw_row, listed=_listed_rows, offers=_rows_to_pick, pairs=_row_pairs, clash=never, measures=2,
        right_somewhere=counts_a_rhythm, lists_all=has_few_excerpts, cues=COUNTED | {"row"},
        exercise="counts-for-rhythm",
    ),
    Ask(
        "rhythm-for-counts", FAMILY, "figures", "measures",
        draw=_draw_rhythm, listed=_listed_rhythms, offers=_rhythms, pairs=_rhythm_pairs, clash=never,
        if_right=rhythms_if_right,
        lists_all=has_few_excerpts, picture="none", choice="measures", cues=READ, exercise="rhythm-for-counts",
    ),
    Ask(
        "count-under-mark", FAMILY, "entry", "row",
        draw=_draw_mark, listed=_listed_marks, offers=_labels, clash=never, measures=2,
        cues=COUNTED, exercise="count-under-mark",
        lists_all=has_few_excerpts,
    ),
    Ask(
        "write-counts", FAMILY, "entry", "row",
        draw=_draw_row, listed=_listed_rows, offers=_rows_to_write, clash=never, measures=2,
        cues=COUNTED | {"row"}, exercise="write-counts",
        lists_all=has_few_excerpts,
    ),
    Ask(
        "count-under-each", FAMILY, "inline", "row",
        draw=drawn_aligned, listed=listed_aligned, offers=aligned_offers, clash=never, lists_all=lists_all, measures=2,
        cues=COUNTED | {"row"}, exercise="count-under-each",
    ),
)  # fmt: skip
