"""A page of practice for the lesson before a quiz: measures to complete, counts to write, barlines to draw.

Drawn from what the class has been taught, and never an excerpt of the quiz: neither as it stands there, nor as some of
the measures of a longer line.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from random import Random

from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Blueprint, Part, plan_of
from barwright.errors import CapacityError
from barwright.items.item import Choice, Item
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import FULL_MEASURE_REST

COMPLETE, COUNTS, BARLINES = 6, 4, 4  # exercises of each kind, at most
COUNTED, PARTED = 2, 3  # measures of a line to count, and of a line whose barlines are left out
TRIES = 200  # draws for each exercise


@dataclass(frozen=True, slots=True)
class Practice:
    """The exercises: measures with a blank and what fills them, lines to count as items, lines to be parted."""

    complete: tuple[Question, ...]
    counts: tuple[Item, ...]
    barlines: tuple[Excerpt, ...]


def practice(blueprint: Blueprint, quiz: Iterable[Excerpt], *, seed: int) -> Practice:
    """The exercises of a blueprint, the same for the same seed; fewer where nothing else is left that the quiz spares.

    `quiz`: the excerpts of all its forms. CapacityError if there is no exercise of any kind.
    """
    asked, rng = frozenset(_unmarked(excerpt) for excerpt in quiz), Random(f"practice {seed}")
    complete = _drawn("finish-measure", blueprint, 1, COMPLETE, asked, rng)
    counts = _drawn("write-counts", blueprint, COUNTED, COUNTS, asked, rng)
    lines = _drawn("write-counts", blueprint, PARTED, BARLINES, asked, rng)
    if not (complete or counts or lines):
        raise CapacityError("no measure is left for practice that the quiz does not ask about")
    conventions = blueprint.all_conventions
    items = (Item("write-counts", q.excerpt, conventions, tuple(Choice(k, ()) for k in q.keys)) for q in counts)
    return Practice(complete, tuple(items), tuple(question.excerpt for question in lines))


def _unmarked(excerpt: Excerpt) -> Excerpt:
    return Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup)


def is_asked(excerpt: Excerpt, asked: frozenset[Excerpt]) -> bool:
    """Whether an excerpt is one of those that the quiz asks about, or has one among its measures."""
    count = len(excerpt.measures)
    runs = (excerpt.measures[a:b] for a in range(count) for b in range(a + 1, count + 1))
    return any(Excerpt(excerpt.meter, run) in asked for run in runs)


def _drawn(
    ask: str, blueprint: Blueprint, measures: int, most: int, asked: frozenset[Excerpt], rng: Random
) -> tuple[Question, ...]:
    """Different questions that the quiz spares, as many as are found up to `most`.

    Where barlines are to be drawn no measure is silent: its rest stands in the middle, and gives the barlines away.
    """
    part = Part(family=ASKS[ask].family, ask=ask, items=1, measures=measures)
    space = plan_of(part, blueprint).space
    questions: dict[Excerpt, Question] = {}
    for _ in range(most * TRIES):
        try:
            question = ASKS[ask].draw(space, rng)
        except CapacityError:  # what is taught makes no such line
            break
        if question is None or is_asked(question.excerpt, asked):
            continue
        if measures < PARTED or FULL_MEASURE_REST not in question.excerpt.symbols:
            questions.setdefault(question.excerpt, question)
        if len(questions) == most:
            break
    return tuple(questions.values())
