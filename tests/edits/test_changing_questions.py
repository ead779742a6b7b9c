"""One question of a made quiz is changed; what no change is about keeps every byte, and all of it can be taken back."""

import re
import shutil
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from barwright.rhythm.text import format_excerpt
from barwright.tasks.diagnose.asked import asked_quiz
from edits.made_quizzes import Command, differing, forms, ids, make_quiz, packages
from published import complaints
from results.simulated_classes import RR30, report, sittings, zipped

Ask = Callable[..., str]
STANDARDS = ("quiz-cc11.imscc", "quiz-cc12.imscc", "quiz-qti12.zip", "quiz-qti22.zip", "quiz-qti30.zip", "quiz.imscc")
ABOUT_ALL = {"key.html", "proof.html", "questions.toml", "record.jsonl"}


def excerpts(quiz: Path) -> list[str]:
    return [format_excerpt(placed.item.excerpt) for form in forms(quiz).values() for placed in form.items]


def test_another_question_takes_the_place_and_the_rest_of_the_form_keeps_every_byte(
    ask: Ask, quiz: Path, made_folder: Path
) -> None:
    before, old = ids(quiz), set(excerpts(quiz))
    told = ask("another", 2)
    after = ids(quiz)
    assert [n for n, (one, other) in enumerate(zip(before, after, strict=True), start=1) if one != other] == [2]
    new = forms(quiz)["Period 1"].items[1]
    assert told.splitlines()[0] == f"Question 2 of Period 1 is now {after[1]}: {format_excerpt(new.item.excerpt)}."
    assert format_excerpt(new.item.excerpt) not in old
    assert new.made is not None
    assert (new.made.item.id, new.made.number) == (before[1], 2)
    assert new.order.index(new.item.choices.index(new.item.keys[0])) == new.made.order.index(
        new.made.item.choices.index(new.made.item.keys[0])
    )
    changed = differing(made_folder / "out" / "quiz", quiz)
    assert {name for name in changed if ":" not in name} == ABOUT_ALL
    inside = {name for name in changed if ":" in name}
    assert {name.partition(":")[0] for name in inside} == {f"period-1/{name}" for name in STANDARDS}
    kinds = {re.sub(r"(images/)[0-9a-f]{16}\.png$", r"\1*", name.partition(":")[2]) for name in inside}
    named = {"images/*", "quiz/images/*", "imsmanifest.xml", "quiz/quiz.xml", "quiz.xml", "test.xml"}
    assert kinds == named | {f"items/q{before[1]}.xml", f"items/q{after[1]}.xml"}


def questions_of(package: Path) -> dict[str, str]:
    """Each question of a QTI 1.2 document, by its identifier."""
    with zipfile.ZipFile(package) as archive:
        name = next(name for name in archive.namelist() if name.endswith("quiz.xml"))
        text = archive.read(name).decode()
    found = re.findall(r"<item .*?</item>", text, re.DOTALL)
    return {re.findall(r'ident="(\w+)"', item)[0]: item for item in found}


@pytest.mark.parametrize("name", ["quiz.imscc", "quiz-cc11.imscc", "quiz-qti12.zip"])
def test_in_one_document_of_all_questions_only_that_one_changes(
    ask: Ask, quiz: Path, made_folder: Path, name: str
) -> None:
    before = ids(quiz)
    ask("another", 2)
    old, new = (questions_of(folder / "period-1" / name) for folder in (made_folder / "out" / "quiz", quiz))
    assert len(old) == len(new) == 8
    assert {ident for ident in old.keys() | new.keys() if old.get(ident) != new.get(ident)} == {
        f"q{before[1]}",
        f"q{ids(quiz)[1]}",
    }


def test_every_change_stands_in_packages_that_are_sound_in_every_standard(
    ask: Ask, say: Command, quiz: Path, standards: Path
) -> None:
    ask("another", 2)
    ask("keep", 3)
    ask("move", 6, "--to", 1)
    ask("points", 5, 3)
    ask("wording", 8, "--hint", "Look at <the sign> & count.")
    ask("never", 4, section="Period 3")
    code, out, err = say("check", *packages(quiz))
    assert (code, err, out.splitlines()[-1]) == (0, "", "12 packages: no error, no caution.")
    assert complaints(standards, packages(quiz)) == []


