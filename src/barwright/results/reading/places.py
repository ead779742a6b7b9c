"""Answers that are put together from parts, where a table has a column for each place: they become one column again.

QTI gives each place a response variable of its own, `RESPONSE_s1` and so on; some tables have a column a variable.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from barwright.results.reading.asked import Sheet
from barwright.results.reading.headings import mentions
from barwright.results.reading.layout import Layout

_PLACE = re.compile(r"[\W_]*(?:response_?)?(?<![a-z0-9])(s[1-9]\d?)\W*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Parts:
    """The heading of a question without its place, and the column (from 0) of each place."""

    heading: str
    columns: dict[str, int]


def with_places_joined(layout: Layout, sheets: Sequence[Sheet]) -> Layout:
    """The table with each question's columns of places as one, which stands where the first of them stood."""
    parts = _parts(layout, sheets)
    if not parts:
        return layout
    headings, roles = list(layout.headings), list(layout.roles)
    for each in parts:
        first, *others = each.columns.values()
        headings[first], roles[first] = each.heading, ""
        for at in others:
            roles[at] = "other"
    rows = tuple((number, _joined(row, parts)) for number, row in layout.rows)
    return replace(layout, headings=tuple(headings), roles=tuple(roles), rows=rows)


def _parts(layout: Layout, sheets: Sequence[Sheet]) -> list[_Parts]:
    """The columns of places, question by question: a place that comes again begins another one."""
    found: list[_Parts] = []
    for at, heading in enumerate(layout.headings):
        match = _PLACE.search(heading)
        if match is None or not _is_put_together(bare := heading[: match.start()], sheets):
            continue
        place = match[1].lower()
        if not found or found[-1].heading != bare or place in found[-1].columns:
            found.append(_Parts(bare, {}))
        found[-1].columns[place] = at
    return found


def _is_put_together(heading: str, sheets: Sequence[Sheet]) -> bool:
    """Whether a heading names a question, in some form, whose answer is put into several places."""
    return any(mention.question.interaction == "inline" for sheet in sheets for mention in mentions(heading, sheet))


def _joined(row: Sequence[str], parts: Sequence[_Parts]) -> list[str]:
    cells = list(row)
    for each in parts:
        filled = {place: row[at].strip() for place, at in each.columns.items() if row[at].strip()}
        for at in each.columns.values():
            cells[at] = ""
        single = len(each.columns) == 1
        text = "\n".join(value if single else f"{place}={value}" for place, value in filled.items())
        cells[next(iter(each.columns.values()))] = text
    return cells
