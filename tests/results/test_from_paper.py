"""Answers copied from strips on paper: a table of letters says what results of a platform say."""

from collections.abc import Callable, Sequence

import pytest

from barwright.items.form import form_code
from barwright.results.reading.final_answers import Settled, settled
from barwright.results.reading.sources import Gathered, gathered
from barwright.tasks.diagnose.asked import AskedQuiz
from results.quizzes import UNITS
from results.shapes import csv_bytes
from results.simulated_classes import RR30, Sitting, alike_in_all_forms, report, sittings, zipped

QuizOf = Callable[[str], AskedQuiz]


def copied(picks: tuple[int, ...], quiz: AskedQuiz, place: int, number: int) -> str:
    """What a teacher types from a strip, or from the lines under the notes."""
    item, question = quiz.worded[place].items[number], quiz.sheets[place].questions[number]
    if not picks:
        return "-"
    if question.interaction == "entry":
        return item.choices[picks[0]].spellings[0]
    if question.interaction == "inline":
        return item.foreseen[picks[0]].text
    if question.interaction == "order":
        picks = tuple(int(ident[1:]) - 1 for ident in item.foreseen[picks[0]].filled)
    return "".join("ABCDEF"[pick] for pick in picks)


def row(quiz: AskedQuiz, each: Sitting) -> list[str]:
    place = quiz.forms.index(each.form)
    cells = [copied(picks, quiz, place, number) for number, picks in enumerate(each.picks)]
    return [each.student, form_code(each.form.ident), *cells]


def typed(quiz: AskedQuiz, sat: Sequence[Sitting], *, headings: bool = True) -> bytes:
    most = max(len(each.picks) for each in sat)
    head = [["Student", "Form", *map(str, range(1, most + 1))]] if headings else []
    return csv_bytes([*head, *(row(quiz, each) for each in sat)])


def read(quiz: AskedQuiz, name: str, data: bytes, *, paper: bool) -> tuple[Gathered, Settled]:
    found = gathered([(name, data)], quiz.sheets, {}, paper=paper)
    return found, settled(found.givens, quiz.sheets, attempt="last", salt="")


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("headings", [True, False], ids=["with headings", "without"])
def test_a_table_of_letters_says_what_results_reporting_says(quiz_of: QuizOf, unit: str, headings: bool) -> None:
    """So the same diagnosis comes of it: nothing else goes into that."""
    quiz = quiz_of(unit)
    sat = sittings(quiz, 8)
    reports = zipped({f"{each.student}.xml": report(quiz, each, RR30) for each in sat})
    _, platform = read(quiz, "results.zip", reports, paper=False)
    found, paper = read(quiz, "strips.csv", typed(quiz, sat, headings=headings), paper=True)
    assert (found.refused, found.faults) == ((), ())
    assert not any(doubts.any for doubts in found.doubts)
    assert paper.responses == platform.responses


def test_without_a_code_or_section_the_form_is_asked_for(unit_1: AskedQuiz) -> None:
    sat = alike_in_all_forms(sittings(unit_1, 8))
    rows = [[student, *cells] for student, _, *cells in (row(unit_1, each) for each in sat[:8])]
    found, _ = read(unit_1, "strips.csv", csv_bytes(rows), paper=True)
    named, paper = read(unit_1, "period-1.csv", csv_bytes(rows), paper=True)
    assert not any(doubts.any for doubts in named.doubts)
    assert {response.form for response in paper.responses} == {unit_1.forms[0].ident}
    assert [doubts.forms for doubts in found.doubts] == [("Period 1", "Period 3", "Period 6")]


def test_small_letters_spaces_and_long_dashes(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 8) if each.form is unit_1.forms[0]]
    plain = typed(unit_1, sat)
    other = plain.decode().replace(",-", ", \u2014 ").replace(",A", ", a ").replace(",C", ",c").encode()
    assert (
        read(unit_1, "s.csv", other, paper=True)[1].responses == read(unit_1, "s.csv", plain, paper=True)[1].responses
    )


def test_two_letters_where_one_is_right_are_told_and_count_as_no_answer(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 8) if each.form is unit_1.forms[0]]
    head = ["Student", "Form", *map(str, range(1, len(sat[0].picks) + 1))]
    rows = [row(unit_1, each) for each in sat]
    rows[2][2] = "AB"
    found, answers = read(unit_1, "s.csv", csv_bytes([head, *rows]), paper=True)
    assert found.faults == ("s.csv, row 4: question 1: 'AB' is none of its answers",)
    first, student = sat[2].form.items[0].item.id, answers_of(answers, sat[2].student)
    assert student[first] == ()


def answers_of(answers: Settled, student: str) -> dict[str, tuple[str, ...]]:
    """What one student answered, by item."""
    code = next(code for code, name in answers.names.items() if name == student)
    return {response.item: response.answer for response in answers.responses if response.student == code}
