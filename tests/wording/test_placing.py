"""Gaps, lists and orders in words: what is shown beside what, what each list offers, and that nothing tells the key."""

from itertools import combinations, permutations

import pytest
from sample_items import SAMPLES, form_of, made, placed

from barwright.asks.pieces import placing_of, recorded_places
from barwright.engrave.look import look
from barwright.errors import ItemError
from barwright.items.form import FormItem
from barwright.items.item import Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import parse_excerpt
from barwright.wording.items_in_words import worded_form, worded_item
from barwright.wording.placed_items import LabelCell, cell_figure, cells_of
from barwright.wording.worded import (
    WordedFigure,
    WordedItem,
    WordedSlot,
    figures_of,
)

BY_ASK = {item.ask: item for item in SAMPLES}
TRIPLETS = made(
    "count-under-each",
    "2/4 et et et q~ | e e q",
    ["1 la li 2 | -1 & 2"],
    {"1 & 2 & | -1 & 2": "numbers-and-ands-alternate", "1 la li 2 | -3 & 4": "counting-goes-on-over-the-barline",
     "1 la li 2-3 | -1 & 2": "filled-head-lasts-longer"},
)  # fmt: skip


def worded(item: Item) -> WordedItem:
    return worded_item(placed(item), "en-US")


def row(shown: WordedItem) -> list[str]:
    """The row as a student hears it: descriptions, and what each list offers."""
    texts = {c.ident: c.text for c in shown.choices}
    return [
        piece.alt if isinstance(piece, WordedFigure) else " / ".join(texts[o] for o in piece.options)
        for piece in shown.pieces
    ]


def keys(shown: WordedItem) -> list[str]:
    """What belongs into the slots."""
    texts = {c.ident: c.text or (c.figure.alt if c.figure else "") for c in shown.choices}
    return [" or ".join(texts[k] for k in piece.keys) for piece in shown.pieces if isinstance(piece, WordedSlot)]


def test_a_gap_stands_between_the_two_parts_of_the_measure() -> None:
    shown = worded(BY_ASK["drag-into-the-blank"])
    assert shown.figure is None
    assert row(shown) == [
        "One measure, time signature 4 over 4: quarter note.", "", "Quarter note, barline.",
    ]  # fmt: skip
    assert keys(shown) == ["Half note."]
    assert [c.key for c in shown.choices] == [True, False, False, False]


def pictures(shown: WordedItem) -> list[str]:
    """What each picture of the row says, and a stroke for each list under it."""
    found: list[str] = []
    for piece in shown.pieces:
        if isinstance(piece, WordedFigure):
            found.append(piece.alt)
        else:
            found[-1] += " /"
    return found


def test_every_symbol_has_the_same_list_and_no_count_is_given() -> None:
    shown = worded(BY_ASK["count-under-each"])
    assert shown.figure is not None
    assert pictures(shown) == [
        "Half note. /", "Quarter rest. /", "Quarter note, barline. /",
        "Quarter note. /", "Quarter note. /", "Half note, barline. /",
    ]  # fmt: skip
    assert set(row(shown)[1::2]) == {"1 / (1) / 1-2 / 2 / 3 / (3) / 3-4 / 4 / 5 / 6 / 7-8"}
    assert keys(shown) == ["1-2", "(3)", "4", "1", "2", "3-4"]
    assert shown.note == "Pick a count from each list."


def test_tied_notes_share_a_picture_and_a_triplet_has_its_lists_in_a_row() -> None:
    assert pictures(worded(TRIPLETS)) == [
        "A triplet of three eighth notes. / / /", "Quarter note tied to the next note, barline. /",
        "Two eighth notes. / /", "Quarter note, barline. /",
    ]  # fmt: skip
    assert worded(TRIPLETS).note.endswith("Lists under one picture go from first to last.")
    held = made(
        "count-under-each", "3/4 q~ e e q", ["1-2 & 3"],
        {"1 2 3": "tied-note-struck-again", "1-2 3 4": "dot-doubles", "1-2-3 & 4": "dot-doubles"},
    )  # fmt: skip
    assert pictures(worded(held))[0] == "Quarter note tied to the next note, two eighth notes. / /"


