"""Measures worth reading: what is never drawn, what can be, and how much of the legal language that leaves.

Sources: the district sequences behind the table of patterns; what method books print and leave out: common practice,
unless a source stands beside the measure.
"""

from collections.abc import Iterator
from itertools import pairwise
from random import Random

import pytest

from barwright.asks.ask import Space
from barwright.asks.drawn_excerpts import (
    listed_measures,
    readable_count,
    readable_measure,
    well_written,
)
from barwright.asks.wrong_rhythms import near_rhythms
from barwright.blueprint.blueprint import plan_of
from barwright.items.difficulty import WEIGHTS, difficulty
from barwright.notation.legal_measures import Limits, all_measures, measure_count
from barwright.notation.legality import is_legal
from barwright.notation.patterns import untied
from barwright.notation.plain import LAWS
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols, ended
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import (
    format_excerpt,
    format_symbols,
    parse_excerpt,
    parse_symbols,
)
from barwright.rhythm.values import TICKS
from levels.classes import ELEMENTS, class_of, lines

USUAL = Conventions()

# Legal, and yet never printed for the class: level, measure, the bound that it breaks.
NEVER = """
grade 9 | 9/8 | s rs s e s e q~ e. rs s s       | several
grade 9 | 6/8 | e s s s s q.                    | any-pattern
grade 9 | 4/4 | s rs s s q q q                  | any-pattern
grade 9 | 4/4 | re q. q q                       | any-pattern
grade 5 | 4/4 | e e~ e e q q                    | syncopation
grade 6 | 4/4 | e. s e s s q q                  | many-hard-patterns
grade 6 | 4/4 | q. e et et et q                 | many-hard-patterns
grade 6 | 4/4 | s s s s e e e. s q              | many-patterns
grade 6 | 4/4 | e re q e re q                   | many-short-rests
grade 7 | 4/4 | s s s s s s s s e s s s s s s   | many-sounds
grade 6 | 4/4 | s s s s s s s s s s s s e re    | many-sounds
grade 4 | 4/4 | e e e e e e q                   | many-sounds
grade 4 | 4/4 | q rq rh                         | much-silence
grade 6 | 4/4 | s s s s rq rh                   | much-silence
grade 6 | 2/4 | q~ q                            | needless-ties
grade 6 | 3/4 | h~ q                            | needless-ties
grade 6 | 4/4 | e e~ e e q q                    | needless-ties
grade 7 | 6/8 | q.~ q.                          | needless-ties
grade 6 | 4/4 | q s s s s~ e e q                | hard-ties
grade 6 | 4/4 | e e e e~ s s e q                | hard-ties
grade 6 | 4/4 | e e~ h q                        | hard-ties
grade 5 | 3/4 | h~ e e                          | inner ties
grade 4 | 4/4 | q q e e s s s s                 | untaught
"""

# Printed for the class, from the textbook rows of counts and the table of patterns.
POSSIBLE = """
grade 4 | 2/4 | q q
grade 4 | 3/4 | h.
grade 4 | 4/4 | h rh
grade 4 | 4/4 | q rq rq q
grade 4 | 4/4 | e e rq e e q
grade 4 | 2/4 | rW
grade 5 | 3/4 | q. e q
grade 5 | 4/4 | q. e q. e
grade 5 | 2/4 | re e q
grade 5 | 3/4 | q e re q
grade 5 | 2/4 | s s s s q
grade 5 | 4/4 | e s s s s s s h
grade 5 | 3/4 | q s s e rq
grade 6 | 2/4 | e. s q
grade 6 | 4/4 | e q e h
grade 6 | 4/4 | q et et et h
grade 6 | 4/4 | q e e~ e e q
grade 6 | 4/4 | e e q q e e~
grade 6 | 2/2 | q h q
grade 6 | 3/8 | e e e
grade 6 | 4/4 | s s s s s s s s s s s s s s s s
grade 7 | 6/8 | q e q e
grade 7 | 6/8 | q re e e e
grade 7 | 6/8 | e e re q.
grade 7 | 6/8 | q. rq.
grade 7 | 6/8 | q.~ q e
grade 7 | 4/4 | s e s q h
grade 8 | 6/8 | e q q.
grade 8 | 6/8 | e. s e q.
grade 8 | 6/8 | s s s s s s q.
grade 8 | 9/8 | e e e q. rq.
grade 8 | 5/8 | e e e q
grade 8 | 5/8 | q~ q.
grade 9 | 12/8 | h. q. q e
grade 9 | 7/8 | e e q q.
"""


def rows(text: str) -> list[tuple[str, ...]]:
    return [tuple(cell.strip() for cell in line.split("|")) for line in text.strip().splitlines()]


def space_of(level: str, own: str = "") -> Space:
    blueprint = class_of(level, own=own)
    return plan_of(blueprint.part[0], blueprint).space


