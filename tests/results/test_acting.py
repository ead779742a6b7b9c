"""What students with a misreading answer, acted out again: against the record, and against cases worked by hand."""

import pytest

from barwright.items.item import Item
from barwright.misreadings import JOINT, MISREADINGS
from barwright.results.acting import (
    AWAY,
    Acted,
    acted,
    compared,
    is_open,
    right_answers,
    serving,
)
from barwright.results.answers import Administered
from barwright.results.chances import acted_forms
from results.trial import UNITS, unit_forms
from results.written import form_of, item

REST = item("finish-measure", "4/4 q rq q _", "symbols", q="", h="rests-take-no-time", e="eighth-gets-a-full-beat")


@pytest.fixture(scope="module", params=UNITS)
def given(request: pytest.FixtureRequest) -> tuple[Administered, ...]:
    return unit_forms(request.param)


# Source: worked by hand from the rules of the student-error catalogue (common practice).
@pytest.mark.parametrize(
    ("misreading", "question", "expected"),
    [
        ("rests-take-no-time", REST, Acted((("h",),))),
        ("tied-note-takes-no-time", REST, None),
        ("measure-taken-as-empty", REST, AWAY),  # a whole note, which is not on offer
        ("rests-take-no-time", item("beats-left", "4/4 q rq q _", "number", **{"1": ""}), Acted((("2",),))),
        ("notes-numbered-in-order", item("write-counts", "4/4 h q q", "row", **{"1-2_3_4": ""}), Acted((("1 2 3",),))),
        ("count-waits-during-rests", item("write-counts", "4/4 h q q", "row", **{"1-2_3_4": ""}), None),
        (
            "numbers-of-the-signature-swapped",
            item("all-that-fit", "3/4 h _", "symbols", q="", rq="", h="numbers-of-the-signature-swapped"),
            Acted((("h",),)),
        ),
    ],
)
def test_a_misreading_leads_where_it_does_on_paper(misreading: str, question: Item, expected: Acted | None) -> None:
    assert acted(MISREADINGS[misreading], question) == expected


def test_every_choice_of_the_record_is_reached_again(given: tuple[Administered, ...]) -> None:
    lost = []
    for asked in (asked for form in given for asked in form.items):
        bare = Item(asked.item.ask, asked.item.excerpt, asked.item.conventions, asked.item.choices, asked.item.target)
        for choice in bare.wrong:
            for name in (way for way in choice.misreadings if JOINT not in way):
                found = acted(MISREADINGS[name], bare)
                texts = {text for answer in found.answers for text in answer} if found else set()
                lost += [(bare.ask, name)] if compared(choice.answer.text, bare) not in texts else []
    assert lost == []


def test_most_items_show_misreadings_that_their_record_does_not_name(given: tuple[Administered, ...]) -> None:
    """Who reads answers by the record alone, where an answer on offer or foreseen names it, is blind for the rest."""
    blind, lost = 0, []
    items = [asked.item for form in given for asked in form.items]
    for each in items:
        named = {name for choice in each.wrong for held in choice.misreadings if "+" not in held for name in (held,)}
        shown = {m.id for m in serving(given) if acted(m, each) is not None}
        blind += bool(shown - named)
        lost += sorted(named - shown)
    assert lost == []
    assert blind >= 0.6 * len(items)


def test_typed_answers_that_nobody_foresaw_tell_their_misreading() -> None:
    typed = item("beats-left", "4/4 q rq q _", "number", **{"1": "", "5": "measure-taken-as-empty"})
    (form,) = acted_forms([form_of([typed])])
    two = form.items[0].outcomes.place(("2",))
    assert form.seen([two], ["rests-take-no-time"]) == (0,)
    assert is_open(typed)


def test_items_are_counted_not_ticks() -> None:
    ticks = item(
        "all-that-fit", "2/4 q _", "symbols",
        q="", e_e="", rq="", h="numbers-of-the-signature-swapped", w="measure-taken-as-empty",
        **{"h.": "every-measure-has-four-beats numbers-of-the-signature-swapped"},
    )  # fmt: skip
    (form,) = acted_forms([form_of([ticks])])
    (found,) = acted(MISREADINGS["every-measure-has-four-beats"], ticks).answers
    assert form.chances("every-measure-has-four-beats") == 1
    assert form.seen([form.items[0].outcomes.place(found)], ["every-measure-has-four-beats"]) == (0,)


def test_right_answers_are_all_keys_where_several_are_to_be_ticked() -> None:
    ticks = item("all-that-fit", "3/4 h _", "symbols", q="", rq="", h="numbers-of-the-signature-swapped")
    assert right_answers(ticks) == (("q", "rq"),)
    assert right_answers(REST) == (("q",),)
