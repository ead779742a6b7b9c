"""Groups of symbols to put in order, shortest first: which can be told apart, and the orders that errors lead to.

The excerpt holds the groups, one a measure, sorted by their text: so it has no order of its own, and is the same
whatever the answer. They need not fill a measure, but each can begin one as it is printed. `Space.measures` tells how
many there are.

Measure completion: something is left out of a measure; what, or how much, is missing? Or which lasts longer?

Single-key traps: a gap is filled by every group of the right length, so only one of them is ever offered (unless the
ask is to find all), and only a filling that may be printed at that place (handbooks on rest placement)."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from functools import cache, lru_cache
from itertools import combinations, product
from random import Random

from barwright.asks.ask import Ask, Cue, Offers, Question, Space, never
from barwright.asks.drawn_excerpts import (
    drawn_excerpt,
    each_once,
    fillers,
    has_few_excerpts,
    listed_excerpts,
    well_written,
)
from barwright.asks.fair_sets import MIXES, filling_length, same_filling, sharing_sets
from barwright.asks.pair_answers import filling_pairs
from barwright.asks.wrong_answers import filling_offers, misreadings_for, number_offers
from barwright.items.item import Answer
from barwright.misreadings.answers import seeming_order
from barwright.notation.legality import is_legal
from barwright.notation.reading_ease import syncopated
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import BLANK, Symbol, Symbols, ended, note, ticks_in, total
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import (
    format_excerpt,
    format_groups,
    format_symbols,
    parse_excerpt,
    parse_groups,
    parse_symbols,
)
from barwright.rhythm.values import whole_notes

LEAST_GROUPS, MOST_GROUPS = 3, 4
LONGEST_RUN = 4  # of equal notes or rests
DRAWS, BLANKS = 20, 4  # blanks that are tried in all, and in one excerpt
FINEST = note("1/16")
MOST_RIGHT = max(right for (right, *_), _ in MIXES)
# Symbols that are left out at most where only a number of beats is asked; blanks that show which numbers there are.
WIDEST, SAMPLE = 3, 120
BEAT_IN_PARTS, MOST_PARTS = 4, 4


def _beginning(group: Symbols, space: Space, meter: Meter) -> bool:
    """Whether a measure can begin with this group, to be read by this class; sixteenth notes stand for the others."""
    sixteenths = (meter.capacity - total(group, meter)) / total((FINEST,), meter)
    if sixteenths < 0 or sixteenths.denominator != 1:
        return False
    filled = (*group, *(FINEST,) * int(sixteenths))
    read = space.taught.syncopation or not syncopated(filled, meter)
    return read and is_legal(filled, meter, space.conventions)


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


def _order_question(groups: tuple[Symbols, ...], meter: Meter) -> Question | None:
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
        question = _order_question(tuple(pool[rng.randrange(len(pool))] for pool in picked), meter)
        if question is not None:
            return question
    return None


def listed_orders(space: Space) -> Iterator[Question]:
    """Every set of groups that can be put in order, meter by meter."""
    if LEAST_GROUPS <= space.measures <= MOST_GROUPS:
        for meter in space.meters:
            able = (*single_symbols(space, meter), *small_groups(space, meter))
            yield from filter(None, (_order_question(groups, meter) for groups in combinations(able, space.measures)))


def order_offers(question: Question, space: Space, _rng: Random) -> Offers:
    """Wrong orders, by the lengths that students believe."""
    meter, groups = question.excerpt.meter, parse_groups(question.keys[0].text)
    offers: dict[Answer, tuple[str, ...]] = {}
    for m in misreadings_for("shortest-first", space.taught):
        order = seeming_order(m, groups, meter, space.conventions)
        if order is not None:
            answer = Answer("order", format_groups(order))
            offers[answer] = (*offers.get(answer, ()), m.id)
    return offers


FAMILY = "measure-completion"


def _answer(symbols: Symbols) -> Answer:
    return Answer("symbols", format_symbols(symbols))


@lru_cache(maxsize=1 << 12)
def sort_of(text: str) -> str:
    """Whether an answer is all `notes`, all `rests`, or `mixed`.

    >>> sort_of("q rq"), sort_of("h")
    ('mixed', 'notes')
    """
    silent = {s.silent for s in parse_symbols(text)}
    return "mixed" if len(silent) == 2 else "rests" if True in silent else "notes"


def _held(excerpt: Excerpt, number: int) -> bool:
    """Whether a tie leads into a measure."""
    return number > 0 and excerpt.measures[number - 1][-1].tied


def _can_go(excerpt: Excerpt, number: int, index: int, width: int) -> bool:
    """Whether these symbols can be left out: something stays, no tie leads in or out, no triplet is broken."""
    symbols = excerpt.measures[number]
    if len(symbols) <= width or (not index and _held(excerpt, number)):
        return False
    if index and symbols[index - 1].tied:
        return False
    gone = symbols[index : index + width]
    return not any(s.tied or (s.value is not None and s.value.triplet) for s in gone)


def _blanked(excerpt: Excerpt, number: int, index: int, width: int) -> tuple[Excerpt, Symbols]:
    symbols = excerpt.measures[number]
    left = (*symbols[:index], BLANK, *symbols[index + width :])
    measures = (*excerpt.measures[:number], left, *excerpt.measures[number + 1 :])
    return Excerpt(excerpt.meter, measures), symbols[index : index + width]


def _several(excerpt: Excerpt, space: Space, rng: Random) -> Question | None:
    """The question with one, two or three of all fillings as right answers; None where there are too few."""
    fillings = [_answer(s) for s in _all_fillings(excerpt, space)]
    count = 1 + rng.randrange(MOST_RIGHT)
    keys: list[Answer] = []
    for answer in rng.sample(fillings, len(fillings)):
        if len(keys) < count and not any(same_filling(answer, key) for key in keys):
            keys.append(answer)
    return Question(excerpt, tuple(sorted(keys))) if len(keys) == count else None


def _all_fillings(excerpt: Excerpt, space: Space) -> list[Symbols]:
    blank = excerpt.blank
    assert blank is not None
    meter, (number, index) = excerpt.meter, blank
    left = excerpt.measures[number]
    fillings = []
    for symbols in _fillers_by_length(space.taught.tokens, meter).get(meter.ticks - ticks_in(left, meter), ()):
        measure = (*left[:index], *symbols, *left[index + 1 :])
        legal = is_legal(ended(measure), meter, space.conventions)
        if legal and well_written(measure, meter, space, held=_held(excerpt, number)):
            fillings.append(symbols)
    return fillings


@lru_cache(maxsize=64)
def _fillers_by_length(tokens: frozenset[str], meter: Meter) -> Mapping[int, tuple[Symbols, ...]]:
    """Groups of one or two symbols by their length in ticks."""
    by_length: dict[int, tuple[Symbols, ...]] = {}
    for symbols in (*fillers(tokens, 1), *fillers(tokens, 2)):
        length = ticks_in(symbols, meter)
        by_length[length] = (*by_length.get(length, ()), symbols)
    return by_length


def _drawn_blank(space: Space, rng: Random, width: int) -> tuple[Excerpt, Symbols] | None:
    """An excerpt with so many symbols left out, and these; None where this draw has none."""
    excerpt = drawn_excerpt(space, rng)
    place = _blank_place(excerpt, rng, width)
    return None if place is None else _blanked(excerpt, *place, width)


def _blank_place(excerpt: Excerpt, rng: Random, width: int) -> tuple[int, int] | None:
    """Measure and index of the first of so many symbols that can be left out; None where this draw has none."""
    number = rng.randrange(len(excerpt.measures))
    symbols = excerpt.measures[number]
    if len(symbols) <= width:
        return None
    index = rng.randrange(len(symbols) - width + 1)
    return (number, index) if _can_go(excerpt, number, index, width) else None


def _draw(space: Space, rng: Random, width: int) -> Question | None:
    drawn = _drawn_blank(space, rng, width)
    return None if drawn is None else Question(drawn[0], (_answer(drawn[1]),))


def _draw_several(space: Space, rng: Random) -> Question | None:
    drawn = _drawn_blank(space, rng, 1 + rng.randrange(2))
    return None if drawn is None else _several(drawn[0], space, rng)


def _listed_blanks(space: Space, widths: Iterable[int]) -> Iterator[tuple[Excerpt, Symbols]]:
    """Every excerpt with so many symbols left out, each once, with these."""
    seen = set()
    for excerpt, width in product(listed_excerpts(space), widths):
        for number, symbols in enumerate(excerpt.measures):
            for index in range(len(symbols) - width + 1):
                if _can_go(excerpt, number, index, width):
                    blank = _blanked(excerpt, number, index, width)
                    if blank not in seen:
                        seen.add(blank)
                        yield blank


def _listed(space: Space, width: int) -> Iterator[Question]:
    for excerpt, gone in _listed_blanks(space, (width,)):
        yield Question(excerpt, (_answer(gone),))


@lru_cache(maxsize=1 << 14)
def _settled(excerpt: Excerpt, space: Space) -> Question | None:
    """The question about an excerpt, if it has any filling: the first of those drawn that has enough."""
    rng = Random(format_excerpt(excerpt))
    return next(filter(None, (_several(excerpt, space, rng) for _ in range(DRAWS))), None)


def _listed_several(space: Space) -> Iterator[Question]:
    """One question for each blank; how many right answers it has is drawn, always the same for the same blank."""
    for excerpt in each_once(excerpt for excerpt, _ in _listed_blanks(space, (1, 2))):
        question = _settled(excerpt, space)
        if question is not None:
            yield question


def _clash(question: Question, one: Answer, other: Answer) -> bool:
    """Two answers of one length and one sort cannot both be told apart by a misreading of the length."""
    lengths = {filling_length(answer.text, question.excerpt.meter) for answer in (one, other)}
    return sort_of(one.text) == sort_of(other.text) and len(lengths) == 1


def _farness(question: Question, answer: Answer) -> int:
    """Symbols that the key does not have, after the sort: a set of notes, or of rests, betrays nothing."""
    return _strangeness(answer.text, question.keys[0].text)


def _strangeness(text: str, key: str) -> int:
    strange = [token for token in text.split() if token not in key.split()]
    return 10 * (sort_of(text) != sort_of(key)) + len(strange)


def _one(question: Question, space: Space, _rng: Random) -> Offers:
    return filling_offers("finish-measure", question, space, (1,))


def _dragged(question: Question, space: Space, _rng: Random) -> Offers:
    return filling_offers("drag-into-the-blank", question, space, (1,))


def _two(question: Question, space: Space, _rng: Random) -> Offers:
    return filling_offers("finish-measure-with-two", question, space, (2,))


def _pairs(ask: str, width: int) -> Callable[[Question, Space], Offers]:
    return lambda question, space: filling_pairs(ask, question, space, (width,))


def _any(question: Question, space: Space, _rng: Random) -> Offers:
    return filling_offers("all-that-fit", question, space, (1, 2))


def _is_said(number: Fraction, meter: Meter) -> bool:
    """Whether so many beats are spoken of: whole ones, halves, and quarters of a quarter note."""
    return (MOST_PARTS if meter.bottom == BEAT_IN_PARTS else 2) % number.denominator == 0


def _number_beside(symbols: Iterable[Symbol], meter: Meter) -> Fraction | None:
    """What is missing beside these symbols, in bottom-number notes; None where so many are not spoken of."""
    return _number_of(meter.ticks - ticks_in(symbols, meter), meter)


@lru_cache(maxsize=256)
def _number_of(ticks: int, meter: Meter) -> Fraction | None:
    gap = whole_notes(ticks) / meter.unit
    return gap if _is_said(gap, meter) else None


def _number_question(excerpt: Excerpt) -> Question | None:
    number = _number_beside(next(m for m in excerpt.measures if BLANK in m), excerpt.meter)
    return None if number is None else Question(excerpt, (Answer("number", str(number)),))


@lru_cache(maxsize=256)
def _numbers_to_ask(space: Space) -> tuple[Answer, ...]:
    """The numbers that a sample of blanks has, in the order of their texts."""
    rng = Random(f"{space.alphabet.tokens} {space.meters} {space.measures}")
    drawn = (_drawn_blank(space, rng, 1 + n % WIDEST) for n in range(SAMPLE))
    questions = (_number_question(blank[0]) for blank in drawn if blank is not None)
    return tuple(sorted({question.keys[0] for question in questions if question is not None}))


def _draw_number(space: Space, rng: Random) -> Question | None:
    """The number is drawn first, so that each is asked for about as often as any other."""
    numbers = _numbers_to_ask(space)
    wanted = Fraction(numbers[rng.randrange(len(numbers))].text) if numbers else 0  # nothing is never missing
    drawn: tuple[Excerpt, int, int, int] | None = None
    for excerpt in (e for _ in range(DRAWS // BLANKS) for e in [drawn_excerpt(space, rng)] * BLANKS):
        width = 1 + rng.randrange(WIDEST)
        if (place := _blank_place(excerpt, rng, width)) is not None:
            measure, index = excerpt.measures[place[0]], place[1]
            number = _number_beside((*measure[:index], *measure[index + width :]), excerpt.meter)
            drawn = drawn if number is None else (excerpt, *place, width)
            if number == wanted:
                break
    return None if drawn is None else _number_question(_blanked(*drawn)[0])


def _listed_numbers(space: Space) -> Iterator[Question]:
    blanks = _listed_blanks(space, range(1, WIDEST + 1))
    yield from filter(None, map(_number_question, each_once(excerpt for excerpt, _ in blanks)))


def _numbers(question: Question, space: Space, _rng: Random) -> Offers:
    offers = number_offers("beats-left", question.excerpt, space)
    return {a: ids for a, ids in offers.items() if _is_said(Fraction(a.text), question.excerpt.meter)}


FILLED: frozenset[Cue] = frozenset({"blank"})

ASKS = (
    Ask(
        "finish-measure", FAMILY, "figures", "symbols",
        draw=lambda space, rng: _draw(space, rng, 1),
        listed=lambda space: _listed(space, 1), lists_all=has_few_excerpts,
        offers=_one, pairs=_pairs("finish-measure", 1), clash=_clash, farness=_farness,
        choice="symbols", cues=FILLED, exercise="finish-measure",
    ),
    Ask(
        "finish-measure-with-two", FAMILY, "figures", "symbols",
        draw=lambda space, rng: _draw(space, rng, 2),
        listed=lambda space: _listed(space, 2), lists_all=has_few_excerpts,
        offers=_two, pairs=_pairs("finish-measure-with-two", 2), clash=_clash, farness=_farness,
        choice="symbols", cues=FILLED, exercise="finish-measure-with-two",
    ),
    Ask(
        "beats-left", FAMILY, "entry", "number",
        draw=_draw_number, listed=_listed_numbers, offers=_numbers, clash=never, lists_all=has_few_excerpts,
        cues=FILLED, exercise="beats-left",
    ),
    Ask(
        "all-that-fit", FAMILY, "several", "symbols",
        draw=_draw_several, listed=_listed_several, lists_all=has_few_excerpts,
        offers=_any, clash=never, farness=_farness, sets=sharing_sets, mixes=MIXES,
        choice="symbols", cues=FILLED, exercise="all-that-fit",
    ),
    Ask(
        "drag-into-the-blank", FAMILY, "gaps", "symbols",
        draw=lambda space, rng: _draw(space, rng, 1),
        listed=lambda space: _listed(space, 1), lists_all=has_few_excerpts,
        offers=_dragged, pairs=_pairs("drag-into-the-blank", 1), clash=_clash, farness=_farness,
        picture="none", choice="symbols", cues=FILLED, exercise="drag-into-the-blank",
    ),
    Ask(
        "shortest-first", FAMILY, "order", "order",
        draw=draw_order, listed=listed_orders, offers=order_offers, clash=never, measures=LEAST_GROUPS,
        picture="none", cues=FILLED, exercise="shortest-first",
    ),
)  # fmt: skip
