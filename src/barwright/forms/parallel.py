"""What parallel forms have in common, ask by ask, and how far apart forms are in it.

A trait is what an item shows of one ask: an answer, a meter, a note value or rest, a sound off the beat, a misreading
on offer. The cells of a form are the counts of its traits; forms are parallel if no cell of theirs differs by more than
`room`.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from barwright.asks import ASKS
from barwright.asks.ask import Ask, Question
from barwright.forms.ready_items import question_of
from barwright.items.difficulty import features
from barwright.items.form import Form
from barwright.items.item import Answer, Choice, Item
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbol
from barwright.rhythm.text import format_excerpt, format_symbol, parse_symbols

Kind = Literal["answers", "meters", "values", "off-beats", "misreadings"]
WHOLE = "all asks"
KINDS: tuple[Kind, ...] = ("answers", "meters", "values", "off-beats", "misreadings")
# Forms may differ by one item in a cell; in a large part by one of so many items.
LARGE = 20
# A misreading that is named needs so many chances, and so many that set it apart from each other named one: four find
# two that are held at once, and of two answers one may be a slip (common practice).
CHANCES, APART = 4, 2


class Trait(NamedTuple):
    """What items of an ask (`of`), or of a form, can have; `name`: a length, a meter, a symbol or a misreading."""

    of: str
    kind: Kind
    name: str


Spread = Counter[Trait]
"""In how many items of a form each trait shows."""


def question_traits(ask: Ask, question: Question) -> Iterator[Trait]:
    """What a question shows whatever its wrong answers are."""
    for name in answer_names(ask, question.keys, question.target):
        yield Trait(ask.id, "answers", name)
    yield Trait(ask.id, "meters", str(question.excerpt.meter))
    if ask.picture == "none" and ask.choice != "measures":
        return
    for name in {_value(symbol) for symbol in question.excerpt.symbols if symbol.kind != "blank"}:
        yield Trait(ask.id, "values", name)
    if features(question.excerpt)["offbeats"]:
        yield Trait(ask.id, "off-beats", "off the beat")


def misreading_traits(item: Item) -> Iterator[Trait]:
    """The misreadings that an item offers, alone or held with another: in its ask, in the form."""
    return traits_of_offered(item.ask, item.offered)


def traits_of_offered(ask: str, offered: Iterable[str]) -> Iterator[Trait]:
    """What `misreading_traits` gives of an item of an ask that offers these."""
    for misreading in offered:
        yield Trait(ask, "misreadings", misreading)
        yield Trait(WHOLE, "misreadings", misreading)


def item_traits(item: Item) -> frozenset[Trait]:
    """Everything that parallel forms should show equally often."""
    return frozenset((*question_traits(ASKS[item.ask], question_of(item)), *misreading_traits(item)))


def answer_names(ask: Ask, keys: Sequence[Answer], target: str) -> tuple[str, ...]:
    """What the right answers are like, where a student might bet on it; nothing for rows and rhythms, all different.

    Of symbols how long they last, and whether it is a rest that is missing; of several right answers how many; of
    statements the verdict, or what they are about.
    """
    if ask.interaction == "several":
        return (f"{len(keys)} right",)
    if ask.answer == "symbols":
        return tuple(name for key in keys for name in _symbols_names(key.text))
    if ask.answer == "claim":
        return tuple(f"{ask.sort(key) if ask.sort else key.text.split(' ')[0]} {target}".rstrip() for key in keys)
    return tuple(key.text for key in keys) if ask.answer in ("number", "meter") else ()


def _symbols_names(text: str) -> Iterator[str]:
    symbols = parse_symbols(text)
    length = sum((s.value.length for s in symbols if s.value is not None), start=Fraction(0))
    yield f"{length} of a whole note"
    if any(s.silent for s in symbols):
        yield "with a rest"


def _value(symbol: Symbol) -> str:
    return format_symbol(symbol).removesuffix("~").removeprefix("*")


def spread_of(items: Iterable[Item]) -> Spread:
    """The cells of a form."""
    return Counter(trait for item in items for trait in item_traits(item))


def first_variants(form: Form) -> tuple[Item, ...]:
    """The items of a form in order; of the variants of a question the first."""
    first = {placed.number: placed.item for placed in reversed(form.items)}
    return tuple(first[number] for number in sorted(first))


def room(items: int) -> int:
    """By how many items forms may differ in a cell of an ask that each has so many items of.

    >>> room(4), room(60)
    (1, 3)
    """
    return max(1, items // LARGE)


class Cells(NamedTuple):
    """How often a trait shows in each form."""

    trait: Trait
    counts: tuple[int, ...]

    @property
    def apart(self) -> int:
        """By how many items the forms lie apart in it at most."""
        return max(self.counts) - min(self.counts)

    def away(self, form: int) -> int:
        """By how many items this form (from 0) lies apart from another at most."""
        return max(max(self.counts) - self.counts[form], self.counts[form] - min(self.counts))


def sizes(items: Iterable[Item]) -> Counter[str]:
    """How many items a form has of each ask, and in all."""
    return Counter(name for item in items for name in (item.ask, WHOLE))


def cells_of(spreads: Sequence[Spread]) -> tuple[Cells, ...]:
    """The cells of all forms, sorted by trait."""
    traits = sorted(set().union(*spreads))
    return tuple(Cells(trait, tuple(spread[trait] for spread in spreads)) for trait in traits)


def farthest(cells: Iterable[Cells], form: int) -> Mapping[tuple[str, Kind], int]:
    """For each ask and kind by how many items this form (from 0) lies apart from another in one trait, at most."""
    distances: dict[tuple[str, Kind], int] = {}
    for each in cells:
        where = each.trait.of, each.trait.kind
        distances[where] = max(distances.get(where, 0), each.away(form))
    return distances


def unlike(spread: Spread, others: Sequence[Spread], items: Mapping[str, int]) -> int:
    """In how many cells of an ask a form widens what lies between the others; `items`: how many it has of each ask."""
    return len(traits_unlike(spread, others, items))


def traits_unlike(spread: Spread, others: Sequence[Spread], items: Mapping[str, int]) -> tuple[Trait, ...]:
    """The traits in an ask in which a form lies outside of `bounds`; `items`: how many items it has of each ask."""
    asked = (each for each in cells_of([spread, *others]) if others and each.trait.of != WHOLE)
    return tuple(each.trait for each in asked if not _is_within(each.counts, room(items[each.trait.of])))


def _is_within(counts: Sequence[int], room_: int) -> bool:
    least, most = bounds(counts[1:], room_)
    return least <= counts[0] <= most


def bounds(counts: Sequence[int], room_: int) -> tuple[int, int]:
    """How seldom and how often a trait may stand in one more form; `counts`: how often it does in each of some others.

    Within `room_` of each of them. Where they lie farther apart themselves, anywhere
    between: no form could be near to all, and one that lies between makes it no worse.

    >>> bounds([2, 3], 1), bounds([1, 3], 1)
    ((2, 3), (1, 3))
    """
    least, most = min(counts), max(counts)
    return min(least, most - room_), max(most, least + room_)


def twin_name(ask: str, question: Question) -> str:
    """A name that an excerpt shares with its mirror images: `q h` and `h q`, measures from last to first, without ties.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> one, other = (Question(parse_excerpt(text), ()) for text in ("3/4 q h", "3/4 h q"))
    >>> twin_name("time-signature-for-rhythm", one) == twin_name("time-signature-for-rhythm", other)
    True
    """
    measures = [[_value(symbol) for symbol in measure] for measure in question.excerpt.measures]
    turned = [measure[::-1] for measure in measures]
    images = ["|".join(map(" ".join, each)) for each in (measures, measures[::-1], turned, turned[::-1])]
    keys = ";".join(key.text for key in question.keys) if _has_blank(question.excerpt) else ""
    return f"{ask} {question.excerpt.meter} {question.target} {min(images)} {keys}"


def _has_blank(excerpt: Excerpt) -> bool:
    return any(symbol.kind == "blank" for symbol in excerpt.symbols)


def prompt_of(item: Item) -> str:
    """What the student is asked, figure and all, without the choices; where the excerpt is not shown, its meter."""
    ask = ASKS[item.ask]
    shown = str(item.excerpt.meter) if ask.picture == "none" else format_excerpt(item.excerpt)
    return f"{item.ask} {item.target} {shown}"


def apart_chances(items: Iterable[Item], named: Sequence[str]) -> Counter[tuple[str, str]]:
    """For every two named misreadings in how many items the first leads to an answer on offer, the other not to all.

    A misreading paired with itself has every item in which it leads to a wrong answer by itself.
    """
    chances: Counter[tuple[str, str]] = Counter()
    for item in items:
        chances.update(apart_in(item.wrong, named))
    return chances


def apart_in(wrong: Iterable[Choice], named: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Any two named misreadings that wrong choices of one item set apart, as in `apart_chances`."""
    led: dict[str, set[Answer]] = {one: set() for one in named}
    for choice in wrong if named else ():
        for one in led.keys() & choice.misreadings:
            led[one].add(choice.answer)
    return ((one, other) for one in named for other in named if led[one] and _is_apart(led, one, other))


def _is_apart(led: Mapping[str, set[Answer]], one: str, other: str) -> bool:
    return one == other or led[one] != led[other]


def wanted_chances(one: str, other: str) -> int:
    """How many chances should set a named misreading apart from another, or how many it should have by itself."""
    return CHANCES if one == other else APART


def too_few_chances(items: Sequence[Item], named: Sequence[str]) -> tuple[tuple[str, str, int], ...]:
    """The pairs of named misreadings, the first of which has too few chances to be told from the other."""
    have = apart_chances(items, named)
    pairs = ((one, other) for one in named for other in named)
    return tuple(
        (one, other, have[one, other]) for one, other in pairs if have[one, other] < wanted_chances(one, other)
    )
