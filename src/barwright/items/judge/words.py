"""The counting words that a class knows: those that its symbols have in its meters."""

import re
from fractions import Fraction
from functools import cache
from itertools import product
from math import ceil

from barwright.errors import RhythmError
from barwright.items.taught import Taught
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import sound_label
from barwright.rhythm.labels import STROKE
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_symbol
from barwright.rhythm.values import NoteValue

_WORD = re.compile(r"[^\W\d_]+|&")
_REST_MARK = re.compile(f"[(R{STROKE}]")


def unknown_words(row: str, taught: Taught, conventions: Conventions) -> tuple[str, ...]:
    """Words and rest signs of a row that no taught symbol has in a taught meter, sorted; numbers are always known.

    Kodaly-style words go by figures, not places, and are not looked into.
    """
    if conventions.counting == "kodaly":
        return ()
    silent = any(token.startswith("r") for token in taught.tokens)
    rests = set() if silent or not _REST_MARK.search(row) else {"a rest"}
    words = set(_WORD.findall(row.replace(STROKE, ""))) - {"R"}
    return tuple(sorted((words - _known_words(taught, conventions)) | rests))


@cache
def _known_words(taught: Taught, conventions: Conventions) -> frozenset[str]:
    """The words under a measure of one taught symbol over and over, for each symbol and meter."""
    found: set[str] = set()
    values = [v for t in taught.tokens if (v := parse_symbol(t).value) is not None]
    for meter, value in product(taught.meters, values):
        onsets = (n * value.length for n in range(ceil(meter.capacity / value.length)))
        labels = (_label(onset, value, conventions, meter=meter) for onset in onsets)
        found.update(word for label in labels for word in _WORD.findall(label))
    return frozenset(found)


def _label(onset: Fraction, value: NoteValue, conventions: Conventions, *, meter: Meter) -> str:
    try:
        return sound_label(onset, value.length, meter=meter, conventions=conventions, triplet=value.triplet)
    except RhythmError:
        return ""