def test_whatever_was_changed_can_be_taken_back_to_the_last_byte(ask: Ask, quiz: Path, made_folder: Path) -> None:
    first, refused = ids(quiz)[0], ids(quiz)[6]
    ask("another", 2)
    ask("another", 2)
    ask("keep", 3)
    ask("move", 6, "--to", 1)
    ask("points", 5, 3)
    ask("wording", first, "--stem", "What fills the gap?")
    ask("never", refused)
    for arguments in (
        (refused,),
        (first, "--what", "wording"),
        (5, "--what", "points"),
        (1, "--what", "move"),
        (3,),
        (2,),
        (2,),
    ):
        ask("back", *arguments)
    assert differing(made_folder / "out" / "quiz", quiz) == set()


def test_back_takes_the_last_exchange_first(ask: Ask, quiz: Path) -> None:
    ask("another", 2)
    once = ids(quiz)
    ask("another", 2)
    assert ids(quiz)[1] not in (once[1],)
    assert ask("back", 2).splitlines()[0] == "Question 2 of Period 1: another is taken back."
    assert ids(quiz) == once


def test_the_others_are_of_the_cell_and_seen_by_no_section(say: Command, quiz: Path) -> None:
    code, out, _ = say("question", "others", "out/quiz", 1, "--section", "Period 1", "--html", "others.html")
    lines = out.splitlines()
    here = forms(quiz)["Period 1"].items[0].item
    assert code == 0
    assert lines[0] == f"Instead of question 1 of Period 1 ({here.id}) could stand:"
    offered = [line for line in lines[1:] if re.match("[0-9a-f]{16}  ", line)]
    rhythms = [line.split("  ")[1] for line in offered]
    assert len(rhythms) == len(set(rhythms)) == 6
    assert not set(rhythms) & set(excerpts(quiz))
    page = (quiz.parents[1] / "others.html").read_text("utf-8")
    assert all(line.split("  ")[0] in page for line in offered)
    assert page.count("data:image/png;base64,") >= 6
    take = offered[3].split("  ")[0]
    say("question", "another", "out/quiz", 1, "--section", "Period 1", "--take", take[:6])
    assert ids(quiz)[0] == take


