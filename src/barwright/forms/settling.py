"""Wrong choices for all items of a form at once: what no single item can do, they do together.

While a form is filled, each item whose answer is picked only gets a pool of sets of wrong choices, any of which may
stand in it. Then the sets are taken so that every sum that guessers could live by is near to zero over the form and all
forms before (see `guesser.shares`), and no misreading stands more often or more seldom than in the forms beside. Item
after item takes the set that is best beside those of the others, a few times over. Only then is anything judged.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.choosing import STANDS_OUT, Candidate, held_in, told_apart
from barwright.forms.draft import Draft
from barwright.forms.judging import TRIES, accepted, culprits
from barwright.forms.marks import Mark, Marks, choices_marks
from barwright.forms.parallel import Trait
from barwright.forms.picked_items import FOCUS, Picked, unjudged
from barwright.forms.ready_items import question_of
from barwright.forms.scales import Aim
from barwright.forms.seeing import seen_item
from barwright.guesser.practised import standing_out
from barwright.guesser.shares import NAMED, NAMES, shares_of
from barwright.guesser.winnings import NOTHING
from barwright.items.item import Choice, Item
from barwright.misreadings import JOINT, SELDOM

# What it weighs that a form is unlike the others by one unit of its scales, round by round, against the square of a
# part (`winnings.ITEM`): first what guessers win decides, in the end likeness.
UNLIKE = (2_000, 10_000, 50_000, 100_000, 100_000)

# Ways to credit the choices of a set to misreadings, beside the one that it came with.
CREDITED = 4


@dataclass(frozen=True, slots=True)
class Option:
    """One set of wrong choices for a place: what it adds to the sums, by their numbers, and to the form's marks."""

    wrong: tuple[Candidate, ...]
    shares: tuple[tuple[int, int], ...]
    marks: Marks
    bias: int


@dataclass(slots=True)
class _Place:
    """A place whose wrong choices are open, and the option that it has at present."""

    plan: Plan
    question: Question
    options: list[Option]
    now: Option | None = None


@dataclass(slots=True)
class _Sums:
    """Everything that is to be balanced: `sums` by the number of what they are sums of, `marks` as often as they show.

    `numbers`: the number of each sum by its ask and name.
    """

    aim: Aim
    marks: Counter[Trait | Mark]
    sums: list[int] = field(default_factory=list)
    numbers: dict[tuple[str, object], int] = field(default_factory=dict)

    def number(self, ask: str, name: tuple[str, object], start: int) -> int:
        """The number of a sum, which is at `start` when it is first asked for."""
        known = self.numbers.get((ask, name))
        if known is None:
            known = self.numbers[ask, name] = len(self.sums)
            self.sums.append(start)
        return known

    def best(self, options: Sequence[Option], unlike: int) -> Option:
        """The option with which it all is least worse; what options have in common is reckoned once."""
        sums, marks, aim = self.sums, self.marks, self.aim
        changes: dict[int, int] = {}
        steps: dict[Trait | Mark, int] = {}

        def cost(option: Option) -> int:
            change = changes.get(id(option.shares))
            if change is None:
                change = changes[id(option.shares)] = sum([d * (2 * sums[n] + d) for n, d in option.shares])
            far = 0
            for mark in option.marks:
                if mark not in steps:
                    steps[mark] = aim.far(mark, marks[mark] + 1) - aim.far(mark, marks[mark])
                far += steps[mark]
            return change + option.bias + unlike * far

        return min(options, key=cost)

    def add(self, option: Option, times: int = 1) -> None:
        """Takes an option, or with -1 takes it out again."""
        for number, parts in option.shares:
            self.sums[number] += times * parts
        for mark in option.marks:
            self.marks[mark] += times


