"""What guessers could learn while forms are made: within each form, and over all forms of the quiz.

The forms of a quiz share one `Watch`, so that what cannot be balanced in one form is made up for in the next. A form
that is made later sees the same: a watch is the sum of the items of all forms before.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from barwright.asks import ASKS
from barwright.asks.ask import Mix
from barwright.forms.looks import Looks
from barwright.forms.parallel import Spread, first_variants, spread_of
from barwright.forms.seeing import PICKED, seen_answer, seen_form, seen_item
from barwright.guesser import Ledger, Moments, SeenItem, Winnings, winnings
from barwright.guesser.winnings import NOTHING
from barwright.items.form import Form
from barwright.items.item import Answer, Item


def is_picked(ask: str) -> bool:
    """Whether the student picks among choices, so that a guess can be right."""
    return ASKS[ask].interaction in PICKED


def seen(item: Item) -> SeenItem:
    """An item as the guesser sees it, whatever the order of its choices."""
    return seen_item(item.ask, (c.answer for c in item.keys), (c.answer for c in item.wrong))


@dataclass(slots=True)
class Watch:
    """Over all forms so far, ask by ask: what a learner could learn, and how often each length and symbol was right.

    `won`: what strategies won of the forms that are finished, `spreads`: the traits of each of these. `mixes`: how
    often choices shared lengths how, by ask.
    """

    moments: dict[str, Moments] = field(default_factory=dict)
    right: Counter[tuple[str, int | str]] = field(default_factory=Counter)
    won: dict[str, Winnings] = field(default_factory=dict)
    mixes: Counter[tuple[str, Mix]] = field(default_factory=Counter)
    spreads: list[Spread] = field(default_factory=list)

    def copy(self) -> "Watch":
        """One that goes on from here by itself; what was seen of finished forms is shared, as it never changes."""
        moments = {ask: Moments(dict(each.sums)) for ask, each in self.moments.items()}
        return Watch(moments, self.right.copy(), dict(self.won), self.mixes.copy(), list(self.spreads))

    def of_ask(self, ask: str) -> Moments:
        """What a learner could learn of an ask."""
        return self.moments.setdefault(ask, Moments())

    def add(self, item: Item, *, learnt: bool = True) -> None:
        """Takes an item as the next; without `learnt` only for how often what is right, and how lengths are shared."""
        if is_picked(item.ask):
            if learnt:
                self.of_ask(item.ask).add(seen(item))
            self.right.update(_right(item))
            self.mixes[item.ask, mix_of(seen(item))] += 1

    def take(self, form: Form) -> None:
        """Takes a finished form, items and all."""
        for placed in form.items:
            self.add(placed.item)
        self.finish(form)

    def finish(self, form: Form) -> None:
        """Takes what strategies win of a form, its items and their choices in order; the items were added before."""
        for ask, won in winnings(seen_form(form)).asks.items():
            self.won[ask] = self.won.get(ask, NOTHING) + won
        self.spreads.append(spread_of(first_variants(form)))

    def take_back(self, item: Item, *, learnt: bool = True) -> None:
        """Takes an item out again."""
        if is_picked(item.ask):
            if learnt:
                self.of_ask(item.ask).take_back(seen(item))
            self.right.subtract(_right(item))
            self.mixes[item.ask, mix_of(seen(item))] -= 1

    def overdone(self, ask: str, mix: Mix) -> int:
        """By how many items a mix stands oftener than its share; one without a share by one for each item.

        One item more than its share is no matter: who knew that each came exactly in turn would know the last.
        """
        able = {each: share for each, share in ASKS[ask].mixes if sum(each) == sum(mix)}
        made = sum(self.mixes[ask, each] for each in able)
        if mix not in able:
            return made + 1
        return max(0, self.mixes[ask, mix] - (made + 1) * able[mix] // sum(able.values()))

    def wanting(self, ask: str, mix: Mix) -> int:
        """How much is wanting to a mix with the next item, in parts of one: as many as all shares together; else 0."""
        able = {each: share for each, share in ASKS[ask].mixes if sum(each) == sum(mix)}
        made = sum(self.mixes[ask, each] for each in able)
        return max(0, (made + 1) * able.get(mix, 0) - self.mixes[ask, mix] * sum(able.values()))


def _right(item: Item) -> list[tuple[str, int | str]]:
    sizes = [(item.ask, seen_answer(key.answer).size) for key in item.keys]
    meter = (item.ask, str(item.excerpt.meter))
    words = [(item.ask, word) for key in item.keys for word in words_of(key.answer)]
    return [*sizes, *words, *([meter] if item.keys[0].answer.kind == "measures" else ())]


def words_of(answer: Answer) -> list[str]:
    """What is right as often as anything else of its kind: symbols; a statement, and its sort or verdict."""
    words = answer.text.split()
    return [answer.text, words[0]] if answer.kind == "claim" else words


def mix_of(item: SeenItem) -> Mix:
    """How the choices of an item share lengths."""
    wrong = Counter(choice.size for number, choice in enumerate(item.choices) if number not in item.keys)
    return (len(item.keys), *sorted(wrong.values(), reverse=True))


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

    def add(self, item: Item, *, settled: bool = True) -> None:
        """Takes an item as the next of the form; where its wrong choices are not settled nobody wins by them yet."""
        self.watch.add(item, learnt=settled)
        if not is_picked(item.ask):
            return
        if settled:
            self._brought[item.id] = self.ledger.add(seen(item))
        self.looks_of(item.ask).add(item.keys[0].answer, [c.answer for c in item.wrong])

    def take_back(self, item: Item) -> None:
        """Takes an item of the form out again."""
        settled = item.id in self._brought
        self.watch.take_back(item, learnt=settled)
        if settled:
            self.ledger.take_back(seen(item), self._brought.pop(item.id))
        if is_picked(item.ask):
            self.looks_of(item.ask).take_back(item.keys[0].answer, [c.answer for c in item.wrong])

    def looks_of(self, ask: str) -> Looks:
        """How the rows of an ask have looked so far."""
        return self.looks.setdefault(ask, Looks())
