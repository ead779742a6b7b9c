"""The chooser over all wrong answers that the engine and pairs of misreadings offer: what guessers win of such forms.

    python tests/validity/prototype.py [BLUEPRINT...]

For each part of an ask that it knows, questions are drawn as the engine draws them; of a few, the one is taken whose
best set of wrong choices keeps guessers nearest to chance. Nothing else of a form is looked at.
"""

import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import islice
from pathlib import Path
from random import Random

from guess_quizzes import blueprint_paths
from measure import guessed, printed

from barwright.asks.ask import Question, Space
from barwright.asks.drawn_excerpts import (
    fillers,
    listed_measures,
    readable,
    readable_count,
)
from barwright.asks.wrong_answers import filling_offers, misreadings_for, row_offers
from barwright.asks.wrong_rhythms import near_rhythms
from barwright.blueprint.blueprint import Plan, plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.counting.counts import Row, count_labels, normal_row
from barwright.forms.choosing import (
    Candidate,
    Looks,
    Weighed,
    alike_rows,
    candidates_from,
    weighed_set,
)
from barwright.forms.seeing import seen_answer, seen_item
from barwright.guesser import Ledger, Moments, SeenItem
from barwright.items.item import Answer
from barwright.misreadings.answers import candidates_of
from barwright.misreadings.pair_fillings import pair_candidates_of, pair_fillings
from barwright.misreadings.pairs import pair_rows
from barwright.misreadings.read_back import read_back, rhythms_read
from barwright.misreadings.rhythm_of_row import rhythms_of_row
from barwright.notation.legality import is_legal
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_measures, format_symbols, parse_symbols

WIDTHS = {"finish-measure": (1,), "drag-into-the-blank": (1,), "finish-measure-with-two": (2,)}
LOOKED_AT = 5
DRAWS = 30
ALL_MEASURES, WITH_PAIRS, STEPS = 400, 120, 10


def fillings(plan: Plan, question: Question, _rng: Random) -> tuple[Candidate, ...]:
    """What fills the blank by one misreading or two."""
    space, ask, meter = plan.space.anywhere, plan.ask.id, question.excerpt.meter
    asked = misreadings_for(ask, space.taught)
    groups = tuple(g for width in WIDTHS[ask] for g in fillers(space.taught.tokens, width))
    single = filling_offers(ask, question, space, WIDTHS[ask])
    sorted_groups = candidates_of(asked, groups, meter, space.conventions)
    pairs = pair_candidates_of(asked, groups, meter, space.conventions)
    keys = [parse_symbols(key.text) for key in question.keys]
    double = pair_fillings(pairs, sorted_groups, question.excerpt, space.conventions, keys)
    return candidates_from(
        single, {Answer("symbols", format_symbols(g)): [p.id for p in ids] for g, ids in double.items()}
    )


def rows_of(plan: Plan, question: Question, _rng: Random) -> tuple[Candidate, ...]:
    """Rows of counts by one misreading or two."""
    space, ask, conventions = plan.space.anywhere, plan.ask.id, plan.space.conventions
    single = row_offers(ask, question.excerpt, space)
    known = {normal_row(text, conventions) for text in (*(a.text for a in single), question.keys[0].text)}
    double: dict[Answer, list[str]] = {}
    for pair, _, text in pair_rows(misreadings_for(ask, space.taught), question.excerpt, conventions):
        if normal_row(text, conventions) not in known:
            double.setdefault(Answer("row", text), []).append(pair.id)
    return candidates_from(single, double)


def rhythms_of(plan: Plan, question: Question, rng: Random) -> tuple[Candidate, ...]:
    """Rhythms that the row is read as by one misreading or two."""
    space, meter, conventions = plan.space.anywhere, question.excerpt.meter, plan.space.conventions
    count = readable_count(space, meter)
    if count <= ALL_MEASURES:
        measures = tuple(listed_measures(space, meter))
    else:
        measures = _within_two_steps(question.excerpt, space, rng)
    asked = misreadings_for(plan.ask.id, space.taught)
    index = read_back(measures, meter, asked, conventions, with_pairs=count <= WITH_PAIRS)
    written = None if count <= ALL_MEASURES else partial(_legal, space, meter)
    found = rhythms_read(index, count_labels(question.excerpt, conventions), asked, conventions, written=written)
    found.pop(question.excerpt.measures[0], None)
    return candidates_from({Answer("measures", format_measures((m,))): ids for m, ids in found.items()})


