"""The file of changes is read strictly: each fault is one line that names file, line, value and mend."""

import re
from pathlib import Path

import pytest

from barwright.edits.changes import NOTHING
from barwright.edits.reading import read_changes
from barwright.edits.writing import HEAD, ChangesText, content_fields
from barwright.errors import BarwrightError
from edits.made_quizzes import Command, differing, forms

ITEM = "0123456789abcdef"
OF_3 = 'section = "Period 1"\nplace = 3\n'

FAULTS = [
    ("x = 1", "line 1: 'x' is not a key here: use exchange, keep, points, order, wording, never"),
    ("[points]\nplace = 3", "line 1: [points] has one pair of brackets: write [[points]], with two"),
    (f"[[points]]\n{OF_3}", "line 1: 'points' is missing: add it"),
    (f"[[points]]\n{OF_3}points = 0", "line 4: points = 0 is out of range: use at least 1"),
    (f"[[points]]\n{OF_3}points = 101", "line 4: points = 101 is out of range: use at most 100"),
    (
        f"[[points]]\n{OF_3}points = '3'",
        "line 4: points = '3', which is not of the right kind: write a whole number, without quotes",
    ),
    (
        f"[[points]]\n{OF_3}points = 2.5",
        "line 4: points = '2.5', which is not of the right kind: write a whole number, without quotes",
    ),
    (f"[[points]]\n{OF_3}pionts = 2\npoints = 1", "line 4: 'pionts' is not a key here: did you mean 'points'?"),
    (
        f"[[points]]\n{OF_3}points = 2\n[[points]]\n{OF_3}points = 3",
        "line 5: [[points]] of this place stands twice: take one of them out",
    ),
    (
        "[[points]]\nsection = '***'\nplace = 1\npoints = 2",
        "line 2: section = '***' has no letter a-z or digit to name its folder by: give it a name such as 'Period 1'",
    ),
    (
        "[[points]]\nsection = 'a\\u0007'\nplace = 1\npoints = 2".replace("'", '"'),
        "line 2: section = 'a<U+0007>' has a control character ('<U+0007>'): write it in one line of plain text",
    ),
    ("[[order]]\nsection = 'A'\nplaces = [1, 3]", "line 3: places leaves out 2: name each place once"),
    ("[[order]]\nsection = 'A'\nplaces = []", "line 3: places is too short: is this the right file?"),
    (
        "[[order]]\nsection = 'A'\nplaces = 'x'",
        "line 3: places = 'x', which is not of the right kind: write a list in square brackets",
    ),
    (f"[[wording]]\nitem = '{ITEM}'", "line 2: no stem, hint or hints stand here: add one, or take the table out"),
    (
        f"[[wording]]\nitem = '{ITEM}'\nstem = \"a\\nb\"",
        "line 3: stem has a control character ('<U+000A>'): write it in one line of plain text",
    ),
    (f"[[wording]]\nitem = '{ITEM}'\nhint = '{'x' * 401}'", "line 3: hint has 401 letters, over 400: shorten it"),
    (
        f'[[wording]]\nitem = "{ITEM}"\nhints = {{ "h." = "\\u202Eabc" }}',
        "line 3: hints has a control character ('<U+202E>'): write it in one line of plain text",
    ),
    (
        "[[wording]]\nitem = 'xyz'\nstem = 'a'",
        "line 2: item = 'xyz', which is not of the right kind: copy it from the page of the quiz",
    ),
    (
        f"[[never]]\nitem = '{ITEM}'\nask = 'no-ask'\nexcerpt = '3/4 h _'",
        "line 3: ask = 'no-ask' is not known: use one such as drag-into-the-blank, count-under-mark or finish-measure; "
        "barwright help formats lists them all",
    ),
    (
        f"[[never]]\nitem = '{ITEM}'\nask = 'finish-measure'\nexcerpt = '3/4  h _'",
        "line 4: excerpt = '3/4  h _': write it as '3/4 h _'",
    ),
    ("[[points]\n", "line 1: this cannot be read: write [[points]] and the like, and below it key = value"),
    (f"{'a.' * 40}b = 1", "line 1: a key has over 12 parts with dots between them: shorten it"),
    (f"x = {'[' * 5000}", "line 1: over 12 brackets stand inside each other: take some out"),
]


@pytest.mark.parametrize(("text", "told"), FAULTS, ids=[str(n) for n in range(len(FAULTS))])
def test_each_fault_is_one_line_with_the_mend(text: str, told: str) -> None:
    with pytest.raises(BarwrightError) as raised:
        read_changes(text, "questions.toml")
    assert str(raised.value) == f"questions.toml, {told}"


