"""What holds for every figure: nothing collides, nothing lies outside, equal values get equal room, nothing is told."""

from collections import defaultdict
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise, product
from random import Random

import pytest
from rhythms import BEGINNERS, FONTS, METERS, USUAL, chance_counts, chance_excerpts, full_measures, laid_out, of_role

from barwright.engrave.beams import groups
from barwright.engrave.columns import BLANK_SPACE
from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.engrave.placed import Layout, Placed
from barwright.engrave.spacing import IDEAL_SP
from barwright.engrave.symbols import BLANK_BOX
from barwright.rhythm.excerpt import Excerpt, Figure, fragment
from barwright.rhythm.measure import (
    BLANK,
    FULL_MEASURE_REST,
    length_of,
    note,
    rest,
)
from barwright.rhythm.meter import Meter, parse_meter

BRAVURA = load_font("Bravura")
FOUR = Meter(4, 4)
SIGNS = ("head", "rest", "blank")
# Parts that touch or cross each other by their nature: parts of one note or number, what joins several notes, and ties
# over barlines. The line runs through everything.
MAY_MEET = {
    frozenset(pair)
    for pair in (
        ("head", "stem"),
        ("head", "flag"),
        ("stem", "flag"),
        ("stem", "beam"),
        ("count", "strike"),
        ("tie", "barline"),
        ("bracket", "bracket"),
        ("digit", "digit"),
    )
}
SAME_OWNER = frozenset({"head", "stem", "flag"})


def collisions(laid: Layout) -> list[tuple[Placed, Placed]]:
    """Pairs of things that must not meet but do; parts of different notes must never meet."""
    things = [p for p in laid.placed if p.role != "staff"]
    found = []
    for a, b in combinations(things, 2):
        if a.box.meets(b.box):
            allowed = frozenset((a.role, b.role)) in MAY_MEET
            if not allowed or ({a.role, b.role} <= SAME_OWNER and a.owner != b.owner):
                found.append((a, b))
    return found


def outside(laid: Layout) -> list[Placed]:
    """What crosses the edge of the canvas."""
    top = laid.line_sp
    bottom = top - laid.height_sp
    return [p for p in laid.placed if p.box.x0 < 0 or p.box.x1 > laid.width_sp or p.box.y1 > top or p.box.y0 < bottom]


def lefts(laid: Layout) -> dict[tuple[int, int], float]:
    """Where each symbol begins, to a thousandth of a staff space."""
    found = {}
    for p in laid.placed:
        if p.role in SIGNS and p.owner is not None:
            found[p.owner] = round(p.box.x0 if p.role == "blank" else p.x_sp, 3)
    return found


def widths_by_value(excerpt: Excerpt, laid: Layout) -> dict[Fraction, set[float]]:
    """The distances from symbols of each length to the next symbol of their measure."""
    places, found = lefts(laid), defaultdict(set)
    for number, symbols in enumerate(excerpt.measures):
        for index, (symbol, _) in enumerate(pairwise(symbols)):
            width = round(places[number, index + 1] - places[number, index], 3)
            if symbol.value is not None:
                found[length_of(symbol, excerpt.meter)].add(width)
    return found


def marks_of(excerpt: Excerpt) -> Excerpt:
    """The excerpt with its last symbol marked."""
    return replace(excerpt, mark=(len(excerpt.measures) - 1, len(excerpt.measures[-1]) - 1))


def ways_to_show(excerpt: Excerpt) -> list[Figure]:
    """A measure bare, with everything there is to show, and as a fragment."""
    everything = Figure(marks_of(excerpt), counts=chance_counts(excerpt, Random(0)), numbers=True)
    return [Figure(excerpt), everything, Figure(excerpt, signature=False, frame="fragment", final=False)]


def test_no_measure_of_whole_half_quarter_notes_and_rests_collides_or_sticks_out() -> None:
    seen = 0
    for excerpt in full_measures():
        for figure, name in product(ways_to_show(excerpt), ("Bravura", "Leland")):
            laid = layout(figure, load_font(name), USUAL)
            assert not collisions(laid), (excerpt, name)
            assert not outside(laid), (excerpt, name)
            seen += 1
    assert seen == 6 * (3 + 6 + 16 + 46)  # full-measure rests, and a(n) = 2 (a(n-1) + a(n-2) + a(n-4))


def test_no_measure_with_eighth_notes_and_rests_collides_or_sticks_out() -> None:
    for excerpt in full_measures("1/8"):
        laid = layout(Figure(excerpt), BRAVURA, USUAL)
        assert not collisions(laid), excerpt
        assert not outside(laid), excerpt


