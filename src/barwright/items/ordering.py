"""Groups of symbols to put in order, shortest first: which can be told apart, and the orders that errors lead to.

The excerpt holds the groups, one a measure, sorted by their text: so it has no order of its own, and is the same
whatever the answer. They need not fill a measure, but each can begin one as it is printed. `Space.measures` tells how
many there are.
"""

from collections.abc import Iterator
from functools import cache
from itertools import combinations
from random import Random

from barwright.items.asks import Offers, Question, Space
from barwright.items.drawing import fillers
from barwright.items.model import Answer
from barwright.items.offers import misreadings_for
from barwright.misreadings.ordering import seeming_order
from barwright.rhythm.legality import is_legal
from barwright.rhythm.measure import Symbols, note, total
from barwright.rhythm.meter import Meter
from barwright.rhythm.reading_ease import syncopated
from barwright.rhythm.text import format_groups, format_symbols, parse_excerpt, parse_groups

LEAST_GROUPS, MOST_GROUPS = 3, 4
LONGEST_RUN = 4  # of equal notes or rests
DRAWS = 20
FINEST = note("1/16")


@cache
def _beginning(group: Symbols, space: Space, meter: Meter) -> bool:
    """Whether a measure can begin with this group, to be read by this class; sixteenth notes stand for the others."""
    sixteenths = (meter.capacity - total(group, meter)) / total((FINEST,), meter)
    if sixteenths < 0 or sixteenths.denominator != 1:
        return False
    filled = (*group, *(FINEST,) * int(sixteenths))
    read = space.taught.syncopation or not syncopated(filled, meter)
    return read and is_legal(filled, meter, space.conventions)


@cache
def single_symbols(space: Space, meter: Meter) -> tuple[Symbols, ...]:
    """The taught symbols that can begin a measure; not the whole-rest sign, which has two lengths."""
    plain = (g for g in fillers(space.taught.tokens, 1) if g[0].kind != "measure-rest")
    return tuple(g for g in plain if _beginning(g, space, meter))


@cache
def small_groups(space: Space, meter: Meter) -> tuple[Symbols, ...]:
    """Equal notes or rests in a row, and pairs of a longer and a shorter one; never a note beside a rest."""
    single = single_symbols(space, meter)
    runs = [one * count for one in single for count in range(2, LONGEST_RUN + 1)]
    pairs = [
        (*one, *other)
        for one in single
        for other in single
        if one[0].kind == other[0].kind and total(one, meter) > total(other, meter)
    ]
    return tuple(g for g in (*runs, *pairs) if _beginning(g, space, meter))


def _question(groups: tuple[Symbols, ...], meter: Meter) -> Question | None:
    """The question of these groups; None where two are equally long."""
    lengths = {g: total(g, meter) for g in groups}
    if len(set(lengths.values())) < len(groups):
        return None
    right = tuple(sorted(groups, key=lengths.__getitem__))
    excerpt = parse_excerpt(f"{meter} {' | '.join(sorted(map(format_symbols, groups)))}", full=False)
    return Question(excerpt, (Answer("order", format_groups(right)),))


def draw_order(space: Space, rng: Random) -> Question | None:
    """Three or four groups, about half of them single symbols; None where none of equal length were not found."""
    meter = space.meters[rng.randrange(len(space.meters))]
    pools = [pool for pool in (single_symbols(space, meter), small_groups(space, meter)) if pool]
    if not pools or not LEAST_GROUPS <= space.measures <= MOST_GROUPS:
        return None
    for _ in range(DRAWS):
        picked = [pools[rng.randrange(len(pools))] for _ in range(space.measures)]
        question = _question(tuple(pool[rng.randrange(len(pool))] for pool in picked), meter)
        if question is not None:
            return question
    return None


def listed_orders(space: Space) -> Iterator[Question]:
    """Every set of groups that can be put in order, meter by meter."""
    if LEAST_GROUPS <= space.measures <= MOST_GROUPS:
        for meter in space.meters:
            able = (*single_symbols(space, meter), *small_groups(space, meter))
            yield from filter(None, (_question(groups, meter) for groups in combinations(able, space.measures)))


def order_offers(question: Question, space: Space, _rng: Random) -> Offers:
    """Wrong orders, by the lengths that students believe."""
    meter, groups = question.excerpt.meter, parse_groups(question.keys[0].text)
    found: dict[Answer, tuple[str, ...]] = {}
    for m in misreadings_for("shortest-first", space.taught):
        order = seeming_order(m, groups, meter, space.conventions)
        if order is not None:
            answer = Answer("order", format_groups(order))
            found[answer] = (*found.get(answer, ()), m.id)
    return found
