"""Meter identification: what a time signature says, and which rhythm or symbol goes with it."""

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from random import Random

from barwright.asks.ask import (
    Ask,
    Cue,
    Offers,
    Question,
    Space,
    never,
)
from barwright.asks.drawn_excerpts import (
    drawn_excerpt,
    fillable_meters,
    has_few_excerpts,
    in_meters,
    listed_excerpts,
)
from barwright.asks.fair_sets import sets_of_each_length
from barwright.asks.pair_answers import claim_pairs
from barwright.asks.statements import (
    TARGETS,
    fit_sets,
    has_equal_sets,
    listed_fits,
    number_claim,
    number_sets,
    told_by_meters,
    verdict_of,
)
from barwright.asks.wrong_answers import claim_offers, meter_offers, wrong_measure_offers
from barwright.items.item import Answer
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import ticks_of
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_measures

FAMILY = "meter-identification"
NEAR = 2  # so many measures long, or fitting so many times into one, a symbol must be looked at twice
FAR = 2  # what `away_from_full` gives at most
PASSED_OVER = 4  # draws of which one passes over the questions that are best to ask, to those that are next best


def _signature_question(excerpt: Excerpt) -> Question:
    return Question(excerpt, (Answer("meter", str(excerpt.meter)),))


def _draw_signature(space: Space, rng: Random) -> Question | None:
    return _signature_question(drawn_excerpt(space, rng))


def _listed_signatures(space: Space) -> Iterator[Question]:
    return map(_signature_question, listed_excerpts(space))


def _rhythm_question(excerpt: Excerpt) -> Question:
    return Question(excerpt, (Answer("measures", format_measures(excerpt.measures)),))


def _draw_rhythm(space: Space, rng: Random) -> Question | None:
    """The length is drawn first: where two meters have one, it would be right twice as often as others."""
    if space.own:
        return _rhythm_question(drawn_excerpt(space, rng))
    lengths: dict[Fraction, list[Meter]] = {}
    for meter in fillable_meters(space):
        lengths.setdefault(meter.capacity, []).append(meter)
    able = lengths[sorted(lengths)[rng.randrange(len(lengths))]]
    return _rhythm_question(drawn_excerpt(in_meters(space, (able[rng.randrange(len(able))],)), rng))


def _listed_rhythms(space: Space) -> Iterator[Question]:
    return map(_rhythm_question, listed_excerpts(space))


def away_from_full(excerpt: Excerpt) -> int:
    """How far the one symbol of an excerpt is from a full measure: the farther, the sooner the verdict is seen.

    0 where it lasts more than half a measure and no more than two, 1 where it lasts just half a measure, else 2.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> [away_from_full(parse_excerpt(text, full=False)) for text in ("3/4 w", "3/4 h", "4/4 h", "4/4 e", "2/4 w.")]
    [0, 0, 1, 2, 2]
    """
    length, room = ticks_of(excerpt.symbols[0], excerpt.meter), excerpt.meter.ticks
    if length > NEAR * room or room > NEAR * length:
        return FAR
    return int(room == NEAR * length)


def _is_slight(question: Question) -> bool:
    """Whether the verdict about a symbol is seen at once."""
    return away_from_full(question.excerpt) == FAR


@lru_cache(maxsize=256)
def _fits_by_verdict(space: Space) -> tuple[tuple[tuple[Question, ...], ...], ...]:
    """For each verdict that is right anywhere the questions whose key it is, best to ask first, by rank.

    Those of whose choices each is right as often as any other come first, all alike. Of others symbols about as long
    as a measure come before, and questions that another verdict can be wrong on: where all choices begin alike, half of
    what is asked is told.
    """
    by_verdict: dict[str, dict[tuple[bool, bool, int], list[Question]]] = {}
    for question in listed_fits(space):
        verdict = verdict_of(question.keys[0])
        offers = claim_offers("does-it-fit", question, space.anywhere)
        away, alike = away_from_full(question.excerpt), all(verdict_of(wrong) == verdict for wrong in offers)
        equal = has_equal_sets(question, space.anywhere)
        rank = (False, False, 0) if equal else (True, away == FAR or alike, away)
        by_verdict.setdefault(verdict, {}).setdefault(rank, []).append(question)
    return tuple(tuple(tuple(ranks[rank]) for rank in sorted(ranks)) for _, ranks in sorted(by_verdict.items()))


