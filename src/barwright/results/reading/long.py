"""Tables with one row an answer: a column says which question, another what was answered."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from barwright.errors import ResultsError
from barwright.results.reading.asked import AskedQuestion, AskedSheet, Given
from barwright.results.reading.bounds import cut
from barwright.results.reading.cell_answers import Read
from barwright.results.reading.headings import Mention, mentions
from barwright.results.reading.students import Identity, identity_of
from barwright.results.reading.table_layout import TableLayout, letter_of
from barwright.results.reading.told import Doubts, Said, TableRead
from barwright.results.reading.which_form import form_in_name, forms_of_section, section_column
from barwright.results.reading.wide import ReadCells

_SAMPLE = 600
_LEAST_NAMED = 0.6
_LEAST_READ = 0.5
_MOST_FAULTS = 5

Row = tuple[int, list[str]]


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of questions and of answers, from 0, and whether a number alone names a question."""

    question: int
    answer: int
    bare: bool


class Mentions:
    """The questions that cells name, each cell looked at once."""

    def __init__(self, sheets: Sequence[AskedSheet], *, bare: bool) -> None:
        self.sheets, self.bare = sheets, bare
        self._known: dict[str, dict[int, tuple[Mention, ...]]] = {}

    def of(self, text: str) -> Mapping[int, tuple[Mention, ...]]:
        """By form (its place among the sheets) the questions that a cell may name; forms without any are not there."""
        if text not in self._known:
            by_form = {n: mentions(text, sheet, bare=self.bare) for n, sheet in enumerate(self.sheets)}
            self._known[text] = {n: named for n, named in by_form.items() if named}
        return self._known[text]


def long_columns(layout: TableLayout, sheets: Sequence[AskedSheet]) -> Columns | None:
    """The columns of a table with one row an answer; None if it is no such table."""
    sample = layout.rows[:_SAMPLE]
    best: tuple[float, int, int, bool] | None = None
    for at, role in enumerate(layout.roles):
        if role not in ("", "question", "key", "name"):
            continue
        bare = role == "question"
        texts = Counter(row[at].strip() for _, row in sample if row[at].strip())
        if len(texts) < 2 or sum(texts.values()) * 2 < len(sample):
            continue
        named = Mentions(sheets, bare=bare)
        share = sum(count for text, count in texts.items() if named.of(text)) / sum(texts.values())
        # Several columns may name the question: the one that tells most apart, and then the one whose heading says so.
        if share >= _LEAST_NAMED and (best is None or (share * len(texts), bare) > (best[0], best[3])):
            best = (share * len(texts), at, len(texts), bare)
    if best is None:
        return None
    _, question, _, bare = best
    answer = _answer_column(layout, sample, question, Mentions(sheets, bare=bare))
    return None if answer is None else Columns(question, answer, bare)


def _answer_column(layout: TableLayout, sample: Sequence[Row], question: int, named: Mentions) -> int | None:
    """The column most of whose cells answer the question of their row."""
    cells, best, most = ReadCells(None), None, _LEAST_READ
    for at, role in enumerate(layout.roles):
        if at == question or role not in ("", "answer"):
            continue
        filled = read = 0.0
        for _, row in sample:
            text = row[at].strip()
            if text:
                filled += 1
                read += max(
                    (_fit(text, m.question, cells) for each in named.of(row[question].strip()).values() for m in each),
                    default=0,
                )
        share = read / filled + (0.2 if role == "answer" else 0) if filled else 0.0
        if share > most:
            best, most = at, share
    return best


def _fit(text: str, question: AskedQuestion, cells: ReadCells) -> float:
    read = cells.read(text, question)
    if read is None:
        return 0.0
    return 1.0 if question.interaction != "entry" or read.answer[0] in question.typed.values() else 0.5


def read_long(name: str, layout: TableLayout, columns: Columns, sheets: Sequence[AskedSheet], said: Said) -> TableRead:
    """The answers of a table with one row an answer; ResultsError as `wide.read_wide`."""
    identity = identity_of(layout, said.student, name)
    sections = section_column(layout, sheets)
    named, cells = Mentions(sheets, bare=columns.bare), ReadCells(said.letters)
    students: dict[tuple[str, str], list[Row]] = {}
    nameless = 0
    for number, row in layout.rows:
        student = identity.of(row)
        nameless += not student
        if student:
            section = row[sections].strip() if sections is not None else ""
            students.setdefault((student, section), []).append((number, row))
    reading = _Long(name, columns, sheets, identity, named, cells)
    chosen = reading.choose(students)
    rivals = chosen.rivals if said.form is None else ()
    givens = [given for key, rows in students.items() for given in reading.givens(rows, chosen.forms[key])]
    if not givens:
        raise ResultsError(f"{name}: none of its rows can be read as an answer to this quiz: is it of another quiz?")
    left = [f"{name}: {nameless} row(s) do not say whose they are, and were left out"] if nameless else []
    question, answer = (cut(layout.headings[at], 30) for at in (columns.question, columns.answer))
    by = f"questions by {question!r}, answers by {answer!r}"
    doubts = Doubts(name, rivals, sheets[chosen.usual].name, cells.doubtful > 0, ())
    return TableRead(tuple(givens), reading.told(givens, by), (*reading.short(), *left), doubts)


@dataclass(frozen=True, slots=True)
class _Chosen:
    """The form of each student, the one of most, and others that fit as well."""

    forms: Mapping[tuple[str, str], int]
    usual: int
    rivals: tuple[str, ...]