def pieces_of(text: str, conventions: Conventions) -> list[tuple[LabelCell, Figure, Item]]:
    """The pieces of an excerpt, with their pictures."""
    excerpt = parse_excerpt(text)
    item = Item("count-under-each", excerpt, conventions, ())
    return [(cell, cell_figure(cell, excerpt), item) for cell in cells_of(item)]


CUT = (
    "4/4 e e e. s~ e q e", "4/4 s s s s e e q q", "4/4 e e e e e e e e", "6/8 e. s e e e e", "6/8 s s s s s s q e",
    "3/4 e s s~ s s e q", "12/8 e e e q e s s e e q.", "5/8 e e e e e", "7/8 e e e e e e e", "2/4 et et et et et et",
    "2/2 e e e e q q", "4/4 q. e~ e e q", "2/4 re e e re", "3/4 q | e e q q | q e e", "9/8 q e~ e e e e e e | rW",
)  # fmt: skip


@pytest.mark.parametrize("beam_4_4", ["quarter", "half"])
@pytest.mark.parametrize("text", CUT)
def test_pieces_show_the_beams_of_the_score(text: str, beam_4_4: str) -> None:
    conventions = Conventions(beam_4_4=beam_4_4)
    scores: dict[int, set[tuple[int, ...]]] = {}
    found: dict[int, set[tuple[int, ...]]] = {}
    for cell, figure, item in pieces_of(text, conventions):
        whole = look(Figure(item.excerpt), conventions).measures[cell.measure]
        scores[cell.measure] = {tuple(bar) for bar in whole.bars}
        (piece,) = look(figure, conventions).measures
        moved = cell.start - (len(piece.symbols) - (cell.end - cell.start))  # a last piece stands behind a blank
        bars = {(bar.first + moved, bar.last + moved, bar.level, bar.towards) for bar in piece.bars}
        found.setdefault(cell.measure, set()).update(bars)
        assert not item.excerpt.measures[cell.measure][cell.end - 1].tied or cell.last
    assert found == scores


def test_lists_offer_counts_by_number_whatever_the_key() -> None:
    texts = [c.text for c in worded(BY_ASK["count-under-each"]).choices]
    assert texts == ["1", "(1)", "1-2", "2", "3", "(3)", "3-4", "4", "5", "6", "7-8"]


def test_each_wrong_row_is_told_by_a_count_of_its_own_or_as_a_whole() -> None:
    shown = worded(BY_ASK["count-under-each"])
    texts = {c.ident: c.text for c in shown.choices}
    told = {a.misreading: texts.get(a.told_by, "") for a in shown.foreseen if not a.key}
    assert told == {
        "counting-goes-on-over-the-barline": "5",
        "rest-counts-without-parentheses": "3",
        "lengths-written-as-counts": "(1)",
    }
    for choice in shown.choices:
        answers = [a for a in shown.foreseen if a.told_by == choice.ident]
        assert [choice.feedback] == [a.feedback for a in answers] or choice.key or not choice.feedback
    assert sum(c.feedback.startswith("Right.") for c in shown.choices) == 1
    whole = made(
        "count-under-each", "3/4 q q q", ["1 2 3"],
        {"1 3 5": "counting-goes-on-over-the-barline", "4 5 3": "notes-numbered-in-order", "1 5 4": "dot-doubles"},
    )  # fmt: skip
    assert {a.told_by == "" for a in worded(whole).foreseen if a.misreading == "dot-doubles"} == {True}


