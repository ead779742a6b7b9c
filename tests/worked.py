"""Reader of the worked rows in tests/textbook, and musical material that several test files walk through."""

from pathlib import Path

from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import parse_excerpt

BOOK = Path(__file__).parent / "textbook"


def rows(name: str) -> list[list[str]]:
    """The cells of every row of a file of worked rows; lines with # are comments."""
    lines = (BOOK / name).read_text("utf-8").splitlines()
    return [[cell.strip() for cell in line.split(" | ")] for line in lines if line and not line.startswith("#")]


# Rows of counts as books print them: id, meter, rhythm, then one cell for each column of the file.
COUNT_FILES = ("counts_simple.txt", "counts_other_meters.txt", "syllables.txt")
BOOK_RHYTHMS = tuple(dict.fromkeys(f"{row[1]} {row[2]}" for name in COUNT_FILES for row in rows(name)))
# What the books' one-measure rows leave out: pickups, ties over barlines, triplets of all sorts, additive groups.
LONGER_RHYTHMS = (
    "3/4 q | h q | q q q",
    "4/4 e e | q q h",
    "4/4 e~ | q q h",
    "3/4 q q q~ | q h",
    "3/4 h.~ | h.~ | h q",
    "4/4 q e e~ e q e~ | w",
    "4/4 h rh | rW | q rq q. e",
    "2/4 qt qt qt",
    "4/4 qt et et qt qt qt qt",
    "2/4 et ret et q~ | e e q",
    "6/8 q e q.~ | e e e q.",
    "6/8 rq. e. s e | rW",
    "3/8 e | e e e~ | q e",
    "2/2 h h~ | q h q",
    "5/8 q. q | q q. | e e e e e",
    "7/8 q q q. | q q. q | q. q q",
    "2+3/8 e e e e. s",
    "3+2/4 h. h | q q. e q q",
    "12/8 q. e e e q e q.~ | h. h.",
    "3/4 e. s s e. e e",
)


def excerpts() -> tuple[Excerpt, ...]:
    """All of them, parsed."""
    return tuple(map(parse_excerpt, (*BOOK_RHYTHMS, *LONGER_RHYTHMS)))
