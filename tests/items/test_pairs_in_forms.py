"""Two misreadings held at once in whole forms: every way that a wrong choice names leads to it when it is run again."""

from pathlib import Path

import pytest

from barwright.asks.derivation import way_leads_to
from barwright.asks.item_content import parsed_item
from barwright.asks.tags import tags_of
from barwright.bank.checking import item_faults
from barwright.blueprint.parsing import read_blueprint
from barwright.errors import ItemError
from barwright.forms.assembly import MadeForm
from barwright.items.item import Answer, Choice, Item, item_content
from barwright.misreadings import JOINT
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt
from made_once import forms_once
from whole import whole_or_part

EIGHTHS = Path(__file__).parents[1] / "validity" / "blueprints" / "grade-5-eighths.toml"


@pytest.fixture(scope="module")
def made() -> tuple[MadeForm, ...]:
    read, _ = read_blueprint(EIGHTHS.read_text("utf-8"), EIGHTHS.name)
    return forms_once(read.model_copy(update={"sections": read.sections[: whole_or_part(99, 2)]}))


def test_every_way_to_every_wrong_choice_is_derived_again(made: tuple[MadeForm, ...]) -> None:
    named = [(p.item, c, way) for form in made for p in form.form.items for c in p.item.wrong for way in c.misreadings]
    assert not [(i.ask, c.answer.text, way) for i, c, way in named if not way_leads_to(way, i, c.answer)]
    asks = {item.ask for item, _, way in named if JOINT in way}
    assert {"counts-for-rhythm", "rhythm-for-counts"} <= asks


def test_a_bank_reads_pairs_back_and_finds_nothing_against_them(made: tuple[MadeForm, ...]) -> None:
    paired = [p.item for f in made for p in f.form.items if any(len(c.held) == 2 for c in p.item.wrong)]
    assert paired
    for item in paired:
        assert parsed_item(item_content(item)) == item
        assert list(item_faults(item)) == []


def row_item(way: str, text: str) -> Item:
    """`rh q q` in 4/4 is counted 1-2 in parentheses, 3, 4."""
    choices = (Choice(Answer("row", "(1-2) 3 4")), Choice(Answer("row", text), (way,)))
    return Item("counts-for-rhythm", parse_excerpt("4/4 rh q q"), Conventions(), choices)


def test_a_pair_is_derived_by_acting_out_one_after_the_other() -> None:
    """The half rest is taken for one beat, and its count gets no parentheses: 1, then the quarters on 2 and 3."""
    way = "every-rest-is-one-beat+rest-counts-without-parentheses"
    item = row_item(way, "1 2 3")
    assert way_leads_to(way, item, Answer("row", "1 2 3"))
    assert not way_leads_to(way, item, Answer("row", "(1) 2 3"))  # every-rest-is-one-beat alone
    assert item.wrong[0].held == ("every-rest-is-one-beat", "rest-counts-without-parentheses")
    assert item.offered == {"every-rest-is-one-beat", "rest-counts-without-parentheses"}
    assert tags_of(item, {})["misreadings"] == ["every-rest-is-one-beat", "rest-counts-without-parentheses"]


@pytest.mark.parametrize(
    ("way", "fault"),
    [
        (
            "rest-counts-without-parentheses+every-rest-is-one-beat",
            "misreadings 'rest-counts-without-parentheses+every-rest-is-one-beat' of answer '1 2 3' are no two that a "
            "student can hold at once: take the line from a bank that is as it was written",
        ),
        (
            "dot-doubles+dots-passed-over",
            "misreadings 'dot-doubles+dots-passed-over' of answer '1 2 3' are no two that a "
            "student can hold at once: take the line from a bank that is as it was written",
        ),
    ],
)
def test_pairs_out_of_order_or_that_contradict_are_refused(way: str, fault: str) -> None:
    with pytest.raises(ItemError) as found:
        parsed_item(item_content(row_item(way, "1 2 3")))
    assert str(found.value) == fault
