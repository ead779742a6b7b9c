"""The table of writers: names, files, and what is refused."""

from dataclasses import replace

import pytest

from barwright.errors import StandardError
from barwright.qti import WRITERS, written
from barwright.wording.worded import Pictures, WordedForm


def test_file_names_never_meet() -> None:
    names = [name for writer in WRITERS.values() for name in writer.files.values()]
    assert len(set(names)) == len(names) == 2 * len(WRITERS)
    assert {s: w.files["quiz"] for s, w in WRITERS.items()} == {
        "cc11": "quiz-cc11.imscc",
        "cc12": "quiz-cc12.imscc",
        "cc13": "quiz.imscc",
        "qti12": "quiz-qti12.zip",
        "qti22": "quiz-qti22.zip",
        "qti30": "quiz-qti30.zip",
    }
    assert WRITERS["cc13"].files["bank"] == "bank.imscc"
    assert WRITERS["qti30"].files["bank"] == "bank-qti30.zip"


def test_unknown_standard(form: WordedForm, pictures: Pictures) -> None:
    with pytest.raises(StandardError) as caught:
        written(form, pictures, standard="qti9", shape="quiz")
    assert str(caught.value) == f"standard 'qti9' is not known: use one of {', '.join(WRITERS)}"


def test_unknown_shape(form: WordedForm, pictures: Pictures) -> None:
    with pytest.raises(StandardError) as caught:
        written(form, pictures, standard="cc13", shape="poster")
    assert str(caught.value) == "Common Cartridge 1.3 has no shape 'poster': use one of quiz, bank"


def test_empty_form(form: WordedForm, pictures: Pictures) -> None:
    with pytest.raises(StandardError) as caught:
        written(replace(form, title="T", items=()), pictures, standard="qti12", shape="quiz")
    assert str(caught.value) == "form 'T' has no items: plain QTI 1.2 needs at least one"


@pytest.mark.parametrize(("standard", "name"), [("cc11", "Common Cartridge 1.1"), ("qti12", "plain QTI 1.2")])
@pytest.mark.parametrize("number", [4, 5, 6])
def test_interaction_that_the_standard_lacks(
    whole_form: WordedForm, pictures: Pictures, standard: str, name: str, number: int
) -> None:
    odd = replace(whole_form, items=(whole_form.items[0], whole_form.items[number]))
    with pytest.raises(StandardError) as caught:
        written(odd, pictures, standard=standard, shape="bank")
    interaction = ("gaps", "inline", "order")[number - 4]
    assert str(caught.value) == (
        f"item 'q00a{number + 1}' ({whole_form.items[number].category}) is answered by '{interaction}', which {name} "
        "cannot express: take qti22 or qti30, or another ask"
    )


@pytest.mark.parametrize(("standard", "minor"), [("cc11", 1), ("cc12", 2), ("cc13", 3)])
def test_cartridges_draw_nothing(drawn_form: WordedForm, pictures: Pictures, standard: str, minor: int) -> None:
    with pytest.raises(StandardError) as caught:
        written(replace(drawn_form, title="T"), pictures, standard=standard, shape="quiz")
    assert str(caught.value) == (
        f"form 'T' draws a question for each student, and Common Cartridge 1.{minor} cannot draw one: "
        "take qti12, qti22 or qti30, or switch draw off"
    )
    # A bank is the same items without a quiz, so that there is nothing to draw.
    undrawn = replace(drawn_form, items=tuple(replace(i, pool="") for i in drawn_form.items))
    bank = written(drawn_form, pictures, standard=standard, shape="bank")
    assert bank == written(undrawn, pictures, standard=standard, shape="bank")


@pytest.mark.parametrize(("standard", "name"), [("cc13", "Common Cartridge 1.3"), ("qti12", "plain QTI 1.2")])
def test_older_standards_count_no_parts_of_an_answer(
    form: WordedForm, pictures: Pictures, standard: str, name: str
) -> None:
    parts = replace(form, credit="per-choice")
    with pytest.raises(StandardError) as caught:
        written(parts, pictures, standard=standard, shape="bank")
    assert str(caught.value) == (
        f"item 'q00a3' has several keys with credit 'per-choice', which {name} cannot express: "
        "take qti22 or qti30, or set credit to 'all-or-nothing'"
    )
    single = replace(parts, items=(parts.items[0], parts.items[1], parts.items[3]))
    whole = replace(single, credit="all-or-nothing")
    made = written(single, pictures, standard=standard, shape="quiz")
    assert made == written(whole, pictures, standard=standard, shape="quiz")


@pytest.mark.parametrize("shape", ["quiz", "bank"])
@pytest.mark.parametrize("standard", WRITERS)
def test_two_runs_write_the_same_bytes(form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    first = written(form, pictures, standard=standard, shape=shape)
    assert written(form, pictures, standard=standard, shape=shape) == first
    assert first[0].path == "imsmanifest.xml"


@pytest.mark.parametrize("standard", WRITERS)
def test_shared_picture_is_one_file_in_each_place(form: WordedForm, pictures: Pictures, standard: str) -> None:
    paths = [e.path for e in written(form, pictures, standard=standard, shape="quiz")]
    places = ("images", "quiz/images") if standard.startswith("cc") else ("images",)
    expected = [f"{place}/f000{n}.png" for place in places for n in range(6)]
    assert sorted(p for p in paths if p.endswith(".png")) == expected


@pytest.mark.parametrize("standard", WRITERS)
def test_text_that_no_package_can_carry(form: WordedForm, pictures: Pictures, standard: str) -> None:
    item = form.items[0]
    for bad in (
        replace(form, title="Bad\0"),
        replace(form, items=(replace(item, title="Bad\0"),)),
        replace(form, items=(replace(item, stem=("Bad\0",)),)),
    ):
        with pytest.raises(StandardError, match=r"Bad.*holds a character that XML cannot carry: take it out"):
            written(bad, pictures, standard=standard, shape="quiz")
