"""The next item whose answer is picked: questions are ranked by what depends on them alone, and the best are built.

A first form takes right answers that were seldom right so far, in this form and in all before; a parallel form those of
its cell, of a difficulty near to the one that is wanted. Wrong choices are taken by what guessers win, and by what
misreadings the form still owes.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from itertools import islice
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.draft import Desk
from barwright.forms.judging import bounds_of
from barwright.forms.picked_items import Picked, Want, judged_item, next_mix, picked_question
from barwright.forms.question_sample import has_few
from barwright.forms.questions import UNLIKE, Cell, is_like, listed_at_random
from barwright.forms.seeing import seen_answer
from barwright.forms.watch import words_of
from barwright.items.difficulty import difficulty
from barwright.items.item import Item

# Questions that are drawn and ranked, twice as many where each right answer shall come about as often; those of the
# best that are built if none before makes an item; so often again.
DRAWN, BUILT, ROUNDS = 12, 8, 4
# Items of which the one is taken that gives guessers least; of asks that hold few sets for fair more are compared.
COMPARED, COMPARED_FAIRLY = 2, 4
# Questions whose ranks differ by less are as good as each other, and compared by what guessers win.
ALIKE = 3
# What another number of right answers than the one that comes next weighs, in the unit of ranks.
OUT_OF_TURN = 20

Found = tuple[Question, Item]
Rank = Callable[[Question], int]


def picked_free(plan: Plan, desk: Desk, rng: Random) -> Item | None:
    """An item of the first form about an excerpt that no form has, kept; None if no question that was looked at does.

    One with as many choices as are planned and that is about what the part is to be about, as far as any was found. Of
    statements those of a drawn sort come first, such as Yes or No, else the sort that is easier to hide would.
    """
    watch, ask = desk.guessers.watch, plan.ask.id
    mix = next_mix(plan.ask, watch, [each for each, _ in plan.ask.mixes if sum(each) == plan.choices], rng)

    # Of few measures those of the shortest meter would all be asked about, and none left for other parts.
    by_meter = plan.ask.needs_meters > 1 and not has_few(plan.ask, plan.space)
    drawn = plan.ask.draw(plan.space, rng)
    sort = words_of(drawn.keys[0])[-1:] if drawn is not None else []

    def rank(question: Question) -> int:
        again = 100 * desk.too_often(plan, question) + 100 * desk.repeats(question)
        if not _is_short(plan):
            return again + (4 * watch.right[ask, str(question.excerpt.meter)] if by_meter else 0)
        by_length = plan.ask.answer != "claim"
        sizes = sum(watch.right[ask, seen_answer(key).size] for key in question.keys) if by_length else 0
        worn = sum(watch.right[ask, word] for key in question.keys for word in words_of(key))
        again += ALIKE * (not by_length and bool(sort) and words_of(question.keys[0])[-1] not in sort)
        again += OUT_OF_TURN * (bool(mix) and len(question.keys) != mix[0])
        return again + (4 * sizes + worn) // len(question.keys)

    found = _best(plan, desk, rng, Want(int(plan.fewer_choices), mix=mix), rank)
    return None if found is None else desk.keep(plan, *found)


def _is_short(plan: Plan) -> bool:
    """Whether a right answer is a length or a symbol of few, each of which must be right about as often."""
    return plan.ask.answer in ("symbols", "meter", "claim")


def picked_in_cell(plan: Plan, cell: Cell, desk: Desk, rng: Random, aim: int) -> Found | None:
    """An item of the cell of difficulty near to `aim`, with as many wrong choices; it is not kept yet."""
    owed = Counter(desk.due)
    owed.subtract(desk.tally.offered)

    def rank(question: Question) -> int:
        unlike = not is_like(plan, question, cell)
        away = abs(difficulty(question.excerpt, plan.weights) - aim)
        return away + UNLIKE * (unlike + desk.repeats(question)) + OUT_OF_TURN * (unlike and bool(plan.ask.mixes))

    choices = len(cell.keys) + (cell.wrong or bounds_of(plan, len(cell.keys), fewer=0).most)
    return _best(plan, desk, rng, Want(0, choices, owed), rank, listed=True)


def _best(plan: Plan, desk: Desk, rng: Random, want: Want, rank: Rank, *, listed: bool = False) -> Found | None:
    """The item that gives guessers least of the first that can be made; if the judge refuses it the next."""
    for questions in _ranked(plan, desk, rng, rank, listed=listed):
        made: list[tuple[bool, int, int, int, Picked]] = []
        for number, question in enumerate(questions[:BUILT]):
            found = picked_question(plan, question, want, tally=desk.tally, rng=rng, guessers=desk.guessers)
            if found is not None:
                aside = bool(plan.focus) and found.about.isdisjoint(plan.focus)
                made.append((aside, rank(question) // ALIKE, found.cost, number, found))
            if len(made) >= (COMPARED if plan.ask.sets is None else COMPARED_FAIRLY) and not min(
                each[0] for each in made
            ):
                break
        for *_, found in sorted(made, key=lambda each: each[:4]):
            item = judged_item(plan, found, want, tally=desk.tally, rng=rng, guessers=desk.guessers)
            if item is not None:
                desk.tally.kept[plan.ask.id] += 1
                desk.tally.led[plan.ask.id] += len(found.left)
                return found.question, item
    return None


def _ranked(plan: Plan, desk: Desk, rng: Random, rank: Rank, *, listed: bool = False) -> Iterator[list[Question]]:
    """Questions that may stand in the form, the best first: some drawn, then others; if `listed` all of few.

    Draws come as often as an ask wants them, which a list does not tell.
    """
    seen: set[str] = set()
    few = listed and has_few(plan.ask, plan.space)
    tried = listed_at_random(plan, rng) if few else _drawn(plan, rng)
    for _ in range(ROUNDS):
        found: list[tuple[int, int, Question]] = []
        for question in islice(tried, None if few else DRAWN * (1 + _is_short(plan))):
            if question.text not in seen and not desk.elsewhere(question) and not desk.meets(plan, question):
                seen.add(question.text)
                found.append((rank(question), len(found), question))
        yield [question for _, _, question in sorted(found, key=lambda each: each[:2])]


def _drawn(plan: Plan, rng: Random) -> Iterator[Question]:
    for _ in range(8 * ROUNDS * DRAWN):
        question = plan.ask.draw(plan.space, rng)
        if question is not None:
            yield question
