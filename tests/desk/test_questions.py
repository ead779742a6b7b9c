"""Single questions on the proof page, by forms alone: each change gives the bytes that its command gives."""

import re
import shutil
import sys
from collections.abc import Callable, Sequence
from html import unescape
from pathlib import Path

import pytest

from barwright.cli import run
from desk.opened_desk import Desk
from edits.made_quizzes import forms, ids
from same_entries import entries

AT = "/quiz/quiz/proof/1"
MARKUP = "<script>alert(1)</script>"


def form(page: str, do: str, question: str) -> dict[str, list[str]]:
    """What the form for this change of this question sends as it stands."""
    for text in re.findall(r"<form .*?</form>", page, re.DOTALL):
        sent = re.sub(r'<input type="checkbox"[^>]*>', "", text)
        given = re.findall(r'name="([^"]*)" value="([^"]*)"', sent)
        fields = {unescape(name): [unescape(value)] for name, value in given}
        if fields.get("do") == [do] and fields.get("question") == [question]:
            return {name: value for name, value in fields.items() if name != "token"}
    raise AssertionError(f"no form does {do} to question {question}")


def changed(desk: Desk, do: str, question: str, *, at: str = AT, **more: str) -> str:
    """Sends the form with these fields and gives the page that comes then."""
    page = desk.get(at).text
    answer = desk.post(f"{at}/change", {**form(page, do, question), **more})
    if answer.status != 303:
        return answer.text
    address = answer.headers["location"]
    while address.startswith("/job/"):
        desk.wait(address)
        address = desk.get(address).headers["location"]
    return desk.get(address.partition("#")[0]).text


def question_on(page: str, number: str) -> str:
    """What stands at one question of a proof."""
    found = re.search(rf'<div class="question" id="q{number}".*?(?=<div class="question"|</main>)', page, re.DOTALL)
    assert found is not None
    return unescape(found[0])


def by_command(made: Path, place: Path, monkeypatch: pytest.MonkeyPatch, *calls: Sequence[object]) -> Path:
    """The folder after these commands of `barwright question` in a copy of it."""
    shutil.copytree(made, place)
    with monkeypatch.context() as patched:
        patched.chdir(place)
        for command, *arguments in calls:
            named = ["question", command, "out/quiz", *map(str, arguments), "--section", "Period 1"]
            patched.setattr(sys, "argv", ["barwright", *named])
            with pytest.raises(SystemExit) as ended:
                run()
            assert not ended.value.code
    return place


Calls = list[tuple[object, ...]]
CASES: dict[str, tuple[Callable[[Desk], str], Calls, str]] = {
    "another": (
        lambda desk: changed(desk, "keep", "3") and taken(desk, "2", 1),
        [("keep", 3), ("another", 2, "--take", "{other}")],
        "Question 2 of Period 1 is now {other}: ",
    ),
    "release": (
        lambda desk: changed(desk, "keep", "3") and changed(desk, "release", "3"),
        [("keep", 3), ("release", 3)],
        "",
    ),
    "move": (
        lambda desk: changed(desk, "move", "2", to="1"),
        [("move", 2, "--to", 1)],
        "Question 2 of Period 1 is now question 1.",
    ),
    "points": (
        lambda desk: changed(desk, "points", "5", worth="3"),
        [("points", 5, 3)],
        "Question 5 of Period 1 is worth 3 points.",
    ),
    "wording": (
        lambda desk: changed(desk, "wording", "8", hint=f"Look {MARKUP} & count."),
        [("wording", 8, "--hint", f"Look {MARKUP} & count.")],
        "Question 8 of Period 1 has your own hint.",
    ),
    "never": (
        lambda desk: changed(desk, "never", "4", bank="birch.jsonl", by="Ms. Alder", date="2026-01-15", comment="dull"),
        [("never", 4, "--bank", "birch.jsonl", "--by", "Ms. Alder", "--date", "2026-01-15", "--comment", "dull")],
        " is never asked again; in its place stands ",
    ),
    "back": (
        lambda desk: changed(desk, "points", "5", worth="3") and changed(desk, "back", "5", what="points"),
        [("points", 5, 3), ("back", 5, "--what", "points")],
        "Question 5 of Period 1: points is taken back.",
    ),
}


def taken(desk: Desk, question: str, which: int, **more: str) -> str:
    """Chooses one of the others on their page; the proof that comes then."""
    address = re.findall(rf'href="([^"]*/others/{question}\?seen=\w+)"', desk.get(AT).text)[0]
    page = desk.get(address).text
    others = re.findall(r'name="take" value="([0-9a-f]{16})"', page)
    answer = desk.post(f"{AT}/change", {**form(page, "another", question), "take": others[which], **more})
    desk.wait(answer.headers["location"])
    return desk.get(desk.get(answer.headers["location"]).headers["location"].partition("#")[0]).text