def _within_two_steps(excerpt: Excerpt, space: Space, rng: Random) -> tuple[Symbols, ...]:
    """Legal measures one step away, and some of those two steps away."""
    near = list(near_rhythms(excerpt, space, rng))
    further = (other for each in near[:STEPS] for other in islice(near_rhythms(each, space, rng), STEPS))
    return tuple({each.measures[0]: None for each in (*near, *further)})


def _legal(space: Space, meter: Meter, row: Row) -> list[Symbols]:
    """The legal measures of the class that a row of one measure stands for."""
    found = (m for (m,) in rhythms_of_row(row, meter, space.taught.tokens, space.conventions))
    return [m for m in found if is_legal(m, meter, space.conventions) and readable(m, meter, space)]


CANDIDATES: dict[str, Callable[[Plan, Question, Random], tuple[Candidate, ...]]] = {
    **dict.fromkeys(WIDTHS, fillings),
    "counts-for-rhythm": rows_of,
    "rhythm-for-counts": rhythms_of,
}


@dataclass
class Balance:
    """Over all forms of one part: how often each length was right, and what learners could learn."""

    sizes: Counter[int] = field(default_factory=Counter)
    moments: Moments = field(default_factory=Moments)


def balanced_form(plan: Plan, balance: Balance, rng: Random) -> list[SeenItem]:
    """The items of one part of a form, keys in random places."""
    ledger, looks, found, had = Ledger(), Looks(), [], set()
    while len(found) < plan.items:
        best: tuple[Weighed, Question] | None = None
        seen = 0
        for question in _questions(plan, balance, had, rng):
            weighed = _weighed(plan, question, ledger, looks, balance, rng)
            if weighed is not None:
                seen += 1
                best = min((x for x in (best, (weighed, question)) if x), key=lambda x: x[0].cost)
            if seen == LOOKED_AT:
                break
        if best is None:
            break
        weighed, question = best
        had.add(question.text)
        wrong = [c.answer for c in weighed.wrong]
        if plan.ask.answer == "row":
            looks.add(question.keys[0], wrong)
        item = seen_item(plan.ask.id, question.keys, wrong)
        balance.sizes[seen_answer(question.keys[0]).size] += 1
        balance.moments.add(item)
        ledger.add(item)
        found.append(_mixed(item, rng))
    return found


def _questions(plan: Plan, balance: Balance, had: set[str], rng: Random) -> list[Question]:
    """Drawn questions, those first whose key has a length that was seldom right."""
    drawn = [question for _ in range(DRAWS) if (question := plan.ask.draw(plan.space, rng)) is not None]
    new = list({q.text: q for q in drawn if q.text not in had}.values())
    if plan.ask.answer != "symbols":
        return new
    return sorted(new, key=lambda q: balance.sizes[seen_answer(q.keys[0]).size])


def _weighed(
    plan: Plan, question: Question, ledger: Ledger, looks: Looks, balance: Balance, rng: Random
) -> Weighed | None:
    candidates = CANDIDATES[plan.ask.id](plan, question, rng)

    def able(wrong: tuple[Candidate, ...]) -> bool:
        if plan.ask.answer != "row" or plan.space.conventions.rest_counts != "parentheses":
            return True
        return alike_rows(question.keys[0], [c.answer for c in wrong]) >= looks.wanted()

    for count in (plan.choices - 1, plan.choices - 2):
        found = weighed_set(
            plan.ask.id,
            question.keys,
            candidates,
            count,
            ledger=ledger,
            moments=balance.moments,
            rng=rng,
            clash=lambda one, other: plan.ask.clash(question, one, other),
            able=able,
        )
        if found is not None:
            return found
    return None


def _mixed(item: SeenItem, rng: Random) -> SeenItem:
    order = rng.sample(range(len(item.choices)), len(item.choices))
    keys = frozenset(place for place, number in enumerate(order) if number in item.keys)
    return replace(item, choices=tuple(item.choices[n] for n in order), keys=keys)


def main(names: list[str]) -> None:
    """Makes the forms and prints the table of `measure.py`."""
    items = []
    for path in [Path(name) for name in names] or blueprint_paths():
        blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
        plans = [(plan_of(part, blueprint), Balance()) for part in blueprint.part if part.ask in CANDIDATES]
        forms = []
        for section in blueprint.sections:
            rng = Random(f"{path.stem} {section}")
            forms.append(tuple(item for plan, balance in plans for item in balanced_form(plan, balance, rng)))
        items += guessed(path.stem, forms)
        print(f"{path.stem}: {sum(map(len, forms))} items", file=sys.stderr, flush=True)
    printed(items)


if __name__ == "__main__":
    main(sys.argv[1:])
