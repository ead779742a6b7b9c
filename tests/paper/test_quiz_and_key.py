"""quiz.pdf and key.pdf of all demo units, read back: what is there, what must not be, and where it stands."""

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from hashlib import sha256
from pathlib import Path

import pytest

from barwright.engrave.font import load_font
from barwright.items.form import form_code
from barwright.paper.forms import MOST_ROWS, answering, quiz_data
from barwright.paper.typesetting import typeset
from barwright.wording.worded import WordedForm, WordedItem, numbered, worth
from paper.printed import UNITS, OnPaper, Pdf, all_units_in_one, first_form, on_paper

POINTS_PER_MM = 72 / 25.4


@cache
def unit(name: str) -> OnPaper:
    return on_paper(first_form(name))


@cache
def pdf(name: str, which: str) -> Pdf:
    return Pdf(getattr(unit(name), which))


@cache
def largest() -> tuple[OnPaper, Pdf, Pdf]:
    made = on_paper(all_units_in_one())
    return made, Pdf(made.quiz), Pdf(made.key)


def figures(item: WordedItem) -> list[str]:
    """The alternative texts of an item's pictures, as they stand on paper."""
    own = [item.figure.alt] if item.figure else []
    return [*own, *(choice.figure.alt for choice in item.choices if choice.figure)]


@pytest.mark.parametrize("name", UNITS)
def test_it_is_tagged_and_says_title_language_and_every_picture(name: str) -> None:
    """PDF/UA-1, ISO 14289-1: 7.1 (marked, title shown), 7.2 (language), 7.3 (alternative texts), 7.4 (headings)."""
    made, quiz = unit(name), pdf(name, "quiz")
    assert (bool(quiz.root.MarkInfo.Marked), str(quiz.root.Lang)) == (True, "en-US")
    assert bool(quiz.root.ViewerPreferences.DisplayDocTitle)
    with quiz.file.open_metadata() as told:
        assert (told["dc:title"], told["pdfuaid:part"]) == (made.form.title, "1")
    tags = quiz.tags()
    headings = [tag.kind for tag in tags if tag.kind in ("H1", "H2", "H3")]
    assert headings == ["H1", *["H2"] * len(made.worded.items)]
    assert [tag.alt for tag in tags if tag.kind == "Figure"] == [a for i in made.worded.items for a in figures(i)]


@pytest.mark.parametrize("name", UNITS)
@pytest.mark.parametrize("which", ["quiz", "key"])
def test_fonts_are_embedded_and_free_and_figures_are_outlines(name: str, which: str) -> None:
    found = pdf(name, which)
    assert all(found.fonts().values())
    assert {font.split("-")[0] for font in found.fonts()} == {"LibertinusSerif"}  # SIL Open Font License 1.1
    assert found.images() == 0


@pytest.mark.parametrize("name", UNITS)
def test_its_text_can_be_copied(name: str) -> None:
    made, text = unit(name), " ".join(pdf(name, "quiz").texts())
    assert f"Form {form_code(made.form.ident)}" in text
    assert f"Section: {made.form.section}" in text
    questions, points = worth(made.worded)
    assert f"{questions} questions, {points} points" in text
    for item in made.worded.items:
        assert item.stem[0] in text
        texts = [choice.text for choice in item.choices if choice.text and answering(item) == "letters"]
        assert all(each in text for each in texts)


def keyless(form: WordedForm) -> WordedForm:
    """The form with other keys, reasons and spellings, and nothing else changed."""

    def turned(item: WordedItem) -> WordedItem:
        choices = tuple(
            replace(c, key=not c.key, misreading="m", why="w", feedback="f", spellings=("s",)) for c in item.choices
        )
        foreseen = tuple(replace(a, key=not a.key, filled=a.filled[::-1], text="t", why="w") for a in item.foreseen)
        return replace(item, choices=choices, foreseen=foreseen, sequence=item.sequence[::-1])

    return replace(form, items=tuple(map(turned, form.items)))


@pytest.mark.parametrize("name", UNITS)
def test_the_quiz_does_not_hang_on_any_key(name: str) -> None:
    made = unit(name)
    assert keyless(made.worded) != made.worded
    data = quiz_data(made.worded, made.drawings, "letter")
    assert quiz_data(keyless(made.worded), made.drawings, "letter") == data


def parts(name: str) -> list[str]:
    """The text of the quiz from each item's stem to the next one's."""
    items = unit(name).worded.items
    text = " ".join(pdf(name, "quiz").texts())
    starts = [0]
    for number, item in enumerate(items, start=1):
        starts.append(text.index(f"{number}. {item.stem[0]}", starts[-1]))
    return [text[start:end] for start, end in zip(starts[1:], [*starts[2:], None], strict=True)]