@pytest.mark.parametrize("name", CASES)
def test_a_change_is_told_beside_its_question_and_gives_the_bytes_of_its_command(
    questions: Desk, made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    do, calls, told = CASES[name]
    page = do(questions)
    other = ids(questions.folder / "out" / "quiz")[1]
    spot = {"another": "2", "move": "1", "points": "5", "wording": "8", "never": "4", "back": "5"}.get(name, "3")
    assert told.replace("{other}", other) in question_on(page, spot)
    assert MARKUP not in page
    filled = [[str(each).replace("{other}", other) for each in call] for call in calls]
    assert entries(by_command(made, tmp_path / "by", monkeypatch, *filled)) == entries(questions.folder)


def test_others_stand_side_by_side_and_the_one_that_stood_there_is_never_asked_again(questions: Desk) -> None:
    quiz = questions.folder / "out" / "quiz"
    before = ids(quiz)
    page = questions.get(re.findall(r'href="([^"]*/others/3\?seen=\w+)"', questions.get(AT).text)[0]).text
    offered = re.findall(r'name="take" value="([0-9a-f]{16})"', page)
    assert len(offered) > 2
    assert page.count('<article class="item') == len(offered) + 1
    assert page.count("data:image/png") > len(offered)
    idents = re.findall(r' id="([^"]+)"', page)
    assert len(idents) == len(set(idents))
    page = taken(questions, "3", 1, never="1")
    assert ids(quiz) == [*before[:2], offered[1], *before[3:]]
    assert f'name="question" value="{before[2]}"' in page
    assert "Never asked in this quiz" in page
    page = changed(questions, "back", before[2])
    assert f"{before[2]} may be asked again. What a bank was told stays there." in page
    assert ids(quiz) == before


def test_a_kept_question_survives_a_new_seed(questions: Desk) -> None:
    quiz = questions.folder / "out" / "quiz"
    before = ids(quiz)
    assert "Changed: kept." in question_on(changed(questions, "keep", "6"), "6")
    job = questions.post("/plan/quiz/make", {"way": "anew", "seed": "77"}).headers["location"]
    assert "To the quiz and its packages" in questions.wait(job)
    after = ids(quiz)
    assert after[5] == before[5]
    assert sum(one == other for one, other in zip(before, after, strict=True)) == 1


def test_what_becomes_unequal_is_said_and_stays_on_the_page(questions: Desk) -> None:
    told = "Unequal: 9 points in Period 1; 8 points in Period 3. Give the questions like it in the other forms as many."
    page = changed(questions, "points", "1", worth="2")
    assert told in question_on(page, "1")
    assert "1 thing is unequal in the forms by your changes" in page
    assert told in questions.get("/quiz/quiz/proof/2").text
    page = changed(questions, "points", "1", at="/quiz/quiz/proof/2", worth="2")
    assert "unequal" not in page.lower()


FAULTS = {
    "points": ({"worth": "many"}, "Points 'many': write a whole number, in digits"),
    "points, too many": ({"worth": "101"}, "101 points: use 1 to 100"),
    "move": ({"to": "99"}, "Period 1 has no question 99: it has 1 to 8"),
    "wording": ({"hint": "a\tb"}, "--hint has a control character ('<U+0009>'): write it in one line of plain text"),
    "back": ({"what": "points"}, "question 2 of Period 1 has no such change to take back: it has keep"),
    "back, of what": ({"what": MARKUP}, f"--what '{MARKUP}' is not known"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_what_is_wrong_stands_beside_the_question_in_the_words_of_the_command(questions: Desk, name: str) -> None:
    more, told = FAULTS[name]
    page = changed(questions, "keep", "2")
    before = entries(questions.folder)
    page = changed(questions, name.partition(",")[0], "2", **more)
    assert told in question_on(page, "2")
    assert MARKUP not in page
    assert entries(questions.folder) == before


def test_a_stale_page_changes_nothing_and_says_so(questions: Desk) -> None:
    stale = questions.get(AT).text
    changed(questions, "keep", "1")
    before = entries(questions.folder)
    told = "out/quiz was changed elsewhere since this page was shown, so nothing was written: look at it anew"
    at_once = questions.post(f"{AT}/change", form(stale, "keep", "2"))
    assert (at_once.status, told in question_on(at_once.text, "2")) == (409, True)
    job = questions.post(f"{AT}/change", {**form(stale, "points", "2"), "worth": "7"}).headers["location"]
    questions.wait(job)
    address = questions.get(job).headers["location"]
    assert address.endswith("#q2")
    assert told in question_on(questions.get(address.partition("#")[0]).text, "2")
    others = questions.get(re.findall(r'href="([^"]*/others/2\?seen=\w+)"', stale)[0])
    assert (others.status, told in question_on(others.text, "2")) == (409, True)
    assert entries(questions.folder) == before


def test_a_forged_form_does_nothing(questions: Desk) -> None:
    fields = form(questions.get(AT).text, "points", "2")
    before = entries(questions.folder)
    for more, status, told in (
        ({"token": "x"}, 403, "Nothing was done: this form is of another desk."),
        ({"do": "unlink"}, 409, "'unlink' is nothing that can be done to a question"),
        ({"seen": ""}, 409, "The form does not say which state of the quiz it shows: look at the page anew."),
        ({"do": "never", "bank": "../secret.jsonl"}, 404, "There is no such page"),
        ({"do": "move", "to": "9" * 5000}, 409, "write a whole number, in digits"),
    ):
        token = more.get("token")
        answer = questions.post(f"{AT}/change", {**fields, **({} if token else more)}, token=token)
        assert (answer.status, told in unescape(answer.text)) == (status, True), more
    for path in ("/quiz/quiz/proof/9", f"{AT}/others/99", f"{AT}/others/..%2f..", "/quiz/quiz/proof/9/others/1"):
        assert questions.get(path).status == 404, path
    assert entries(questions.folder) == before


def test_without_its_plan_a_quiz_is_shown_and_nothing_can_be_changed(questions: Desk) -> None:
    fields = form(questions.get(AT).text, "keep", "2")
    outside = questions.folder.parent / "quiz.toml"
    (questions.folder / "quiz.toml").rename(outside)
    told = "Its plan is not in this folder (a plan has the name of its quiz), so no question can be changed here."
    try:
        for link in (False, True):
            if link:
                (questions.folder / "quiz.toml").symlink_to(outside)
            page = questions.get(AT).text
            assert told in page
            assert '<article class="item' in page
            assert "/change" not in page
            assert questions.post(f"{AT}/change", fields).status == 409
    finally:
        (questions.folder / "quiz.toml").unlink(missing_ok=True)


def test_a_file_of_changes_that_was_edited_is_applied_or_its_faults_are_told(questions: Desk) -> None:
    quiz = questions.folder / "out" / "quiz"
    changed(questions, "points", "2", worth="2")
    path = quiz / "questions.toml"
    text = path.read_text("utf-8")
    path.write_text(text.replace("points = 2", "points = 4"), "utf-8")
    page = changed(questions, "apply", "")
    assert "Applied out/quiz/questions.toml." in page
    assert forms(quiz)["Period 1"].items[1].points == 4
    path.write_text(text + "[[points]]\nx = 1\n", "utf-8")
    page = questions.get(AT).text
    assert "No question can be changed here" in page
    assert "questions.toml, line " in page


def test_versions_are_ticked_made_and_given_out(questions: Desk) -> None:
    assert 'name="for" value="read_aloud"' in questions.get("/plan/quiz/make").text
    questions.wait(questions.post("/plan/quiz/make", {"way": "anew", "for": "read_aloud"}).headers["location"])
    script = "period-3/read-aloud/read-aloud.txt"
    assert f'href="/quiz/quiz/file/{script}" download' in questions.get("/quiz/quiz").text
    content = questions.get(f"/quiz/quiz/file/{script}").body
    assert content == (questions.folder / "out" / "quiz" / script).read_bytes()
    assert b"Question 1" in content


def test_paper_is_made_and_given_out_and_a_bank_is_taken_from_first(questions: Desk) -> None:
    order = {"way": "anew", "paper": "1", "bank": "birch.jsonl", "since": "", "allow_repeats": "1"}
    page = questions.wait(questions.post("/plan/quiz/make", order).headers["location"])
    assert " of 8 items are from the bank." in page
    quiz = questions.get("/quiz/quiz").text
    paths = re.findall(r'href="(/quiz/quiz/file/[^"]+\.pdf)" download', quiz)
    assert [path.removeprefix("/quiz/quiz/file/") for path in paths] == [
        f"{section}/{name}" for section in ("period-1", "period-3") for name in ("quiz.pdf", "key.pdf")
    ]
    for path in paths:
        content = questions.get(path).body
        assert content.startswith(b"%PDF-")
        assert content == (questions.folder / "out" / "quiz" / path.removeprefix("/quiz/quiz/file/")).read_bytes()
    answer = questions.post("/plan/quiz/make", {**order, "way": "retake"})
    assert answer.status == 409
    assert "A bank fills a whole quiz only: make it anew, or leave the bank out." in answer.text