def test_the_same_commands_give_the_same_bytes(say: Command, quiz: Path, tmp_path: Path, made_folder: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(made_folder, copy)
    for folder in ("out/quiz", "copy/out/quiz"):
        for arguments in (("another", 2), ("never", 4), ("move", 1, "--to", 5), ("points", 2, 2)):
            command, *rest = arguments
            assert say("question", command, folder, *rest, "--section", "Period 1")[0] == 0
    assert differing(quiz, copy / "out" / "quiz") == set()


def test_what_was_chosen_survives_making_the_quiz_again(ask: Ask, say: Command, quiz: Path, tmp_path: Path) -> None:
    ask("another", 2)
    ask("move", 6, "--to", 1)
    ask("points", 5, 3)
    ask("wording", ids(quiz)[2], "--stem", "What fills the gap?")
    ask("never", 4, section="Period 3")
    shutil.copytree(quiz, tmp_path / "before")
    for more in (("--replace",), ("--section", "Period 1"), ("--section", "Period 3"), ("--replace",)):
        code, _, err = say("make", "quiz.toml", *more)
        assert (code, err) == (0, "")
        assert differing(tmp_path / "before", quiz) == set()


def test_a_kept_question_survives_a_new_seed_and_others_do_not(ask: Ask, say: Command, quiz: Path) -> None:
    ask("another", 3)
    kept = ids(quiz)[2]
    before = ids(quiz)
    ask("keep", 3)
    code, out, err = say("make", "quiz.toml", "--replace", "--seed", 9)
    assert (code, err) == (0, "")
    after = ids(quiz)
    assert after[2] == kept
    assert after[:2] != before[:2]
    texts = excerpts(quiz)
    assert len(texts) == len(set(texts))
    waits = "there is a change for questions that are not in the forms as they are now; they wait there."
    assert f"out/quiz/questions.toml: {waits}" in out.splitlines()
    ask("release", 3)
    assert ids(quiz) == after
    say("make", "quiz.toml", "--replace", "--seed", 10)
    assert kept not in ids(quiz)
    say("make", "quiz.toml", "--replace")
    assert ids(quiz) == before


def test_a_kept_question_is_neither_exchanged_nor_kept_twice(ask: Ask, say: Command) -> None:
    ask("keep", 3)
    assert ask("keep", 3).splitlines()[0] == "Question 3 of Period 1 is kept already."
    code, _, err = say("question", "another", "out/quiz", 3, "--section", "Period 1")
    assert (code, err) == (
        1,
        "question 3 of Period 1 is kept: release it first, with barwright question release\n",
    )
    assert ask("release", 4).splitlines()[0] == "Question 4 of Period 1 is not kept, so there is nothing to release."


def test_what_is_never_asked_again_comes_with_no_seed(ask: Ask, say: Command, quiz: Path, tmp_path: Path) -> None:
    say("make", "quiz.toml", "--replace", "--seed", 9)
    refused = {section: form.items[0].item for section, form in forms(quiz).items()}
    say("make", "quiz.toml", "--replace")
    bans = "".join(
        f'[[never]]\nitem = "{item.id}"\nask = "{item.ask}"\nexcerpt = "{format_excerpt(item.excerpt)}"\n'
        for item in refused.values()
    )
    (quiz / "questions.toml").write_text(bans, "utf-8")
    say("make", "quiz.toml", "--replace", "--seed", 9)
    new = {section: form.items for section, form in forms(quiz).items()}
    for section, item in refused.items():
        assert item.excerpt not in {p.item.excerpt for p in new[section] if p.item.ask == item.ask}
        assert next(p.as_made.item for p in new[section]) == item
    assert [line for line in ask("show").splitlines() if line.startswith("Never asked: ")] == [
        f"Never asked: {item.id}" for item in refused.values()
    ]
    shutil.copytree(quiz, tmp_path / "before")
    for more in (("--replace", "--seed", 9), ("--section", "Period 3", "--seed", 9)):
        say("make", "quiz.toml", *more)
        assert differing(tmp_path / "before", quiz) == set()


def test_never_again_is_told_to_the_bank_as_a_record(ask: Ask, say: Command, quiz: Path) -> None:
    say("bank", "add", "out/quiz/record.jsonl", "bank.jsonl")
    refused = ids(quiz)[3]
    told = ask("never", 4, "--bank", "bank.jsonl", "--by", "Ms. A", "--comment", "too easy", "--date", "2025-03-14")
    instead = ids(quiz)[3]
    assert told.splitlines()[0] == (
        f"Question 4 of Period 1 ({refused}) is never asked again; in its place stands {instead}. "
        "It is retired in bank.jsonl."
    )
    _, out, _ = say("bank", "show", "bank.jsonl", "--where", "review=retired")
    assert [line.split()[0] for line in out.splitlines()[1:-1]] == [refused]
    lines = (quiz.parents[1] / "bank.jsonl").read_text("utf-8").splitlines()
    (line,) = [line for line in lines if f'"id":"{refused}"' in line]
    assert '{"by":"Ms. A","date":"2025-03-14","kind":"review","text":"too easy","verdict":"retire"}' in line
    assert '"kind":"usage"' in line
    assert say("bank", "check", "bank.jsonl")[0] == 0
    assert ask("never", refused).splitlines()[0] == f"{refused} is never asked already."


def test_a_bank_that_has_not_got_the_question_gets_it_retired(ask: Ask, say: Command, quiz: Path) -> None:
    say("bank", "add", "out/quiz/record.jsonl", "bank.jsonl", "--section", "Period 3")
    refused = ids(quiz)[3]
    ask("never", 4, "--bank", "bank.jsonl")
    _, out, _ = say("bank", "show", "bank.jsonl", "--where", "review=retired")
    assert [line.split()[0] for line in out.splitlines()[1:-1]] == [refused]


def test_a_bank_that_is_not_there_stops_before_anything_is_changed(say: Command, quiz: Path, made_folder: Path) -> None:
    told = say("question", "never", "out/quiz", 4, "--section", "Period 1", "--bank", "no.jsonl")
    assert told == (1, "", "no.jsonl: there is no such bank: check the name and the folder\n")
    assert differing(made_folder / "out" / "quiz", quiz) == set()


def test_a_moved_question_has_its_new_number_everywhere(ask: Ask, quiz: Path) -> None:
    before = ids(quiz)
    told = ask("move", 6, "--to", 1).splitlines()
    assert told[0] == "Question 6 of Period 1 is now question 1."
    assert told[1] == (
        "Unequal: in Period 1 3 numbers ask another kind of question than in the plan (from question 1 on): "
        "move them in the other forms, too."
    )
    assert ids(quiz) == [before[5], *before[:5], *before[6:]]
    assert [placed.number for placed in forms(quiz)["Period 1"].items] == list(range(1, 9))
    with zipfile.ZipFile(quiz / "period-1" / "quiz-qti30.zip") as archive:
        assert 'title="Question 1"' in archive.read(f"items/q{before[5]}.xml").decode()
        assert re.findall(r"items/q([0-9a-f]{16})\.xml", archive.read("test.xml").decode()) == ids(quiz)


def test_points_are_told_where_the_forms_are_worth_different_sums(ask: Ask, quiz: Path) -> None:
    assert ask("points", 5, 3).splitlines()[:2] == [
        "Question 5 of Period 1 is worth 3 points.",
        "Unequal: 10 points in Period 1; 8 points in Period 3. Give the questions like it in the other forms as many.",
    ]
    assert ask("points", 5, 3, section="Period 3").splitlines()[:2] == [
        "Question 5 of Period 3 is worth 3 points.",
        "Wrote 6 packages anew. Next: look at out/quiz/proof.html, and import what you use.",
    ]
    assert [form.items[4].points for form in forms(quiz).values()] == [3, 3]


def test_points_and_order_hold_for_the_place_whatever_the_seed(ask: Ask, say: Command, quiz: Path) -> None:
    ask("points", 5, 3)
    ask("move", 8, "--to", 1)
    say("make", "quiz.toml", "--replace", "--seed", 9)
    form = forms(quiz)["Period 1"]
    assert [placed.points for placed in form.items] == [1, 1, 1, 1, 1, 3, 1, 1]
    assert [placed.item.ask for placed in form.items][:2] == ["does-it-fit", "finish-measure"]


def test_own_words_with_signs_of_markup_are_shown_as_they_are_written(ask: Ask, quiz: Path) -> None:
    ask("wording", 1, "--stem", "Which <b>one</b> fills & ends the measure?")
    assert "Which &lt;b&gt;one&lt;/b&gt; fills &amp; ends the measure?" in (quiz / "proof.html").read_text("utf-8")
    with zipfile.ZipFile(quiz / "period-1" / "quiz-qti30.zip") as archive:
        text = archive.read(f"items/q{ids(quiz)[0]}.xml").decode()
    assert "Which &lt;b&gt;one&lt;/b&gt; fills &amp; ends the measure?" in text
    with zipfile.ZipFile(quiz / "period-1" / "quiz.imscc") as archive:
        text = archive.read("quiz/quiz.xml").decode()
    assert "Which &amp;lt;b&amp;gt;one&amp;lt;/b&amp;gt; fills &amp;amp; ends the measure?" in text


def test_a_hint_for_one_choice_is_told_there_alone(ask: Ask, quiz: Path) -> None:
    placed = forms(quiz)["Period 1"].items[0]
    wrong = next(place for place, index in enumerate(placed.order) if not placed.item.choices[index].key)
    ask("wording", 1, "--hint", "Clap it once more.", "--choice", "ABCD"[wrong])
    page = (quiz / "proof.html").read_text("utf-8")
    assert page.count("Clap it once more.") == 1
    ask("wording", 1, "--hint", "Count it aloud.")
    page = (quiz / "proof.html").read_text("utf-8")
    others = len(placed.item.wrong) - 1
    assert others
    assert (page.count("Clap it once more."), page.count("Count it aloud.")) == (1, others)


def test_a_retake_asks_nothing_that_stands_by_a_change(ask: Ask, say: Command, quiz: Path) -> None:
    ask("another", 2)
    ask("another", 2)
    seen = set(excerpts(quiz))
    chosen = set(re.findall('^excerpt = "(.+)"$', (quiz / "questions.toml").read_text("utf-8"), re.MULTILINE))
    assert len(chosen) == 2
    assert say("make", "quiz.toml", "--retake", 1)[0] == 0
    retake = ask("show", "--retake", 1).splitlines()[1:9]
    assert not (seen | chosen) & {line.split("  ")[-1].strip() for line in retake}
    assert say("question", "another", "out/quiz", 2, "--section", "Period 1", "--retake", 1)[0] == 0
    assert "retake = 1" in (quiz / "questions.toml").read_text("utf-8")


def test_diagnose_rehearse_and_bank_still_join(ask: Ask, say: Command, quiz: Path) -> None:
    ask("another", 2)
    ask("move", 6, "--to", 1)
    ask("wording", ids(quiz)[2], "--stem", "What fills the gap?")
    form = forms(quiz)["Period 1"]
    asked = asked_quiz(quiz)
    files = {f"{n}.xml": report(asked, sitting, RR30) for n, sitting in enumerate(sittings(asked, 12))}
    (quiz.parents[1] / "results.zip").write_bytes(zipped(files))
    code, out, err = say("diagnose", "out/quiz", "results.zip")
    assert (code, err) == (0, "")
    assert out.splitlines()[-2].startswith("Wrote out/quiz/results: 24 students;")
    assert say("rehearse", "out/quiz")[0] == 0
    assert say("bank", "add", "out/quiz/record.jsonl", "bank.jsonl")[0] == 0
    bank = (quiz.parents[1] / "bank.jsonl").read_text("utf-8")
    assert all(f'"id":"{placed.item.id}"' in bank for placed in form.items)


def test_a_variant_of_a_pool_is_changed_alone(say: Command, tmp_path: Path) -> None:
    text = (
        'title = "T"\nsections = ["A"]\n[elements]\nmeters = ["3/4", "4/4"]\nnotes = ["half", "quarter"]\n'
        'rests = ["quarter"]\n[quiz]\ndraw = true\nvariants = 2\n[[part]]\nfamily = "measure-completion"\n'
        'ask = "finish-measure"\nitems = 2\n'
    )
    folder = tmp_path / "pools"
    folder.mkdir()
    make_quiz(folder, text, "qti30")
    before = [placed.item.id for placed in forms(folder / "out" / "quiz")["A"].items]
    assert say("question", "another", "pools/out/quiz", 1) == (
        1,
        "",
        "question 1 of A has variants: say which, 1a to 1b\n",
    )
    assert say("question", "another", "pools/out/quiz", "1b")[0] == 0
    assert say("question", "move", "pools/out/quiz", "2a", "--to", 1)[0] == 0
    after = [placed.item.id for placed in forms(folder / "out" / "quiz")["A"].items]
    assert after[:3] == [before[2], before[3], before[0]]
    assert after[3] not in before


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("another", "out/quiz", 3), "question 3 of which section? Give --section: 'Period 1' or 'Period 3'"),
        (
            ("another", "out/quiz", 9, "--section", "Period 1"),
            "Period 1 has no question 9: it has 1 to 8",
        ),
        (
            ("keep", "out/quiz", 3, "--section", "Period 4"),
            "section 'Period 4' is not in out/quiz: did you mean 'Period 3'?",
        ),
        (("keep", "out/quiz", "zz"), "question 'zz': give its number, or 4 letters or more of its id"),
        (("keep", "out/quiz", "ffffff"), "no question here has the id 'ffffff': see barwright question show"),
        (("keep", "out/quiz", 3, "--retake", 2), "out/quiz has no retake 2"),
        (("show", "out"), "out/record.jsonl is missing: give the quiz folder that make wrote, e.g. out/unit-3"),
        (("points", "out/quiz", 3, 101, "--section", "Period 1"), "101 points: use 1 to 100"),
        (
            ("move", "out/quiz", 3, "--to", 9, "--section", "Period 1"),
            "Period 1 has no question 9: it has 1 to 8",
        ),
        (("back", "out/quiz", 3, "--section", "Period 1"), "question 3 of Period 1 has no such change to take back"),
        (("back", "out/quiz", 3, "--what", "pints"), "--what 'pints' is not known: did you mean 'points'?"),
        (("apply", "out/quiz"), "out/quiz/questions.toml is missing, so there is nothing to apply"),
        (
            ("another", "out/quiz", 3, "--section", "Period 1", "--take", "0000"),
            "--take '0000' is the id of none of the others for question 3 of Period 1: see barwright question others",
        ),
        (("others", "out/quiz", 3, "--section", "Period 1", "--most", 13), "--most 13: use 1 to 12"),
        (
            ("show", "out/quiz", "--blueprint", "no.toml"),
            "no.toml: cannot be read (No such file or directory): check the name and the folder",
        ),
    ],
    ids=lambda each: each[0] if isinstance(each, tuple) else "",
)
def test_what_cannot_be_done_is_told_in_one_line(
    say: Command, quiz: Path, made_folder: Path, arguments: tuple[object, ...], told: str
) -> None:
    assert say("question", *arguments) == (1, "", f"{told}\n")
    assert differing(made_folder / "out" / "quiz", quiz) == set()


