"""The next item whose answer is picked: questions are ranked by what depends on them alone, and the best are built.

A first form takes right answers that were seldom right so far, in this form and in all before; a parallel form those of
its cell, of a difficulty near to the one that is wanted. Wrong choices are taken by what guessers win, and by what
misreadings the form still owes.
"""

from collections.abc import Callable, Iterator, Sequence
from random import Random

from barwright.asks.ask import Mix, Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.draft import Draft
from barwright.forms.equal_sets import can_be_equal
from barwright.forms.judging import bounds_of
from barwright.forms.length_ranks import has_ranks, ranks_of
from barwright.forms.marks import Mark, Marked
from barwright.forms.parallel import APART
from barwright.forms.picked_items import (
    Picked,
    Want,
    drawn_equal_pool,
    drawn_pool,
    fewer_beside,
    judged_item,
    next_mix,
    picked_question,
    told_at_once,
    unjudged,
)
from barwright.forms.question_sample import has_few
from barwright.forms.questions import Cell
from barwright.forms.seeing import seen_answer
from barwright.forms.watch import words_of
from barwright.items.item import Item
from barwright.rhythm.meter import Meter

# Questions of the best that are built if none before makes an item; so often again.
BUILT, ROUNDS = 8, 4
# Of the best those that are looked at for a misreading that the part is to be about; sheets before others will do.
LOOKED_AT, PATIENT = 48, 2
# Items of a first form of which the one is taken that gives guessers least, more of asks that hold few sets for fair;
# in other forms what shows in it decides.
COMPARED, COMPARED_FAIRLY = 2, 4
# Of the best those that are looked at for one with wrong choices of all sorts that an item needs.
LOOKED_AT_OPEN = 3
# The same where some questions have sets in which each choice is as good as any other: more of them are then taken.
LOOKED_AT_EQUAL = 6
# Questions whose ranks differ by less are as good as each other, and compared by what guessers win.
ALIKE = 3
# What another number of right answers than the one that comes next weighs, in the unit of ranks.
OUT_OF_TURN = 20

Found = tuple[Question, Item]
Rank = Callable[[Marked], int]


def picked_free(plan: Plan, draft: Draft, rng: Random) -> Item | None:
    """An item of the first form about an excerpt that no form has, kept; None if no question that was looked at does.

    One with as many choices as are planned and that is about what the part is to be about, as far as any was found. Of
    statements those of a drawn sort come first, such as Yes or No, else the sort that is easier to hide would.
    """
    watch, ask = draft.guessers.watch, plan.ask.id
    mix = next_mix(plan.ask, watch, [each for each, _ in plan.ask.mixes if sum(each) == plan.choices], rng)

    # Of few measures those of the shortest meter would all be asked about, and none left for other parts.
    by_meter = plan.ask.needs_meters > 1 and not has_few(plan.ask, plan.space)
    drawn = plan.ask.draw(plan.space, rng) if plan.ask.sort is not None else None
    sort = words_of(drawn.keys[0])[-1:] if drawn is not None else []

    wanted = _next_rank(plan, draft, rng)

    def rank(each: Marked) -> int:
        return _rank(plan, draft, each, wanted=wanted, sort=sort, mix=mix, by_meter=by_meter)

    picked = _best(
        plan, draft, rng, Want(int(plan.fewer_choices), lacking=draft.lacking(), mix=mix, tried=draft.tried), rank
    )
    if picked is not None and wanted is not None:
        able = ranks_of(plan, picked[0])
        draft.ranks[ask, wanted if wanted in able else min(able, default=0)] += 1
    return None if picked is None else draft.keep(plan, *picked)


