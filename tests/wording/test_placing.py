"""Gaps, lists and orders in words: what is shown beside what, what each list offers, and that nothing tells the key."""

from itertools import combinations, permutations

import pytest
from sample_items import SAMPLES, form_of, made, placed

from barwright.errors import ItemError
from barwright.items.forms import FormItem
from barwright.items.model import Item
from barwright.items.placing import placing_of, recorded_places
from barwright.rhythm.conventions import Conventions
from barwright.wording.forms import worded_form
from barwright.wording.items import worded_item
from barwright.wording.model import WordedFigure, WordedItem, WordedSlot, figures_of

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


def test_a_list_under_each_symbol_where_the_rows_differ_and_a_count_where_they_do_not() -> None:
    shown = worded(BY_ASK["count-under-each"])
    assert shown.figure is not None
    assert row(shown) == [
        "Half note.", "1-2 / 2",
        "Quarter rest.", "(1) / 3 / (3)",
        "Quarter note, barline.", "1 / 4",
        "Quarter note.", "1 / 5",
        "Quarter note.", "1 / 2 / 6",
        "Half note, barline.", "2 / 3-4 / 7-8",
    ]  # fmt: skip
    assert keys(shown) == ["1-2", "(3)", "4", "1", "2", "3-4"]
    given = made(
        "count-under-each", "4/4 q rq h", ["1 (2) 3-4"],
        {"1 2 3-4": "rest-counts-without-parentheses", "1 () 2-3": "count-waits-during-rests",
         "1 (2) 1-2": "count-restarts-at-the-half-measure"},
    )  # fmt: skip
    assert row(worded(given)) == [
        "Quarter note; counts: 1.", "Quarter rest.", "() / 2 / (2)", "Half note, barline.", "1-2 / 2-3 / 3-4",
    ]  # fmt: skip
    assert worded(given).note == "Pick a count from each list. Some counts are given."


def test_tied_notes_share_a_picture_and_a_triplet_has_its_lists_in_a_row() -> None:
    assert row(worded(TRIPLETS)) == [
        "A triplet of three eighth notes; counts: 1.", "& / la", "2 / li",
        "Quarter note tied to the next note, barline.", "2 / 2-3 / &",
        "Eighth note.", "-1 / -3",
        "Eighth note; counts: &.", "Quarter note, barline.", "2 / 4",
    ]  # fmt: skip
    assert worded(TRIPLETS).note.endswith("Lists under one picture go from first to last.")
    held = made(
        "count-under-each", "3/4 q~ e e q", ["1-2 & 3"],
        {"1 2 3": "tied-note-struck-again", "1-2 3 4": "dot-doubles", "1-2-3 & 4": "dot-doubles"},
    )  # fmt: skip
    assert row(worded(held))[0] == "Quarter note tied to the next note, eighth note."


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
    house = Conventions(counting="takadimi", rest_counts="strike")
    item = made(
        "count-under-each", "2/4 q rq", ["ta t\u0336a\u0336"],
        {"di t\u0336a\u0336": "notes-numbered-in-order", "ta ta": "rest-counts-without-parentheses",
         "di di": "dot-doubles"}, house=house,
    )  # fmt: skip
    assert row(worded(item)) == ["Quarter note.", "di / ta", "Quarter rest, barline.", "di / ta / t\u0336a\u0336"]
