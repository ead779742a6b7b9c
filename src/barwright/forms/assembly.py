"""A blueprint becomes parallel forms: one a section, the same cells in each, no excerpt in two of them.

The assembly is a small constrained selection. The first form is drawn freely and fixes the cells (part, meter,
misreadings on offer, difficulty); each further form fills the same cells in turn with excerpts that no form has, each
time the one whose difficulty brings the form's sum nearest to the first's. Forms are filled one after another and never
changed again, so a section that is added later leaves the others as they are. Where a cell has no excerpt left, the
form says which constraint was bent. Inside a part the places are mixed, each form in its own way.
"""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random
from typing import TypeVar

from barwright.asks.tags import keywords_of
from barwright.blueprint.blueprint import Blueprint, Plan, plan_of
from barwright.errors import CapacityError
from barwright.forms.aims import part_names
from barwright.forms.balance import balanced, steadied
from barwright.forms.cells import free_item, parallel_item
from barwright.forms.choosing import TRIED
from barwright.forms.draft import Draft
from barwright.forms.judging import Tally
from barwright.forms.orders import Orders, keys_of, mixed_places, shown_orders
from barwright.forms.parallel import first_variants, prompt_of, sizes, spread_of, too_few_chances, unlike
from barwright.forms.question_sample import has_few, in_one_meter
from barwright.forms.questions import Cell, cell_of
from barwright.forms.ready_items import EMPTY, Stock, question_of
from barwright.forms.sheets import Drawn, Sheets
from barwright.forms.variants import Pool, Told, pools_of, untold
from barwright.forms.watch import Guessers, Watch, watch_of
from barwright.items.difficulty import difficulty, mean
from barwright.items.form import Form, FormItem
from barwright.items.item import Item
from barwright.showing import shown

Progress = Callable[[int, int], None]
T = TypeVar("T")

# How often a form is drawn anew if it is not parallel to the others.
ATTEMPTS = 4
# Beside so many forms excerpts of what is wanted run out: an attempt that is no better than those before ends them.
MANY = 12
# Forms that choose from the same sheets of questions, one after the other: to draw them costs as much as the rest.
TOGETHER = 6
# Sets of wrong choices that are tried in a form, and for an item at least.
TRIED_IN_ALL, LEAST_TRIED = 2_400, 4