def settled(
    draft: Draft, plans: Sequence[Plan], placed: Mapping[int, Item], aim: Aim, rng: Random
) -> tuple[dict[int, Item], list[int]]:
    """The items by place, with wrong choices that the judge accepts, and the places for which there are none.

    The draft holds them all from now on, and judges whatever comes to it.
    """
    open_ = {place: draft.pools[item.id] for place, item in placed.items() if item.id in draft.pools}
    for place in open_:
        draft.release(placed[place])
    draft.settling = False
    sums = _Sums(aim, Counter(draft.shown))
    places = {
        place: _Place(plans[place], question, _options(draft, plans[place], question, pool.sets, sums))
        for place, pool in open_.items()
        for question in [question_of(placed[place])]
    }
    _settle(places, sums, rng)
    items, without = dict(placed), list[int]()
    for place, each in places.items():
        item = _accepted(draft, each, sums)
        if item is None:
            del items[place]
            without.append(place)
        else:
            items[place] = draft.keep(each.plan, each.question, item)
    return items, without


def _options(
    draft: Draft, plan: Plan, question: Question, sets: Sequence[tuple[Candidate, ...]], sums: _Sums
) -> list[Option]:
    ask, options = plan.ask.id, list[Option]()
    moments = draft.guessers.watch.of_ask(ask).sums
    won = draft.guessers.watch.won.get(ask, NOTHING) + draft.guessers.ledger.asks.get(ask, NOTHING)
    over = (
        {name: NAMED * (won.of(name[1]) - won.chance) for name in NAMES} if (ask, NAMES[0]) not in sums.numbers else {}
    )
    for name, parts in over.items():
        sums.number(ask, name, parts)
    for wrong in sets:
        seen = seen_item(ask, question.keys, [c.answer for c in wrong])
        shares = tuple((sums.number(ask, name, moments.get(name, 0)), d) for name, d in shares_of(seen).items())
        # What the part is to be about shows as often as the form wants it, however much it weighs in a single item.
        bias = sum(c.bias + FOCUS * any(way in plan.focus for way in c.ways) for c in wrong)
        # Named misreadings lead to few sets, and come before what guessers win.
        bias += 0 if plan.focus else STANDS_OUT * standing_out(seen) ** 2
        for credited in ways_to_credit(plan, wrong):
            marks = choices_marks(plan, [Choice(c.answer, c.ways) for c in credited], draft.named)
            options.append(Option(credited, shares, marks, bias))
    return options


def ways_to_credit(plan: Plan, wrong: tuple[Candidate, ...]) -> Iterator[tuple[Candidate, ...]]:
    """The set as it is, and with one of its choices credited to another misreading that leads there as well.

    One for two, or two for one, is none; nor what is offered seldom, nor in the place of what the part is to be about.
    """
    yield wrong
    made = 0
    for number, each in enumerate(wrong):
        others = [c for c in wrong if c is not each]
        first = each.ways[0]
        for way in each.ways[1:]:
            if first in plan.focus and way not in plan.focus:
                continue
            same = (JOINT in way) == (JOINT in first) and held_in(way).isdisjoint(SELDOM)
            other = replace(each, ways=(way, *(w for w in each.ways if w != way)))
            if same and all(told_apart(other, c) for c in others):
                yield (*wrong[:number], other, *wrong[number + 1 :])
                made += 1
            if made == CREDITED:
                return


def _settle(places: Mapping[int, _Place], sums: _Sums, rng: Random) -> None:
    for unlike in UNLIKE:
        changed = False
        for place in rng.sample(sorted(places), len(places)):
            each = places[place]
            if each.now is not None:
                sums.add(each.now, -1)
            best = sums.best(each.options, unlike)
            changed |= best is not each.now
            each.now = best
            sums.add(best)
        if not changed and unlike == UNLIKE[-1]:
            break


def _accepted(draft: Draft, place: _Place, sums: _Sums) -> Item | None:
    """The item, if the judge accepts it, else with other choices than those that are refused; None if none is left."""
    assert place.now is not None
    for _ in range(TRIES):
        item = unjudged(place.plan, Picked(place.question, (), place.now.wrong, 0))
        reasons = accepted(place.plan, item, draft.tally)
        if not reasons:
            return item
        bad = {choice.answer for choice in culprits(place.plan, place.question, item.wrong, len(reasons))}
        sums.add(place.now, -1)
        place.options = [o for o in place.options if bad and bad.isdisjoint(c.answer for c in o.wrong)]
        if not place.options:
            return None
        place.now = sums.best(place.options, UNLIKE[-1])
        sums.add(place.now)
    sums.add(place.now, -1)
    return None
