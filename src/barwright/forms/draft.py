"""A form in the making: what it holds so far, and what may not join it."""

from collections import Counter
from dataclasses import dataclass, field

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.cueing import traces
from barwright.forms.judging import Tally
from barwright.forms.ready_items import EMPTY, Stock, question_name
from barwright.forms.watch import Guessers
from barwright.items.item import Answer, Item
from barwright.rhythm.text import format_excerpt

MOST_ALIKE = 3  # no answer is the key of more than about one in so many items of an ask, while there are others


@dataclass(slots=True)
class Desk:
    """One form in the making; `taken` maps excerpts to the form that has them, and gains this one's.

    `never` holds the excerpts that may not be used at all: what the same students have seen before a retake. `shared`
    and `bent` (by the item's id) note what could not be kept apart or parallel. `stock` is what the form is filled from
    first. `own`: by id the items about excerpts of the teacher's own, and how many measures these have. `guessers`: who
    would win what of it.
    """

    name: str
    taken: dict[str, str]
    tally: Tally = field(default_factory=Tally)
    items: list[Item] = field(default_factory=list)
    shared: list[str] = field(default_factory=list)
    bent: dict[str, str] = field(default_factory=dict)
    never: frozenset[str] = frozenset()
    due: Counter[str] = field(default_factory=Counter)
    stock: Stock = EMPTY
    own: dict[str, int] = field(default_factory=dict)
    guessers: Guessers = field(default_factory=Guessers)
    _settled: set[str] = field(default_factory=set)
    _guarded: set[str] = field(default_factory=set)
    _traces: dict[str, tuple[frozenset[str], frozenset[str]]] = field(default_factory=dict)
    _keys: Counter[tuple[str, Answer]] = field(default_factory=Counter)
    _made: Counter[str] = field(default_factory=Counter)
    _held: Counter[str] = field(default_factory=Counter)
    _banned: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        self._banned = self.stock.never(self.name)

    def meets(self, plan: Plan, question: Question) -> bool:
        """Whether the question repeats or gives away another of this form, is given away by it, or must not be used."""
        if self.never and format_excerpt(question.excerpt) in self.never:
            return True
        if self._banned and question_name(plan.ask.id, question) in self._banned:
            return True
        settles, guards = traces(plan.ask.id, question)
        return bool(settles & self._guarded or guards & self._settled)

    def elsewhere(self, question: Question) -> bool:
        """Whether another form has this excerpt."""
        return self.taken.get(format_excerpt(question.excerpt), self.name) != self.name

    def repeats(self, question: Question) -> bool:
        """Whether an item of this form has the excerpt already, for another ask."""
        return self._held[format_excerpt(question.excerpt)] > 0

    def too_often(self, plan: Plan, question: Question) -> bool:
        """Whether over a third of this ask's items have one of these keys already: "always a quarter" must fail."""
        made = self._made[plan.ask.id]
        return any(self._keys[plan.ask.id, key] * MOST_ALIKE > made for key in question.keys)

    def keep(self, plan: Plan, question: Question, item: Item) -> Item:
        """The item, which is part of the form from now on."""
        self._join(item.id, traces(plan.ask.id, question))
        self.tally.offered.update(item.offered)
        self.guessers.add(item)
        self.tally.rhythms.update(_wrong_rhythms(item))
        self._keys.update((plan.ask.id, key) for key in question.keys)
        self._made[plan.ask.id] += len(question.keys)
        text = format_excerpt(item.excerpt)
        if self.taken.setdefault(text, self.name) != self.name:
            self.shared.append(text)
        self._held[text] += 1
        self.items.append(item)
        return item

    def keep_own(self, plan: Plan, question: Question, item: Item) -> Item:
        """The same for an item about an excerpt of the teacher's own."""
        self.own[item.id] = plan.space.measures
        return self.keep(plan, question, item)

    def has_share(self, plan: Plan) -> bool:
        """Whether the form has as many of the teacher's own excerpts of this length as it takes, or there are none."""
        return sum(measures == plan.space.measures for measures in self.own.values()) >= plan.own.share

    def release(self, item: Item) -> None:
        """Takes an item out of the form again, with all that it forbade."""
        self.items.remove(item)
        del self._traces[item.id]
        self._settled = set().union(*(settles for settles, _ in self._traces.values()))
        self._guarded = set().union(*(guards for _, guards in self._traces.values()))
        self.tally.offered.subtract(item.offered)
        self.guessers.take_back(item)
        self.tally.rhythms.subtract(_wrong_rhythms(item))
        self._keys.subtract((item.ask, c.answer) for c in item.keys)
        self._made[item.ask] -= len(item.keys)
        text = _excerpt(item)
        self._held[text] -= 1
        if self.taken.get(text) != self.name:
            self.shared.remove(text)
        elif not self._held[text]:
            del self.taken[text]

    def beside(self, item: Item) -> "Desk":
        """A desk for variants of one item, of which a student sees one: what the other items forbid, and no more."""
        others = [each for ident, each in self._traces.items() if ident != item.id]
        never = self.never | {_excerpt(item)}
        guessers = Guessers(self.guessers.watch)
        apart = Desk(
            self.name, self.taken, shared=self.shared, bent=self.bent, never=never, stock=self.stock, guessers=guessers
        )
        for settles, guards in others:
            apart._settled |= settles
            apart._guarded |= guards
        return apart

    def absorb(self, variants: "Desk") -> None:
        """Takes over what the variants of one item forbid the others, and what was judged."""
        for ident, each in variants._traces.items():
            self._join(ident, each)
        self.tally.judged += variants.tally.judged
        self.tally.refused += variants.tally.refused
        self.tally.short += variants.tally.short

    def _join(self, ident: str, each: tuple[frozenset[str], frozenset[str]]) -> None:
        self._traces[ident] = each
        self._settled |= each[0]
        self._guarded |= each[1]


def _wrong_rhythms(item: Item) -> list[Answer]:
    return [choice.answer for choice in item.wrong if choice.answer.kind == "measures"]


def _excerpt(item: Item) -> str:
    return format_excerpt(item.excerpt)
