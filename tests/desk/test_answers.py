"""Answers on the desk: files are dropped, doubtful columns compared with questions, and what is weak taught again."""

import re
import tomllib
from html import unescape
from pathlib import Path

from barwright.tasks.diagnose.asked import AskedQuiz, asked_quiz
from desk.opened_desk import Desk
from results.shapes import Rows, by_label, by_letter, csv_bytes, title, wide
from results.simulated_classes import alike_in_all_forms, sittings

AT = "/quiz/quiz/answers"
MARKUP = "<script>alert(1)</script>"


def class_rows(quiz: AskedQuiz, place: int, students: int = 25) -> Rows:
    """The answers of one section, a column a question, headed by its title."""
    mine = [each for each in sittings(quiz, students) if each.form is quiz.forms[place]]
    return wide(quiz, place, mine, by_label, title)


def columns_said(quiz: Path) -> dict[str, dict[str, object]]:
    """What the file of columns holds, table by table."""
    return tomllib.loads((quiz / "columns.toml").read_text("utf-8"))


def test_answers_are_read_and_become_a_plan_for_teaching_again(questions: Desk) -> None:
    folder = questions.folder / "out" / "quiz"
    quiz = asked_quiz(folder)
    files = {f"{form.section}.csv": csv_bytes(class_rows(quiz, n)) for n, form in enumerate(quiz.forms)}
    job = questions.upload(AT, "answers", files).headers["location"]
    assert "See what the answers show" in questions.wait(job)
    assert "The report" in questions.get(AT).text
    report = questions.get("/quiz/quiz/file/results/report.html")
    assert report.body == (folder / "results" / "report.html").read_bytes()
    assert report.headers["content-security-policy"].startswith("sandbox")
    again = questions.post(f"{AT}/reteach", {}).headers["location"]
    assert "Nothing to mend." in questions.get(again).text
    assert "To the quiz and its packages" in questions.wait(
        questions.post(f"{again}/make", {"way": "new", "allow_repeats": "1"}).headers["location"]
    )
    questions.post(f"{AT}/forget", {})
    assert not (folder / "results").exists()
    assert list(folder.glob("answers/*")) == []


def test_a_doubtful_column_stands_beside_the_question_that_it_may_be_with_answers_out_of_it(questions: Desk) -> None:
    folder = questions.folder / "out" / "quiz"
    quiz = asked_quiz(folder)
    rows = class_rows(quiz, 0, 6)
    headings = ["Student ID", "Name", *(f"entry {n}" for n in range(1, 9)), MARKUP]
    table = csv_bytes([headings, *([*row, MARKUP] for row in rows[1:])])
    job = questions.upload(AT, "answers", {"period-1.csv": table}).headers["location"]
    assert "Say what it asks" in questions.wait(job)
    page = questions.get(AT).text
    assert MARKUP not in page
    asked = re.findall(r'<fieldset class="field match.*?</fieldset>', page, re.DOTALL)
    assert len(asked) == 8
    for number, text in enumerate(asked, start=1):
        given = {row[number + 1] for row in rows[1:]}
        samples = [
            unescape(each).removesuffix("...") for each in re.findall(r"<li>(.*?)</li>", text.partition("</ul>")[0])
        ]
        assert samples
        assert all(any(whole.startswith(each) for whole in given) for each in samples)
        assert f"Column {'CDEFGHIJ'[number - 1]}: “entry {number}”" in text
        assert f">Question {number}</h3>" in text
    assert asked[0].count("data:image/png") > 2
    idents = re.findall(r' id="([^"]+)"', page)
    assert len(idents) == len(set(idents))
    said = {re.findall(r'name="(line-\d+)"', text)[0]: str(n) for n, text in enumerate(asked, start=1)}
    answer = questions.post(f"{AT}/columns", said)
    assert "See what the answers show" in questions.wait(answer.headers["location"])
    assert columns_said(folder)["period-1.csv"]["columns"] == {
        **{"CDEFGHIJ"[n]: str(n + 1) for n in range(8)}, "K": "none",
    }  # fmt: skip
    assert 'class="field match' not in questions.get(AT).text


def test_two_columns_that_may_be_one_question_are_shown_with_what_stands_in_both(questions: Desk) -> None:
    quiz = asked_quiz(questions.folder / "out" / "quiz")
    rows = [[*row, row[2]] for row in class_rows(quiz, 0, 6)]
    questions.wait(questions.upload(AT, "answers", {"a.csv": csv_bytes(rows)}).headers["location"])
    page = questions.get(AT).text
    assert "It is question 1 (column K may be it as well)" in page
    (others,) = re.findall(r"<details open><summary>The other columns.*?</details>", page, re.DOTALL)
    for text in {row[2] for row in rows[1:]}:
        assert f'<span class="whole">“{text}”</span>' in others


def test_whose_form_it_is_and_whether_letters_are_its_own_is_asked_in_words(questions: Desk) -> None:
    """Letters of choices are the same in every form, and many platforms mix the choices for each student."""
    folder = questions.folder / "out" / "quiz"
    quiz = asked_quiz(folder)
    sat = alike_in_all_forms(each for each in sittings(quiz, 6) if each.form is quiz.forms[1])
    table = csv_bytes(wide(quiz, 1, sat, by_letter, title))
    questions.wait(questions.upload(AT, "answers", {"answers.csv": table}).headers["location"])
    page = questions.get(AT).text
    whose = re.findall(r'name="(line-\d+)" value="Period 3"', page)
    letters = re.findall(r'name="(line-\d+)" value="form"', page)
    assert len(whose) == len(letters) == 1
    for number in (1, 2):
        assert f'<a href="/quiz/quiz/proof/{number}">every question of ' in page
    questions.wait(questions.post(f"{AT}/columns", {whose[0]: "Period 3", letters[0]: "form"}).headers["location"])
    assert {name: columns_said(folder)["answers.csv"][name] for name in ("form", "letters")} == {
        "form": "Period 3", "letters": "form",
    }  # fmt: skip
