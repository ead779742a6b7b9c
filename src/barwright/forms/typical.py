"""What the parts of a blueprint usually give, and how often they can give it.

It depends on the plans only, so that a first form can be brought near to it whatever was drawn, and forms that come
after it find enough that is like it.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import islice
from random import Random

from barwright.asks.ask import Ask, Question, Space
from barwright.blueprint.blueprint import Plan
from barwright.forms.distractors import RARE
from barwright.forms.parallel import Trait, answer_names, question_traits
from barwright.forms.question_sample import frequency, has_few, one_meter, whole_sample
from barwright.items.difficulty import difficulty
from barwright.rhythm.text import format_excerpt

SAMPLE = 96
# Of fewer questions none is called usual.
LEAST = 4
# So many sections a teacher has of one class (common practice); a first form takes no more than its share.
FORMS = 6
# A part with more questions than this in a meter has enough of them.
MOST_COUNTED = 100

Parts = Sequence[tuple[Plan, int]]
"""Each part's plan, and how many items it has."""


Placed = Sequence[tuple[Plan, Question]]
"""The questions of a form, each with its part's plan."""


def usual_difficulty(placed: Placed) -> int:
    """The sum of the difficulties of a form, if each question is as hard as is usual among those of its answer."""
    return round(sum(_mean(plan, question) for plan, question in placed))


def _mean(plan: Plan, question: Question) -> Fraction:
    mean = _mean_of(plan.ask, plan.space, _answers(plan.ask, question), tuple(plan.weights.items()))
    return Fraction(difficulty(question.excerpt, plan.weights)) if mean is None else mean


@lru_cache(maxsize=1024)
def _mean_of(ask: Ask, space: Space, kind: tuple[str, ...], weights: tuple[tuple[str, int], ...]) -> Fraction | None:
    like = _like(ask, space, kind)
    return Fraction(sum(difficulty(q.excerpt, dict(weights)) for q in like), len(like)) if like else None


def usual_counts(placed: Placed) -> dict[Trait, int]:
    """In how many items of a form each trait shows, if each shows what is usual among those of its answer."""
    shares: dict[Trait, Fraction] = {}
    for (ask, space, kind), items in Counter((p.ask, p.space, _answers(p.ask, q)) for p, q in placed).items():
        questions = _like(ask, space, kind)
        for trait, count in Counter(t for q in questions for t in question_traits(ask, q)).items():
            shares[trait] = shares.get(trait, Fraction(0)) + Fraction(items * count, len(questions))
    return {trait: round(share) for trait, share in shares.items()}


def _like(ask: Ask, space: Space, kind: tuple[str, ...]) -> tuple[Question, ...]:
    """Drawn questions with an answer of this kind; where few have, all drawn ones."""
    drawn = _sample(ask, space)
    return drawn.get(kind, ()) if len(drawn.get(kind, ())) >= LEAST else sum(drawn.values(), ())


def _answers(ask: Ask, question: Question) -> tuple[str, ...]:
    return answer_names(ask, question.keys, question.target)


def supply(parts: Parts) -> Mapping[Trait, Fraction]:
    """How many different excerpts each trait can show on, in asks that have few; an ask that is not named has enough.

    An excerpt that several asks could have is divided among them by how many items they have.
    """
    return _supply(tuple((plan.ask, plan.space, count) for plan, count in parts))


@lru_cache(maxsize=16)
def _supply(parts: tuple[tuple[Ask, Space, int], ...]) -> Mapping[Trait, Fraction]:
    wanted: Counter[str] = Counter()
    shown: list[tuple[int, set[tuple[Trait, str]]]] = []
    enough: set[Trait] = set()
    for ask, space, items in parts:
        few, many = _listed(ask, space)
        shown.append((items, {(trait, format_excerpt(q.excerpt)) for q in few for trait in question_traits(ask, q)}))
        wanted.update(dict.fromkeys({format_excerpt(q.excerpt) for q in few}, items))
        enough.update(trait for q in many for trait in question_traits(ask, q))
    supplied: dict[Trait, Fraction] = {}
    for items, shows in shown:
        for trait, text in shows:
            supplied[trait] = supplied.get(trait, Fraction(0)) + Fraction(items, wanted[text])
    return {trait: excerpts for trait, excerpts in supplied.items() if trait not in enough}


def demand(parts: Parts) -> Mapping[Trait, Fraction]:
    """In how many items each form must show a trait, since excerpts without it do not suffice for all forms.

    Only of asks that have few excerpts in every meter, and yet enough for all forms; a trait that is not named need not
    show.
    """
    supplied = supply(parts)
    excerpts: dict[str, Fraction] = {}
    for trait, share in supplied.items():
        if trait.kind == "meters":
            excerpts[trait.of] = excerpts.get(trait.of, Fraction(0)) + share
    items = Counter[str]()
    for plan, count in parts:
        items[plan.ask.id] += count
        if any(Trait(plan.ask.id, "meters", str(meter)) not in supplied for meter in plan.space.meters):
            excerpts.pop(plan.ask.id, None)
    excerpts = {ask: share for ask, share in excerpts.items() if share >= FORMS * items[ask]}
    needed = {t: items[t.of] - (excerpts[t.of] - share) / FORMS for t, share in supplied.items() if t.of in excerpts}
    return {trait: least for trait, least in needed.items() if least > 0}


def misreadings_supply(parts: Parts) -> Mapping[Trait, int]:
    """How often a form may show a misreading in an ask, that others can, too; without a bound where it is not named.

    Where an ask has few questions it is less than the form's share of those on which the misreading shows, since other
    asks take some of them; of many, a misreading that shows on few has no more than one.
    """
    supplied: Counter[Trait] = Counter()
    for plan, items in parts:
        sample = whole_sample(plan)
        few, shows = has_few(plan.ask, plan.space), frequency(sample)
        for misreading, count in shows.items():
            share = count // (FORMS + 1) if few else items if count * RARE >= len(sample) else 1
            supplied[Trait(plan.ask.id, "misreadings", misreading)] += max(1, share)
    return supplied


def _listed(ask: Ask, space: Space) -> tuple[list[Question], list[Question]]:
    """All questions of a part in the meters that have few, and some of those in meters with many."""
    few: list[Question] = []
    many: list[Question] = []
    for meter in space.meters:
        narrow = one_meter(space, meter)
        listed = list(islice(ask.listed(narrow), MOST_COUNTED + 1))
        (few if len(listed) <= MOST_COUNTED and ask.lists_all(narrow) else many).extend(listed)
    return few, many


def drawn_sample(ask: Ask, space: Space) -> tuple[Question, ...]:
    """Some questions as they are drawn."""
    return sum(_sample(ask, space).values(), ())


@lru_cache(maxsize=256)
def _sample(ask: Ask, space: Space) -> Mapping[tuple[str, ...], tuple[Question, ...]]:
    """Drawn questions by what their answers are like."""
    by_kind: dict[tuple[str, ...], tuple[Question, ...]] = {}
    for question in islice(_drawn(ask, space), SAMPLE):
        kind = _answers(ask, question)
        by_kind[kind] = (*by_kind.get(kind, ()), question)
    return by_kind


def _drawn(ask: Ask, space: Space) -> Iterator[Question]:
    rng = Random(f"{ask.id} {space.alphabet.tokens} {space.meters} {space.measures}")
    for _ in range(2 * SAMPLE):
        question = ask.draw(space, rng)
        if question is not None:
            yield question
