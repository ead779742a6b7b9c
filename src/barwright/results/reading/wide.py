"""Tables with one row a student and a column a question."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from barwright.errors import ResultsError
from barwright.results.reading.asked import AskedQuestion, AskedSheet, Given
from barwright.results.reading.bounds import cut
from barwright.results.reading.cell_answers import Read, read_cell
from barwright.results.reading.headings import mentions, names_of
from barwright.results.reading.question_columns import (
    Column,
    Match,
    Matched,
    matched,
)
from barwright.results.reading.students import Identity, identity_of
from barwright.results.reading.table_layout import TableLayout, letter_of
from barwright.results.reading.told import (
    NOTHING,
    ColumnLine,
    Doubts,
    Said,
    TableRead,
)
from barwright.results.reading.which_form import form_in_name, forms_of_section, section_column

_LEAST_OF_QUESTIONS = 0.3
_MOST_FAULTS = 5
_LEAST_OF_ROW = 0.25
_MOST_SAMPLES = 4  # of what stands in a column, so that somebody knows it again


class ReadCells:
    """Cells read once: students of a class answer alike."""

    def __init__(self, letters: bool | None) -> None:
        self.letters = letters
        self.hows: Counter[str] = Counter()
        self.doubtful = 0
        self._known: dict[tuple[str, int, str], Read | None] = {}

    def read(self, text: str, question: AskedQuestion) -> Read | None:
        """The answer of a cell; None if it cannot be read."""
        key = (question.item, question.number, text)
        if key not in self._known:
            letters = self.letters is not False or not question.mixed
            self._known[key] = read_cell(text, question, letters=letters)
        return self._known[key]

    def count(self, read: Read, question: AskedQuestion) -> None:
        """Notes how a cell was told, and whether that may be another order of choices than the form's."""
        self.hows["typed" if question.interaction == "entry" else read.how] += 1
        self.doubtful += read.how == "letter" and question.mixed and self.letters is None


@dataclass(frozen=True, slots=True)
class RowGroup:
    """Rows of one section (None: the whole table), and the form they answer; `rivals`: others that fit as well."""

    rows: tuple[tuple[int, list[str]], ...]
    found: Matched
    rivals: tuple[str, ...] = ()


def read_wide(name: str, layout: TableLayout, sheets: Sequence[AskedSheet], said: Said) -> TableRead:
    """The answers of a table; ResultsError, with the reason, if it is of no form or names no students."""
    _check_said(said, sheets, name)
    candidates = _candidates(layout, sheets, said)
    least = {id(c): max(1, round(_LEAST_OF_QUESTIONS * _numbers(c.sheet.questions))) for c in candidates}
    fitting = [c for c in candidates if c.strength and _numbers(m.question for m in c.matches) >= least[id(c)]]
    if not fitting:
        raise ResultsError(f"{name}: {_why_none(layout, candidates)}")
    identity = identity_of(layout, said.student, name)
    cells = ReadCells(said.letters)
    groups = _groups(name, layout, fitting, cells, said)
    givens: list[Given] = []
    faults: list[str] = []
    for group in groups:
        more, wrong = _givens(group, identity, cells, name)
        givens += more
        faults += [*_unread(name, layout, group), *wrong]
    doubts = _doubts(name, layout, groups, cells, said)
    return TableRead(tuple(givens), _told_lines(name, groups, identity, cells, givens), tuple(faults), doubts)


def _candidates(layout: TableLayout, sheets: Sequence[AskedSheet], said: Said) -> list[Matched]:
    """The columns of a table as questions of each form."""
    columns = [Column(layout, at) for at in range(len(layout.headings))]
    return [matched(layout, sheet, columns, _told(said, sheet)) for sheet in sheets]


def _numbers(questions: Iterable[AskedQuestion]) -> int:
    return len({question.number for question in questions})


def _told(said: Said, sheet: AskedSheet) -> Mapping[int, AskedQuestion | None]:
    """The columns that the teacher's file speaks of, from 0, as questions of a form."""
    numbers = {f"{number}{variant}": q for (number, variant), q in names_of(sheet).numbers.items()}
    told: dict[int, AskedQuestion | None] = {}
    for letter, value in said.columns.items():
        at = _column_of(letter)
        if value == NOTHING or value in numbers:
            told[at] = numbers.get(value)
    return told


def _check_said(said: Said, sheets: Sequence[AskedSheet], name: str) -> None:
    """ResultsError for a question in the teacher's file that no form has."""
    known = {f"{number}{variant}" for sheet in sheets for number, variant in names_of(sheet).numbers} | {NOTHING}
    for letter, value in said.columns.items():
        if value not in known:
            raise ResultsError(
                f"{name}: the file of columns says {letter} = {value!r}, and the quiz has no such question"
            )