def test_several_changes_must_be_named_to_be_taken_back(ask: Ask, say: Command) -> None:
    ask("another", 2)
    ask("points", 2, 2)
    code, _, err = say("question", "back", "out/quiz", 2, "--section", "Period 1")
    assert (code, err) == (
        1,
        "question 2 of Period 1 has several changes: say which with --what another or points\n",
    )


def test_a_blueprint_that_is_not_near_or_another_is_told(say: Command, quiz: Path) -> None:
    plan = quiz.parents[1] / "quiz.toml"
    plan.write_text(plan.read_text("utf-8").replace("items = 3", "items = 4"), "utf-8")
    code, _, err = say("question", "show", "out/quiz")
    assert (code, err.partition(" (part changed)")[0]) == (
        1,
        f"out/quiz was made from another blueprint than {plan} is now",
    )
    plan.unlink()
    assert say("question", "show", "out/quiz") == (
        1,
        "",
        "out/quiz: no blueprint of its name is near: say from which it was made, with --blueprint FILE\n",
    )


def test_remarks_in_the_file_of_changes_survive(ask: Ask, quiz: Path) -> None:
    ask("points", 5, 3)
    file = quiz / "questions.toml"
    file.write_text(file.read_text("utf-8").replace("points = 3", "points = 3  # it is long"), "utf-8")
    ask("points", 6, 2)
    ask("keep", 1)
    assert "points = 3  # it is long\n" in file.read_text("utf-8")


