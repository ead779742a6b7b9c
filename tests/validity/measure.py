"""How much of each ask is won by who reads neither stem nor figure: named strategies, and two learners.

    python tests/validity/measure.py [BLUEPRINT...]

Makes every quiz of tests/validity/blueprints (some 4,700 items, a few minutes) and prints, by ask and in points over
chance: the best named strategy, the strategy that is best on other quizzes, and the better of two learners, beside what
it shall be; then what the better learner wins that is told neither places nor the items before (`choices`). Chance is
one over the choices that could be right. Where an aim is missed it prints what was measured
apart: what whoever remembers positions foresees at least, as each part has them even within one, and what is best
beside them.
"""

import sys
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from guess_features import choice_set, option_features, told_in_order
from guess_learning import LEARNERS, Told, won_by
from guess_quizzes import FIRST_YEARS, blueprint_paths, grade_of, seen_quizzes
from least_foreseen import least_foreseen

from barwright.guesser import STRATEGIES, Past, SeenItem
from barwright.guesser.strategies import OF_PLACE
from barwright.guesser.winnings import (
    ITEM,
    Won,
    chance,
    won,
)

Forms = list[tuple[SeenItem, ...]]


@dataclass(frozen=True)
class Row:
    """One line of the table: asks, of beginners or of others (None: all), and the aims in points over chance."""

    name: str
    asks: tuple[str, ...]
    beginners: bool | None
    strategy: int
    learner: int


# Aims: what a strategy, and a learner, may win over chance at most.
ROWS = (
    Row("rhythm-for-counts", ("rhythm-for-counts",), None, 5, 12),
    Row("finish-measure, later", ("finish-measure", "drag-into-the-blank"), False, 5, 12),
    Row("finish-measure, beginners", ("finish-measure", "drag-into-the-blank"), True, 10, 15),
    Row("finish-measure-with-two, later", ("finish-measure-with-two",), False, 5, 12),
    Row("finish-measure-with-two, beginners", ("finish-measure-with-two",), True, 10, 15),
    Row("counts-for-rhythm, later", ("counts-for-rhythm",), False, 5, 12),
    Row("counts-for-rhythm, beginners", ("counts-for-rhythm",), True, 20, 20),
    Row("all-that-fit", ("all-that-fit",), None, 5, 15),
    Row("rhythm-for-time-signature", ("rhythm-for-time-signature",), None, 5, 12),
    Row("does-it-fit", ("does-it-fit",), None, 10, 15),
    Row("what-the-numbers-say", ("what-the-numbers-say",), None, 10, 20),
    Row("time-signature-for-rhythm", ("time-signature-for-rhythm",), None, 5, 10),
)


@dataclass(frozen=True)
class Guessed:
    """One item with what chance and every strategy win of it, in parts (see `winnings.ITEM`)."""

    quiz: str
    ask: str
    chance: int
    won: Won
    told: Told
    at_sight: Told
    form: int = 0


def guessed(quiz: str, forms: Forms) -> Iterator[Guessed]:
    """Every item of a quiz, guessed at in the order of its form."""
    for number, form in enumerate(forms):
        pasts: dict[str, Past] = {}
        for item, features, right in told_in_order(form):
            past = pasts.setdefault(item.ask, Past())
            told = Told(quiz, choice_set(item), features, right)
            at_sight = Told(quiz, choice_set(item), *option_features(item, None))
            yield Guessed(quiz, item.ask, chance(item), won(item, past), told, at_sight, number)
            past.add(item)


@dataclass(frozen=True)
class Line:
    """What was measured of one row, in points over chance."""

    row: Row
    items: int
    chance: float
    best: str
    strategy: float
    elsewhere: float
    learner: float
    choices: float
    binds: str = ""

    @property
    def is_over(self) -> bool:
        """Whether an aim is missed."""
        return self.elsewhere > self.row.strategy or self.learner > self.row.learner

    @property
    def text(self) -> str:
        """The line of the table."""
        missed = f"  over: {self.binds}" if self.is_over else ""
        return (
            f"{self.row.name:36}{self.items:6}{self.chance:8.0f}{self.strategy:10.1f}{self.elsewhere:11.1f}"
            f"{self.row.strategy:6}{self.learner:10.1f}{self.row.learner:6}{self.choices:10.1f}  {self.best}{missed}"
        )