def test_an_order_shows_its_groups_and_knows_the_sequence() -> None:
    shown = worded(BY_ASK["shortest-first"])
    alts = {c.ident: c.figure.alt for c in shown.choices if c.figure}
    assert [alts[ident] for ident in shown.sequence] == ["Quarter rest.", "Half note.", "Three quarter notes."]
    wrong = {a.misreading: [alts[i] for i in a.filled] for a in shown.foreseen if not a.key}
    assert wrong["whole-and-half-note-swapped"] == ["Quarter rest.", "Three quarter notes.", "Half note."]
    assert shown.note == "Add up all that one picture shows. Put the shortest one first."
    single = made("shortest-first", "4/4 h | q | w", ["q < h < w"], {"h < q < w": "filled-head-lasts-longer"})
    assert worded(single).note == "Put the shortest one first."


def test_groups_are_never_shown_in_a_right_or_a_foreseen_order() -> None:
    groups = ("h", "q", "w")
    wrong = [o for o in permutations(groups) if o != ("q", "h", "w")]
    for size in range(1, 5):
        for offered in combinations(wrong, size):
            errors = {" < ".join(o): f"error-{n}" for n, o in enumerate(offered)}
            item = made("shortest-first", "4/4 h | q | w", ["q < h < w"], errors)
            placing = placing_of(item)
            assert placing is not None
            assert placing.texts not in (("q", "h", "w"), *offered)
            assert sorted(placing.texts) == sorted(groups)


@pytest.mark.parametrize("ask", ["count-under-each", "shortest-first"])
def test_a_record_holds_each_choice_as_a_response_in_the_shown_order(ask: str) -> None:
    item = BY_ASK[ask]
    order = tuple(reversed(range(len(item.choices))))
    shown = worded_item(FormItem(item, order, 1, 1), "en-US")
    kept = recorded_places(item, order)
    assert kept["filled"] == [list(a.filled) for a in shown.foreseen]
    assert [a.key for a in shown.foreseen] == [item.choices[n].key for n in order]
    texts, slots = kept["texts"], kept["slots"]
    assert isinstance(texts, list)
    assert isinstance(slots, list)
    assert [t["ident"] for t in texts] == [c.ident for c in shown.choices]
    assert [s["ident"] for s in slots] == [p.ident for p in shown.pieces if isinstance(p, WordedSlot)]


def test_items_whose_choices_are_whole_answers_have_no_places() -> None:
    for item in SAMPLES:
        placed_ask = item.ask in ("count-under-each", "shortest-first")
        assert (placing_of(item) is not None) == bool(recorded_places(item, range(len(item.choices)))) == placed_ask


def test_every_picture_of_the_row_is_drawn() -> None:
    form = worded_form(form_of(BY_ASK["drag-into-the-blank"], TRIPLETS, BY_ASK["shortest-first"]))
    wanted = [p.figure for i in form.items for p in i.pieces if isinstance(p, WordedFigure)]
    assert set(wanted) <= set(figures_of(form))


def test_answers_that_are_not_made_of_the_same_parts_are_refused() -> None:
    rows = made("count-under-each", "3/4 h q", ["1-2 3"], {"1 2 3": "held-beats-struck-again"})
    with pytest.raises(ItemError) as raised:
        placing_of(rows)
    assert str(raised.value) == f"the rows of item {rows.id} have not all a label for the same symbols: take it out"
    orders = made("shortest-first", "4/4 h | q | w", ["q < h < w"], {"q < h < e": "dot-doubles"})
    with pytest.raises(ItemError) as raised:
        placing_of(orders)
    assert str(raised.value) == f"the orders of item {orders.id} are not of the same groups: take it out"


def test_crossed_out_rests_and_syllables_have_their_lists_too() -> None:
    conventions = Conventions(counting="takadimi", rest_counts="strike")
    item = made(
        "count-under-each", "2/4 q rq", ["ta t\u0336a\u0336"],
        {"di t\u0336a\u0336": "notes-numbered-in-order", "ta ta": "rest-counts-without-parentheses",
         "di di": "dot-doubles"}, conventions=conventions,
    )  # fmt: skip
    offered = "ta / t\u0336a\u0336 / di"
    assert row(worded(item)) == ["Quarter note.", offered, "Quarter rest, barline.", offered]