@pytest.mark.parametrize(("level", "meter", "measure", "bound"), rows(NEVER))
def test_what_nobody_prints_for_the_class_is_never_drawn(level: str, meter: str, measure: str, bound: str) -> None:
    symbols = parse_symbols(measure)
    assert is_legal(symbols, parse_meter(meter), USUAL) or bound == "several"
    assert not well_written(symbols, parse_meter(meter), space_of(level))
    if bound in LAWS and "~" not in measure:
        lifted = space_of(level, f'patterns = ["{level}"]\nallow = ["{bound}"]' if bound != "any-pattern" else ANY)
        assert well_written(symbols, parse_meter(meter), lifted)


ANY = 'allow = ["any-pattern", "many-hard-patterns", "many-patterns", "short-rest-first"]'


@pytest.mark.parametrize(("level", "meter", "measure"), rows(POSSIBLE))
def test_what_method_books_print_can_be_drawn(level: str, meter: str, measure: str) -> None:
    space, symbols = space_of(level), parse_symbols(measure)
    assert well_written(symbols, parse_meter(meter), space)
    assert symbols in set(listed_measures(space, parse_meter(meter), onward=symbols[-1].tied))


# An independent recount of the bounds, by the text of a measure in quarters of a beat.
LENGTHS = {"w": 16, "h": 8, "q": 4, "e": 2, "s": 1}
EQUAL_NOTES = {"e e", "s s s s", "e e e", "s s s s s s"}


def length(token: str) -> int:
    """In sixteenths; a dot adds half. No triplets."""
    plain = LENGTHS[token.strip("r.~")]
    return plain + plain // 2 * ("." in token)


def groups(measure: str, beat: int) -> Iterator[list[str]]:
    place, group = 0, list[str]()
    for token in measure.split():
        group.append(token)
        place += length(token)
        if place % beat == 0:
            yield group
            group = []


def is_plain(measure: str, beat: int, beats: int, figures: set[str]) -> bool:
    """Whether a measure of so many beats keeps the bounds; ties are not looked at."""
    found = [" ".join(g) for g in groups(measure, beat) if len(g) > 1]
    different, tokens = set(found), measure.split()
    notes = [t for t in tokens if not t.startswith("r")]
    silent = sum(length(t) for t in tokens if t.startswith("r"))
    running = set(tokens) <= {"s", "e", "q", "h"} and different <= EQUAL_NOTES
    short = sum(any(t.startswith("r") and length(t) < beat for t in g) for g in groups(measure, beat))
    return (
        different <= figures
        and len(different) <= 2
        and len(different - EQUAL_NOTES - {"q e"}) <= 1
        and short <= 1
        and 3 * silent <= 2 * beat * beats
        and (len(notes) <= (3 if beat == 4 else 4) * beats or running)
    )


