"""Packages of every standard read back: the same content, told by a reader that shares nothing with the writers."""

from dataclasses import replace
from fractions import Fraction
from hashlib import sha256
from pathlib import Path

import pytest
from package_bases import our_files, packed, sample_files

from barwright.check.reading import (
    Answered,
    ReadItem,
    ReadPackage,
    ReadPool,
    ReadResponse,
    Shown,
    read_package,
    same_content,
)
from barwright.qti import WRITERS
from barwright.wording.worded import Pictures, WordedForm
from worded_forms import ENTRY, FIGURES, SEVERAL

NEWER = ("qti22", "qti30")
FIRST = "cc13"


def read(form: WordedForm, pictures: Pictures, name: str) -> ReadPackage:
    return read_package(packed(our_files(form, pictures, name)), name=name)


def variants(form: WordedForm) -> dict[str, WordedForm]:
    return {
        "usual": form,
        "silent": replace(form, feedback=False),
        "still": replace(form, shuffle=False),
        "spare": replace(form, intro=(), items=(replace(FIGURES, figure=None, note="", category=""),)),
    }


@pytest.mark.parametrize("shape", ["quiz", "bank"])
@pytest.mark.parametrize("standard", WRITERS)
def test_all_standards_say_the_same(form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    for variant in variants(form).values():
        first, other = (read(variant, pictures, f"{s}-{shape}") for s in (FIRST, standard))
        assert same_content(first, other) == ()
        assert (other.standard, other.shape) == (standard, shape)


@pytest.mark.parametrize("standard", NEWER)
def test_what_only_newer_standards_say(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    for variant in (whole_form, replace(whole_form, credit="per-choice")):
        assert same_content(read(variant, pictures, "qti22"), read(variant, pictures, standard)) == ()
    kinds = [r.kind for i in read(whole_form, pictures, standard).items for r in i.responses]
    assert kinds == ["choice", "choice", "several", "entry", "gaps", "inline", "inline", "inline", "inline", "order"]


@pytest.mark.parametrize("standard", ["qti12", *NEWER])
def test_pools(drawn_form: WordedForm, pictures: Pictures, standard: str) -> None:
    package = read(drawn_form, pictures, standard)
    assert [(p.draws, p.items) for p in package.pools] == [
        (1, ("q00b1", "q00b2")),
        (1, ("q00b4", "q00b5", "q00b6")),
    ]
    assert [i.ident for i in package.items] == [i.ident for i in drawn_form.items]


def test_an_item_is_what_was_worded(form: WordedForm, pictures: Pictures) -> None:
    item = read(form, pictures, FIRST).items[0]
    assert (item.ident, item.title, item.full, item.points) == ("q00a1", "Question 1", 100, 1)
    assert item.stem.paragraphs == FIGURES.stem
    (figure,) = item.stem.pictures
    assert figure.alt == FIGURES.figure.alt
    assert figure.digest == sha256(pictures[FIGURES.figure.figure].png).hexdigest()
    (response,) = item.responses
    assert (response.kind, response.keys, response.shuffled) == ("choice", ("c2",), True)
    assert [c.shown.pictures[0].alt for c in response.choices] == [c.figure.alt for c in FIGURES.choices]
    told = {a.given[0]: (a.score, a.feedback) for a in item.answers}
    assert told == {(): (0, ())} | {(c.ident,): (100 if c.key else 0, (c.feedback,)) for c in FIGURES.choices}


def test_several_keys_and_typed_answers(form: WordedForm, pictures: Pictures) -> None:
    several, entry = read(form, pictures, "qti30").items[2:]
    assert several.responses[0].keys == ("c1", "c3")
    assert {a.given[0] for a in several.answers if a.score} == {("c1", "c3")}
    assert len(several.answers) == 16
    assert several.stem.paragraphs == (*SEVERAL.stem, SEVERAL.note)
    assert entry.responses[0].keys == ENTRY.choices[0].spellings
    told = {a.given[0]: a.feedback for a in entry.answers}
    assert told[("1 AND 2".casefold(),)] == ("Count the < held > part.",)
    assert told[("?!",)] == (ENTRY.general_feedback,)


def test_folder_zip_and_bytes_are_one(form: WordedForm, pictures: Pictures, tmp_path: Path) -> None:
    files = our_files(form, pictures, FIRST)
    for path, data in files.items():
        (tmp_path / "p" / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "p" / path).write_bytes(data)
    (tmp_path / "p.zip").write_bytes(packed(files))
    assert read_package(tmp_path / "p") == read_package(tmp_path / "p.zip") == read_package(packed(files))


def test_title_and_shape(form: WordedForm, pictures: Pictures) -> None:
    for standard in WRITERS:
        assert read(form, pictures, standard).title == form.title


# Score of each answer of the published samples, worked out by hand from their rules.
SAMPLE_SCORES = {
    "multiple-response": {"": 0, "A": "1/2", "B": 0, "C": "1/2", "A B": 0, "A C": 1, "B C": 0, "A B C": "1/2"},
    "order": {
        "": 0,
        "eighth quarter half": 1,
        "half eighth quarter": 0,
        "half quarter eighth": 0,
        "eighth half quarter": 0,
        "quarter half eighth": 0,
        "quarter eighth half": 0,
    },
    "inline-choice": {
        "/": 0,
        "one/and": 1,
        "/and": "1/2",
        "and/and": "1/2",
        "one/": "1/2",
        "one/one": "1/2",
    },
}


@pytest.mark.parametrize("version", ["22", "30"])
@pytest.mark.parametrize("name", SAMPLE_SCORES)
def test_scores_of_the_samples(standards: Path, name: str, version: str) -> None:
    data = sample_files(standards, f"item{version}-{name}")["item.xml"]
    (item,) = read_package(data).items
    scores = {"/".join(" ".join(g) for g in a.given): a.score for a in item.answers}
    assert scores == {given: Fraction(score) for given, score in SAMPLE_SCORES[name].items()}


def test_samples_say_the_same_in_both_versions(standards: Path) -> None:
    for name in ("gap-match", "graphic-gap-match", "inline-choice", "multiple-response", "order", "text-entry"):
        one, other = (read_package(sample_files(standards, f"item{v}-{name}")["item.xml"]) for v in ("22", "30"))
        assert same_content(one, other) == ()


CHOICE = ReadResponse("r", "choice", (), ("a",))
ITEM = ReadItem(
    ident="i",
    title="T",
    file="q.xml",
    line=1,
    stem=Shown(("Why?",)),
    responses=(CHOICE,),
    answers=(Answered((("a",),), Fraction(2), ("Right.",)),),
    full=Fraction(2),
    points=Fraction(2),
)
PACKAGE = ReadPackage("qti12", "T", "quiz", (ITEM,))


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"ident": "j"}, "items 'i' against 'j'"),
        ({"title": "U"}, "item i: title 'T' against 'U'"),
        ({"stem": Shown(("How?",))}, "item i, stem: text ('Why?',) against ('How?',)"),
        ({"responses": ()}, "item i: answered by ['choice'] against []"),
        ({"responses": (replace(CHOICE, keys=("b",)),)}, "item i: keys ('a',) against ('b',)"),
        ({"responses": (replace(CHOICE, slots=("s",)),)}, "item i: places () against ('s',)"),
        ({"responses": (replace(CHOICE, shuffled=True),)}, "item i: shuffled False against True"),
        ({"points": Fraction(3)}, "item i: points 2 against 3"),
        ({"answers": ()}, "item i: answer (('a',),) is known to one only"),
        (
            {"answers": (Answered((("a",),), Fraction(1), ("Right.",)),)},
            "item i: answer (('a',),) scores 1 against 0.5 of the full score",
        ),
        (
            {"answers": (Answered((("a",),), Fraction(2), ("No.",)),)},
            "item i: answer (('a',),) is told ('Right.',) against ('No.',)",
        ),
        ({"untried": "too much"}, "item i: untried for '' against 'too much'"),
    ],
)
def test_every_difference_is_told(changes: dict[str, object], says: str) -> None:
    other = replace(PACKAGE, items=(replace(ITEM, **changes),))
    assert same_content(PACKAGE, other) == (says,)
    assert same_content(other, other) == ()


def test_difference_in_choices_and_pools(form: WordedForm, pictures: Pictures) -> None:
    one = read(form, pictures, FIRST)
    swapped = replace(form, items=(replace(FIGURES, choices=FIGURES.choices[::-1]), *form.items[1:]))
    assert "item q00a1: choices ['c1', 'c2', 'c3'] against ['c3', 'c2', 'c1']" in same_content(
        one, read(swapped, pictures, FIRST)
    )
    worded = replace(FIGURES, figure=SEVERAL.choices[0].figure)
    (line,) = same_content(one, read(replace(form, items=(worded, *form.items[1:])), pictures, FIRST))
    assert line.startswith("item q00a1, stem: pictures [(")
    pooled = replace(PACKAGE, pools=(ReadPool("p", 1, ("i",)),))
    assert same_content(PACKAGE, pooled) == ("pools [] against [(1, ('i',))]",)


def test_scores_count_as_parts_of_the_full_score() -> None:
    percent = replace(ITEM, full=Fraction(100), answers=(Answered((("a",),), Fraction(100), ("Right.",)),))
    assert same_content(PACKAGE, replace(PACKAGE, items=(percent,))) == ()
