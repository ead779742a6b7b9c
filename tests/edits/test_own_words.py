"""A teacher's own words are held to what ours are held to: they give nothing away and leave nothing out."""

from dataclasses import replace
from pathlib import Path

import pytest

from barwright.blueprint.parsing import read_blueprint
from barwright.items.own_words import OwnWords
from barwright.tasks.question.giveaways import own_faults
from barwright.tasks.sections import with_sections
from barwright.wording.items_in_words import worded_item
from edits.made_quizzes import BLUEPRINT, Command, differing
from made_once import forms_once

DEMOS = Path(__file__).parents[2] / "shared" / "blueprints"


@pytest.mark.parametrize("path", sorted(DEMOS.glob("*.toml")), ids=lambda path: path.stem)
def test_our_own_stems_and_general_hints_would_be_taken(path: Path) -> None:
    """So the check asks of a teacher no more than of us."""
    blueprint = with_sections(read_blueprint(path.read_text("utf-8"), str(path))[0], path)
    form = forms_once(blueprint.model_copy(update={"sections": blueprint.sections[:1]}))[0].form
    for placed in form.items:
        shown = worded_item(placed, "en-US")
        words = OwnWords(stem=shown.stem[0], hint=shown.general_feedback)
        assert list(own_faults(replace(placed, words=words), form, blueprint)) == [], placed.item.ask


@pytest.mark.parametrize("path", sorted(DEMOS.glob("unit-[1-4]*.toml")), ids=lambda path: path.stem)
@pytest.mark.parametrize(("code", "also"), [("es", ()), ("en-GB", ()), ("en-US", ("es",))])
def test_so_would_those_of_other_languages(path: Path, code: str, also: tuple[str, ...]) -> None:
    blueprint = with_sections(read_blueprint(path.read_text("utf-8"), str(path))[0], path)
    form = forms_once(blueprint.model_copy(update={"sections": blueprint.sections[:1]}))[0].form
    form = replace(form, language=code, also=also)
    for placed in form.items:
        shown = worded_item(placed, code)
        words = OwnWords(stem=shown.stem[0], hint=shown.general_feedback)
        assert list(own_faults(replace(placed, words=words), form, blueprint)) == [], placed.item.ask


def test_own_words_give_nothing_away_in_the_second_language_either() -> None:
    path = DEMOS / "unit-1-half-notes-and-rests.toml"
    blueprint = with_sections(read_blueprint(path.read_text("utf-8"), str(path))[0], path)
    form = replace(forms_once(blueprint.model_copy(update={"sections": blueprint.sections[:1]}))[0].form, also=("es",))
    placed = next(placed for placed in form.items if placed.item.ask == "finish-measure")
    key = next(choice.figure.alt for choice in worded_item(placed, "es").choices if choice.key and choice.figure)
    words = OwnWords(hint=f"It was {key.lower()}")
    assert list(own_faults(replace(placed, words=words), form, blueprint)) == [
        f"hint: '{key.rstrip('.')}' gives the answer away: leave it out"
    ]
    assert list(own_faults(replace(placed, words=words), replace(form, also=()), blueprint)) == []


# Questions of the small quiz by what they ask: the words, and what is told of them.
REFUSED = [
    ("finish-measure", {"stem": "Pick the {key}."}, "stem: '{Key}' gives the answer away: leave it out"),
    ("finish-measure", {"hint": "It was the {key}!"}, "hint: '{Key}' gives the answer away: leave it out"),
    (
        "finish-measure",
        {"stem": "What fills it? It is no {wrong}."},
        "stem: it names some of the wrong choices, so that fewer are left: name all choices, or none",
    ),
    (
        "finish-measure",
        {"stem": "Which is the correct one?"},
        "stem: 'correct' tells what is right or wrong: leave it out",
    ),
    (
        "finish-measure",
        {"hint": "Look at choice B."},
        "hint: 'choice B' names a choice by its place, and platforms mix them: leave it out",
    ),
    (
        "finish-measure",
        {"hint": "This is rests-take-no-time."},
        "hint: 'rests-take-no-time' is the name of a misreading, which students must not see: leave it out",
    ),
    (
        "finish-measure",
        {"stem": "Which one fills it? Not an eighth note."},
        "stem: 'eighth note' is not among the elements taught: leave it out",
    ),
    (
        "beats-left",
        {"hint": "There are {number} left."},
        "hint: '{number}' gives the answer away: leave it out",
    ),
    (
        "beats-left",
        {"stem": "How much is missing?"},
        "stem: it leaves out 'quarter note', without which nobody can answer: say it, too",
    ),
    (
        "does-it-fit",
        {"stem": "Look at it. Does it fit in one measure?"},
        "stem: it leaves out '{meter}', without which nobody can answer: say it, too",
    ),
    (
        "finish-measure",
        {"hints": (("e e", "Count."),)},
        "hints: 'e e' is no wrong choice of this question: take one as the page shows it",
    ),
]


