"""Forms and answers written out by hand, and the answers of simulated students as a platform would give them."""

from collections.abc import Iterable, Sequence
from random import Random

from barwright.items.form import FormItem
from barwright.items.item import (
    Answer,
    AnswerKind,
    Choice,
    Item,
)
from barwright.results.answers import (
    Administered,
    Asked,
    Response,
    offered,
)
from barwright.results.chances import FormActs
from barwright.results.simulating import Student, answers_of
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt


def item(ask: str, excerpt: str, kind: AnswerKind, **choices: str) -> Item:
    """An item from its excerpt and its choices, `answer=misreadings`; `_` stands for a space, a key has none."""
    made = tuple(
        Choice(Answer(kind, text.replace("_", " ")), tuple(ids.split())) for text, ids in sorted(choices.items())
    )
    return Item(ask, parse_excerpt(excerpt), Conventions(), made)


def form_of(items: Iterable[Item], ident: str = "f1", section: str = "Period 1") -> Administered:
    """The items as a form, one point each, numbered from 1."""
    placed = [FormItem(each, tuple(range(len(each.choices))), 1, n) for n, each in enumerate(items, start=1)]
    asked = tuple(Asked(p.item, p.number, p.points, tuple(map(offered, p.item.choices))) for p in placed)
    return Administered(ident, section, 0, asked)


def texts_of(students: Sequence[Student], form: FormActs, rng: Random, prefix: str = "s") -> list[Response]:
    """What the students answer, as responses; what fits no known answer is typed as `?`."""
    found = []
    for number, row in enumerate(answers_of(students, form, rng).tolist()):
        for asked, code in zip(form.items, row, strict=True):
            answer = {place: texts for texts, place in asked.outcomes.places.items()}.get(code, ("?",))
            found.append(Response(f"{prefix}{number:02}", form.section, form.ident, asked.asked.id, answer))
    return found
