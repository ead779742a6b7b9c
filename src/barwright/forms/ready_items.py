"""Items at hand, such as a bank's: forms are filled from them before any item is made anew."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.judging import bounds_of
from barwright.items.item import Item


@dataclass(frozen=True, slots=True)
class Stock:
    """What is at hand for one blueprint, and what may not be asked.

    `items`: by ask, in order of preference; each fits the class's conventions, and the judge accepts it for what the
    class was taught. `had`: by section, the questions (see `question_name`) that its students have had, and are not
    asked again, with whatever choices. `retired`: those that nobody is asked again.
    """

    items: Mapping[str, tuple[Item, ...]] = field(default_factory=dict)
    had: Mapping[str, frozenset[str]] = field(default_factory=dict)
    retired: frozenset[str] = frozenset()

    def never(self, section: str) -> frozenset[str]:
        """The questions that may not be asked in a section."""
        return self.retired | self.had.get(section, frozenset())


EMPTY = Stock()


def question_of(item: Item) -> Question:
    """The question that an item asks, without its wrong answers."""
    return Question(item.excerpt, tuple(key.answer for key in item.keys), item.target)


def question_name(ask: str, question: Question) -> str:
    """What makes two items the same question: ask, excerpt and target."""
    return f"{ask} {question.text}"


def fitting(stock: Stock, plan: Plan) -> Iterator[Item]:
    """The items at hand of the right shape for a part, in order of preference."""
    for item in stock.items.get(plan.ask.id, ()):
        bounds = bounds_of(plan, len(item.keys), fewer=int(plan.fewer_choices))
        right_size = len(item.excerpt.measures) == plan.space.measures and item.excerpt.meter in plan.space.meters
        if right_size and bounds.least <= len(item.wrong) <= bounds.most:
            yield item