@pytest.mark.parametrize(("meter", "beat"), [("2/4", 4), ("3/4", 4), ("6/8", 6)])
def test_the_measures_are_those_of_an_independent_recount(meter: str, beat: int) -> None:
    own = 'patterns = ["grade 8"]\nallow = ["short-rest-first"]'
    space = space_of("grade 7", own)
    style = space.limits.style
    assert style is not None
    known = parse_meter(meter)
    every = all_measures(space.alphabet, known, USUAL, limits=Limits(counted=True, readable=True, sounding=True))
    texts = [text for m in every if "~" not in (text := format_symbols(m)) and "t" not in text]
    wanted = {t for t in texts if is_plain(t, beat, known.ticks // (TICKS // 16) // beat, set(style.figures))}
    drawn = [format_symbols(m) for m in listed_measures(space, known)]
    assert len(drawn) == len(set(drawn)) == readable_count(space, known)
    assert {t for t in drawn if "~" not in t and "t" not in t} - {"rW"} == wanted
    assert 0 < len(wanted) < len(texts)


@pytest.mark.parametrize("level", list(ELEMENTS))
def test_every_measure_that_is_listed_is_well_written_and_the_only_ones(level: str) -> None:
    space = space_of(level)
    for meter in space.meters[:2]:
        listed = list(listed_measures(space, meter))
        assert len(set(listed)) == len(listed) == readable_count(space, meter)
        assert all(well_written(m, meter, space) and is_legal(m, meter, USUAL) for m in listed)
        rng = Random(4)
        assert {readable_measure(space, meter, rng) for _ in range(200)} <= set(listed)


def test_a_measure_with_one_thing_to_notice_comes_more_often_and_all_of_them_alike():
    space, meter, rng = space_of("grade 5"), parse_meter("2/4"), Random(11)
    drawn = [format_symbols(readable_measure(space, meter, rng)).replace("rW", "rh") for _ in range(6000)]
    hard = {"e re", "re e", "e s s", "s s e", "q. e"}
    kinds = {text: len(hard.intersection(map(" ".join, groups(text, 4)))) for text in drawn}
    of_one = [drawn.count(text) for text, kind in kinds.items() if kind == 1]
    plain = [drawn.count(text) for text, kind in kinds.items() if kind == 0]
    assert set(kinds.values()) == {0, 1}
    assert sum(of_one) > 1.5 * sum(plain)
    for counts in (of_one, plain):  # five standard deviations of a fair draw
        fair = sum(counts) / len(counts)
        assert all(abs(count - fair) < 5 * fair**0.5 for count in counts)


def test_hardest_is_the_difficulty_that_forms_are_made_equal_by():
    space = space_of("grade 6")
    for most in (12, 20):
        blueprint = class_of("grade 6")
        part = blueprint.part[0].model_copy(update={"hardest": most})
        easy = plan_of(part, blueprint).space
        for meter in map(parse_meter, ("4/4", "3/8")):
            every = set(listed_measures(space, meter))
            wanted = {m for m in every if difficulty(Excerpt(meter, (m,)), WEIGHTS) <= most}
            assert set(listed_measures(easy, meter)) == wanted
            assert len(wanted) > 0


def test_the_hardest_of_the_quiz_is_that_of_its_parts_unless_they_have_their_own():
    blueprint = class_of("grade 6")
    quiz = blueprint.model_copy(update={"quiz": blueprint.quiz.model_copy(update={"hardest": 9})})
    part = quiz.part[0].model_copy(update={"hardest": 30})
    hardest = [plan_of(each, quiz).space.limits.style.hardest for each in (quiz.part[0], part)]
    assert hardest == [9, 30]


@pytest.mark.parametrize("most", [2, 5])
def test_most_sounds_bounds_every_measure(most: int) -> None:
    space = space_of("grade 6", f'patterns = ["grade 6"]\nmost_sounds = {most}')
    sounds = [sum(not s.silent for s in m) - sum(s.tied for s in m) for m in listed_measures(space, parse_meter("4/4"))]
    assert max(sounds) == most


def test_without_plain_every_legal_readable_measure_is_drawn_with_the_same_chance():
    space = space_of("grade 4", "plain = false")
    four = parse_meter("4/4")
    limits = Limits(counted=True, readable=True, syncopation=False)
    assert space.limits.style is None
    assert space.even
    assert readable_count(space, four) == measure_count(space.alphabet, four, USUAL, limits=limits)


def test_patterns_hold_even_where_nothing_else_is_kept_plain():
    space = space_of("grade 6", 'patterns = ["e e"]\nplain = false')
    found = {format_symbols(m) for m in listed_measures(space, parse_meter("2/4"))}
    assert {"e e e e", "q e e", "rq e e", "q~ e e"} <= found
    assert not any("s" in text or "re" in text for text in found)


@pytest.mark.parametrize("level", list(ELEMENTS))
def test_drawn_lines_of_every_level_hold_what_the_level_has_and_read_well(level: str) -> None:
    """The bounds on what a director sees on the contact sheets: `contact_sheets.py` draws the same lines."""
    drawn = lines(level, 100)
    assert drawn == lines(level, 100)
    ties = [sum(s.tied for s in excerpt.symbols) for excerpt in drawn]
    over = [any(before[-1].tied for before, _ in pairwise(excerpt.measures)) for excerpt in drawn]
    assert 10 <= sum(over) <= 60
    assert sum(count > 1 for count in ties) <= 3
    assert len(set(map(format_excerpt, drawn))) > 80
    for excerpt in drawn:
        for symbols in excerpt.measures:
            assert is_legal(ended(symbols), excerpt.meter, USUAL)


def test_a_figure_comes_back_more_often_than_by_chance() -> None:
    def coming_back(own: str) -> int:
        found = 0
        for excerpt in lines("grade 5", 300, own=own):
            one, other = ({" ".join(g) for g in groups(format_symbols(m), 4) if len(g) > 1} for m in notes_of(excerpt))
            found += bool(one & other)
        return found

    plain, even = coming_back(""), coming_back('patterns = ["grade 5"]\nallow = ["equal-chances"]')
    assert plain > 1.3 * even > 0


def notes_of(excerpt: Excerpt) -> list[Symbols]:
    return [m if format_symbols(m) != "rW" else () for m in map(untied, excerpt.measures)]


def test_wrong_rhythms_are_of_the_figures_of_the_class_too() -> None:
    space = space_of("grade 6", 'patterns = ["grade 5"]').anywhere
    style = space.limits.style
    assert style is not None
    for text in ("4/4 q. e s s s s q", "3/4 e s s q e e", "2/4 s s e q"):
        near = list(near_rhythms(parse_excerpt(text), space, Random(2)))
        names = {" ".join(g) for e in near for m in notes_of(e) for g in groups(format_symbols(m), 4) if len(g) > 1}
        assert len(near) > 3
        assert names <= style.figures
