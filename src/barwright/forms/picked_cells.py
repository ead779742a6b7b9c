"""The next item whose answer is picked: questions are ranked by what depends on them alone, and the best are built.

A first form takes right answers that were seldom right so far, in this form and in all before; a parallel form those of
its cell, of a difficulty near to the one that is wanted. Wrong choices are taken by what guessers win, and by what
misreadings the form still owes.
"""

from collections.abc import Callable, Iterator
from itertools import islice
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.draft import Desk
from barwright.forms.judging import Bounds, bounds_of
from barwright.forms.marks import Marked
from barwright.forms.picked_items import Picked, Want, judged_item, picked_question
from barwright.forms.questions import Cell
from barwright.forms.seeing import seen_answer
from barwright.items.item import Item
from barwright.rhythm.meter import Meter

# Questions of the best that are built if none before makes an item; so often again.
BUILT, ROUNDS = 8, 4
# Of the best those that are looked at for a misreading that the part is to be about; sheets before others will do.
LOOKED_AT, PATIENT = 48, 2
# Items of a first form of which the one is taken that gives guessers least; in other forms what shows in it decides.
COMPARED = 2
# Questions whose ranks differ by less are as good as each other, and compared by what guessers win.
ALIKE = 3

Found = tuple[Question, Item]
Rank = Callable[[Marked], int]


def picked_free(plan: Plan, desk: Desk, rng: Random) -> Item | None:
    """An item of the first form about an excerpt that no form has, kept; None if no question that was looked at does.

    One with as many choices as are planned and that is about what the part is to be about, as far as any was found.
    """
    watch, ask = desk.guessers.watch, plan.ask.id

    def rank(each: Marked) -> int:
        question = each.question
        keys = [key.text for key in question.keys]
        sizes = sum(watch.right[ask, seen_answer(key).size] for key in question.keys)
        worn = sum(watch.right[ask, token] for text in keys for token in text.split()) if _is_short(plan) else 0
        worn += sum(4 * watch.right[ask, text.split()[0]] for text in keys if plan.ask.answer == "claim")
        meets = desk.meeting(each.marks) + 100 * desk.too_often(plan, question)
        return meets + 4 * (sizes if _is_short(plan) else 0) + worn

    bounds = bounds_of(plan, plan.ask.keys, fewer=int(plan.fewer_choices))
    found = _best(plan, desk, rng, Want(bounds, lacking=desk.lacking()), rank)
    return None if found is None else desk.keep(plan, *found)


def _is_short(plan: Plan) -> bool:
    """Whether a right answer is a length or a symbol of few, each of which must be right about as often."""
    return plan.ask.answer in ("symbols", "meter")


def picked_in_cell(plan: Plan, cell: Cell, desk: Desk, rng: Random, aim: int, *, meter: Meter | None) -> Found | None:
    """An item like the cell's, in one meter or in any, of difficulty near to `aim`; it is not kept yet."""
    owed = {misreading: -over for misreading, over in desk.over(plan.ask.id).items()}

    def rank(each: Marked) -> int:
        return abs(each.difficulty - aim) + desk.unlike(each.marks)

    wrong = cell.wrong or bounds_of(plan, len(cell.keys), fewer=0).most
    return _best(plan, desk, rng, Want(Bounds(wrong, wrong), owed, desk.lacking()), rank, meter)


def _best(plan: Plan, desk: Desk, rng: Random, want: Want, rank: Rank, meter: Meter | None = None) -> Found | None:
    """The item that gives guessers least of the first that can be made; if the judge refuses it the next."""
    for sheet, ranked in enumerate(_ranked(plan, desk, rank, meter)):
        led = list(islice((each for each in ranked[:LOOKED_AT] if _leads(plan, each[1], rng)), BUILT))
        if not led and sheet < PATIENT:
            continue
        made: list[tuple[bool, int, int, int, Picked]] = []
        for number, (cost, question) in enumerate(led or ranked[:BUILT]):
            found = picked_question(plan, question, want, tally=desk.tally, rng=rng, guessers=desk.guessers)
            if found is not None:
                aside = bool(plan.focus) and found.about.isdisjoint(plan.focus)
                made.append((aside, cost // ALIKE, found.cost, number, found))
            if len(made) >= (COMPARED if want.owed is None else 1) and not min(each[0] for each in made):
                break
        for *_, found in sorted(made, key=lambda each: each[:4]):
            item = judged_item(plan, found, want, tally=desk.tally, rng=rng, guessers=desk.guessers)
            if item is not None:
                desk.tally.kept[plan.ask.id] += 1
                desk.tally.led[plan.ask.id] += len(found.left)
                return found.question, item
    return None


def _leads(plan: Plan, question: Question, rng: Random) -> bool:
    """Whether a misreading that the part is to be about leads to a wrong answer here; true where it is about none."""
    if not plan.focus:
        return True
    offers = plan.ask.offers(question, plan.space.anywhere, rng)
    return any(not ids_of.isdisjoint(plan.focus) for ids_of in map(frozenset, offers.values()))


def _ranked(plan: Plan, desk: Desk, rank: Rank, meter: Meter | None) -> Iterator[list[tuple[int, Question]]]:
    """Questions that may stand in the form, the best first, with their ranks: those of one sheet, then of others."""
    seen: set[str] = set()
    for _ in range(ROUNDS):
        found: list[tuple[int, Question]] = []
        for each in desk.sheets.of(plan, meter):
            question = each.question
            if question.text not in seen and not desk.elsewhere(question) and not desk.meets(plan, question):
                seen.add(question.text)
                found.append((rank(each), question))
        yield sorted(found, key=lambda each: each[0])
        desk.sheets.turn(plan)
