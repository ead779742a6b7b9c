"""An item whose answer is picked: of all sets of wrong choices that errors lead to, one that gives nothing away.

Beside what guessers win (see `choosing`) it weighs which misreadings the form still owes, and what is no usual wrong
choice: a rhythm that was one before, a figure as long as the measure or longer, a symbol that is never right.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache, partial
from random import Random

from barwright.asks.ask import Ask, Mix, Question, Space
from barwright.asks.measure_completion import sort_of
from barwright.blueprint.blueprint import Plan
from barwright.forms.choosing import (
    FINELY,
    NO_QUOTA,
    TRIED,
    Candidate,
    Quota,
    Strictness,
    Weighed,
    candidates_from,
    cheapest,
    fitting_sets,
    held_in,
)
from barwright.forms.distractors import CHANCES
from barwright.forms.equal_sets import can_be_equal, equal_sets, wait
from barwright.forms.fair_choices import fair_sets
from barwright.forms.judging import Bounds, Tally, accepted, bounds_of, culprits, item_of
from barwright.forms.looks import rows_like
from barwright.forms.question_sample import has_few
from barwright.forms.seeing import BY_LENGTH, seen_answer, seen_item
from barwright.forms.watch import Guessers, Watch, mix_of
from barwright.guesser.winnings import NOTHING
from barwright.items.item import Answer, Choice, Item
from barwright.misreadings import EVEN_LOOKS, JOINT, SELDOM

# What a misreading weighs that stands once oftener, or seldomer, in a parallel form than it should, in the unit of
# `choosing`; and one that stands once oftener in a first form than is wanted.
OWED, FRESH = 16_000, 4_000
# A misreading that the part is to be about comes before anything that guessers could win.
FOCUS = 10_000_000
# A wrong choice by which a named misreading can be told, or be told from another one, while that is wanted.
LACKING = 60_000
# A rhythm that was a wrong choice of the form before: who has read its hint would strike it out.
AGAIN = 40_000
KEYS_DRAWN = 60
# Sets of wrong choices of one question that the judge is asked about: some lengths it refuses one after the other.
SETS_JUDGED = 8
# Sets that an ask holds for fair, and that named strategies are tried on.
FAIRLY = 40
# What a mix of lengths weighs that stands once oftener than its share, in the unit of `choosing`.
OVERDONE = 1_000_000
# Pairs of misreadings that are named of all that lead to one answer: a pick cannot tell them apart anyway.
MOST_PAIRS = 4


@dataclass(frozen=True, slots=True)
class Picked:
    """A question with wrong choices that are not judged yet, and what they cost; the less the better."""

    question: Question
    left: tuple[Candidate, ...]
    wrong: tuple[Candidate, ...]
    cost: int

    @property
    def about(self) -> frozenset[str]:
        """The misreadings that its wrong choices stand for, those that are held with another left out."""
        return frozenset(c.ways[0] for c in self.wrong)


@dataclass(frozen=True, slots=True)
class Pool:
    """Sets of wrong choices of which any may stand with a question, and what it costs to take one."""

    sets: tuple[tuple[Candidate, ...], ...] = ()
    quota: Quota = NO_QUOTA
    cost: int = 0

    def can_show(self, named: Iterable[str]) -> frozenset[str]:
        """The misreadings of these that some set offers."""
        return frozenset(named).intersection(way for wrong in self.sets for each in wrong for way in each.ways)


@dataclass(frozen=True, slots=True)
class Want:
    """What is wanted of the wrong choices of an item.

    `fewer`: how many less than planned at most; `choices`: so many, right ones too, instead of those planned, if any.
    `owed`: in how many items more each misreading should stand in the form, below 0 for fewer; without it those begun
    come first. `lacking`: named misreadings, and others of which they are not set apart often enough (see
    `parallel.too_few_chances`). `mix`: how lengths are shared, where that goes in turn. `tried`: how many sets of wrong
    choices are drawn of a question.
    """

    fewer: int = 0
    choices: int = 0
    owed: Mapping[str, int] | None = None
    lacking: tuple[tuple[str, str], ...] = ()
    mix: Mix = ()
    tried: int = TRIED

    def bounds(self, plan: Plan, question: Question) -> Bounds:
        """How many wrong choices an item of the question has."""
        planned, wrong = bounds_of(plan, len(question.keys), fewer=self.fewer), self.choices - len(question.keys)
        return Bounds(min(wrong, max(planned.least, wrong - self.fewer)), wrong) if self.choices else planned


def fewer_beside(plan: Plan) -> int:
    """How many choices less than another an item may have in its place: where questions are few, one if it must be."""
    return int(plan.fewer_choices and has_few(plan.ask, plan.space))


def picked_question(
    plan: Plan, question: Question, want: Want, *, tally: Tally, rng: Random, guessers: Guessers
) -> Picked | None:
    """The question with its best set of wrong choices; None if too few lead anywhere."""
    candidates = _candidates(plan, question, tally, rng, want)
    return _chosen(plan, question, candidates, want, tally, guessers, rng)


def drawn_pool(plan: Plan, question: Question, want: Want, *, tally: Tally, rng: Random, guessers: Guessers) -> Pool:
    """The sets of wrong choices of a question, of which one is to be taken later; none if too few lead anywhere."""
    pool = pool_of(plan, question, _candidates(plan, question, tally, rng, want), want, guessers, rng)
    about = tuple(wrong for wrong in pool.sets if told_at_once(plan.focus, [c.ways for c in wrong]))
    return replace(pool, sets=about or pool.sets)


def told_at_once(named: Iterable[str], ways: Iterable[Iterable[str]]) -> int:
    """How many of these misreadings can show in choices of one item, which these ways lead to: each in one choice.

    >>> told_at_once(("a", "b"), [("a", "b"), ("c",)]), told_at_once(("a", "b"), [("a", "b"), ("b",)])
    (1, 2)
    """
    led = [shown for each in ways if (shown := set(named).intersection(each))]
    return min(len(led), len(set().union(*led)))


def _chosen(
    plan: Plan, question: Question, left: tuple[Candidate, ...], want: Want, tally: Tally, guessers: Guessers,
    rng: Random,
) -> Picked | None:  # fmt: skip
    best = _best(plan, question, left, want, guessers, rng)
    tally.short += best is None
    return None if best is None else Picked(question, left, best.wrong, best.cost)


def unjudged(plan: Plan, picked: Picked) -> Item:
    """The item that it would be."""
    return item_of(plan, picked.question, tuple(Choice(c.answer, c.ways) for c in picked.wrong))


def judged_item(
    plan: Plan, picked: Picked, want: Want, *, tally: Tally, rng: Random, guessers: Guessers
) -> Item | None:
    """The item, if the judge accepts it, else with other choices than those that are refused; None if none is left."""
    now: Picked | None = picked
    for _ in range(SETS_JUDGED):
        if now is None:
            return None
        item = unjudged(plan, now)
        reasons = accepted(plan, item, tally)
        if not reasons:
            return item
        bad = {choice.answer for choice in culprits(plan, now.question, item.wrong, len(reasons))}
        if not bad:
            return None
        left = tuple(c for c in now.left if c.answer not in bad)
        now = _chosen(plan, now.question, left, want, tally, guessers, rng)
    return None


def picked_item(
    plan: Plan, question: Question, *, fewer: int, tally: Tally, rng: Random, guessers: Guessers | None = None,
    wrong: int = 0,
) -> Item | None:  # fmt: skip
    """An item of the question, with at most `fewer` choices less than planned, or exactly so many `wrong` ones.

    None if there is none. Without `guessers` any item does.
    """
    want, who = Want(fewer, wrong and wrong + len(question.keys)), guessers or Guessers()
    picked = picked_question(plan, question, want, tally=tally, rng=rng, guessers=who)
    return None if picked is None else judged_item(plan, picked, want, tally=tally, rng=rng, guessers=who)


def _candidates(plan: Plan, question: Question, tally: Tally, rng: Random, want: Want) -> tuple[Candidate, ...]:
    space = plan.space.anywhere
    single = plan.ask.offers(question, space, rng)
    candidates = candidates_from(single, plan.ask.pairs(question, space))
    often, owed = tally.offered, want.owed

    @cache
    def weight(misreading: str) -> int:
        if owed is not None:
            return -OWED * owed.get(misreading, 0)
        return FRESH * (1 if not often[misreading] else max(0, often[misreading] + 1 - CHANCES))

    def rank(way: str) -> tuple[bool, bool, int]:
        held = held_in(way)
        focused = way in plan.focus
        return not focused, not focused and bool(held & SELDOM), sum(map(weight, held))

    made = []
    for each in candidates:
        first, *others = sorted(each.ways, key=rank) if len(each.ways) > 1 else each.ways
        held = held_in(first)
        bias = sum(map(weight, held)) - FOCUS * (first in plan.focus) + AGAIN * tally.rhythms[each.answer]
        if want.lacking:
            bias -= LACKING * sum(
                one in each.ways and (one == other or other not in each.ways) for one, other in want.lacking
            )
        rare = held & (SELDOM | EVEN_LOOKS if plan.focus else SELDOM)
        seldom = first not in plan.focus and (bool(rare) or not _is_usual(plan, question, each.answer))
        ways = (first, *others)[:MOST_PAIRS] if JOINT in first else (first, *others)
        made.append(Candidate(each.answer, ways, bias, seldom))
    return tuple(made)


def _is_usual(plan: Plan, question: Question, answer: Answer) -> bool:
    """Whether a filling is shorter than a measure, and of symbols that are right in some question of the part."""
    if answer.kind != "symbols" or plan.ask.interaction == "several":
        return True
    if seen_answer(answer).size >= question.excerpt.meter.ticks:
        return False
    return set(answer.text.split()) <= _right_symbols(plan.ask, plan.space.anywhere)


@lru_cache(maxsize=256)
def _right_symbols(ask: Ask, space: Space) -> frozenset[str]:
    """The symbols that are, or are part of, a right answer in some of the questions of a space."""
    rng = Random(ask.id)
    drawn = (ask.draw(space, rng) for _ in range(KEYS_DRAWN))
    return frozenset(token for q in drawn if q is not None for key in q.keys for token in key.text.split())


def _best(
    plan: Plan, question: Question, candidates: tuple[Candidate, ...], want: Want, guessers: Guessers, rng: Random
) -> Weighed | None:
    """The best set by which guessers are nearest to chance."""
    watch, ask = guessers.watch, plan.ask.id
    pool = pool_of(plan, question, candidates, want, guessers, rng)
    weighed = cheapest(
        ask,
        question.keys,
        pool.sets,
        ledger=guessers.ledger,
        moments=watch.of_ask(ask),
        before=watch.won.get(ask, NOTHING),
        quota=pool.quota,
        finely_tried=FINELY if plan.ask.sets is None else FAIRLY,
    )
    return None if weighed is None else replace(weighed, cost=weighed.cost + pool.cost)


def pool_of(
    plan: Plan, question: Question, candidates: tuple[Candidate, ...], want: Want, guessers: Guessers, rng: Random
) -> Pool:
    """The sets to choose from; where none of as many choices as planned tells all apart, a smaller one comes first."""
    bounds = want.bounds(plan, question)
    sizes = range(bounds.most, bounds.least - 1, -1)
    if plan.ask.sets is not None:
        return _fair_pool(plan, question, candidates, sizes, want, guessers, rng)
    equal = _equal_pool(plan, question, candidates, bounds.most, want, rng)
    return equal if equal.sets else _pool_of_any(plan, question, candidates, sizes, want, guessers, rng)


def drawn_equal_pool(plan: Plan, question: Question, want: Want, *, tally: Tally, rng: Random) -> Pool:
    """The sets of a question in which each choice could be the right one, if it has any: see `equal_sets`."""
    most = want.bounds(plan, question).most
    return _equal_pool(plan, question, _candidates(plan, question, tally, rng, want), most, want, rng)


def _equal_pool(
    plan: Plan, question: Question, candidates: tuple[Candidate, ...], count: int, want: Want, rng: Random
) -> Pool:
    equal = equal_sets(plan, question, candidates, count) if can_be_equal(plan) else []
    if not equal:
        return Pool()
    return Pool(tuple(rng.sample(equal, min(len(equal), want.tried))), cost=wait(len(equal), rng))


def _pool_of_any(
    plan: Plan, question: Question, candidates: tuple[Candidate, ...], sizes: Sequence[int], want: Want,
    guessers: Guessers, rng: Random,
) -> Pool:  # fmt: skip
    """The sets to choose from where any wrong answers may stand together that tell all apart."""
    quota = _quota(plan, question, candidates, want, guessers)
    spare: list[tuple[Candidate, ...]] = []
    lengths = _have_lengths(plan.ask, len(question.keys))
    for strictness, count in _ways_to_choose(plan.ask, len(question.keys), sizes):
        if spare and (len(spare[0]) > count or (lengths and strictness is Strictness.ANY)):
            continue
        fitting = fitting_sets(
            plan.ask.id,
            question.keys,
            candidates,
            count,
            rng=rng,
            clash=partial(plan.ask.clash, question),
            quota=quota,
            strictness=strictness,
            tried=want.tried,
        )
        sets = [each for each in fitting if _can_be_right(plan, question, each)]
        lacks = [quota.lack(each) for each in sets]
        if sets and not min(lacks):
            return Pool(tuple(each for each, lack in zip(sets, lacks, strict=True) if not lack), quota)
        spare = spare or [each for each, lack in zip(sets, lacks, strict=True) if lack == min(lacks)]
    return Pool(tuple(spare), quota)


def _can_be_right(plan: Plan, question: Question, wrong: Sequence[Candidate]) -> bool:
    """Whether the right answer can be told from the wrong ones at all, by whoever reads stem and figure."""
    if plan.ask.id not in BY_LENGTH:
        return len(question.keys) == 1
    return seen_item(plan.ask.id, question.keys, [c.answer for c in wrong]).right is not None


def _fair_pool(
    plan: Plan, question: Question, candidates: tuple[Candidate, ...], sizes: Iterable[int], want: Want,
    guessers: Guessers, rng: Random,
) -> Pool:  # fmt: skip
    """The largest sets that the ask holds for fair; of mixes of lengths those of the one that comes next in turn."""
    watch, ask = guessers.watch, plan.ask.id
    quota = _of_the_sort(question, [c.answer for c in candidates]) if plan.ask.answer == "symbols" else NO_QUOTA
    for count in sizes:
        drawn, cost = fair_sets(plan, question, candidates, count, rng), 0
        sets = [each for each in drawn if not quota.lack(each) and _can_be_right(plan, question, each)]
        if plan.ask.mixes and sets:
            mixes = {each: mix_of(seen_item(ask, question.keys, [c.answer for c in each])) for each in sets}
            able = sorted(set(mixes.values()))
            mix = want.mix if want.mix in able else next_mix(plan.ask, watch, able, rng)
            sets, cost = [each for each in sets if mixes[each] == mix], OVERDONE * watch.overdone(ask, mix)
        if sets:
            return Pool(tuple(sets), cost=cost)
    return Pool()


def next_mix(ask: Ask, watch: Watch, mixes: Sequence[Mix], rng: Random) -> Mix:
    """One of these mixes, drawn by how much is wanting to its share, or of none wanting of those overdone least."""
    if not mixes:
        return ()
    over = {mix: watch.overdone(ask.id, mix) for mix in mixes}
    least = [mix for mix in mixes if over[mix] == min(over.values())]
    able = [mix for mix in least for _ in range(watch.wanting(ask.id, mix))] or least
    return able[rng.randrange(len(able))]


def _have_lengths(ask: Ask, keys: int) -> bool:
    """Whether two wrong choices of one length could both be struck out, since the one right one has its own."""
    return ask.id in BY_LENGTH and keys == 1


def _ways_to_choose(ask: Ask, keys: int, sizes: Iterable[int]) -> Iterator[tuple[Strictness, int]]:
    """How strictly, and how many: where lengths are few, better one choice fewer than one that is offered seldom, and
    better that one than two that cannot be right."""
    counts = list(sizes)
    if _have_lengths(ask, keys):
        yield from (
            (level, count) for level in (Strictness.USUAL, Strictness.LENGTHS, Strictness.ANY) for count in counts
        )
    else:
        yield from ((level, count) for count in counts for level in (Strictness.USUAL, Strictness.ANY))


def _of_the_sort(question: Question, answers: Sequence[Answer]) -> Quota:
    """One must be of notes, rests or both, as a right one is."""
    sorts = {sort_of(key.text) for key in question.keys}
    return Quota(frozenset(a for a in answers if sort_of(a.text) in sorts), 1)


def _quota(plan: Plan, question: Question, candidates: tuple[Candidate, ...], want: Want, guessers: Guessers) -> Quota:
    """How many rows must look like counts, where parentheses show the rests; or one choice must be of another sort.

    Rows that are never right come last, but for those that a named misreading leads to.
    """
    answers = [c.answer for c in candidates]
    if plan.ask.sort is not None:
        sorts = set(map(plan.ask.sort, question.keys))
        return Quota(frozenset(a for a in answers if plan.ask.sort(a) not in sorts), 1)
    if plan.ask.answer == "symbols":
        return _of_the_sort(question, answers)
    somewhere = plan.ask.right_somewhere
    if somewhere is None:
        return NO_QUOTA
    named = {*plan.focus, *(one for one, _ in want.lacking)}
    able = (c.answer for c in candidates if not named.isdisjoint(c.ways))
    right = frozenset((*able, *(a for a in answers if somewhere(question, a, plan.space.anywhere))))
    if plan.space.conventions.rest_counts != "parentheses":
        return Quota(right_somewhere=right, evenly=not named)
    wanted = guessers.looks_of(plan.ask.id).wanted()
    return Quota(rows_like(question.keys[0], answers), wanted, right, evenly=not named)