def _column_of(letter: str) -> int:
    number = 0
    for sign in letter:
        number = number * 26 + ord(sign) - 64
    return number - 1


def _why_none(layout: TableLayout, candidates: Sequence[Matched]) -> str:
    most = max(candidates, key=lambda c: len(c.matches))
    if most.matches:
        return (
            f"only {len(most.matches)} of its columns can be read as answers to this quiz (at best to "
            f"{most.sheet.name!r}): is it of another quiz?"
        )
    heads = ", ".join(repr(cut(text, 30)) for text in layout.headings[:4] if text)
    shown = f" (headings {heads} and others)" if heads else ""
    return f"none of its columns{shown} can be read as answers to this quiz: is it of another quiz?"


def _groups(
    name: str, layout: TableLayout, fitting: Sequence[Matched], cells: ReadCells, said: Said
) -> tuple[RowGroup, ...]:
    """The rows by form: as a column of sections says, else by what is answered.

    Where sections are told, each one's rows alone say which column answers which question of its form.
    """
    sections = section_column(layout, [c.sheet for c in fitting])
    if sections is not None:
        parted: dict[str, list[tuple[int, list[str]]]] = {}
        for number, row in layout.rows:
            parted.setdefault(row[sections].strip(), []).append((number, row))
        groups: list[RowGroup] = []
        for section, rows in parted.items():
            known = forms_of_section(section, [c.sheet for c in fitting])
            own = [c.sheet for c in fitting if c.sheet in known] or [c.sheet for c in fitting]
            able = [c for c in _candidates(replace(layout, rows=tuple(rows)), own, said) if c.matches]
            groups += _by_answers(name, tuple(rows), able or list(fitting), cells)
        return tuple(groups)
    return tuple(_by_answers(name, layout.rows, fitting, cells))


def _by_answers(
    name: str, rows: tuple[tuple[int, list[str]], ...], fitting: Sequence[Matched], cells: ReadCells
) -> list[RowGroup]:
    """One form for all rows, that with most readable answers; or each row its own, if forms share no column."""
    if len(fitting) > 1 and not set.intersection(*({m.column for m in c.matches} for c in fitting)):
        return _row_by_row(rows, fitting, cells)
    strengths = [(sum(_strength(row, c, cells) for _, row in rows), c) for c in fitting]
    most = max(strength for strength, _ in strengths)
    best = [c for strength, c in strengths if strength >= most * 0.97]
    if len(best) > 1:
        named = form_in_name(name, [c.sheet for c in best])
        chosen = next((c for c in best if c.sheet is named), None)
        if chosen is not None:
            return [RowGroup(rows, chosen)]
    return [RowGroup(rows, best[0], tuple(c.sheet.name for c in best) if len(best) > 1 else ())]


def _row_by_row(
    rows: tuple[tuple[int, list[str]], ...], fitting: Sequence[Matched], cells: ReadCells
) -> list[RowGroup]:
    parted: dict[int, list[tuple[int, list[str]]]] = {}
    for number, row in rows:
        scores = [_strength(row, c, cells) for c in fitting]
        parted.setdefault(scores.index(max(scores)), []).append((number, row))
    return [RowGroup(tuple(parted[place]), fitting[place]) for place in sorted(parted)]


def _strength(row: Sequence[str], candidate: Matched, cells: ReadCells) -> float:
    """How many answers of a row can be read; of what is typed only what is foreseen counts in full."""
    strength = 0.0
    for match in candidate.matches:
        text = row[match.column].strip()
        read = cells.read(text, match.question) if text else None
        if read is not None:
            sure = match.question.interaction != "entry" or read.answer[0] in match.question.typed.values()
            strength += 1 if sure else 0.5
    return strength


