"""What guessers could learn while forms are made: within each form, and over all forms of the quiz.

The forms of a quiz share one `Watch`, so that what cannot be balanced in one form is made up for in the next. A form
that is made later sees the same: a watch is the sum of the items of all forms before.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from barwright.asks import ASKS
from barwright.forms.looks import Looks
from barwright.forms.parallel import Spread, first_variants, spread_of
from barwright.forms.seeing import PICKED, seen_answer, seen_form, seen_item
from barwright.guesser import Ledger, Moments, SeenItem, Winnings, winnings
from barwright.guesser.winnings import NOTHING
from barwright.items.form import Form
from barwright.items.item import Item


def is_picked(ask: str) -> bool:
    """Whether the student picks among choices, so that a guess can be right."""
    return ASKS[ask].interaction in PICKED


def seen(item: Item) -> SeenItem:
    """An item as the guesser sees it, whatever the order of its choices."""
    return seen_item(item.ask, (c.answer for c in item.keys), (c.answer for c in item.wrong))


@dataclass(slots=True)
class Watch:
    """Over all forms so far, ask by ask: what a learner could learn, and how often each length and symbol was right.

    `won`: what strategies won of the forms that are finished, `spreads`: the traits of each of these.
    """

    moments: dict[str, Moments] = field(default_factory=dict)
    right: Counter[tuple[str, int | str]] = field(default_factory=Counter)
    won: dict[str, Winnings] = field(default_factory=dict)
    spreads: list[Spread] = field(default_factory=list)

    def of_ask(self, ask: str) -> Moments:
        """What a learner could learn of an ask."""
        return self.moments.setdefault(ask, Moments())

    def add(self, item: Item) -> None:
        """Takes an item as the next."""
        if is_picked(item.ask):
            self.of_ask(item.ask).add(seen(item))
            self.right.update(_right(item))

    def take(self, form: Form) -> None:
        """Takes a finished form, items and all."""
        for placed in form.items:
            self.add(placed.item)
        self.finish(form)

    def finish(self, form: Form) -> None:
        """Takes what strategies win of a form, its items and their choices in order; the items were added before."""
        for ask, found in winnings(seen_form(form)).asks.items():
            self.won[ask] = self.won.get(ask, NOTHING) + found
        self.spreads.append(spread_of(first_variants(form)))

    def take_back(self, item: Item) -> None:
        """Takes an item out again."""
        if is_picked(item.ask):
            self.of_ask(item.ask).take_back(seen(item))
            self.right.subtract(_right(item))


def _right(item: Item) -> list[tuple[str, int | str]]:
    sizes = [(item.ask, seen_answer(key.answer).size) for key in item.keys]
    return [*sizes, *((item.ask, token) for key in item.keys for token in key.answer.text.split())]


def watch_of(forms: Iterable[Form]) -> Watch:
    """What was learnt of finished forms."""
    watch = Watch()
    for form in forms:
        watch.take(form)
    return watch


@dataclass(slots=True)
class Guessers:
    """Those who guess at one form in the making: `ledger` what strategies win of it, `watch` what is learnt of all."""

    watch: Watch = field(default_factory=Watch)
    ledger: Ledger = field(default_factory=Ledger)
    looks: dict[str, Looks] = field(default_factory=dict)
    _brought: dict[str, Winnings] = field(default_factory=dict)

    def add(self, item: Item) -> None:
        """Takes an item as the next of the form."""
        self.watch.add(item)
        if not is_picked(item.ask):
            return
        each = seen(item)
        self._brought[item.id] = self.ledger.brought_by(each)
        self.ledger.add(each)
        self.looks_of(item.ask).add(item.keys[0].answer, [c.answer for c in item.wrong])

    def take_back(self, item: Item) -> None:
        """Takes an item of the form out again."""
        self.watch.take_back(item)
        if is_picked(item.ask):
            self.ledger.take_back(seen(item), self._brought.pop(item.id))
            self.looks_of(item.ask).take_back(item.keys[0].answer, [c.answer for c in item.wrong])

    def looks_of(self, ask: str) -> Looks:
        """How the rows of an ask have looked so far."""
        return self.looks.setdefault(ask, Looks())
