"""Errors that give another number of labels than there are sounds and rests: only those of two tables do."""

import pytest

from barwright.counting.counts import count_labels, format_row, normal_row
from barwright.misreadings import MISREADINGS
from barwright.misreadings.answers import rows
from barwright.misreadings.belief import LABELING
from barwright.misreadings.read_back import ALWAYS, AT_TIMES, read_back
from barwright.notation.legal_measures import Alphabet, all_measures
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import parse_meter

USUAL = Conventions()
TAUGHT = Alphabet(("h", "q", "e", "q.", "h.", "rh", "rq", "re", "q~"))
ASKED = tuple(m for m in MISREADINGS.values() if m.exercises & LABELING)


def words(text: str) -> int:
    return len(normal_row(text, USUAL).split())


@pytest.mark.parametrize("meter", ["2/4", "3/4", "6/8"])
def test_what_is_left_out_for_its_number_of_labels_would_not_be_found(meter: str) -> None:
    measures = tuple(all_measures(TAUGHT, parse_meter(meter), USUAL))[:150]
    for symbols in measures:
        excerpt = Excerpt(parse_meter(meter), (symbols,))
        own = words(format_row(count_labels(excerpt, USUAL)))
        for m, _, text in rows(ASKED, excerpt, USUAL):
            assert (words(text) == own) or m.id in ALWAYS | AT_TIMES, (symbols, m.id, text)
            assert (words(text) != own) or m.id not in ALWAYS, (symbols, m.id, text)


def test_rows_of_that_number_are_found_as_without_it() -> None:
    meter = parse_meter("3/4")
    measures = tuple(all_measures(TAUGHT, meter, USUAL))[:60]
    whole = read_back(measures, meter, ASKED, USUAL)
    for row, found in whole.miscounted.items():
        few = read_back(measures, meter, ASKED, USUAL, labels=len(row.split()))
        assert few.miscounted[row] == found
