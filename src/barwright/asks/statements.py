"""What can be stated about a time signature or a symbol in a measure, and which statements stand together."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import combinations
from random import Random

from barwright.asks.ask import Offers, Question, Space
from barwright.asks.drawn_excerpts import fillers
from barwright.asks.fair_sets import Drawn, some_sets
from barwright.asks.wrong_answers import claim_offers
from barwright.items.item import Answer
from barwright.notation.legality import may_begin
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import length_of, ticks_of
from barwright.rhythm.meter import Meter
from barwright.rhythm.said_beats import counts_in_beats
from barwright.rhythm.text import parse_symbol

TARGETS = ("top", "bottom")
HALF = Fraction(1, 2)
FEWEST = 2  # wrong choices of an item
# Nobody need be asked whether a symbol fits that would do so oftener: beginners know few symbols, so theirs all count.
FAR, FAR_FOR_BEGINNERS = 2, 4
QUARTER = Fraction(1, 4)


def number_claim(meter: Meter, target: str, conventions: Conventions) -> str:
    """The true claim about the top or bottom number, as the class says it (claims: see the model's table of answers).

    >>> from barwright.rhythm.meter import parse_meter
    >>> [number_claim(parse_meter(text), "top", Conventions()) for text in ("3/4", "6/8")]
    ['how-many 3', 'adds-up 6 8']
    """
    beats = counts_in_beats(meter, conventions)
    if target == "top":
        return f"how-many {meter.top}" if beats else f"adds-up {meter.top} {meter.bottom}"
    return f"gets-beat {meter.bottom}" if beats else f"stands-for {meter.bottom}"


def told_by_meters(meters: Iterable[Meter], conventions: Conventions) -> dict[str, list[tuple[Meter, str]]]:
    """Every claim that is true of a number of some meter, with the meters and the numbers that it is true of."""
    by_claim: dict[str, list[tuple[Meter, str]]] = {}
    for meter in meters:
        for target in TARGETS:
            by_claim.setdefault(number_claim(meter, target, conventions), []).append((meter, target))
    return by_claim


@lru_cache(maxsize=256)
def _told(meters: tuple[Meter, ...], conventions: Conventions) -> frozenset[str]:
    return frozenset(told_by_meters(meters, conventions))


def number_sets(_question: Question, offers: Offers, space: Space, count: int, rng: Random) -> Iterator[Drawn]:
    """Statements that are right somewhere in this class: one that never is would be struck out unread.

    Others come in only where there are too few of them even for an item of three choices.
    """
    somewhere = _told(space.taught.meters, space.conventions)
    serving = [answer for answer in offers if answer.text in somewhere]
    others = [answer for answer in offers if answer.text not in somewhere]
    if len(serving) >= count:
        yield from some_sets(serving, count, rng)
        return
    if count > FEWEST:
        return
    for added in some_sets(others, count - len(serving), rng) if count - len(serving) <= len(others) else ():
        yield (*serving, *added)


def fit_claim(excerpt: Excerpt) -> str:
    """The true claim about the one symbol of an excerpt: `fits LASTS HOLDS` or `fits-not ...`, in bottom units."""
    meter = excerpt.meter
    length = length_of(excerpt.symbols[0], meter)
    verdict = "fits" if length <= meter.capacity else "fits-not"
    return f"{verdict} {length / meter.unit} {meter.capacity / meter.unit}"


def verdict_of(claim: Answer) -> str:
    """`fits` or `fits-not`: the first word of a claim about fitting.

    >>> verdict_of(Answer("claim", "fits-not 4 3"))
    'fits-not'
    """
    return claim.text.split(" ")[0]


@lru_cache(maxsize=256)
def can_be_too_long(space: Space) -> bool:
    """Whether any symbol of the class is longer than any of its measures: else No is never right."""
    symbols = [parse_symbol(token) for token in sorted(space.taught.tokens)]
    return any(length_of(symbol, meter) > meter.capacity for meter in space.taught.meters for symbol in symbols)


def _is_right_somewhere(claim: Answer, meter: Meter, space: Space) -> bool:
    """Whether a symbol of the class lasts as a claim says, and a measure over the bottom number holds so much."""
    lasts, holds = map(Fraction, claim.text.split(" ")[1:])
    return lasts in _lengths(space, meter) and any(
        m.top == holds and m.bottom == meter.bottom for m in space.taught.meters
    )


@lru_cache(maxsize=1 << 10)
def _lengths(space: Space, meter: Meter) -> frozenset[Fraction]:
    """What symbols of the class last in a meter, in bottom-number notes."""
    return frozenset(length_of(parse_symbol(token), meter) / meter.unit for token in space.taught.tokens)


def listed_fits(space: Space) -> Iterator[Question]:
    """Every question whether a symbol of the class fits into a measure."""
    for meter in space.meters:
        for symbols in fillers(space.taught.tokens, 1):
            excerpt = Excerpt(meter, (symbols,))
            if ticks_of(symbols[0], meter) <= meter.ticks and not may_begin(symbols[0], meter, space.conventions):
                continue  # it is short enough, and yet not written in this meter
            yield Question(excerpt, (Answer("claim", fit_claim(excerpt)),))


@lru_cache(maxsize=64)
def _said_beside(space: Space) -> dict[Answer, tuple[frozenset[Answer], ...]]:
    """Every statement that is right somewhere in the class, with what is said wrongly of each symbol it is true of."""
    beside: dict[Answer, tuple[frozenset[Answer], ...]] = {}
    values = [symbol.value.length for symbol in map(parse_symbol, space.taught.tokens) if symbol.value is not None]
    far = FAR if any(value < QUARTER for value in values) else FAR_FOR_BEGINNERS
    for question in listed_fits(space):
        (key,) = question.keys
        length, room = ticks_of(question.excerpt.symbols[0], question.excerpt.meter), question.excerpt.meter.ticks
        if length * far < room:
            continue
        beside[key] = (*beside.get(key, ()), frozenset(claim_offers("does-it-fit", question, space)))
    return beside


def _never_right_beside(key: Answer, wrong: Drawn, space: Space) -> int:
    """How many of the wrong ones are not right in any question that has all the others for wrong ones.

    Where none is, each of them is as good a guess as any other.
    """
    beside, said = _said_beside(space), {key, *wrong}
    return sum(not any(said - {each} <= others for others in beside.get(each, ())) for each in wrong)


def has_equal_sets(question: Question, space: Space) -> bool:
    """Whether some wrong statements make an item with the right one in which each is right as well as any other."""
    (key,) = question.keys
    beside = _said_beside(space)
    said = [answer for answer in claim_offers("does-it-fit", question, space) if answer in beside]
    return key in beside and any(not _never_right_beside(key, two, space) for two in combinations(said, FEWEST))


def _of_one_verdict(key: Answer, said: Sequence[Answer], count: int) -> list[Answer]:
    """Those with the verdict of the right one, where they are enough."""
    alike = [answer for answer in said if verdict_of(answer) == verdict_of(key)]
    return alike if len(alike) >= min(count, FEWEST) else list(said)


def fit_sets(question: Question, offers: Offers, space: Space, count: int, rng: Random) -> Iterator[Drawn]:
    """Verdicts with their reasons: both stand in an item where both can be right, and no choice is a better guess.

    Nobody takes a symbol for less than half a beat that is longer. No symbol of the class lasts, and no measure holds,
    what is never right: it would be struck out unread. Only where no three choices are so do others do. Each choice is
    right in another question with just these choices, where there is such a set.
    """
    (key,) = question.keys
    meter = question.excerpt.meter
    least = min(HALF, Fraction(key.text.split(" ")[1]))
    said = sorted(answer for answer in offers if Fraction(answer.text.split(" ")[1]) >= least) or sorted(offers)
    serving = [answer for answer in said if _is_right_somewhere(answer, meter, space)]
    said = serving if count > FEWEST or len(serving) >= count else said
    if not can_be_too_long(space):
        said = _of_one_verdict(key, said, count)
    drawn = some_sets(said, count, rng) if len(said) >= count else []
    lacks = {each: _never_right_beside(key, each, space) for each in drawn}
    alike = [each for each in drawn if not lacks[each]]
    both = [each for each in alike or drawn if len({verdict_of(answer) for answer in (*each, key)}) == 2]
    if alike:
        yield from both or alike
        return
    if count > FEWEST:
        return
    unfair = {each: (lacks[each], max(Fraction(0), _named(key, each))) for each in both or drawn}
    yield from (each for each in both or drawn if unfair[each] == min(unfair.values()))


def _named(key: Answer, wrong: Drawn) -> Fraction:
    """How much oftener the numbers of the key are named in an item than those of the choices on average."""
    read = [tuple(answer.text.split(" ")[1:]) for answer in (key, *wrong)]
    often = [sum(a == c for c, _ in read) + sum(b == d for _, d in read) for a, b in read]
    return often[0] - Fraction(sum(often), len(often))
