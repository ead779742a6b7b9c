"""Labels beside picture choices: there where they are wanted, alike in every standard, and no help to a guesser."""

from collections import Counter
from pathlib import Path
from statistics import mean

import pytest

from barwright.blueprint.parsing import read_blueprint
from barwright.check.reading.package import read_package
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from barwright.tasks.record import read_record, read_record_text
from barwright.wording.figures import CONSONANTS, choice_labels
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import WordedItem
from made_once import forms_once
from wording.test_giveaways import ELEMENTS, SEEDS, quizzes

UNITS = Path(__file__).parents[2] / "shared" / "blueprints"
UNIT_1, UNIT_4 = UNITS / "unit-1-half-notes-and-rests.toml", UNITS / "unit-4-drag-and-order.toml"


def pictured(items: tuple[WordedItem, ...]) -> list[WordedItem]:
    return [item for item in items if any(choice.figure for choice in item.choices)]


def items_of(text: str) -> tuple[WordedItem, ...]:
    blueprint, _ = read_blueprint(text, "u.toml")
    return tuple(item for made in forms_once(blueprint) for item in worded_form(made.form).items)


def test_every_picture_has_a_code_and_no_text_has_one() -> None:
    items = items_of(UNIT_1.read_text("utf-8"))
    assert len(pictured(items)) == 12
    for item in items:
        labels = [choice.label for choice in item.choices]
        if item in pictured(items):
            assert all(len(label) == 2 and set(label) <= set(CONSONANTS) for label in labels)
            assert len({label[0] for label in labels}) == len({label[1] for label in labels}) == len(labels)
        else:
            assert set(labels) == {""}


def test_letters_where_nothing_is_mixed_and_nothing_where_none_are_wanted() -> None:
    text = UNIT_1.read_text("utf-8")
    plain = items_of(text.replace("shuffle         = true", "shuffle         = false"))
    assert all("".join(choice.label for choice in item.choices) in ("ABC", "ABCD") for item in pictured(plain))
    bare = items_of(text.replace("[quiz]", "[quiz]\nchoice_labels = false"))
    assert {choice.label for item in bare for choice in item.choices} == {""}


@pytest.mark.parametrize("elements", ELEMENTS)
def test_labels_tell_a_guesser_nothing(elements: str) -> None:
    """Who always picks the first, or the last, label by the alphabet is right no more often than chance."""
    items = [item for item in pictured(quizzes(elements)) if item.interaction == "figures"]
    assert len(items) > 8 * len(SEEDS)
    chance = mean(1 / len(item.choices) for item in items)
    for pick in (min, max):
        right = mean(pick(item.choices, key=lambda choice: choice.label).key for item in items)
        assert right <= chance + 2 * (chance * (1 - chance) / len(items)) ** 0.5
    firsts = Counter(choice.label[0] for item in items for choice in item.choices if choice.key)
    assert len(firsts) == len(CONSONANTS)


def test_a_label_is_no_letter_that_counts_choices_and_no_word() -> None:
    assert not set(CONSONANTS) & set("ABCDEFAEIOUYW")
    assert choice_labels("0" * 16, 12, mixed=True) == choice_labels("0" * 16, 12, mixed=True)
    assert choice_labels("0" * 16, 5, mixed=True) != choice_labels("1" * 16, 5, mixed=True)


@pytest.mark.parametrize(
    ("unit", "standards"), [(UNIT_1, ("cc13", "qti12", "qti22", "qti30")), (UNIT_4, ("qti22", "qti30"))]
)
def test_packages_and_record_have_the_same_labels(unit: Path, standards: tuple[str, ...], tmp_path: Path) -> None:
    made = make(unit, Order(tmp_path, standards=standards), progress=silent)
    worded = {item.ident: item for item in worded_form(made.forms[0].form).items}
    paths = [made.folder / path for path in made.packed.packages if path.startswith("period-1/")]
    assert len(paths) == len(standards)
    for path in paths:
        items = {item.ident: item for item in read_package(path).items}
        for item in pictured(tuple(worded.values())):
            (response,) = items[item.ident].responses
            shown = {choice.ident: choice.shown.text for choice in response.choices}
            assert shown == {choice.ident: choice.label for choice in item.choices}, path
    page = (made.folder / "proof.html").read_text("utf-8")
    key = (made.folder / "key.html").read_text("utf-8")
    for item in pictured(tuple(worded.values())):
        for choice in item.choices:
            assert f'<b class="code">{choice.label}</b>' in page
            assert not choice.key or item.sequence or f'<b class="code">{choice.label}</b>' in key
    text = read_record_text(made.folder / "record.jsonl")
    assert read_record(text, "record")[0].choice_labels
    old = text.replace('"choice_labels": true, ', "", 1)
    assert not read_record(old, "record")[0].choice_labels