class _Long:
    """One such table while it is read."""

    def __init__(
        self,
        name: str,
        columns: Columns,
        sheets: Sequence[AskedSheet],
        identity: Identity,
        named: Mentions,
        cells: ReadCells,
    ) -> None:
        self.name, self.found, self.sheets = name, columns, sheets
        self.identity, self.named, self.cells = identity, named, cells
        self.faults: list[str] = []

    def choose(self, students: Mapping[tuple[str, str], Sequence[Row]]) -> _Chosen:
        """The form of each student, by what was answered; where that is open, the form of most of the others."""
        scores = {key: self._scores(key[1], rows) for key, rows in students.items()}
        forms: dict[tuple[str, str], int] = {}
        open_: list[tuple[str, str]] = []
        for key, by_form in scores.items():
            most = max(by_form.values(), default=0.0)
            best = [n for n, score in by_form.items() if score >= most * 0.97 and score]
            if len(best) == 1:
                forms[key] = best[0]
            else:
                open_.append(key)
        whole: Counter[int] = Counter()
        for by_form in scores.values():
            whole.update({n: round(score * 2) for n, score in by_form.items()})
        usual = Counter(forms.values()).most_common(1)[0][0] if forms else whole.most_common(1)[0][0] if whole else 0
        rivals: tuple[str, ...] = ()
        if open_ and not forms:
            best = [n for n, score in whole.items() if score >= whole[usual] * 0.97]
            in_name = form_in_name(self.name, [self.sheets[n] for n in best])
            if in_name is not None:
                usual = list(self.sheets).index(in_name)
            elif len(best) > 1:
                rivals = tuple(self.sheets[n].name for n in sorted(best))
        return _Chosen({**forms, **dict.fromkeys(open_, usual)}, usual, rivals)

    def _scores(self, section: str, rows: Sequence[Row]) -> dict[int, float]:
        own = forms_of_section(section, self.sheets) if section else ()
        scores: dict[int, float] = {}
        for _, row in rows:
            text = row[self.found.answer].strip()
            for n, named in self.named.of(row[self.found.question].strip()).items():
                if not own or self.sheets[n] in own:
                    weight = 1.5 if any(m.by == "id" for m in named) else 1.0
                    fits = max(_fit(text, m.question, self.cells) for m in named) if text else 0.1
                    scores[n] = scores.get(n, 0.0) + weight * fits
        return scores

    def givens(self, rows: Sequence[Row], form: int) -> list[Given]:
        """The answers of one student; rows of one question with several right answers may each hold one tick."""
        sheet = self.sheets[form]
        taken: dict[tuple[str, int], set[str]] = {}
        ticks: dict[tuple[str, int], Given] = {}
        givens: list[Given] = []
        for number, row in rows:
            text, turn = row[self.found.answer].strip(), self.identity.turn(row)
            question = self._question(row, form, text, taken.setdefault(("", turn), set()))
            if question is None:
                continue
            read: Read | None = self.cells.read(text, question) if text else None
            if text and read is None:
                self.faults.append(
                    f"{self.name}, row {number}: {question.called}: {cut(text, 40)!r} is none of its answers"
                )
            if read is not None:
                self.cells.count(read, question)
            answer = read.answer if read is not None else ()
            student, shown = self.identity.of(row), self.identity.name(row)
            given = Given(student, shown, sheet.ident, question.item, answer, (turn, "", number), fewer=sheet.fewer)
            before = ticks.get((question.item, turn))
            if before is not None and question.interaction == "several" and not set(before.answer) & set(answer):
                given = replace(given, answer=(*before.answer, *answer), attempt=before.attempt)
                givens.remove(before)
            ticks[question.item, turn] = given
            givens.append(given)
        return givens

    def _question(self, row: Sequence[str], form: int, text: str, taken: set[str]) -> AskedQuestion | None:
        """The question of a row; of several with one stem that which its answer fits, then the first not yet taken."""
        named = [m.question for m in self.named.of(row[self.found.question].strip()).get(form, ())]
        if len(named) > 1:
            fits = [question for question in named if text and _fit(text, question, self.cells) == 1.0]
            free = [question for question in fits or named if question.item not in taken]
            named = free[:1] or (fits or named)[:1]
        if not named:
            return None
        taken.add(named[0].item)
        return named[0]

    def told(self, givens: Sequence[Given], by: str) -> tuple[str, ...]:
        """What was matched and how."""
        lines = []
        for sheet in self.sheets:
            own = [given for given in givens if given.form == sheet.ident]
            if own:
                items = len({given.item for given in own})
                students = len({given.student for given in own})
                lines.append(
                    f"{self.name}: {sheet.name}: {students} student(s); {items} of {len(sheet.questions)} questions"
                )
        hows = ", ".join(
            f"{n:,} by {how}" if how != "typed" else f"{n:,} typed" for how, n in self.cells.hows.most_common()
        )
        lines.append(f"{self.name}: students by {cut(self.identity.heading, 40)!r}, {by}; {hows or 'no answers'}")
        return tuple(lines)

    def short(self) -> list[str]:
        """The faults, the first few and how many more there are."""
        more = len(self.faults) - _MOST_FAULTS
        return (
            self.faults
            if more <= 0
            else [*self.faults[:_MOST_FAULTS], f"{self.name}: {more:,} more cells like these cannot be read"]
        )


__all__ = ["Columns", "letter_of", "long_columns", "read_long"]
