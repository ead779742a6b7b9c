"""What the items of a form can tell: which misreadings show where, and how many items set one apart from another.

Items are counted, never picks: two ticks in one item are one chance.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product

from barwright.misreadings import Misreading
from barwright.results.acting import (
    Acted,
    Answered,
    acted,
    answered,
    is_open,
    right_answers,
    serving,
)
from barwright.results.answers import Administered, Asked, Held
from barwright.results.together import led_together

NONE = -1
"""The code of an item that was not answered, or not given; other codes are places of outcomes."""
LEAST_CHANCES = 2
"""Items that must have offered an answer of a misreading before a student is named for it."""
WANTED_CHANCES, WANTED_APART = 4, 2
"""What a misreading that a blueprint names should have: chances, and of them such as set it apart from each other one.

Four chances find two misreadings that are held at once, and of two answers one may be a slip (see *rehearse*).
"""
_NOBODY: frozenset[str] = frozenset()
_NOTHING: frozenset[Answered] = frozenset()


@dataclass(frozen=True, slots=True)
class Outcomes:
    """The answers of one item that are told apart, by their place; the last place is any other, where one can type.

    The first `alone` places are right, or what one misreading leads to; those after them, what only two together do.
    """

    places: Mapping[Answered, int]
    size: int
    alone: int
    other: bool

    def place(self, answer: Answered) -> int:
        """Where an answer counts."""
        return self.places[answer] if answer in self.places else self.size - 1


@dataclass(frozen=True)
class ItemActs:
    """One item with what each misreading (by id) leads to; those that do not show are left out."""

    asked: Asked
    acts: Mapping[str, Acted]

    @cached_property
    def outcomes(self) -> Outcomes:
        """The answers that are told apart."""
        led = [answer for each in self.acts.values() for answer in each.answers]
        return _outcomes(self.asked, led, [answer for _, answer in self.joint])

    @cached_property
    def likeness(self) -> tuple[int, ...]:
        """How many words of each choice stand in the other choices, too; by the place of the outcome.

        Who guesses without reading takes what shares most with the others (convergence: Smith 1982, J. Educ.
        Measurement 19). Empty where there is nothing to pick, or several are to be ticked.
        """
        texts = [each.answer.text.split() for each in self.asked.offered]
        if is_open(self.asked.item) or len(self.right[0]) > 1:
            return ()
        others = [[other for other in texts if other is not text] for text in texts]
        return tuple(sum(word in o for o in rest for word in set(t)) for t, rest in zip(texts, others, strict=True))

    @cached_property
    def offered_together(self) -> tuple[tuple[Held, Answered], ...]:
        """Misreadings to which the record gives a choice only where they are held together, and that choice."""
        item = self.asked.item
        pairs = ((held, each.answer.text) for each in self.asked.offered for held in each.alternatives)
        return tuple((held, answered((text,), item)) for held, text in pairs if len(held) > 1)

    @cached_property
    def joint(self) -> tuple[tuple[Held, Answered], ...]:
        """Misreadings that lead to an answer only where they are held together, and that answer."""
        return tuple(dict.fromkeys((*self.offered_together, *led_together(self.acts, self.asked.item))))

    @cached_property
    def right(self) -> tuple[Answered, ...]:
        """The responses that are fully right."""
        return right_answers(self.asked.item)

    def leads(self, misreading: str) -> frozenset[Answered]:
        """The wrong answers on offer that a misreading leads to by itself."""
        act = self.acts.get(misreading)
        return frozenset(act.answers).difference(self.right) if act else _NOTHING


def acts_of(form: Administered, misreadings: Sequence[Misreading]) -> tuple[ItemActs, ...]:
    """Every item of a form, with all misreadings acted out on it."""
    acts = []
    for asked in form.items:
        shown = ((m.id, acted(m, asked.item)) for m in misreadings)
        acts.append(ItemActs(asked, {ident: each for ident, each in shown if each is not None}))
    return tuple(acts)


def _outcomes(asked: Asked, led: Sequence[Answered], joint: Sequence[Answered]) -> Outcomes:
    item = asked.item
    texts = [answered((each.answer.text,), item) for each in asked.offered]
    if is_open(item):
        alone = dict.fromkeys((*right_answers(item), *texts, *led))
        places = dict.fromkeys((*alone, *joint))
        return Outcomes({answer: n for n, answer in enumerate(places)}, len(places) + 1, len(alone), True)
    if len(right_answers(item)[0]) > 1:
        ticks = [tuple(text for text, tick in zip(texts, picks, strict=True) if tick) for picks in _picks(len(texts))]
        places = dict.fromkeys(tuple(sorted(sum(tick, ()))) for tick in ticks)
    else:
        places = dict.fromkeys(texts)
    return Outcomes({answer: n for n, answer in enumerate(places)}, len(places), len(places), False)


def _picks(count: int) -> list[tuple[int, ...]]:
    """Every way of ticking at least one of so many choices."""
    return [ticks for ticks in product((0, 1), repeat=count) if any(ticks)]


@dataclass(frozen=True)
class FormActs:
    """One form with every misreading acted out; `names` are those that lead to an answer on offer in the quiz."""

    ident: str
    section: str
    items: tuple[ItemActs, ...]
    names: tuple[str, ...]

    @cached_property
    def leads(self) -> Mapping[str, tuple[frozenset[tuple[str, ...]], ...]]:
        """For each misreading the wrong answers on offer that it leads to, item by item."""
        return {name: tuple(item.leads(name) for item in self.items) for name in self.names}

    def chances(self, misreading: str) -> int:
        """How many items of the form offer an answer of this misreading; variants of one place are one."""
        leads = zip(self.items, self.leads[misreading], strict=True)
        return len({item.asked.number for item, led in leads if led})

    def apart(self, misreading: str, rival: str) -> int:
        """In how many of these items the other misreading does not lead to the same answers."""
        mine, theirs = self.leads[misreading], self.leads[rival]
        rows = zip(self.items, mine, theirs, strict=True)
        return len({item.asked.number for item, led, other in rows if led and led != other})

    def shows(self, misreading: str) -> bool:
        """Whether it leads to an answer on offer in some item, by itself or together with another one."""
        joint = {name for item in self.items for held, _ in item.offered_together for name in held}
        return any(self.leads[misreading]) or misreading in joint

    def typed(self, misreading: str) -> int:
        """How many of its chances are typed or put together, and so show it wherever it leads."""
        pairs = zip(self.items, self.leads[misreading], strict=True)
        return len({item.asked.number for item, led in pairs if led and is_open(item.asked.item)})

    def nearest(self, misreading: str) -> tuple[int, str]:
        """Its nearest rival in the form: the chances that set it apart from that one, and the rival's id."""
        return next(iter(self.rivals(misreading)), (self.chances(misreading), ""))

    def rivals(self, misreading: str) -> tuple[tuple[int, str], ...]:
        """All others that show in the form, nearest first: the chances that set it apart from each, and its id."""
        others = [name for name in self.names if name != misreading and any(self.leads[name])]
        return tuple(sorted((self.apart(misreading, name), name) for name in others))

    @cached_property
    def untold(self) -> tuple[tuple[str, ...], ...]:
        """Groups of misreadings that show, and that no item of the form tells apart."""
        groups: dict[tuple[frozenset[tuple[str, ...]], ...], list[str]] = {}
        for name, led in self.leads.items():
            if any(led):
                groups.setdefault(led, []).append(name)
        return tuple(tuple(group) for group in groups.values() if len(group) > 1)

    @cached_property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """The misreadings that show, those that no item tells apart together, in the order of the table."""
        told = {name for group in self.untold for name in group}
        alone = ((name,) for name, led in self.leads.items() if any(led) and name not in told)
        return tuple(sorted((*self.untold, *alone), key=lambda group: self.names.index(group[0])))

    @cached_property
    def named(self) -> tuple[tuple[str, ...], ...]:
        """The groups that had chances enough to name a student for."""
        return tuple(group for group in self.groups if max(map(self.chances, group)) >= LEAST_CHANCES)

    @cached_property
    def _telling(self) -> tuple[Mapping[int, frozenset[str]], ...]:
        """Item by item, for each place of an outcome the misreadings that lead to it."""
        telling = []
        for n, item in enumerate(self.items):
            led: dict[int, frozenset[str]] = {}
            for name in self.names:
                for answer in self.leads[name][n]:
                    place = item.outcomes.place(answer)
                    led[place] = led.get(place, frozenset()) | {name}
            for held, answer in item.joint:
                place = item.outcomes.place(answer)
                led[place] = led.get(place, frozenset()) | frozenset(held)
            telling.append(led)
        return tuple(telling)

    def seen(self, codes: Sequence[int], group: Sequence[str]) -> tuple[int, ...]:
        """The items (by their place in the form) that a student with these codes answered as one of the group does."""
        pairs = enumerate(zip(self._telling, codes, strict=True))
        return tuple(n for n, (led, code) in pairs if not led.get(code, _NOBODY).isdisjoint(group))


