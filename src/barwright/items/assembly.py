"""A blueprint becomes forms: one a section, no excerpt in two sections while there are enough."""

import hashlib
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from random import Random

from barwright.errors import CapacityError
from barwright.items.asks import Question
from barwright.items.blueprint import Blueprint, Plan, plan_of
from barwright.items.forms import Form, FormItem
from barwright.items.giveaways import traces
from barwright.items.making import Tally, made_item
from barwright.items.model import Answer, Item
from barwright.items.positions import shown_orders
from barwright.rhythm.text import format_excerpt

# Draws before a short item (one choice fewer) is taken, and before every question is listed instead.
FULL_DRAWS = 40
MOST_DRAWS = 120
MOST_LISTED = 20_000
MOST_ALIKE = 3  # no answer is the key of more than about one in so many items of an ask, while there are others

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class MadeForm:
    """A form with what happened on the way: the tally, and the excerpts that another section has too."""

    form: Form
    tally: Tally
    shared: tuple[str, ...]


@dataclass(slots=True)
class _Desk:
    """One form in the making."""

    section: str
    taken: dict[str, str]
    tally: Tally
    settled: set[str]
    guarded: set[str]
    shared: list[str]
    keys: Counter[tuple[str, Answer]] = field(default_factory=Counter)

    def meets(self, plan: Plan, question: Question) -> bool:
        """Whether the question repeats or gives away another of this form, or is given away by it."""
        settles, guards = traces(plan.ask.id, question)
        return bool(settles & self.guarded or guards & self.settled)

    def keep(self, plan: Plan, question: Question, item: Item) -> Item:
        settles, guards = traces(plan.ask.id, question)
        self.settled |= settles
        self.guarded |= guards
        self.tally.offered.update(c.misreading for c in item.wrong)
        self.keys.update((plan.ask.id, key) for key in question.keys)
        text = format_excerpt(item.excerpt)
        if self.taken.setdefault(text, self.section) != self.section:
            self.shared.append(text)
        return item

    def too_often(self, plan: Plan, question: Question) -> bool:
        """Whether over a third of this ask's items have one of these keys already: "always a quarter" must fail."""
        made = sum(count for (ask, _), count in self.keys.items() if ask == plan.ask.id)
        return any(self.keys[plan.ask.id, key] * MOST_ALIKE > made for key in question.keys)

    def elsewhere(self, question: Question) -> bool:
        """Whether another section has this excerpt."""
        return self.taken.get(format_excerpt(question.excerpt), self.section) != self.section


def made_forms(blueprint: Blueprint, *, progress: Progress | None = None) -> tuple[MadeForm, ...]:
    """One form for each section, in the order of the blueprint; CapacityError if a part cannot be filled."""
    taken: dict[str, str] = {}
    plans = [plan_of(part, blueprint) for part in blueprint.part]
    each = sum(plan.items for plan in plans)
    made = []
    for number, section in enumerate(blueprint.sections):

        def told(done: int, number: int = number) -> None:
            if progress is not None:
                progress(number * each + done, each * len(blueprint.sections))

        made.append(made_form(blueprint, section, taken=taken, told=told))
    return tuple(made)


def made_form(blueprint: Blueprint, section: str, *, taken: dict[str, str], told: Callable[[int], None]) -> MadeForm:
    """The form of one section; `taken` maps excerpts to the section that has them and gains this form's."""
    desk = _Desk(section, taken, Tally(), set(), set(), [])
    items: list[Item] = []
    points: list[int] = []
    for number, part in enumerate(blueprint.part):
        plan = plan_of(part, blueprint)
        rng = Random(f"{blueprint.seed}/{section}/{number}")
        for _ in range(plan.items):
            item = _next_item(plan, desk, rng)
            if item is None:
                raise CapacityError(_too_few(plan, number, len(items) - sum(p.items for p in blueprint.part[:number])))
            items.append(item)
            points.append(plan.points)
            told(len(items))
    orders = shown_orders(items, Random(f"{blueprint.seed}/{section}/order"))
    placed = tuple(
        FormItem(item, order, points, number)
        for number, (item, order, points) in enumerate(zip(items, orders, points, strict=True), start=1)
    )
    quiz = blueprint.quiz
    ident = _form_ident(blueprint.title, placed)
    form = Form(blueprint.title, section, blueprint.language, quiz.shuffle, quiz.feedback, placed, ident)
    return MadeForm(form, desk.tally, tuple(desk.shared))


def _form_ident(title: str, placed: tuple[FormItem, ...]) -> str:
    text = "\n".join([title, *(f"{p.item.id} {p.order} {p.points}" for p in placed)])
    return "f" + hashlib.sha256(text.encode()).hexdigest()[:16]  # QTI wants a letter first


def _too_few(plan: Plan, number: int, found: int) -> str:
    return (
        f"part {number + 1}, {plan.ask.id!r}: {plan.items} items are asked for and {found} different ones can be made "
        "from what is taught: ask for fewer, teach more elements or meters, or allow longer excerpts with `measures`"
    )


def _next_item(plan: Plan, desk: _Desk, rng: Random) -> Item | None:
    """A new item for the desk: drawn while draws succeed, then listed; a shared excerpt only at the end."""
    spare: tuple[Question, Item] | None = None
    for drawn in range(MOST_DRAWS):
        question = plan.ask.draw(plan.space, rng)
        if question is None or desk.elsewhere(question) or desk.meets(plan, question):
            continue
        if drawn < FULL_DRAWS and desk.too_often(plan, question):
            continue
        item = made_item(plan, question, fewer=int(plan.fewer_choices), tally=desk.tally, rng=rng)
        if item is not None and len(item.choices) >= plan.choices:
            return desk.keep(plan, question, item)
        if item is not None and plan.ask.interaction == "entry":
            return desk.keep(plan, question, item)
        if spare is None and item is not None:
            spare = question, item
        if spare is not None and drawn >= FULL_DRAWS:
            break
    if spare is not None:
        return desk.keep(plan, *spare)
    for sharing in (False, True):
        for question in _listed(plan, rng):
            if desk.meets(plan, question) or (desk.elsewhere(question) and not sharing):
                continue
            item = made_item(plan, question, fewer=int(plan.fewer_choices), tally=desk.tally, rng=rng)
            if item is not None:
                return desk.keep(plan, question, item)
    return None


def _listed(plan: Plan, rng: Random) -> Iterator[Question]:
    """The questions of a part in a random order; of very many only the first."""
    left = list(islice(plan.ask.listed(plan.space), MOST_LISTED))
    while left:
        index = rng.randrange(len(left))
        left[index], left[-1] = left[-1], left[index]
        yield left.pop()