@pytest.mark.parametrize(("ask", "words", "told"), REFUSED, ids=[str(n) for n in range(len(REFUSED))])
def test_words_that_give_something_away_are_refused(ask: str, words: dict[str, str], told: str) -> None:
    blueprint, _ = read_blueprint(BLUEPRINT, "b.toml")
    form = forms_once(blueprint.model_copy(update={"sections": ["A"]}))[0].form
    placed = next(placed for placed in form.items if placed.item.ask == ask)
    shown = worded_item(placed, "en-US")
    pictured = {choice.key: choice.figure.alt.rstrip(".") for choice in shown.choices if choice.figure}
    key, wrong = pictured.get(True, ""), pictured.get(False, "")
    names = {
        "key": key.lower(),
        "Key": key,
        "wrong": wrong.lower(),
        "number": placed.item.keys[0].answer.text,
        "meter": str(placed.item.excerpt.meter),
    }
    given = {name: text.format(**names) if isinstance(text, str) else text for name, text in words.items()}
    faults = list(own_faults(replace(placed, words=OwnWords(**given)), form, blueprint))
    assert told.format(**names) in faults


TAKEN = [
    ("finish-measure", "stem", "Fill the measure, please. Which note or rest does it?"),
    ("finish-measure", "hint", "Add up what you see, and clap it with your right hand."),
    ("beats-left", "stem", "A quarter note is one beat. How many are missing here?"),
    ("counts-for-rhythm", "stem", "How do we count this line?"),
    ("does-it-fit", "hint", "Compare it with a whole measure."),
]


@pytest.mark.parametrize(("ask", "kind", "text"), TAKEN, ids=[str(n) for n in range(len(TAKEN))])
def test_plain_words_are_taken(ask: str, kind: str, text: str) -> None:
    blueprint, _ = read_blueprint(BLUEPRINT, "b.toml")
    form = forms_once(blueprint.model_copy(update={"sections": ["A"]}))[0].form
    placed = next(placed for placed in form.items if placed.item.ask == ask)
    assert list(own_faults(replace(placed, words=OwnWords(**{kind: text})), form, blueprint)) == []


def test_what_is_the_answer_to_another_question_is_refused() -> None:
    blueprint, _ = read_blueprint(BLUEPRINT, "b.toml")
    form = forms_once(blueprint.model_copy(update={"sections": ["A"]}))[0].form
    other = next(placed for placed in form.items if placed.item.ask == "counts-for-rhythm")
    row = other.item.keys[0].answer.text
    words = OwnWords(stem=f"Count {row} in your head. Which one fills the blank?")
    faults = list(own_faults(replace(form.items[0], words=words), form, blueprint))
    assert f"stem: '{row}' is the answer to question {other.number}: leave it out" in faults


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "say what to write: --stem TEXT, --hint TEXT, or --hint TEXT with --choice LETTER"),
        (("--stem", "a\tb"), "--stem has a control character ('<U+0009>'): write it in one line of plain text"),
        (("--stem", " "), "--stem is empty: write a sentence, or leave it out"),
        (("--hint", "x" * 401), "--hint has 401 letters, over 400: shorten it"),
        (("--stem", "Which one?", "--choice", "A"), "--choice 'A' does nothing here: give it with --hint"),
        (
            ("--stem", "The correct one?"),
            "question 1 of Period 1, stem: 'correct' tells what is right or wrong: leave it out",
        ),
    ],
    ids=lambda each: "" if isinstance(each, str) else " ".join(each)[:20],
)
def test_refused_words_change_nothing(
    say: Command, quiz: Path, made_folder: Path, arguments: tuple[str, ...], told: str
) -> None:
    given = say("question", "wording", "out/quiz", 1, "--section", "Period 1", *arguments)
    assert given == (1, "", f"{told}\n")
    assert differing(made_folder / "out" / "quiz", quiz) == set()


def test_words_written_by_hand_that_give_the_answer_away_stop_make(say: Command, quiz: Path) -> None:
    _, out, _ = say("question", "show", "out/quiz", "--section", "Period 1")
    ident = out.splitlines()[1].split()[1]
    (quiz / "questions.toml").write_text(
        f'# mine\n[[wording]]\nitem = "{ident}"\nhint = "The correct answer is easy."\n', "utf-8"
    )
    told = (
        "out/quiz/questions.toml, line 2: question 1 of 'Period 1', hint: 'correct' tells what is right or wrong: "
        "leave it out\n"
    )
    assert say("question", "apply", "out/quiz") == (1, "", told)
    assert say("make", "quiz.toml", "--replace") == (1, "", told)