def _givens(group: RowGroup, identity: Identity, cells: ReadCells, name: str) -> tuple[list[Given], list[str]]:
    """The answers of a group, and what could not be read in it."""
    sheet, givens = group.found.sheet, []
    wrong: list[str] = []
    absent = nameless = 0
    for number, row in group.rows:
        texts = [(match, row[match.column].strip()) for match in group.found.matches]
        filled = [(match, text) for match, text in texts if text]
        reads = {match.column: cells.read(text, match.question) for match, text in filled}
        student = identity.of(row)
        if not filled:
            absent += 1
            continue
        if not student:
            nameless += 1
            continue
        if sum(read is not None for read in reads.values()) < _LEAST_OF_ROW * len(filled):
            wrong.append(f"{name}, row {number}: {cut(student, 30)!r} has no answers that can be read: left out")
            continue
        attempt = (identity.turn(row), "", number)
        for match, text in texts:
            read = reads.get(match.column)
            if text and read is None:
                wrong.append(f"{name}, row {number}: {match.question.called}: {cut(text, 40)!r} is none of its answers")
            if read is not None:
                cells.count(read, match.question)
            answer = read.answer if read is not None else ()
            givens.append(
                Given(student, identity.name(row), sheet.ident, match.question.item, answer, attempt, fewer=sheet.fewer)
            )
    return _one_variant(givens, group.found.matches), [*_short(wrong, name), *_left(name, absent, nameless)]


def _unread(name: str, layout: TableLayout, group: RowGroup) -> list[str]:
    """The columns whose headings name a question, and whose contents are no answers to it."""
    matched_items = {match.question.item for match in group.found.matches}
    told = []
    for at, heading in enumerate(layout.headings):
        filled = not layout.roles[at] and any(row[at].strip() for _, row in group.rows)
        named = mentions(heading, group.found.sheet) if filled else ()
        if len(named) == 1 and named[0].question.item not in matched_items:
            called = named[0].question.called
            told.append(f"{name}: column {letter_of(at)} ({cut(heading, 30)!r}) holds no answers to {called}: left out")
    return told


def _one_variant(givens: list[Given], matches: Sequence[Match]) -> list[Given]:
    """Of variants of which each student gets one, the one that was answered; the first where none was."""
    number = {m.question.item: m.question.number for m in matches}
    if len(set(number.values())) == len(number):
        return givens
    kept: dict[tuple[str, tuple[int, str, int], int], Given] = {}
    for given in givens:
        key = (given.student, given.attempt, number[given.item])
        if key not in kept or (given.answer and not kept[key].answer):
            kept[key] = given
    return list(kept.values())


def _short(faults: list[str], name: str) -> list[str]:
    if len(faults) <= _MOST_FAULTS:
        return faults
    return [*faults[:_MOST_FAULTS], f"{name}: {len(faults) - _MOST_FAULTS:,} more cells like these cannot be read"]


def _left(name: str, absent: int, nameless: int) -> list[str]:
    told = [f"{name}: {absent} row(s) without any answer were left out"] if absent else []
    return [*told, *([f"{name}: {nameless} row(s) do not say whose they are, and were left out"] if nameless else [])]


def _told_lines(
    name: str, groups: Sequence[RowGroup], identity: Identity, cells: ReadCells, givens: Sequence[Given]
) -> tuple[str, ...]:
    lines = []
    for group in groups:
        sheet, matches = group.found.sheet, group.found.matches
        students = len({given.student for given in givens if given.form == sheet.ident})
        by = ", ".join(f"{count} by {how}" for how, count in Counter(m.by for m in matches).most_common())
        have, of = _numbers(m.question for m in matches), _numbers(sheet.questions)
        lines.append(f"{name}: {sheet.name}: {students} student(s); {have} of {of} questions ({by})")
    hows = ", ".join(
        f"{count:,} by {how}" if how != "typed" else f"{count:,} typed" for how, count in cells.hows.most_common()
    )
    lines.append(f"{name}: students by {cut(identity.heading, 40)!r}; answers: {hows or 'none'}")
    return tuple(lines)


def _doubts(name: str, layout: TableLayout, groups: Sequence[RowGroup], cells: ReadCells, said: Said) -> Doubts:
    rivals = tuple(dict.fromkeys(rival for group in groups for rival in group.rivals)) if said.form is None else ()
    by_column: dict[int, Match] = {m.column: m for group in groups for m in group.found.matches}
    compared = {at for m in by_column.values() if m.doubt for at in (m.column, m.rival)}
    lines = []
    for at, heading in enumerate(layout.headings):
        match = by_column.get(at)
        samples = tuple(text for text, _ in Column(layout, at).sample[:_MOST_SAMPLES]) if at in compared else ()
        if match is not None:
            number = f"{match.question.number}{match.question.variant}"
            lines.append(ColumnLine(letter_of(at), heading, number, match.by, match.doubt, samples))
        elif not layout.roles[at] and any(row[at].strip() for _, row in layout.rows):
            lines.append(ColumnLine(letter_of(at), heading, NOTHING, samples=samples))
    return Doubts(name, rivals, groups[0].found.sheet.name, cells.doubtful > 0, tuple(lines))