@pytest.mark.parametrize("name", [f for f in FONTS if f != "Gootville"])  # that has no triplet number
@pytest.mark.parametrize("beam_4_4", ["quarter", "half"])
def test_no_rich_excerpt_collides_or_sticks_out(name: str, beam_4_4: str) -> None:
    rng, conventions = Random(2), replace(USUAL, beam_4_4=beam_4_4)
    for excerpt in chance_excerpts(150, measures=2):
        measure = rng.randrange(len(excerpt.measures))
        marked = replace(excerpt, mark=(measure, rng.randrange(len(excerpt.measures[measure]))))
        figure = Figure(marked, counts=chance_counts(excerpt, rng), numbers=True)
        laid = layout(figure, load_font(name), conventions)
        assert not collisions(laid), excerpt
        assert not outside(laid), excerpt


def test_the_overlap_test_finds_overlaps() -> None:
    laid = laid_out("4/4 q q h")
    head = of_role(laid, "head")[0]
    for shift, found in ((0.5, True), (1.0, True), (2.0, False)):
        moved = replace(laid, things=(*laid.placed, head.moved(shift, 0.0, owner=(0, 9))))
        assert bool(collisions(moved)) == found
    assert outside(replace(laid, things=(head.moved(-5.0, 0.0),)))


@pytest.mark.parametrize("name", ["Bravura", "Leland"])
def test_equal_values_are_spaced_equally(name: str) -> None:
    for excerpt in (*full_measures("1/8"), *chance_excerpts(200, measures=2)):
        figure = Figure(excerpt)
        for length, widths in widths_by_value(excerpt, layout(figure, load_font(name), USUAL)).items():
            assert len(widths) == 1, (excerpt, length)


def test_equal_values_are_spaced_equally_above_counts() -> None:
    rng = Random(4)
    for excerpt in chance_excerpts(200, measures=2):
        laid = layout(Figure(excerpt, counts=chance_counts(excerpt, rng)), BRAVURA, USUAL)
        found = widths_by_value(excerpt, laid)
        assert all(len(widths) == 1 for widths in found.values()), excerpt
        by_length = [max(found[length]) for length in sorted(found)]
        assert all(wider - narrower > 0.05 for narrower, wider in pairwise(by_length)), excerpt


def test_all_measures_of_beginners_use_one_table() -> None:
    for excerpt in full_measures():
        for length, widths in widths_by_value(excerpt, layout(Figure(excerpt), BRAVURA, USUAL)).items():
            assert widths == {IDEAL_SP[length]}, excerpt


# Ideal widths in staff spaces: conventions choice, somewhat wider than the trade table after Ross 1970 and Gould 2011.
@pytest.mark.parametrize(("length", "width"), [("1/16", 2.2), ("1/8", 2.9), ("1/4", 3.9), ("1/2", 5.4), ("1", 7.4)])
def test_ideal_widths_are_those_of_the_table(length: str, width: float) -> None:
    assert IDEAL_SP[Fraction(length)] == width


def test_longer_lengths_have_wider_ideal_widths() -> None:
    ideal = [IDEAL_SP[length] for length in sorted(IDEAL_SP)]
    assert len(set(ideal)) == len(ideal)
    assert ideal == sorted(ideal)


def test_a_blank_has_one_size_and_one_room_wherever_it_stands() -> None:
    for excerpt in full_measures():
        (symbols,) = excerpt.measures
        whole = lefts(layout(Figure(excerpt), BRAVURA, USUAL))
        for index in range(len(symbols)):
            blanked = (*symbols[:index], BLANK, *symbols[index + 1 :])
            laid = layout(Figure(Excerpt(excerpt.meter, (blanked,))), BRAVURA, USUAL)
            (box,) = of_role(laid, "blank")
            places = lefts(laid)
            if len(symbols) > 1 or symbols[0].value is not None:  # the full-measure rest stands in the middle
                assert places[0, index] == whole[0, index]
            assert (box.box.width, box.box.y0, box.box.y1) == pytest.approx(
                (BLANK_BOX.width, BLANK_BOX.y0, BLANK_BOX.y1)
            )
            if index + 1 < len(symbols):
                assert places[0, index + 1] - places[0, index] == pytest.approx(BLANK_SPACE)


def test_pictures_with_a_blank_tell_nothing_of_what_is_missing() -> None:
    """Measures that look alike but for what the blank hides have one and the same layout, to the last place."""
    seen: dict[tuple[object, ...], Layout] = {}
    hidden = defaultdict(set)
    for text in BEGINNERS:  # other meters, so other lengths are missing; the signature is left out
        for excerpt in full_measures():
            (symbols,) = excerpt.measures
            for index, symbol in enumerate(symbols):
                around = (*symbols[:index], BLANK, *symbols[index + 1 :])
                laid = layout(Figure(Excerpt(parse_meter(text), (around,)), signature=False), BRAVURA, USUAL)
                assert seen.setdefault(around, laid) == laid
                hidden[around].add(symbol)
    assert max(map(len, hidden.values())) > 4


