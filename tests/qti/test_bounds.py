"""The bounds of `make` and of `check` together: the largest package that is written is read."""

from dataclasses import replace

import pytest

from barwright.blueprint.blueprint import Quiz
from barwright.check.reading import bounds
from barwright.check.rules import checked
from barwright.counting.spellings import MOST_SPELLINGS
from barwright.errors import StandardError
from barwright.qti import (
    MOST_ITEMS,
    WRITERS,
    written,
    zipped,
)
from barwright.wording.items_in_words import MOST_FORESEEN
from barwright.wording.worded import Pictures, WordedForm
from worded_forms import ENTRY, choice, form_of

MARKS = (b"<", b"=", b"&lt;", b"&#")
MOST_CHOICES = max(m.le for m in Quiz.model_fields["choices"].metadata if hasattr(m, "le"))


def largest_form(items: int) -> WordedForm:
    """Items of the largest kind: typed counts, each answer with all spellings that there can be."""
    choices = tuple(
        replace(
            choice(number, f"1 & 2 {number}", "counts-heads" if number else "", "Count the held part & say it."),
            spellings=tuple(f"{number} & | {spelling} & | (3 &) & | 4 & | 1 &" for spelling in range(most)),
        )
        for number, most in enumerate((MOST_SPELLINGS, *(MOST_FORESEEN,) * (MOST_CHOICES - 1)))
    )
    largest = replace(ENTRY, choices=choices)
    return form_of(*(replace(largest, ident=f"q{n:05}", title=f"Question {n}") for n in range(items)))


@pytest.mark.parametrize("standard", WRITERS)
@pytest.mark.parametrize("shape", ["quiz", "bank"])
def test_largest_package_is_within_the_bounds(pictures: Pictures, standard: str, shape: str) -> None:
    entries = {n: written(largest_form(n), pictures, standard=standard, shape=shape) for n in (10, 20)}

    def at_most(first: float, second: float) -> float:
        """What grows so much from 10 items to 20, at MOST_ITEMS."""
        return second + (second - first) / 10 * (MOST_ITEMS - 20)

    documents = {n: [e.data for e in each if e.path.endswith(".xml")] for n, each in entries.items()}
    marks = {n: [sum(map(d.count, MARKS)) for d in each] for n, each in documents.items()}
    assert at_most(*(max(map(len, documents[n])) for n in (10, 20))) <= bounds.MOST_XML_BYTES
    assert at_most(*(max(marks[n]) for n in (10, 20))) <= bounds.MOST_MARKS
    assert at_most(*(sum(marks[n]) for n in (10, 20))) <= bounds.MOST_PACKAGE_MARKS
    assert at_most(*(len(documents[n]) for n in (10, 20))) <= bounds.MOST_DOCUMENTS
    assert min(bounds.MOST_ITEMS, bounds.MOST_SIBLINGS) >= MOST_ITEMS
    assert min(bounds.MOST_FILES, bounds.MOST_LISTED) >= (MOST_CHOICES + 1) * MOST_ITEMS + MOST_ITEMS


def test_cartridge_of_a_thousand_items_is_checked(form: WordedForm, pictures: Pictures) -> None:
    items = tuple(replace(form.items[n % 4], ident=f"q{n:05}", title=f"Question {n}") for n in range(MOST_ITEMS))
    report = checked(zipped(written(replace(form, items=items), pictures, standard="cc13", shape="quiz")))
    assert (report.refused, report.items, report.findings) == ("", MOST_ITEMS, ())


def test_one_item_more_is_not_written(form: WordedForm, pictures: Pictures) -> None:
    items = tuple(replace(form.items[0], ident=f"q{n:05}") for n in range(MOST_ITEMS + 1))
    with pytest.raises(StandardError) as caught:
        written(replace(form, items=items), pictures, standard="cc13", shape="quiz")
    assert str(caught.value) == (
        f"form {form.title!r} has 1,001 items, and a package holds at most 1,000: make fewer, or several quizzes "
        "or banks"
    )
