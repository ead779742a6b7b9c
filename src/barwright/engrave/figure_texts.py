"""Texts in a figure: counts under the symbols and measure numbers."""

import re
from collections.abc import Iterator, Sequence

from barwright.counting.labels import STROKE
from barwright.engrave.placed import Owner, Placed
from barwright.engrave.smufl import Box, TextFace
from barwright.errors import RhythmError
from barwright.rhythm.measure import Symbols

# Choices of our own, in staff spaces: counts stand below the barlines, numbers above their upper end.
COUNT_EM = 2.0
COUNT_BASELINE = -4.0
NUMBER_EM = 1.7
NUMBER_BASELINE = 2.45

# A crossed-out count has a line through the middle of its digits, a little longer than they are.
STRIKE_WIDTH = 0.16
STRIKE_BEYOND = 0.15
STRIKE_HEIGHT = 0.33  # of an em

_STRUCK = re.compile(f"(?:[^{STROKE}]{STROKE})+")
# The part of a count that stands under the head: `1` of `1-2` and of `(1-2)`, `ta` of `ta-a`, `1` of `-1`.
_LEAD = re.compile(r"([(-]*)([^-() ]*)")


def labelled(symbols: Symbols, labels: Sequence[str], *, measure: int) -> list[str]:
    """One count per symbol, empty where it has none; `measure` (from 0) is for the message.

    A blank has none, nor has a note tied from the one before in its measure. RhythmError if the number of counts does
    not fit the symbols.
    """
    takes = [s.kind != "blank" and not (n and symbols[n - 1].tied) for n, s in enumerate(symbols)]
    if sum(takes) != len(labels):
        raise RhythmError(
            f"measure {measure + 1} has {sum(takes)} sounds and rests but {len(labels)} counts: {' '.join(labels)!r}"
        )
    following = iter(labels)
    return [next(following) if take else "" for take in takes]


def count_extent(label: str, face: TextFace, *, whole: bool = False) -> tuple[float, float]:
    """How far a count reaches left and right of the middle of its notehead, in staff spaces.

    The part for the onset is centred there, or with `whole` all of it (under a full-measure rest).
    """
    plain = label.replace(STROKE, "")
    width = face.width(plain) * COUNT_EM
    if whole:
        return width / 2, width / 2
    match = _LEAD.match(plain)
    before, lead = match.groups() if match else ("", plain)
    left = (face.width(before) + face.width(lead) / 2) * COUNT_EM
    return left, width - left


def count(label: str, left: float, *, face: TextFace, owner: Owner) -> Iterator[Placed]:
    """A count whose text begins at `left`, and the line through what is crossed out."""
    plain = label.replace(STROKE, "")
    box = _box(plain, face, COUNT_EM).moved(left, COUNT_BASELINE)
    yield Placed("count", "text", box, plain, left, COUNT_BASELINE, COUNT_EM, owner)
    for run in _STRUCK.finditer(label):
        start = left + face.width(label[: run.start()].replace(STROKE, "")) * COUNT_EM
        end = start + face.width(run[0].replace(STROKE, "")) * COUNT_EM
        y = COUNT_BASELINE + STRIKE_HEIGHT * COUNT_EM
        line = Box(start - STRIKE_BEYOND, y - STRIKE_WIDTH / 2, end + STRIKE_BEYOND, y + STRIKE_WIDTH / 2)
        yield Placed("strike", "bar", line, owner=owner)


def measure_number(number: int, left: float, *, face: TextFace) -> Placed:
    """A measure's number above the start of its measure."""
    box = _box(str(number), face, NUMBER_EM).moved(left, NUMBER_BASELINE)
    return Placed("measure-number", "text", box, str(number), left, NUMBER_BASELINE, NUMBER_EM)


def _box(words: str, face: TextFace, em: float) -> Box:
    width = face.width(words)
    boxes = [face.boxes[c] for c in words]
    return Box(0.0, min(b.y0 for b in boxes), width, max(b.y1 for b in boxes)).scaled(em)