@pytest.mark.parametrize("meter", [m for m in METERS if m not in ("5/8", "7/8")])
def test_beams_beside_a_blank_are_those_of_the_whole_measure(meter: str) -> None:
    for excerpt in chance_excerpts(300, seed=3):
        if str(excerpt.meter) != meter:
            continue
        (symbols,) = excerpt.measures
        end = excerpt.meter.capacity
        whole = groups(symbols, excerpt.meter, USUAL, start=Fraction(0), end=end)
        for index, symbol in enumerate(symbols):
            if symbol.value is None or symbol.value.triplet:  # what is left of a triplet beams anew
                continue
            around = (*symbols[:index], BLANK, *symbols[index + 1 :])
            parts = [part for g in whole for part in (_up_to(g, index), _from(g, index)) if len(part) > 1]
            assert list(groups(around, excerpt.meter, USUAL, start=Fraction(0), end=end)) == parts


def _up_to(group: tuple[int, ...], index: int) -> tuple[int, ...]:
    return tuple(n for n in group if n < index)


def _from(group: tuple[int, ...], index: int) -> tuple[int, ...]:
    return tuple(n for n in group if n > index)


ONE_SYMBOL = [
    *(note(p, dots) for p in ("1", "1/2", "1/4", "1/8", "1/16") for dots in (0, 1)),
    *(rest(p) for p in ("1", "1/2", "1/4", "1/8", "1/16")),
    FULL_MEASURE_REST,
]


@pytest.mark.parametrize("name", FONTS)
def test_choices_of_one_symbol_share_canvas_and_line_and_stand_in_the_middle(name: str) -> None:
    canvases = set()
    for symbol in ONE_SYMBOL:
        laid = layout(fragment((symbol,), FOUR), load_font(name), USUAL)
        (line,) = of_role(laid, "staff")
        canvases.add((laid.width_sp, laid.height_sp, laid.line_sp, line.box))
        ink = [p.box for p in laid.placed if p.role != "staff"]
        left, right = min(b.x0 for b in ink), max(b.x1 for b in ink)
        assert (left + right) / 2 == pytest.approx(laid.width_sp / 2, abs=0.05)
        assert not of_role(laid, "barline")
    assert len(canvases) == 1


def test_pairs_of_usual_values_share_the_canvas_of_single_symbols() -> None:
    usual = [s for s in ONE_SYMBOL if s.value is not None and s.value.length < 1]
    single = layout(fragment((note("1/4"),), FOUR), BRAVURA, USUAL)
    for pair in product(usual, repeat=2):
        laid = layout(fragment(pair, FOUR), BRAVURA, USUAL)
        assert (laid.width_sp, laid.height_sp, laid.line_sp) == (single.width_sp, single.height_sp, single.line_sp)


def test_the_height_follows_from_the_kinds_of_things_shown_alone() -> None:
    heights = defaultdict(set)
    for excerpt in (*full_measures(), *chance_excerpts(60)):
        for n, figure in enumerate(ways_to_show(excerpt)):
            laid = layout(figure, BRAVURA, USUAL)
            heights[n].add((laid.height_sp, laid.line_sp))
    assert all(len(found) == 1 for found in heights.values())
    assert heights[0] == heights[2]


def test_long_excerpts_go_on_in_a_new_system() -> None:
    measure = "q q q q"
    laid = laid_out(f"4/4 {' | '.join([measure] * 6)}")
    lines = of_role(laid, "staff")
    assert len(lines) == 2
    assert max(line.box.x1 for line in lines) <= 61.0  # sixty, and a final barline
    starts = [p for p in laid.placed if p.role == "head" and p.owner in ((0, 0), (3, 0))]
    one = layout(Figure(Excerpt(FOUR, ((note("1/4"),) * 4,))), BRAVURA, USUAL)
    assert laid.height_sp == pytest.approx(2 * one.height_sp)
    assert starts[1].y_sp == pytest.approx(-one.height_sp)
    assert starts[1].x_sp < starts[0].x_sp  # no signature there
    assert not collisions(laid)
    assert not outside(laid)


def test_four_measures_of_three_quarters_stand_on_one_system() -> None:
    assert len(of_role(laid_out("3/4 q q q | h q | h. | q h"), "staff")) == 1


@pytest.mark.parametrize("text", ["3/4 w", "3/4 q q q e e", "2/4 q", "4/4 h. h"])
def test_a_measure_need_not_be_full(text: str) -> None:
    laid = laid_out(text, full=False)
    assert not collisions(laid)
    assert not outside(laid)


def test_layouts_are_equal_for_equal_figures() -> None:
    assert laid_out("3/4 q. e q").placed == laid_out("3/4 q. e q").placed
