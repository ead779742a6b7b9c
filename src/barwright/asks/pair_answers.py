"""Wrong answers of a student who holds two misreadings at once: each with the ids of all pairs that lead to it.

What one misreading alone leads to, and what is right, is left out: a pick of it says nothing of a pair. The ids of two
are joined (`pairs.JOINT`), in the order in which they are acted out.
"""

from functools import lru_cache

from barwright.asks.ask import Offers, Question, Space
from barwright.asks.drawn_excerpts import fillers
from barwright.asks.wrong_answers import (
    KEPT,
    filling_answer,
    filling_candidates,
    misreadings_for,
    row_offers,
)
from barwright.counting.counts import normal_row
from barwright.items.item import Answer
from barwright.items.taught import Taught
from barwright.misreadings.pair_claims import pair_claims
from barwright.misreadings.pair_fillings import PairCandidates, pair_candidates_of, pair_fillings
from barwright.misreadings.pairs import pair_rows
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_symbols


@lru_cache(maxsize=256)
def _pair_candidates(
    ask: str, taught: Taught, widths: tuple[int, ...], meter: Meter, conventions: Conventions
) -> PairCandidates:
    groups = tuple(group for width in widths for group in fillers(taught.tokens, width))
    return pair_candidates_of(misreadings_for(ask, taught), groups, meter, conventions)


@lru_cache(maxsize=KEPT)
def filling_pairs(ask: str, question: Question, space: Space, widths: tuple[int, ...]) -> Offers:
    """Groups of so many symbols, of the wrong length, that a student with two misreadings would put in the blank."""
    excerpt, conventions = question.excerpt, space.conventions
    single = filling_candidates(ask, space.taught, widths, excerpt.meter, conventions)
    double = _pair_candidates(ask, space.taught, widths, excerpt.meter, conventions)
    keys = (parse_symbols(key.text) for key in question.keys)
    fillings = pair_fillings(double, single, excerpt, conventions, keys)
    return {filling_answer(symbols): tuple(pair.id for pair in pairs) for symbols, pairs in fillings.items()}


def claim_pairs(ask: str, question: Question, space: Space) -> Offers:
    """Wrong statements about a number that two misreadings lead to."""
    offers: dict[Answer, tuple[str, ...]] = {}
    told = pair_claims(misreadings_for(ask, space.taught), question.excerpt, question.target, space.conventions)
    for pair, text in told:
        answer = Answer("claim", text)
        offers[answer] = (*offers.get(answer, ()), pair.id)
    return offers


@lru_cache(maxsize=KEPT)
def row_pairs(ask: str, excerpt: Excerpt, space: Space, right: str) -> Offers:
    """Wrong rows of counts that two misreadings lead to; rows that only look different are one row."""
    conventions = space.conventions
    known = {
        normal_row(text, conventions) for text in (right, *(answer.text for answer in row_offers(ask, excerpt, space)))
    }
    spelt: dict[str, str] = {}
    offers: dict[Answer, tuple[str, ...]] = {}
    for pair, _, text in pair_rows(misreadings_for(ask, space.taught), excerpt, conventions):
        same = normal_row(text, conventions)
        if same not in known:
            answer = Answer("row", spelt.setdefault(same, text))
            offers[answer] = (*offers.get(answer, ()), pair.id)
    return offers
