"""The file of columns: written for what is doubtful, read back, and every fault in it told."""

import tomllib
from collections import Counter

import pytest

from barwright.errors import ResultsError
from barwright.results.reading.headings import role_of
from barwright.results.reading.mapping import Remark, columns_text, parse_columns, read_remark
from barwright.results.reading.sources import gathered
from barwright.results.reading.told import ColumnLine, Doubts, Said
from barwright.tasks.diagnose.asked import AskedQuiz
from results.shapes import by_ident, by_label, csv_bytes, title, wide
from results.simulated_classes import alike_in_all_forms, sittings

FORMS = ("Period 1", "Period 3")


def test_what_is_doubtful_is_asked_and_what_is_sure_is_told() -> None:
    lines = (
        ColumnLine("C", "Question 1", "1", "title"),
        ColumnLine("D", 'A "note"\n', "2", "position", "its heading does not say so"),
        ColumnLine("E", "", "none", samples=("half", "“B”\n", "x" * 50)),
    )
    text = columns_text([Doubts("a.csv", FORMS, "Period 1", True, lines)])
    assert text.partition('\n["a.csv"]\n')[2].splitlines() == [
        'form = "?"  # Period 1 or Period 3',
        'letters = "?"  # form or no',
        '["a.csv".columns]',
        'C = "1"  # Question 1; by title',
        'D = "?"  # A "note"; perhaps 2: its heading does not say so',
        f'E = "none"  # no heading; answers “half”, “"B"”, “{"x" * 37}...”',
    ]
    assert tomllib.loads(text)["a.csv"]["columns"] == {"C": "1", "D": "?", "E": "none"}


def test_answers_in_the_file_are_read_and_questions_in_it_are_not() -> None:
    text = (
        '["a.csv"]\nform = "Period 3"\nletters = "no"\nstudent = "B"\n["a.csv".columns]\nC = 2\nD = "?"\nE = "none"\n'
    )
    assert parse_columns(text, "columns.toml", FORMS) == {
        "a.csv": Said("Period 3", "B", False, {"C": "2", "E": "none"})
    }


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            '["a"]\nform = "Period 9"',
            "c.toml, [a]: form = 'Period 9' is no form of this quiz: use 'Period 1', 'Period 3'",
        ),
        ('["a"]\nletters = "yes"', "c.toml, [a]: letters = 'yes' is not known: use 'form' or 'no'"),
        ('["a"]\ncolour = "red"', "c.toml, [a]: 'colour' is not known: use form, letters, student or columns"),
        ('["a".columns]\nc1 = "2"', "c.toml, [a]: 'c1' is no column: use its letter, as A or AB"),
        ('["a".columns]\nC = "two"', "c.toml, [a]: C = 'two' is no question: use its number, or 'none'"),
        ('["a"]\nform = 2.5', "c.toml, [a]: form must be a text in quotation marks"),
        ('["a"]\ncolumns = 3', 'c.toml, [a]: columns must hold lines such as C = "3"'),
        ("a = 1", "c.toml, [a]: a table of lines is needed here: delete it and run again"),
        (
            "a = ",
            "c.toml: it cannot be read (Invalid value (at end of document)): mend it, or delete it and run again",
        ),
    ],
)
def test_each_fault_of_the_file_is_told(text: str, line: str) -> None:
    with pytest.raises(ResultsError) as error:
        parse_columns(text, "c.toml", FORMS)
    assert str(error.value) == line


def test_the_file_tells_which_form_and_which_columns(unit_1: AskedQuiz) -> None:
    """Identifiers of choices are c1, c2 ... in every form: only its name, or the teacher, tells which form it is."""
    sat = alike_in_all_forms(each for each in sittings(unit_1, 5) if each.form is unit_1.forms[1])
    rows = wide(unit_1, 1, sat, by_ident, title)
    data = csv_bytes(rows)
    (doubts,) = gathered([("answers.csv", data)], unit_1.sheets, {}).doubts
    assert doubts.forms == ("Period 1", "Period 3", "Period 6")
    named = gathered([("period-3.csv", data)], unit_1.sheets, {})
    said = gathered([("answers.csv", data)], unit_1.sheets, {"answers.csv": Said("Period 3")})
    for found in (named, said):
        assert not any(each.any for each in found.doubts)
        assert {given.form for given in found.givens} == {unit_1.sheets[1].ident}
    columns = {"C": "none", "D": "1"}
    mended = gathered([("a.csv", data)], unit_1.sheets, {"a.csv": Said("Period 3", columns=columns)})
    first = unit_1.sheets[1].questions[0].item
    assert {given.item for given in mended.givens} == {
        q.item for q in unit_1.sheets[1].questions if q.number not in (2,)
    }
    assert [g.answer for g in mended.givens if g.item == first] != [g.answer for g in said.givens if g.item == first]


def test_two_columns_that_are_as_good_are_asked_about(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 5) if each.form is unit_1.forms[0]]
    rows = [[*row, row[2]] for row in wide(unit_1, 0, sat, by_label, title)]
    (doubts,) = gathered([("a.csv", csv_bytes(rows))], unit_1.sheets, {}).doubts
    asked = [line for line in doubts.lines if line.doubt]
    column = Counter(row[2] for row in rows[1:])
    samples = tuple(text for text, _ in column.most_common(4))
    assert asked == [ColumnLine("C", "Question 1", "1", "title", "column R may be it as well", samples)]
    assert [line for line in doubts.lines if line.samples] == [
        *asked,
        ColumnLine("R", "Question 1", "none", samples=samples),
    ]


@pytest.mark.parametrize(
    ("remark", "told"),
    [
        ("Question 1; by title", Remark("Question 1; by title")),
        ("Q; answers “A”, “it's 2, or 3”", Remark("Q", ("A", "it's 2, or 3"))),
        ("Q; answers “A”; perhaps 3b: column C may be it as well",
         Remark("Q", ("A",), "3b", "column C may be it as well")),
        ("Q; perhaps not; perhaps 2: its heading does not say so",
         Remark("Q; perhaps not", (), "2", "its heading does not say so")),
        ("", Remark("")),
    ],
)  # fmt: skip
def test_a_remark_of_the_file_is_read_back(remark: str, told: Remark) -> None:
    assert read_remark(remark) == told


@pytest.mark.parametrize(
    ("heading", "role"),
    [
        ("Student ID", "key"),
        ("SIS_ID", "key"),
        ("Full name", "name"),
        ("Pupil", "name"),
        ("Family name", "last"),
        ("Username", "login"),
        ("Class", "section"),
        ("Attempt", "attempt"),
        ("Time", "other"),
        ("Points possible", "other"),
        ("Question 3", ""),
        ("Item", "question"),
        ("Given answer", "answer"),
    ],
)
def test_headings_that_say_what_a_column_holds(heading: str, role: str) -> None:
    assert role_of(heading) == role


def test_a_question_that_no_form_has_is_told(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 5) if each.form is unit_1.forms[0]]
    data = csv_bytes(wide(unit_1, 0, sat, by_label, title))
    found = gathered([("a.csv", data)], unit_1.sheets, {"a.csv": Said(columns={"C": "99"})})
    assert found.refused == ("a.csv: the file of columns says C = '99', and the quiz has no such question",)
