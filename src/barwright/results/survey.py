"""The figures of a quiz as it went: for each form its items and their choices, and over all forms each kind of item.

A flag says "look at", never a verdict: a class of 25 tells a difficulty to about plus or minus 0.2. Sources of the
bounds: Ebel 1965 (D), Tarrant, Ware & Mohammed 2009 (distractors picked by under 5 %); difficulties of 0.3 and 0.9 and
the least correlation of 0.1 are common practice.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Literal

from barwright.items.item import Item
from barwright.results.acting import answered, compared
from barwright.results.answers import Administered, Asked, Response
from barwright.results.scoring import (
    Omit,
    Row,
    by_number,
    chance,
    score_rows,
)
from barwright.results.statistics import (
    ItemFigures,
    QuizFigures,
    chance_score,
    correlation,
    item_figures,
    quiz_figures,
    wilson,
)

Flag = Literal["miskey", "against", "weak", "hard", "easy"]
HARD, EASY = 0.30, 0.90
LEAST_REST, LEAST_D = 0.10, 0.20
LEAST_FUNCTIONAL = 0.05
LEAST_STUDENTS = 10
"""With fewer students no question is flagged."""


@dataclass(frozen=True, slots=True)
class PickedChoice:
    """One choice, or foreseen answer: how many picked it, their share, and how picking it goes with the whole score."""

    answer: str
    key: bool
    misreadings: tuple[str, ...]
    picks: int
    share: float
    discrimination: float | None

    @property
    def functional(self) -> bool:
        """Whether 5 % or more picked it."""
        return self.share >= LEAST_FUNCTIONAL


@dataclass(frozen=True, slots=True)
class ItemSurvey:
    """One item of a form; `others`: answers that are not foreseen; `efficiency`: the share of distractors in use."""

    asked: Asked
    figures: ItemFigures
    picked: tuple[PickedChoice, ...]
    others: int
    omitted: int
    efficiency: float | None
    flags: tuple[Flag, ...]


@dataclass(frozen=True, slots=True)
class FormSurvey:
    """One form: its figures by question, its items, each student's scores by question, the score by guessing."""

    form: Administered
    figures: QuizFigures
    items: tuple[ItemSurvey, ...]
    rows: tuple[Row, ...]
    chance: float


@dataclass(frozen=True, slots=True)
class ModelSurvey:
    """One kind of item over all forms: the same ask in the same meter, of as many measures."""

    model: str
    ask: str
    items: int
    asked: int
    right: int
    low: float
    high: float
    by_form: tuple[tuple[str, int, int], ...]
    flags: tuple[Flag, ...]

    @property
    def difficulty(self) -> float:
        """The share that was right."""
        return self.right / self.asked


def item_model(item: Item) -> str:
    """What parallel items have in common: ask, meter, number of measures.

    >>> from barwright.rhythm.conventions import Conventions
    >>> from barwright.rhythm.text import parse_excerpt
    >>> item_model(Item("finish-measure", parse_excerpt("3/4 h _"), Conventions(), ()))
    'finish-measure 3/4 1'
    """
    return f"{item.ask} {item.excerpt.meter} {len(item.excerpt.measures)}"


def surveyed(given: Sequence[Administered], responses: Sequence[Response], *, omit: Omit) -> tuple[FormSurvey, ...]:
    """A survey of each form that somebody answered, in the order of the forms."""
    surveys = []
    for form in given:
        mine = [response for response in responses if response.form == form.ident]
        if mine:
            surveys.append(_form(form, mine, omit))
    return tuple(surveys)


def _form(form: Administered, responses: Sequence[Response], omit: Omit) -> FormSurvey:
    rows = score_rows(form, responses, omit=omit)
    matrix = [scores for _, scores in rows]
    questions = [by_number(form, scores) for scores in matrix]
    there = [n for n in range(len(questions[0])) if any(row[n] is not None for row in questions)]
    whole = quiz_figures([[row[n] for n in there] for row in questions])
    totals = {student: float(sum(s for s in scores if s is not None)) for student, scores in rows}
    answers: dict[str, dict[str, tuple[str, ...]]] = {}
    for response in responses:
        answers.setdefault(response.item, {})[response.student] = response.answer
    items = []
    for n, asked in enumerate(form.items):
        had = {student for student, scores in rows if scores[n] is not None}
        own = {student: answers.get(asked.id, {}).get(student, ()) for student in sorted(had)}
        items.append(_item(asked, item_figures(matrix, n), own, totals, whole))
    numbers = {asked.number: float(chance(asked.item)) for asked in form.items}
    guessed = chance_score(value for n, value in enumerate(numbers.values()) if n in there)
    by_question = tuple((student, by_number(form, scores)) for student, scores in rows)
    return FormSurvey(form, whole, tuple(items), by_question, guessed)