@pytest.mark.parametrize("name", UNITS)
def test_no_answer_that_is_written_stands_on_the_quiz_nor_any_misreading(name: str) -> None:
    items, key = unit(name).worded.items, " ".join(pdf(name, "key").texts())
    for item, part in zip(items, parts(name), strict=True):
        answers = item.foreseen or item.choices
        if answering(item) == "counts":
            (right,) = [answer.text for answer in answers if answer.key]
            assert right in key
            assert right not in part.split("Choose from")[0]  # behind it stand labels to choose from, in their order
        told = [answer.why for answer in answers if answer.why]
        assert all(why in key for why in told)
        assert not any(why in part for why in told)


@pytest.mark.parametrize("name", UNITS)
def test_no_item_is_split_over_two_pages(name: str) -> None:
    """Its number, the letters of its choices and its pictures are on one page."""
    pages: list[set[int]] = []
    for tag in pdf(name, "quiz").tags():
        if tag.kind == "H2":
            pages.append(set())
        if pages and tag.kind in ("H2", "Strong", "Figure"):
            pages[-1].add(tag.page)
    assert len(pages) == len(unit(name).worded.items)
    assert [len(each) for each in pages] == [1] * len(pages)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", UNITS)
def test_a_quiz_of_up_to_twenty_questions_takes_two_to_four_pages(name: str, paper: str) -> None:
    quiz = Pdf(replace(unit(name), paper=paper).quiz)
    size = {"letter": (215.9, 279.4), "a4": (210, 297)}[paper]
    assert [round(float(edge) / POINTS_PER_MM, 1) for edge in quiz.file.pages[0].MediaBox[2:]] == list(size)
    assert 2 <= quiz.pages <= 4


def strip_rows(found: Pdf, page: int, edge: Callable[[float], bool]) -> dict[str, float]:
    """The numbers of the questions in the strip of a page, with their heights."""
    return {run.text: run.y for run in found.runs(page) if run.text.isdecimal() and edge(run.x)}


def test_the_key_strip_has_its_rows_where_the_answer_strip_has_them() -> None:
    made, quiz, key = largest()
    width = 215.9 * POINTS_PER_MM
    rows = len(made.worded.items)
    strips = -(-rows // MOST_ROWS)
    assert strips == 3
    told: list[str] = []
    for page in range(1, strips + 1):
        on_quiz = strip_rows(quiz, page, lambda x: x > width - 45 * POINTS_PER_MM)
        on_key = strip_rows(key, page, lambda x: x < 15 * POINTS_PER_MM)
        told += on_quiz
        assert on_quiz == on_key
    assert told == [number for number, _, _ in numbered(made.worded)]


def test_the_key_strip_shows_the_right_letters() -> None:
    """A letter that is filled in is white: its color operator stands before its text."""
    made, _, key = largest()
    filled = key.white_letters(1)
    first = made.worded.items[: len(filled)]
    letters = [i for i in first if answering(i) == "letters"]
    right = ["ABCDEF"[p] for i in letters for p, choice in enumerate(i.choices) if choice.key]
    assert "".join(filled[: len(right)]) == "".join(right)


def test_the_same_bytes_in_every_run() -> None:
    made = unit(UNITS[0])
    code = (
        "from hashlib import sha256\n"
        "from paper.printed import UNITS, first_form, on_paper\n"
        "made = on_paper(first_form(UNITS[0]))\n"
        "print(sha256(made.quiz + made.key).hexdigest())\n"
    )
    tests = Path(__file__).parents[1]
    again = subprocess.run([sys.executable, "-c", code], cwd=tests, capture_output=True, text=True, check=True)
    assert again.stdout.strip() == sha256(made.quiz + made.key).hexdigest()


def test_a_font_without_outlines_is_printed_at_three_hundred_dots_an_inch_or_more(tmp_path: Path) -> None:
    own = tmp_path / "own.woff2"
    own.write_bytes(load_font("Petaluma").file)
    found = Pdf(on_paper(first_form(UNITS[0]), font=str(own)).quiz)
    assert found.images() > 0
    assert min(found.dots_per_inch(1)) >= 300


def test_what_only_a_platform_can_draw_is_left_out() -> None:
    """Of variants, of which a platform draws one for each student, paper has the first."""
    form = first_form(UNITS[0])
    (first, second, *others) = form.items
    pooled = (replace(first, pool="p1"), replace(second, number=first.number, pool="p1"), *others)
    made = on_paper(replace(form, items=pooled))
    assert [item.item_id for item in made.worded.items] == [p.item.id for p in (first, *others)]
    assert typeset(quiz_data(made.worded, made.drawings, "letter"))