def acted_forms(given: Sequence[Administered]) -> tuple[FormActs, ...]:
    """All forms of a quiz with every misreading acted out that can show in it."""
    misreadings = serving(given)
    acts = [acts_of(form, misreadings) for form in given]
    every = [item for items in acts for item in items]
    joint = {name for item in every for held, _ in item.offered_together for name in held}
    names = tuple(m.id for m in misreadings if m.id in joint or any(item.leads(m.id) for item in every))
    return tuple(FormActs(f.ident, f.section, items, names) for f, items in zip(given, acts, strict=True))


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a form gives a misreading that the blueprint names: chances, and those that set it apart from its nearest
    rival among the others named; no rival, and all of its chances, where it is the only one."""

    misreading: str
    chances: int
    apart: int
    rival: str

    @property
    def lacks(self) -> int:
        """How many chances, and how many of them apart, there are too few."""
        return max(0, WANTED_CHANCES - self.chances) + max(0, WANTED_APART - self.apart)


def wanted_chances(items: Sequence[ItemActs], named: Sequence[str]) -> tuple[Wanted, ...]:
    """What these items give each of the misreadings that a blueprint names.

    The sum of what they lack is the figure by which one choice of items is better than another: an item in which a
    named misreading shares its answer with another one counts as a chance for both, and as apart from all the others.
    """
    form = FormActs("", "", tuple(items), tuple(dict.fromkeys(named)))
    wanted = []
    for name in form.names:
        rivals = [(form.apart(name, other), other) for other in form.names if other != name]
        apart, rival = min(rivals, default=(form.chances(name), ""))
        wanted.append(Wanted(name, form.chances(name), apart, rival))
    return tuple(wanted)