def _draw_fit(space: Space, rng: Random) -> Question | None:
    """The verdict is drawn first: few symbols are too long for a measure, and a student might always say Yes."""
    verdicts = _fits_by_verdict(space)
    if not verdicts:
        return None
    *before, last = verdicts[rng.randrange(len(verdicts))]
    able = next((questions for questions in before if rng.randrange(PASSED_OVER)), last)
    return able[rng.randrange(len(able))]


def _number_question(excerpt: Excerpt, target: str, conventions: Conventions) -> Question | None:
    asked = excerpt.meter.top if target == "top" else excerpt.meter.bottom
    if len(excerpt.symbols) == asked or all(s.silent for s in excerpt.symbols):
        return None
    return Question(excerpt, (Answer("claim", number_claim(excerpt.meter, target, conventions)),), target)


def _draw_number(space: Space, rng: Random) -> Question | None:
    """What is true is drawn first; one that is true of many meters comes again, but not as often as it could.

    Else a statement would be right always, or, if each were right once, the last one would be known.
    """
    if space.own:
        return _number_question(drawn_excerpt(space, rng), TARGETS[rng.randrange(2)], space.conventions)
    told = list(told_by_meters(fillable_meters(space), space.conventions).values())
    weighed = [able for able in told for _ in range((len(able) + 1) // 2)]
    able = weighed[rng.randrange(len(weighed))]
    meter, target = able[rng.randrange(len(able))]
    return _number_question(drawn_excerpt(in_meters(space, (meter,)), rng), target, space.conventions)


def _listed_numbers(space: Space) -> Iterator[Question]:
    for excerpt in listed_excerpts(space):
        for target in TARGETS:
            question = _number_question(excerpt, target, space.conventions)
            if question is not None:
                yield question


def _signatures(question: Question, space: Space, _rng: Random) -> Offers:
    return meter_offers("time-signature-for-rhythm", question.excerpt, space)


def _rhythms(question: Question, space: Space, rng: Random) -> Offers:
    return wrong_measure_offers("rhythm-for-time-signature", question.excerpt, space, rng)


def _fits(question: Question, space: Space, _rng: Random) -> Offers:
    return claim_offers("does-it-fit", question, space)


def _numbers(question: Question, space: Space, _rng: Random) -> Offers:
    return claim_offers("what-the-numbers-say", question, space)


def _number_pairs(question: Question, space: Space) -> Offers:
    return claim_pairs("what-the-numbers-say", question, space)


SIGNATURE_ASKED: frozenset[Cue] = frozenset({"signature-asked"})
SAID: frozenset[Cue] = frozenset({"signature-shown", "number"})

ASKS = (
    Ask(
        "time-signature-for-rhythm", FAMILY, "texts", "meter",
        draw=_draw_signature, listed=_listed_signatures, offers=_signatures, clash=never, needs_meters=3, pinned=True,
        picture="signature-hidden", cues=SIGNATURE_ASKED, exercise="time-signature-for-rhythm",
        lists_all=has_few_excerpts,
    ),
    Ask(
        "rhythm-for-time-signature", FAMILY, "figures", "measures",
        draw=_draw_rhythm, listed=_listed_rhythms, offers=_rhythms, clash=never, needs_meters=3,
        picture="none", choice="measures", cues=SIGNATURE_ASKED, exercise="rhythm-for-time-signature",
        sets=sets_of_each_length, lists_all=has_few_excerpts,
    ),
    Ask(
        "does-it-fit", FAMILY, "texts", "claim",
        draw=_draw_fit, listed=listed_fits, offers=_fits, clash=never, sort=verdict_of, sets=fit_sets,
        picture="symbols", exercise="does-it-fit", slight=_is_slight,
    ),
    Ask(
        "what-the-numbers-say", FAMILY, "texts", "claim",
        draw=_draw_number, listed=_listed_numbers, offers=_numbers, pairs=_number_pairs, clash=never, sets=number_sets,
        cues=SAID, exercise="what-the-numbers-say",
        lists_all=has_few_excerpts,
    ),
)  # fmt: skip