def _rank(
    plan: Plan, draft: Draft, each: Marked, *, wanted: int | None, sort: Sequence[str], mix: Mix, by_meter: bool
) -> int:
    """How little a question is wanted next in a first form: what was right seldom, and is next in turn, comes first.

    `wanted`: how many wrong choices are to be shorter; `sort`: what the right answer is to be like, and `mix` how
    lengths are to be shared, if anything; `by_meter`: whether meters are asked about in turn.
    """
    watch, ask, question = draft.guessers.watch, plan.ask.id, each.question
    again = OUT_OF_TURN * (wanted is not None and wanted not in ranks_of(plan, question))
    again += draft.meeting(each.marks) + 100 * (draft.too_often(plan, question) + draft.repeats(question))
    if not _is_short(plan):
        return again + (4 * watch.right[ask, str(question.excerpt.meter)] if by_meter else 0)
    by_length = plan.ask.answer != "claim"
    sizes = sum(watch.right[ask, seen_answer(key).size] for key in question.keys) if by_length else 0
    words = [word for key in question.keys for word in (words_of(key) if by_length else [key.text])]
    worn = sum(watch.right[ask, word] for word in words)
    again += ALIKE * (bool(sort) and words_of(question.keys[0])[-1] not in sort)
    again += OUT_OF_TURN * (bool(mix) and len(question.keys) != mix[0])
    return again + (4 * sizes + worn) // len(question.keys)


def _next_rank(plan: Plan, draft: Draft, rng: Random) -> int | None:
    """How many wrong choices are to be shorter than the next right answer: a number that was seldom so far."""
    if not has_ranks(plan):
        return None
    ranks = rng.sample(range(plan.choices), plan.choices)
    return min(ranks, key=lambda rank: draft.ranks[plan.ask.id, rank])


def _is_short(plan: Plan) -> bool:
    """Whether a right answer is a length or a symbol of few, each of which must be right about as often."""
    return plan.ask.answer in ("symbols", "meter", "claim")


def picked_in_cell(plan: Plan, cell: Cell, draft: Draft, rng: Random, aim: int, *, meter: Meter | None) -> Found | None:
    """An item like the cell's, in one meter or in any, of difficulty near to `aim`; it is not kept yet."""
    owed = {} if draft.settling else {misreading: -over for misreading, over in draft.over(plan.ask.id).items()}

    def rank(each: Marked) -> int:
        return abs(each.difficulty - aim) + draft.unlike(each.marks)

    choices = len(cell.keys) + (cell.wrong or bounds_of(plan, len(cell.keys), fewer=0).most)
    want = Want(fewer_beside(plan), choices, owed, draft.lacking(), tried=draft.tried)
    return _best(plan, draft, rng, want, rank, meter, len(cell.keys))


