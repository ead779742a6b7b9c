"""Which column of a table is which question of a form, by its heading and by what stands in it."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barwright.results.reading.asked import AskedQuestion, AskedSheet
from barwright.results.reading.cell_answers import Read, read_cell
from barwright.results.reading.headings import By, mentions
from barwright.results.reading.table_layout import TableLayout, letter_of

_MOST_DISTINCT = 40
# How much a heading counts beside what stands in the column (0 to 1).
_WEIGHTS: Mapping[By, float] = {"your file": 9.0, "id": 4.0, "title": 3.5, "number": 3.0, "stem": 2.0, "position": 0.0}
_LEAST_READ = 0.5
_SURE = 0.9
_CLEAR = 0.25
_MOST_BY_POSITION = 400


@dataclass(frozen=True, slots=True)
class Match:
    """A column that is a question, how that was told, and whether somebody should say so first; `rival`: the column
    that may be it as well."""

    column: int
    question: AskedQuestion
    by: By
    read: float
    doubt: str = ""
    rival: int | None = None


@dataclass(frozen=True, slots=True)
class Matched:
    """The columns of one form in one table; `strength`: how many answers of the table it can read."""

    sheet: AskedSheet
    matches: tuple[Match, ...]
    strength: int


class Column:
    """What stands in a column, each different text once, and how much of it answers a question."""

    def __init__(self, layout: TableLayout, column: int) -> None:
        self.texts = Counter(row[column].strip() for _, row in layout.rows if row[column].strip())
        self.sample = self.texts.most_common(_MOST_DISTINCT)
        self._shares: dict[tuple[str, int], float] = {}

    def share(self, question: AskedQuestion) -> float:
        """The share of the answers in the column that can be read as answers to a question, 0 to 1; 0 if it is empty.

        Of what is typed anything can be read: there, what is foreseen counts in full, and a number for a number half.
        """
        ident = (question.item, question.number)
        share = self._shares.get(ident)
        if share is None:
            whole = sum(count for _, count in self.sample)
            read = sum(count * _fits(text, question) for text, count in self.sample)
            share = self._shares[ident] = read / whole if whole else 0.0
        return share

    def readable(self, question: AskedQuestion) -> int:
        """How many cells can be read, by the sample."""
        return round(self.share(question) * sum(self.texts.values()))


def _fits(text: str, question: AskedQuestion) -> float:
    read: Read | None = read_cell(text, question)
    if read is None:
        return 0.0
    if question.interaction != "entry" or read.answer[0] in question.typed.values():
        return 1.0
    return 0.5 if len(text) <= 40 else 0.0


def matched(
    layout: TableLayout, sheet: AskedSheet, columns: Sequence[Column], told: Mapping[int, AskedQuestion | None]
) -> Matched:
    """The columns that are questions of a form: as headings say, and as their contents do not deny; else by position.

    `told`: what the teacher's file says of columns; None for one that holds no answers.
    """
    pairs = [
        (_WEIGHTS[by] + columns[at].share(question), at, number, by, alone)
        for at in range(len(layout.headings))
        for number, question, by, alone in _candidates(layout, sheet, at, told)
        if by == "your file" or not columns[at].texts or columns[at].share(question) >= _least(question)
    ]
    pairs.sort(key=lambda pair: (-pair[0], pair[1], pair[2]))
    matches: dict[int, Match] = {}
    taken: set[int] = set()
    for score, at, number, by, _alone in pairs:
        question = sheet.questions[number]
        if at in taken or number in matches:
            if at not in taken and number in matches and by != "stem" and _as_good(matches[number], score, columns[at]):
                matches[number] = _doubtful(matches[number], at)
            continue
        taken.add(at)
        matches[number] = Match(at, question, by, columns[at].share(question), "")
    if len(matches) * 2 < len(sheet.questions) and not any(m.by == "your file" for m in matches.values()):
        matches = _by_position(layout, sheet, columns, told) or matches
    ordered = tuple(sorted(matches.values(), key=lambda match: match.column))
    return Matched(sheet, ordered, sum(columns[m.column].readable(m.question) for m in ordered))


def _least(question: AskedQuestion) -> float:
    return 0.2 if question.interaction == "entry" else _LEAST_READ


def _candidates(
    layout: TableLayout, sheet: AskedSheet, at: int, told: Mapping[int, AskedQuestion | None]
) -> list[tuple[int, AskedQuestion, By, bool]]:
    if at in told:
        question = told[at]
        places = [n for n, each in enumerate(sheet.questions) if each == question]
        return [(number, sheet.questions[number], "your file", True) for number in places]
    if layout.roles[at]:
        return []
    mentioned = mentions(layout.headings[at], sheet)
    numbers = {id(question): number for number, question in enumerate(sheet.questions)}
    return [(numbers[id(m.question)], m.question, m.by, m.alone) for m in mentioned]


def _as_good(match: Match, score: float, column: Column) -> bool:
    """Whether a second column is as good for a question: then somebody must say which it is."""
    return bool(column.texts) and abs(_WEIGHTS[match.by] + match.read - score) < _CLEAR and not match.doubt


def _doubtful(match: Match, other: int) -> Match:
    doubt = f"column {letter_of(other)} may be it as well"
    return Match(match.column, match.question, match.by, match.read, doubt, other)


def _by_position(
    layout: TableLayout, sheet: AskedSheet, columns: Sequence[Column], told: Mapping[int, AskedQuestion | None]
) -> dict[int, Match]:
    """The questions in their order, each to a column whose contents fit, so that most answers can be read.

    Nothing unless every question finds a column. Doubtful unless the contents alone tell nearly all of them.
    """
    free = [
        at
        for at in range(len(layout.headings))
        if layout.roles[at] in ("", "answer") and at not in told and columns[at].texts
    ][:_MOST_BY_POSITION]
    need = len(sheet.questions)
    if len(free) < need:
        return {}
    # best[k]: the most that the first k questions can be read, with the columns up to this one; and those columns.
    best: list[tuple[float, tuple[int, ...]] | None] = [(0.0, ()), *([None] * need)]
    for at in free:
        for k in range(need, 0, -1):
            before = best[k - 1]
            share = columns[at].share(sheet.questions[k - 1]) if before is not None else 0.0
            if before is not None and share >= _least(sheet.questions[k - 1]):
                reached = (before[0] + share, (*before[1], at))
                current = best[k]
                if current is None or reached[0] > current[0] + 1e-9:
                    best[k] = reached
    last = best[need]
    if last is None:
        return {}
    sure = last[0] >= _SURE * need and len(free) == need
    doubt = "" if sure else "its heading does not say so"
    return {
        number: Match(at, question, "position", columns[at].share(question), doubt)
        for number, (at, question) in enumerate(zip(last[1], sheet.questions, strict=True))
    }