def _item(
    asked: Asked,
    figures: ItemFigures,
    answers: dict[str, tuple[str, ...]],
    totals: dict[str, float],
    whole: QuizFigures,
) -> ItemSurvey:
    picks = {student: set(answered(answer, asked.item)) for student, answer in answers.items()}
    of = [totals[student] for student in answers]
    picked = []
    for choice in asked.item.choices:
        text = compared(choice.answer.text, asked.item)
        chose = [int(text in picks[student]) for student in answers]
        share = sum(chose) / len(chose) if chose else 0.0
        told = PickedChoice(
            choice.answer.text, choice.key, choice.misreadings, sum(chose), share, correlation(chose, of)
        )
        picked.append(told)
    foreseen = {compared(choice.answer.text, asked.item) for choice in asked.item.choices}
    others = sum(bool(pick - foreseen) for pick in picks.values())
    wrong = [each for each in picked if not each.key]
    working = sum(each.functional for each in wrong) / len(wrong) if wrong and answers else None
    omitted = sum(not pick for pick in picks.values())
    flags = item_flags(figures, picked, whole.alpha)
    return ItemSurvey(asked, figures, tuple(picked), others, omitted, working, flags)


def item_flags(figures: ItemFigures, picked: Iterable[PickedChoice], alpha: float | None) -> tuple[Flag, ...]:
    """What there is to look at in an item; nothing where fewer than ten students had it.

    D and correlations say nothing of an item that over 90 % get right.
    """
    share, rest = figures.difficulty, figures.item_rest
    if share is None or figures.asked < LEAST_STUDENTS:
        return ()
    choices = list(picked)
    keys = max((each.picks for each in choices if each.key), default=0)
    rival = max((each.picks for each in choices if not each.key), default=0)
    flags: list[Flag] = []
    if rest is not None and rest < -1 / sqrt(figures.asked) and share <= EASY:  # one standard error below none
        flags.append("miskey" if rival > keys else "against")
    elif rest is not None and rest < LEAST_REST and share <= EASY and _better_without(figures, alpha):
        flags.append("weak")
    if share < HARD:
        flags.append("hard")
    elif share > EASY:
        flags.append("easy")
    return tuple(flags)


def _better_without(figures: ItemFigures, alpha: float | None) -> bool:
    """Whether the quiz would measure better without the item, or the item parts the best from the others too little."""
    rises = alpha is not None and figures.alpha_without is not None and figures.alpha_without > alpha
    return rises or (figures.upper_lower is not None and figures.upper_lower < LEAST_D)


def models_of(forms: Sequence[FormSurvey]) -> tuple[ModelSurvey, ...]:
    """Every kind of item over all forms, in the order of the quiz."""
    counts: dict[str, Counter[tuple[str, str]]] = {}
    asks: dict[str, str] = {}
    items: dict[str, set[str]] = {}
    for survey in forms:
        for each in survey.items:
            model = item_model(each.asked.item)
            asks[model] = each.asked.item.ask
            items.setdefault(model, set()).add(each.asked.id)
            counts.setdefault(model, Counter())[survey.form.ident, "asked"] += each.figures.asked
            counts[model][survey.form.ident, "right"] += each.figures.right
    models = []
    for model, count in counts.items():
        asked, right = (sum(n for (_, what), n in count.items() if what == kind) for kind in ("asked", "right"))
        bounds = wilson(right, asked)
        if bounds is None:
            continue
        idents = dict.fromkeys(form for form, _ in count)
        by_form = tuple((form, count[form, "asked"], count[form, "right"]) for form in idents if count[form, "asked"])
        flags: tuple[Flag, ...] = ("hard",) if bounds[1] < HARD else ("easy",) if bounds[0] > EASY else ()
        models.append(ModelSurvey(model, asks[model], len(items[model]), asked, right, *bounds, by_form, flags))
    return tuple(models)