_MORE = "ask for fewer, teach more elements or meters, or allow longer excerpts with `measures`"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A misreading that parts of the blueprint name: in how many items it was asked for, and in how many it shows."""

    misreading: str
    asked: int
    shown: int


@dataclass(frozen=True, slots=True)
class MadeForm:
    """A form with what happened on the way.

    `shared`: the excerpts that another form has too. `bent`: the constraints of parallel forms that could not be met.
    `difficulty`: the mean expected difficulty of its items. `wanted`: what became of the misreadings that parts name.
    """

    form: Form
    tally: Tally
    shared: tuple[str, ...]
    bent: tuple[str, ...]
    difficulty: Fraction
    wanted: tuple["Wanted", ...] = ()


@dataclass(frozen=True, slots=True)
class Pattern:
    """What all forms of a quiz share: a cell and a plan for every place."""

    plans: tuple[Plan, ...]
    cells: tuple[Cell, ...]

    def scarce_first(self) -> list[int]:
        """The places in the order of filling: cells of few questions first, so that the others can make up for them."""
        few = [has_few(p.ask, in_one_meter(p, c.meter).space) for p, c in zip(self.plans, self.cells, strict=True)]
        return sorted(range(len(few)), key=lambda place: not few[place])


def made_forms(
    blueprint: Blueprint,
    *,
    progress: Progress | None = None,
    stock: Stock = EMPTY,
    never: frozenset[str] = frozenset(),
) -> tuple[MadeForm, ...]:
    """One form for each section, in the order of the blueprint, from the stock first, of no excerpt that is in `never`.

    CapacityError if a part cannot be filled.
    """
    taken: dict[str, str] = {}
    each = sum(part.items for part in blueprint.part) * _variants(blueprint)
    whole = each * len(blueprint.sections)
    made: list[MadeForm] = []
    pattern: Pattern | None = None
    watch, drawn = Watch(), Drawn()
    for number, section in enumerate(blueprint.sections):
        told = _hearer(progress, number * each, whole)
        if pattern is None:
            first, pattern = first_form(
                blueprint, section, taken=taken, told=told, stock=stock, never=never, watch=watch, drawn=drawn
            )
            made.append(first)
            continue
        beside = [other.form for other in made]
        form = parallel_form(
            blueprint, pattern, section, taken=taken, told=told, stock=stock, beside=beside, never=never, watch=watch,
            drawn=drawn,
        )  # fmt: skip
        made.append(form)
    return tuple(made)


def _draft(
    blueprint: Blueprint, name: str, taken: dict[str, str], guessers: Guessers, sheets: Sheets, *,
    never: frozenset[str], stock: Stock,
) -> Draft:  # fmt: skip
    """An empty form, whose picked wrong choices are taken at the end."""
    draft = Draft(name, taken, guessers=guessers, sheets=sheets, never=never, stock=stock)
    return replace(draft, named=named(blueprint), tried=tried_in(blueprint), settling=True)


def _hearer(progress: Progress | None, before: int, whole: int) -> Told:
    """Hears how many items of a form are made, and tells how many of all are."""
    return untold if progress is None else lambda done: progress(before + done, whole)


def first_form(
    blueprint: Blueprint,
    name: str,
    *,
    taken: dict[str, str],
    told: Told = untold,
    stock: Stock = EMPTY,
    never: frozenset[str] = frozenset(),
    watch: Watch | None = None,
    drawn: Drawn | None = None,
) -> tuple[MadeForm, Pattern]:
    """The form that fixes the cells, and the pattern it makes.

    `taken` gains its excerpts, none of them in `never`; `watch` its items, `drawn` the sheets it chooses from.
    """
    guessers = Guessers(Watch() if watch is None else watch)
    seed = f"{drawing_seed(blueprint)}/first"
    # An ask draws what is worth asking before the rest.
    sheets = Sheets(seed, few=False, common=_common(blueprint, 0), drawn=Drawn() if drawn is None else drawn)
    draft = _draft(blueprint, name, taken, guessers, sheets, never=never, stock=stock)
    plans: list[Plan] = []
    for number, part in enumerate(blueprint.part, start=1):
        plan = plan_of(part, blueprint)
        rng = Random(f"{seed}/{number}")
        for count in range(plan.items):
            if free_item(plan, draft, rng) is None:
                raise CapacityError(_too_few(plan, count), part=number)
            plans.append(plan)
            told(len(draft.items))
    steady = steadied(draft, plans)
    places = _mixed(plans, steady, (), seed)
    draft.items[:] = [steady[place] for place in places]
    cells = tuple(cell_of(item, plan) for item, plan in zip(draft.items, plans, strict=True))
    orders = shown_orders(draft.items, Random(f"{seed}/order"), parts=part_names(plans))
    pattern = Pattern(tuple(plans), cells)
    made = _finished(blueprint, draft, pattern, seed, told, orders)
    guessers.watch.finish(made.form)
    return made, pattern


def parallel_form(
    blueprint: Blueprint,
    pattern: Pattern,
    name: str,
    *,
    taken: dict[str, str],
    told: Told = untold,
    retake: int = 0,
    never: frozenset[str] = frozenset(),
    stock: Stock = EMPTY,
    beside: Sequence[Form] = (),
    watch: Watch | None = None,
    drawn: Drawn | None = None,
) -> MadeForm:
    """A form in the same cells; `taken` gains its excerpts. For a retake, `never` is what the section has had.

    `beside`: the other forms, whose right answers should stand in other places; `watch`: what guessers learnt of them,
    `drawn`: the sheets they chose from, where known. If it is not parallel it is made anew, and the nearest is taken.
    """
    seen = watch_of(beside) if watch is None else watch
    whose = f"{name}/{retake}" if retake else name
    kept = Drawn() if drawn is None else drawn

    def attempt(number: int) -> tuple[int, tuple[MadeForm, dict[str, str]]]:
        common = "" if retake else _common(blueprint, len(beside))
        sheets = _sheets(f"{drawing_seed(blueprint)}/{whose}", common, number, kept)
        draft = _draft(blueprint, whose, dict(taken), Guessers(seen.copy()), sheets, never=never, stock=stock)
        made = _filled(blueprint, pattern, draft, (name, retake), untold if number else told, beside)
        return _faults(made.form, seen, draft.named), (made, draft.taken)

    made, held = _best_of(attempt, patient=len(seen.spreads) < MANY)
    seen.take(made.form)
    taken.update(held)
    return made


def _sheets(seed: str, common: str, attempt: int, drawn: Drawn) -> Sheets:
    """What an attempt at a form chooses from: the first, as other forms do, from sheets in common, if there are any."""
    return Sheets(f"{seed}/{attempt}", drawn=drawn) if attempt else Sheets(seed, common=common, drawn=drawn)


def _best_of(attempt: Callable[[int], tuple[int, T]], *, patient: bool) -> T:
    """What has the fewest faults of some attempts, which the first without any ends; of equals the first.

    Unless `patient` one that is no better than those before ends them, too. CapacityError if the first cannot be
    filled; where a later one cannot, the best before it.
    """
    made: list[tuple[int, T]] = []
    for number in range(ATTEMPTS):
        try:
            faults, form = attempt(number)
        except CapacityError:
            if not made:
                raise
            break
        gains = not made or faults < min(before for before, _ in made)
        made.append((faults, form))
        if not faults or not (patient or gains):
            break
    return min(made, key=lambda each: each[0])[1]


def _common(blueprint: Blueprint, before: int) -> str:
    """What the draws of sheets begin with that a form chooses from as others do; `before`: how many were made."""
    return f"{drawing_seed(blueprint)}/forms from {before // TOGETHER * TOGETHER}"


def _faults(form: Form, seen: Watch, named: Sequence[str]) -> int:
    """In how many cells a form is unlike the others, and how many chances are missing."""
    items = first_variants(form)
    return unlike(spread_of(items), seen.spreads, sizes(items)) + len(too_few_chances(items, named))


def _filled(
    blueprint: Blueprint, pattern: Pattern, draft: Draft, which: tuple[str, int], told: Told, beside: Sequence[Form]
) -> MadeForm:
    """A form in the cells of the pattern; `which`: the section and the retake."""
    (name, retake), seed, order = which, draft.sheets.seed, pattern.scarce_first()
    placed = _in_cells(pattern, draft, which, told, order)
    placed = balanced(draft, pattern.plans, pattern.cells, placed, order[::-1], beside=draft.guessers.watch.spreads)
    filled = [placed[place] for place in sorted(placed)]
    places = _mixed(pattern.plans, filled, beside, seed)
    draft.items[:] = [filled[place] for place in places]
    mixed = replace(pattern, cells=tuple(pattern.cells[place] for place in places))
    made = _finished(blueprint, draft, mixed, seed, told)
    return replace(made, form=replace(made.form, section=name, retake=retake))


def _in_cells(
    pattern: Pattern, draft: Draft, which: tuple[str, int], told: Told, order: Sequence[int]
) -> dict[int, Item]:
    """An item for each place, filled in this order: each so hard that the sum is nearest to that of the cells."""
    placed: dict[int, Item] = {}
    ahead = 0
    for place in order:
        plan, cell = pattern.plans[place], pattern.cells[place]
        rng = Random(f"{draft.sheets.seed}/{place}")
        item = parallel_item(plan, cell, draft, rng, aim=cell.difficulty - ahead)
        if item is None:
            had = sum(pattern.plans[other].number == plan.number for other in placed)
            raise CapacityError(_too_few_left(plan, had, *which), part=plan.number)
        placed[place] = item
        ahead += difficulty(item.excerpt, plan.weights) - cell.difficulty
        told(len(placed))
    return placed


def _mixed(plans: Sequence[Plan], items: Sequence[Item], beside: Sequence[Form], seed: str) -> tuple[int, ...]:
    """For each place the number of the item that is to stand there, from the same part."""
    keys = tuple(question_of(item).keys for item in items)
    prompts = list(map(prompt_of, items))
    return mixed_places(plans, list(map(keys_of, beside)), keys, Random(f"{seed}/places"), prompts=prompts)


def _variants(blueprint: Blueprint) -> int:
    return blueprint.quiz.variants if blueprint.quiz.draw else 1


def _finished(
    blueprint: Blueprint, draft: Draft, pattern: Pattern, seed: str, told: Told, first: Orders | None = None
) -> MadeForm:
    """The draft's items as a form: each with its variants if the quiz draws, the keys in their positions.

    `first`: the shown orders of the draft's own items, where the pattern was made from them.
    """
    quiz, title, count = blueprint.quiz, blueprint.title, _variants(blueprint)
    parts = part_names(pattern.plans)
    pools = pools_of(draft, pattern.plans, pattern.cells, variants=count, seed=seed, told=told)
    orders = [
        shown_orders([pool[n] for pool in pools], Random(f"{seed}/order{n or ''}"), parts=parts)
        for n in range(0 if first is None else 1, count)
    ]
    if first is not None:
        orders.insert(0, first)
    placed = tuple(_placed(pools, pattern, orders, blueprint))
    form = Form(
        title, draft.name, blueprint.languages[0], quiz.shuffle, quiz.feedback, placed, form_ident(title, placed),
        credit=quiz.credit, prints=blueprint.prints, choice_labels=quiz.choice_labels, also=blueprint.languages[1:],
    )  # fmt: skip
    average = mean([difficulty(i.excerpt, p.weights) for i, p in zip(draft.items, pattern.plans, strict=True)])
    wanted = tuple(_wanted(pools, pattern.plans))
    return MadeForm(form, draft.tally, tuple(draft.shared), tuple(draft.bent.values()), average, wanted)


def _wanted(pools: Sequence[Pool], plans: Sequence[Plan]) -> Iterator[Wanted]:
    """Each misreading that a plan names; of variants one must show it."""
    for misreading in dict.fromkeys(m for plan in plans for m in plan.focus):
        asked = [pool for pool, plan in zip(pools, plans, strict=True) if misreading in plan.focus]
        shown = sum(any(c.misreading == misreading for item in pool for c in item.wrong) for pool in asked)
        yield Wanted(misreading, len(asked), shown)


def _placed(pools: Sequence[Pool], pattern: Pattern, orders: list[Orders], blueprint: Blueprint) -> Iterator[FormItem]:
    for place, (pool, plan) in enumerate(zip(pools, pattern.plans, strict=True)):
        ident = f"p{place + 1}" if blueprint.quiz.draw else ""
        for n, item in enumerate(pool):
            keywords = keywords_of(item, blueprint.curriculum)
            yield FormItem(item, orders[n][place], plan.points, place + 1, ident, keywords)


def form_ident(title: str, placed: tuple[FormItem, ...]) -> str:
    """A neutral identifier, a hash of the form's content; it starts with a letter, as QTI wants."""
    words = [repr(p.words.texts) if p.words.texts else "" for p in placed]
    lines = [f"{p.item.id} {p.order} {p.points}{own}" for p, own in zip(placed, words, strict=True)]
    text = "\n".join([title, *lines])
    return "f" + hashlib.sha256(text.encode()).hexdigest()[:16]


