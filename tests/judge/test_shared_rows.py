"""Which rhythms could be counted by one row, and what else could be written under a symbol; common practice."""

import pytest

from barwright.judge import count_labeling
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt


@pytest.mark.parametrize(
    ("own", "shown", "row", "may"),
    [
        # One label a sound or rest; a rest is marked as one.
        ("4/4 q q h", "4/4 h q q", "1 2 3-4", True),
        ("4/4 q rq h", "4/4 h rq q", "1 (2) 3-4", True),
        ("4/4 rq q h", "4/4 h rq q", "1 (2) 3-4", False),
        # Nobody writes more labels than there are sounds and rests; fewer where some are left out.
        ("4/4 h h", "4/4 q q h", "1 2 3-4", False),
        ("4/4 q q q q", "4/4 q q h", "1 2 3-4", True),
        # A row that leaves out labels itself does not tell which symbols are rests.
        ("4/4 rq q h", "4/4 q q q rq", "1 2 3", True),
        ("4/4 h h", "4/4 q q q rq", "1 2 3", False),
    ],
)
def test_a_row_may_be_one_of_another_rhythm_by_its_labels_and_rests(
    own: str, shown: str, row: str, *, may: bool
) -> None:
    assert count_labeling._may_share_row(parse_excerpt(own), parse_excerpt(shown), row) is may


def test_labels_are_looked_for_in_rows_that_leave_none_out() -> None:
    """What is tied over the barline may go without a label: then the last quarter's would stand in its place."""
    tied = parse_excerpt("2/4 q q~ | q q")
    found = count_labeling._labels_anywhere(tied, Conventions(), 4)
    second = {"2", "2-&", "du", "ta"}
    assert found == [{"1", "1-&", "du", "ta"}, second, {"-1", "-1-&", "-du", "-ta"}, second]