def _best(
    plan: Plan, draft: Draft, rng: Random, want: Want, rank: Rank, meter: Meter | None = None, keys: int = 0
) -> Found | None:
    """The item that gives guessers least of the first that can be made; if the judge refuses it the next.

    `keys`: how many right answers it has, if that is known: sections tick as many.
    """
    for sheet, ranked in enumerate(_ranked(plan, draft, rank, meter)):
        alike = [each for each in ranked if len(each[1].keys) == keys] if keys else ranked
        if not alike and sheet < ROUNDS - 1:
            continue
        ranked = alike or ranked
        led = _led(plan, ranked[:LOOKED_AT], _sought(plan, draft, want), rng)
        if not led and sheet < PATIENT:
            continue
        if draft.settling:
            open_ = _open(plan, draft, rng, want, [question for _, question in led or ranked[:BUILT]])
            if open_ is not None:
                return open_
            continue
        made: list[tuple[bool, int, int, int, Picked]] = []
        for number, (cost, question) in enumerate(led or ranked[:BUILT]):
            picked = picked_question(plan, question, want, tally=draft.tally, rng=rng, guessers=draft.guessers)
            if picked is not None:
                aside = bool(plan.focus) and picked.about.isdisjoint(plan.focus)
                made.append((aside, cost // ALIKE, picked.cost, number, picked))
            compared = 1 if want.owed is not None else COMPARED if plan.ask.sets is None else COMPARED_FAIRLY
            if len(made) >= compared and not min(each[0] for each in made):
                break
        for *_, picked in sorted(made, key=lambda each: each[:4]):
            item = judged_item(plan, picked, want, tally=draft.tally, rng=rng, guessers=draft.guessers)
            if item is not None:
                draft.tally.kept[plan.ask.id] += 1
                draft.tally.led[plan.ask.id] += len(picked.left)
                return picked.question, item
    return None


def _open(plan: Plan, draft: Draft, rng: Random, want: Want, questions: Sequence[Question]) -> Found | None:
    """An item of the first question that has wrong choices to be taken later, of all sorts that are wanted.

    It is not judged before.
    """
    about = _sought(plan, draft, want)
    if can_be_equal(plan) and (equal := _open_equally(plan, draft, rng, want, questions[:LOOKED_AT_EQUAL])) is not None:
        return equal
    best: tuple[tuple[int, int, int], Found] | None = None
    for number, question in enumerate(questions):
        if number >= LOOKED_AT_OPEN and best is not None:
            offered = best[1][1].offered
            if not about or not about.isdisjoint(offered):
                break
        pool = drawn_pool(plan, question, want, tally=draft.tally, rng=rng, guessers=draft.guessers)
        if not pool.sets:
            continue
        picked = Picked(question, (), min(pool.sets, key=lambda wrong: sum(c.bias for c in wrong)), 0)
        item = unjudged(plan, picked)
        draft.pools[item.id] = pool
        aside = min(len(about), len(picked.wrong)) - len(about & picked.about)
        cost = (aside, pool.quota.lack(picked.wrong), pool.cost)
        if best is None or cost < best[0]:
            best = cost, (question, item)
        if not any(best[0]):
            break
    return None if best is None else best[1]


def _open_equally(plan: Plan, draft: Draft, rng: Random, want: Want, questions: Sequence[Question]) -> Found | None:
    """An item of a question that has sets in which each choice could be right, drawn by how many of them it has."""
    pools = [(drawn_equal_pool(plan, each, want, tally=draft.tally, rng=rng), each) for each in questions]
    able = [(pool, question) for pool, question in pools if pool.sets]
    if not able:
        return None
    pool, question = min(able, key=lambda each: each[0].cost)
    item = unjudged(plan, Picked(question, (), pool.sets[0], 0))
    draft.pools[item.id] = pool
    return question, item


def _sought(plan: Plan, draft: Draft, want: Want) -> frozenset[str]:
    """The misreadings that the next item is to be about, of those of the part: such as have too few chances so far."""
    lacking = {one for one, _ in want.lacking}
    shown = {one: draft.shown[Mark("about", str(plan.number), one)] for one in plan.focus}
    return frozenset(one for one in plan.focus if one in lacking or shown[one] < APART) or frozenset(plan.focus)


def _led(
    plan: Plan, ranked: Sequence[tuple[int, Question]], about: frozenset[str], rng: Random
) -> list[tuple[int, Question]]:
    """The first of these questions on which one of the misreadings shows; where several may, those of most of them."""
    if not about:
        return list(ranked[:BUILT])
    led: dict[int, list[tuple[int, Question]]] = {}
    for each in ranked:
        shown = min(_shown(plan, each[1], about, rng), plan.choices - 1)
        led.setdefault(shown, []).append(each)
        if len(led.get(min(len(about), plan.choices - 1), ())) == BUILT:
            break
    return [each for shown in sorted(led, reverse=True) if shown for each in led[shown]][:BUILT]


def _shown(plan: Plan, question: Question, about: frozenset[str], rng: Random) -> int:
    """How many of these misreadings can show on the question at once."""
    offers = plan.ask.offers(question, plan.space.anywhere, rng)
    return told_at_once(about, offers.values())


def _ranked(plan: Plan, draft: Draft, rank: Rank, meter: Meter | None) -> Iterator[list[tuple[int, Question]]]:
    """Questions that may stand in the form, the best first, with their ranks: those of one sheet, then of others."""
    seen: set[str] = set()
    for _ in range(ROUNDS):
        ranked: list[tuple[int, Question]] = []
        for each in draft.sheets.of(plan, meter):
            question = each.question
            if question.text not in seen and not draft.elsewhere(question) and not draft.meets(plan, question):
                seen.add(question.text)
                ranked.append((rank(each), question))
        yield sorted(ranked, key=lambda each: each[0])
        draft.sheets.turn(plan)
