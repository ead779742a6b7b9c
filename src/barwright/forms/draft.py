"""A form in the making: what it holds so far, and what may not join it."""

from collections import Counter
from dataclasses import dataclass, field

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.choosing import TRIED
from barwright.forms.cueing import traces
from barwright.forms.judging import Tally
from barwright.forms.marks import Mark, Marks, item_marks
from barwright.forms.parallel import Trait, wanted_chances
from barwright.forms.picked_items import Pool
from barwright.forms.ready_items import EMPTY, Stock, question_name
from barwright.forms.sheets import Sheets
from barwright.forms.watch import Guessers
from barwright.items.difficulty import difficulty
from barwright.items.item import Answer, Item
from barwright.rhythm.text import format_excerpt

# What another answer than in the cells of the first form weighs, against 1 of any other trait: answers are passed on.
OTHER_ANSWER = 5
# What it weighs that an excerpt has a mirror image in the form, or stands in it already.
MEETS = {"twin": 30, "excerpt": 12}
# The same for a question that is hardly worth asking: less than that a form is unlike the others.
SLIGHT = 15
MOST_ALIKE = 3  # no answer is the key of more than about one in so many items of an ask, while there are others


@dataclass(slots=True)
class Draft:
    """One form in the making; `taken` maps excerpts to the form that has them, and gains this one's.

    `never` holds the excerpts that may not be used at all: what the same students have seen before a retake. `shared`
    and `bent` (by the item's id) note what could not be kept apart or parallel. `stock` is what the form is filled from
    first. `own`: by id the items about excerpts of the teacher's own, and how many measures these have. `guessers`: who
    would win what of it. `named`: the misreadings that are to be told apart in it; `sheets`: questions to choose from.
    `shown`: how often each mark stands in it, `due`: how often in the first form in the cells that were filled so far;
    `sum`: of difficulties. `settling`: wrong choices that are picked are taken later, from `pools` by the item's id
    (see `forms.settling`); nothing of these items is judged before. `tried`: how many sets a pool has about. `ranks`:
    by ask, in how many items how many wrong choices are to be shorter than the right one.
    """

    name: str
    taken: dict[str, str]
    tally: Tally = field(default_factory=Tally)
    items: list[Item] = field(default_factory=list)
    shared: list[str] = field(default_factory=list)
    bent: dict[str, str] = field(default_factory=dict)
    never: frozenset[str] = frozenset()
    stock: Stock = EMPTY
    own: dict[str, int] = field(default_factory=dict)
    guessers: Guessers = field(default_factory=Guessers)
    named: tuple[str, ...] = ()
    sheets: Sheets = field(default_factory=Sheets)
    due: Counter[Trait | Mark] = field(default_factory=Counter)
    shown: Counter[Trait | Mark] = field(default_factory=Counter)
    sum: int = 0
    settling: bool = False
    pools: dict[str, Pool] = field(default_factory=dict)
    tried: int = TRIED
    ranks: Counter[tuple[str, int]] = field(default_factory=Counter)
    _marks: dict[str, tuple[Marks, int]] = field(default_factory=dict)
    _over: dict[str, Counter[str]] = field(default_factory=dict)
    _settled: Counter[str] = field(default_factory=Counter)
    _guarded: Counter[str] = field(default_factory=Counter)
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
        settled, guarded = self._settled, self._guarded
        return any(guarded[each] > 0 for each in settles) or any(settled[each] > 0 for each in guards)

    def elsewhere(self, question: Question) -> bool:
        """Whether another form has this excerpt."""
        return self.taken.get(format_excerpt(question.excerpt), self.name) != self.name

    def unlike(self, marks: Marks) -> int:
        """How much less like the first form a question with these marks makes this one; below 0 it makes it liker.

        Each trait counts that the cells filled so far have less or more often, and what should not meet in a form.
        """
        change = 0
        for mark in marks:
            there = self.shown[mark]
            if isinstance(mark, Trait):
                weight = OTHER_ANSWER if mark.kind == "answers" else 1
                change += weight if there >= self.due[mark] else -weight
            else:
                change += _weight(mark, there)
        return change

    def meeting(self, marks: Marks) -> int:
        """What a question with these marks would meet in the form that it should not: a mirror image, its excerpt."""
        return sum(_weight(mark, self.shown[mark]) for mark in marks if not isinstance(mark, Trait))

    def over(self, ask: str) -> Counter[str]:
        """How much oftener each misreading stands in items of an ask than in the cells filled so far, or seldomer."""
        return self._over.setdefault(ask, Counter())

    def expect(self, marks: Marks) -> None:
        """Takes the marks of a cell, which is filled next, as due."""
        self.due.update(marks)
        self._tell(marks, -1)

    def _tell(self, marks: Marks, more: int) -> None:
        for mark in marks:
            if mark.kind == "misreadings":
                self.over(mark.of)[mark.name] += more

    def lacking(self) -> tuple[tuple[str, str], ...]:
        """Any two named misreadings of which the first has too few chances to be told from the other, or by itself."""
        wanted = ((one, other) for one in self.named for other in self.named)
        return tuple(each for each in wanted if self.shown[Mark("apart", *each)] < wanted_chances(*each))

    def marks_of(self, item: Item) -> Marks:
        """The marks of one of its items."""
        return self._marks[item.id][0]

    def repeats(self, question: Question) -> bool:
        """Whether an item of this form has the excerpt already, for another ask."""
        return self._held[format_excerpt(question.excerpt)] > 0

    def too_often(self, plan: Plan, question: Question) -> bool:
        """Whether over a third of this ask's items have one of these keys already: "always a quarter" must fail.

        Of numbers, of which there are many, whether over a third would have it.
        """
        made, more = self._made[plan.ask.id], int(plan.ask.answer == "number")
        keys = [self._keys[plan.ask.id, key] for key in question.keys]
        return any(count and (count + more) * MOST_ALIKE > made + more for count in keys)

    def keep(self, plan: Plan, question: Question, item: Item) -> Item:
        """The item, which is part of the form from now on."""
        self._join(item.id, traces(plan.ask.id, question))
        self.tally.offered.update(item.offered)
        self.guessers.add(item, settled=not (self.settling and item.id in self.pools))
        self.tally.rhythms.update(_wrong_rhythms(item))
        self._keys.update((plan.ask.id, key) for key in question.keys)
        self._made[plan.ask.id] += len(question.keys)
        text = format_excerpt(item.excerpt)
        if self.taken.setdefault(text, self.name) != self.name:
            self.shared.append(text)
        self._held[text] += 1
        marks, hard = item_marks(plan, item, self.named), difficulty(item.excerpt, plan.weights)
        self._marks[item.id] = marks, hard
        self.shown.update(marks)
        self._tell(marks, 1)
        self.sum += hard
        self.items.append(item)
        return item

    def keep_own(self, plan: Plan, question: Question, item: Item) -> Item:
        """As `keep`, for an item about an excerpt of the teacher's own, which is noted as such."""
        self.own[item.id] = plan.space.measures
        return self.keep(plan, question, item)

    def has_share(self, plan: Plan) -> bool:
        """Whether the form has as many of the teacher's own excerpts of this length as it takes, or there are none."""
        return sum(measures == plan.space.measures for measures in self.own.values()) >= plan.own.share

    def release(self, item: Item) -> None:
        """Takes an item out of the form again, with all that it forbade."""
        del self.items[next(n for n, each in enumerate(self.items) if each is item or each.id == item.id)]
        settles, guards = self._traces.pop(item.id)
        self._settled.subtract(settles)
        self._guarded.subtract(guards)
        self.tally.offered.subtract(item.offered)
        self.guessers.take_back(item)
        self.tally.rhythms.subtract(_wrong_rhythms(item))
        self._keys.subtract((item.ask, c.answer) for c in item.keys)
        self._made[item.ask] -= len(item.keys)
        text = _excerpt(item)
        self._held[text] -= 1
        marks, hard = self._marks.pop(item.id)
        self.shown.subtract(marks)
        self._tell(marks, -1)
        self.sum -= hard
        if self.taken.get(text) != self.name:
            self.shared.remove(text)
        elif not self._held[text]:
            del self.taken[text]

    def beside(self, item: Item) -> "Draft":
        """A draft for variants of one item, of which a student sees one: what the other items forbid, and no more."""
        others = [each for ident, each in self._traces.items() if ident != item.id]
        never = self.never | {_excerpt(item)}
        apart = Draft(
            self.name,
            self.taken,
            shared=self.shared,
            bent=self.bent,
            never=never,
            stock=self.stock,
            guessers=Guessers(self.guessers.watch),
            named=self.named,
            sheets=self.sheets,
        )
        for settles, guards in others:
            apart._settled.update(settles)
            apart._guarded.update(guards)
        return apart

    def absorb(self, variants: "Draft") -> None:
        """Takes over what the variants of one item forbid the others, and what was judged."""
        for ident, each in variants._traces.items():
            self._join(ident, each)
        self.tally.judged += variants.tally.judged
        self.tally.refused += variants.tally.refused
        self.tally.short += variants.tally.short

    def _join(self, ident: str, each: tuple[frozenset[str], frozenset[str]]) -> None:
        self._traces[ident] = each
        self._settled.update(each[0])
        self._guarded.update(each[1])


def _weight(mark: Mark, there: int) -> int:
    """What it weighs that a mark comes to a form in which it stands so often."""
    return SLIGHT if mark.kind == "slight" else MEETS.get(mark.kind, 0) * (there > 0)


def _wrong_rhythms(item: Item) -> list[Answer]:
    return [choice.answer for choice in item.wrong if choice.answer.kind == "measures"]


def _excerpt(item: Item) -> str:
    return format_excerpt(item.excerpt)