HEAD = (
    f"{'ask':36}{'items':>6}{'chance':>8}{'strategy':>10}{'elsewhere':>11}{'aim':>6}"
    f"{'learner':>10}{'aim':>6}{'choices':>10}  best named"
)


def line(row: Row, items: list[Guessed], learners: Iterable[str] = LEARNERS) -> Line:
    """One row measured; `elsewhere` is the strategy that wins most of the other half of the quizzes."""
    base = sum(i.chance for i in items) / len(items) / ITEM
    totals = _totals(items)
    best = totals.index(max(totals))
    learnt = [
        max((won_by(name, told).mean() for name in learners), default=base)
        for told in ([i.told for i in items], [i.at_sight for i in items])
    ]
    over = [totals[best] / len(items) / ITEM, _elsewhere(items), *learnt]
    return Line(row, len(items), 100 * base, STRATEGIES[best], *(100 * (each - base) for each in over), binding(items))


def binding(items: list[Guessed]) -> str:
    """What is measured apart: how much of positions is foreseen at least, and what is best beside positions."""
    totals, base = _totals(items), sum(i.chance for i in items)
    others = [n for n, name in enumerate(STRATEGIES) if name not in OF_PLACE]
    best = max(others, key=lambda n: totals[n])
    at_sight = 100 * (totals[best] - base) / len(items) / ITEM
    parts = Counter((i.quiz, i.ask, i.form) for i in items)
    least = sum(float(least_foreseen(parts[i.quiz, i.ask, i.form], len(i.told.choices))) for i in items) * ITEM
    foreseen = 100 * (least / ITEM - sum(1 / len(i.told.choices) for i in items)) / len(items)
    return f"positions {foreseen:.0f} at least, {STRATEGIES[best]} {at_sight:.0f}"


def _totals(items: list[Guessed]) -> list[int]:
    return [sum(column) for column in zip(*(i.won for i in items), strict=True)]


def _elsewhere(items: list[Guessed]) -> float:
    """What is won by the strategy that is best on the other half of the quizzes: the luck of the best is left out."""
    half = {quiz: number % 2 for number, quiz in enumerate(sorted({i.quiz for i in items}))}
    found = 0
    for side in (0, 1):
        totals = _totals([i for i in items if half[i.quiz] != side] or items)
        best = totals.index(max(totals))
        found += sum(i.won[best] for i in items if half[i.quiz] == side)
    return found / len(items) / ITEM


def lines(items: list[Guessed], learners: Iterable[str] = LEARNERS) -> Iterator[Line]:
    """Every row of the table that has items."""
    for row in ROWS:
        mine = [i for i in items if i.ask in row.asks and row.beginners in (None, grade_of(i.quiz) <= FIRST_YEARS)]
        if mine:
            yield line(row, mine, learners)


def printed(items: list[Guessed], say: Callable[[str], object] = print) -> None:
    """The table, line by line."""
    quizzes = len({i.quiz for i in items})
    say(f"{len(items)} items of {quizzes} quizzes; points over chance; a set of choices is in one fold only")
    say(HEAD)
    for each in lines(items):
        say(each.text)


def main(names: list[str]) -> None:
    """Makes the quizzes (all, or those named) and prints the table."""
    paths = [Path(name) for name in names] or blueprint_paths()
    items: list[Guessed] = []
    for quiz, forms in seen_quizzes(paths):
        items += guessed(quiz, forms)
        print(f"{quiz}: {sum(map(len, forms))} items", file=sys.stderr, flush=True)
    printed(items)


if __name__ == "__main__":
    main(sys.argv[1:])