def named(blueprint: Blueprint) -> tuple[str, ...]:
    """The misreadings that parts name, each once."""
    return tuple(dict.fromkeys(misreading for part in blueprint.part for misreading in part.misreadings))


def tried_in(blueprint: Blueprint) -> int:
    """How many sets of wrong choices are tried for an item: of many items each has little to make up for."""
    items = sum(part.items for part in blueprint.part)
    return max(LEAST_TRIED, min(TRIED, TRIED_IN_ALL // items))


def drawing_seed(blueprint: Blueprint) -> str:
    """What all draws of a quiz begin with: its seed, and a hash of its title and of whatever decides what is asked.

    So two quizzes of one seed and the same elements do not ask the same. How a quiz is given leaves its items alone.
    """
    identity = [f"{key} {print_}" for key, print_ in blueprint.prints if key not in ("language", "quiz")]
    return f"{blueprint.seed}/{hashlib.sha256(' '.join(identity).encode()).hexdigest()[:8]}"


def pattern_of(form: Form, blueprint: Blueprint) -> Pattern:
    """The cells that a finished form of the blueprint has, so that another can be made parallel to it."""
    placed = list({each.number: each for each in reversed(form.items)}.values())[::-1]  # of variants the first
    plans = [plan for part in blueprint.part for plan in [plan_of(part, blueprint)] * part.items]
    return Pattern(tuple(plans), tuple(cell_of(each.item, plan) for each, plan in zip(placed, plans, strict=True)))


def _too_few(plan: Plan, count: int) -> str:
    can = "can" if plan.ask.lists_all(plan.space) else "were found that can"
    return (
        f"items = {plan.items}: only {count} different {shown(plan.ask.id)} items {can} stand in one form beside the "
        f"others: {_MORE}"
    )


def _too_few_left(plan: Plan, count: int, name: str, retake: int) -> str:
    form = f"retake {retake} of {shown(name)}" if retake else f"the form of {shown(name)}"
    seen = " that its students have not had" if retake else ""
    return f"items = {plan.items}: for {form} only {count} {shown(plan.ask.id)} items{seen} are left: {_MORE}"


def spread(made: tuple[MadeForm, ...]) -> Fraction:
    """How far the mean difficulties of the forms lie apart, as a part of their mean; 0 for one form."""
    means = [each.difficulty for each in made]
    return (max(means) - min(means)) * len(means) / sum(means) if means else Fraction(0)


def items_of(made: MadeForm) -> tuple[Item, ...]:
    """The items of a form in order."""
    return tuple(placed.item for placed in made.form.items)