def test_a_question_that_was_tampered_with_is_refused(quiz: Path) -> None:
    form = forms(quiz)["Period 1"]
    placed = next(each for each in form.items if each.item.ask == "finish-measure")
    fields = content_fields(placed.item)
    key, *_ = (choice for choice in fields["choices"] if not choice[2])
    wrong, *_ = (choice for choice in fields["choices"] if choice[2])
    swapped = [
        [*choice[:2], {key[1]: wrong[2], wrong[1]: []}.get(choice[1], choice[2])] for choice in fields["choices"]
    ]
    for changed, told in (
        ({"item": ITEM}, f"item = '{ITEM}' is not the id of what stands below: copy the whole table again"),
        ({"choices": swapped}, f"the question '{placed.item.id}' cannot be used: the judge refuses it ("),
        ({"excerpt": "3/4 h"}, f"the question '{placed.item.id}' cannot be used: "),
    ):
        text = ChangesText("# one\n", "q.toml")
        text.add("keep", {"section": "Period 1", "place": 1, **fields, **changed})
        with pytest.raises(BarwrightError) as raised:
            read_changes(text.text, "q.toml")
        assert re.match(re.escape(f"q.toml, line 6: {told}"), str(raised.value))
        assert "\n" not in str(raised.value)


def test_many_faults_are_told_at_once_and_not_without_end() -> None:
    text = "\n".join(f"[[points]]\nsection = 'A'\nplace = {n}\npoints = 0" for n in range(1, 61))
    with pytest.raises(BarwrightError) as raised:
        read_changes(text, "q.toml")
    lines = str(raised.value).splitlines()
    assert lines[0] == "q.toml, line 4: points = 0 is out of range: use at least 1"
    assert (len(lines), lines[-1]) == (41, "q.toml: 20 more faults: mend these first")


def test_a_file_that_says_nothing_changes_nothing() -> None:
    for text in ("", HEAD, "# mine\r\n"):
        assert read_changes(text, "").exchanges == NOTHING.exchanges
        assert read_changes(text, "q.toml").keeps == {}


def test_what_is_written_is_read_back(quiz: Path) -> None:
    for form in forms(quiz).values():
        text = ChangesText("", "q.toml")
        for placed in form.items:
            text.add("keep", {"section": form.section, "place": placed.number, **content_fields(placed.item)})
        read = read_changes(text.text, "q.toml")
        assert [put.item for put in read.keeps.values()] == [placed.item for placed in form.items]
        assert [spot.place for spot in read.keeps] == list(range(1, 9))


def test_a_faulty_file_stops_every_command_and_make_and_changes_nothing(
    say: Command, quiz: Path, made_folder: Path
) -> None:
    (quiz / "questions.toml").write_text(f"[[points]]\n{OF_3}points = 0\n", "utf-8")
    told = "out/quiz/questions.toml, line 4: points = 0 is out of range: use at least 1\n"
    for arguments in (
        ("question", "show", "out/quiz"),
        ("question", "apply", "out/quiz"),
        ("question", "keep", "out/quiz", 3, "--section", "Period 1"),
        ("make", "quiz.toml", "--replace"),
        ("make", "quiz.toml", "--section", "Period 1"),
    ):
        assert say(*arguments) == (1, "", told)
    assert differing(made_folder / "out" / "quiz", quiz) == {"questions.toml"}


def test_a_file_that_is_no_text_is_told(say: Command, quiz: Path) -> None:
    (quiz / "questions.toml").write_bytes(b"PK\x03\x04" + bytes(100))
    code, _, err = say("question", "show", "out/quiz")
    assert code == 1
    assert re.fullmatch(r"out/quiz/questions\.toml: this is .+, so it is no file of changes: check the name\n", err)


def test_what_does_not_fit_the_quiz_is_told_and_waits(say: Command, quiz: Path) -> None:
    text = "[[points]]\nsection = 'Period 9'\nplace = 1\npoints = 2\n[[order]]\nsection = 'Period 1'\nplaces = [2, 1]\n"
    placed = forms(quiz)["Period 1"].items[0]
    more = ChangesText(text, "q.toml")
    more.add("keep", {"section": "Period 1", "place": 8, **content_fields(placed.item)})
    (quiz / "questions.toml").write_text(more.text, "utf-8")
    code, out, _ = say("question", "apply", "out/quiz")
    assert code == 0
    assert out.splitlines() == [
        "Applied out/quiz/questions.toml.",
        "out/quiz/questions.toml, line 9: the question kept there is left out: it asks finish-measure, and the "
        "question there does-it-fit.",
        "out/quiz/questions.toml: the order of 'Period 1' names 2 places, and the form has 8: they stand as made.",
        "out/quiz/questions.toml: there is a change for questions that are not in the forms as they are now; they wait "
        "there.",
    ]