def test_a_file_that_was_edited_by_hand_is_applied(ask: Ask, quiz: Path) -> None:
    (quiz / "questions.toml").write_text('points = [{section = "Period 1", place = 2, points = 4}]\n', "utf-8")
    assert ask("apply").splitlines()[0] == "Applied out/quiz/questions.toml."
    assert forms(quiz)["Period 1"].items[1].points == 4
    ask("points", 3, 2)
    assert [placed.points for placed in forms(quiz)["Period 1"].items][:3] == [1, 4, 2]


def test_the_file_can_be_copied_to_a_colleague(
    ask: Ask, say: Command, quiz: Path, tmp_path: Path, made_folder: Path
) -> None:
    for arguments in (("another", 2), ("keep", 2), ("points", 5, 3), ("never", 4)):
        ask(*arguments)
    theirs = tmp_path / "theirs"
    shutil.copytree(made_folder, theirs)
    shutil.copy(quiz / "questions.toml", theirs / "out" / "quiz")
    assert say("question", "apply", "theirs/out/quiz")[0] == 0
    assert differing(quiz, theirs / "out" / "quiz") == set()


def test_figures_keep_the_music_font_that_the_quiz_was_made_with(say: Command, quiz: Path, tmp_path: Path) -> None:
    say("make", "quiz.toml", "--replace", "--music-font", "Petaluma", "--standard", "qti30")
    shutil.copytree(quiz, tmp_path / "before")
    say("question", "another", "out/quiz", 2, "--section", "Period 1")
    pictures = [name for name in differing(tmp_path / "before", quiz) if "/images/" in name or ":images/" in name]
    assert 0 < len(pictures) <= 10
