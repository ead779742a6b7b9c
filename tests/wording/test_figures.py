"""What each ask shows: signatures that are asked for stay hidden, and a choice looks as it would in the blank."""

from fractions import Fraction

import pytest
from sample_items import SAMPLES

from barwright.asks import ASKS
from barwright.items.item import Answer, Item
from barwright.rhythm.text import format_measures, parse_excerpt
from barwright.wording.figures import choice_figure, onset_of_blank, question_figure

SIGNATURE_HIDDEN = {"time-signature-for-rhythm", "does-it-fit"}
NO_FIGURE = {"rhythm-for-counts", "rhythm-for-time-signature", "drag-into-the-blank", "shortest-first"}


@pytest.mark.parametrize("item", SAMPLES, ids=lambda i: i.ask)
def test_question_figure(item: Item) -> None:
    figure = question_figure(item)
    if item.ask in NO_FIGURE:
        assert figure is None
        return
    assert figure is not None
    assert figure.signature == (item.ask not in SIGNATURE_HIDDEN)
    assert figure.excerpt.measures == item.excerpt.measures
    assert figure.excerpt.mark == item.excerpt.mark
    assert figure.counts == ()


@pytest.mark.parametrize("item", SAMPLES, ids=lambda i: i.ask)
def test_choices_are_figures_exactly_where_the_ask_says_so(item: Item) -> None:
    drawn = [choice_figure(c.answer, item) for c in item.choices]
    assert all((d is not None) == (ASKS[item.ask].interaction in ("figures", "several", "gaps")) for d in drawn)
    for choice, figure in zip(item.choices, drawn, strict=True):
        if figure is not None:
            assert not figure.signature, "a signature repeated in the choices says nothing, or gives the key away"
            assert format_measures(figure.excerpt.measures) == choice.answer.text


@pytest.mark.parametrize(
    ("text", "onset"), [("3/4 h _", "1/2"), ("3/4 _ h", "0"), ("6/8 q. e _", "1/2"), ("4/4 w | q. e _", "1/2"),
                        ("3/4 q | h q | h _", "1/2"), ("3/4 h q", "0")],
)  # fmt: skip
def test_choices_are_beamed_from_where_the_blank_begins(text: str, onset: str) -> None:
    assert onset_of_blank(parse_excerpt(text)) == Fraction(onset)


def test_fragment_starts_at_the_blank() -> None:
    item = next(i for i in SAMPLES if i.ask == "finish-measure")
    figure = choice_figure(Answer("symbols", "e e"), item)
    assert figure is not None
    assert (figure.frame, figure.start) == ("fragment", Fraction(1, 2))
