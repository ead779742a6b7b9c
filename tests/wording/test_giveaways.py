"""Over many made items: neither lengths of texts nor alternative texts tell the key better than chance."""

from collections.abc import Callable, Iterable
from functools import cache
from math import sqrt
from statistics import mean

import pytest

from barwright.blueprint.parsing import read_blueprint
from barwright.wording.items_in_words import worded_form
from barwright.wording.reading_level import reading_grade
from barwright.wording.worded import WordedChoice, WordedItem
from made_once import forms_once
from whole import whole_or_part

ELEMENTS = {
    "beginners": """
meters = ["2/4", "3/4", "4/4"]
notes  = ["whole", "half", "quarter"]
rests  = ["whole", "half", "quarter"]
""",
    "later": """
meters = ["2/4", "3/4", "4/4", "6/8"]
notes  = ["whole", "half", "quarter", "eighth"]
rests  = ["half", "quarter", "eighth"]
dots   = ["half", "quarter"]
ties   = true
""",
}
PARTS = {
    "finish-measure": "measure-completion",
    "finish-measure-with-two": "measure-completion",
    "beats-left": "measure-completion",
    "all-that-fit": "measure-completion",
    "counts-for-rhythm": "count-labeling",
    "rhythm-for-counts": "count-labeling",
    "write-counts": "count-labeling",
    "time-signature-for-rhythm": "meter-identification",
    "rhythm-for-time-signature": "meter-identification",
    "does-it-fit": "meter-identification",
    "what-the-numbers-say": "meter-identification",
}
EACH = 3
SEEDS = range(whole_or_part(10, 5))
# What nobody sees or hears: texts that differ by less are of one length.
ALIKE = 0.1
# Options of like length (Haladyna, Downing & Rodriguez 2002): the key is the longest, or the shortest, in at most
# 1/k + 10 % of the items.
MARGIN = 0.1
TEXTS = ("counts-for-rhythm", "does-it-fit", "what-the-numbers-say")
RHYTHMS = ("rhythm-for-counts",)


@cache
def quizzes(elements: str) -> tuple[WordedItem, ...]:
    """The items of one small quiz for each seed."""
    parts = "".join(f'[[part]]\nfamily = "{family}"\nask = "{ask}"\nitems = {EACH}\n' for ask, family in PARTS.items())
    items: list[WordedItem] = []
    for seed in SEEDS:
        head = f'title = "T"\nlanguage = "en-US"\nseed = {seed}\nsections = ["A"]\n[elements]\n{ELEMENTS[elements]}\n'
        blueprint, _ = read_blueprint(head + parts, "giveaways.toml")
        items += [item for made in forms_once(blueprint) for item in worded_form(made.form).items]
    return tuple(items)


def told(choice: WordedChoice) -> str:
    """What is read, or read aloud, for a choice."""
    return choice.figure.alt if choice.figure else choice.text


def guessed(item: WordedItem, goal: Callable[[Iterable[int]], int]) -> float:
    """How often a student is right who picks the longest (or shortest) choice, and guesses among those alike."""
    wanted = goal([len(told(c)) for c in item.choices])
    picks = [c.key for c in item.choices if abs(len(told(c)) - wanted) <= ALIKE * wanted]
    return sum(picks) / len(picks)


@pytest.mark.parametrize("elements", ELEMENTS)
@pytest.mark.parametrize("ask", [*TEXTS, *RHYTHMS])
@pytest.mark.parametrize("goal", [max, min])
def test_neither_the_longest_nor_the_shortest_is_the_key(
    elements: str, ask: str, goal: Callable[[Iterable[int]], int]
) -> None:
    items = [i for i in quizzes(elements) if i.category == ask]
    assert len(items) == EACH * len(SEEDS)
    chance = mean(sum(c.key for c in i.choices) / len(i.choices) for i in items)
    # One standard error of so many guesses is allowed for.
    limit = chance + MARGIN + sqrt(chance * (1 - chance) / len(items))
    assert mean(guessed(i, goal) for i in items) <= limit


@pytest.mark.parametrize("elements", ELEMENTS)
def test_what_is_told_of_a_picture_depends_on_the_picture_alone(elements: str) -> None:
    """A picture has one text, as key and as distractor, and all choices of an item follow one pattern."""
    words: dict[object, str] = {}
    served: dict[str, set[bool]] = {}
    for item in quizzes(elements):
        drawn = [c for c in item.choices if c.figure is not None]
        for choice in drawn:
            assert choice.figure is not None
            assert words.setdefault(choice.figure.figure, choice.figure.alt) == choice.figure.alt
            served.setdefault(choice.figure.alt, set()).add(choice.key)
        assert len({told(c).startswith("One measure: ") for c in drawn}) <= 1
    both = [text for text, keys in served.items() if keys == {True, False}]
    assert len(both) >= 5, "too few pictures serve as key and as distractor for this test to say anything"


@pytest.mark.parametrize("elements", ELEMENTS)
def test_identifiers_of_choices_follow_the_order_only(elements: str) -> None:
    for item in quizzes(elements):
        assert [c.ident for c in item.choices] == [f"c{n}" for n in range(1, len(item.choices) + 1)]


@pytest.mark.parametrize("elements", ELEMENTS)
def test_no_spelling_serves_two_answers(elements: str) -> None:
    for item in quizzes(elements):
        typed = [s for c in item.choices for s in c.spellings]
        assert len(typed) == len(set(typed))
        assert all(c.spellings for c in item.choices if item.interaction == "entry")


@pytest.mark.parametrize("elements", ELEMENTS)
def test_feedback_and_stems_speak_only_of_what_is_taught(elements: str) -> None:
    later = ("sixteenth", "triplet")
    untaught = {"beginners": ("eighth", "dot", "tie", "beam", "flag", *later), "later": later}
    for item in quizzes(elements):
        for text in (*item.stem, item.note, item.general_feedback, *(c.feedback for c in item.choices)):
            said = text.lower().split()
            assert not any(word.startswith(stem) for word in said for stem in untaught[elements]), text


@pytest.mark.parametrize("elements", ELEMENTS)
def test_reading_level_of_whole_quizzes(elements: str) -> None:
    form_texts = [text for item in quizzes(elements) for text in (*item.stem, item.note, item.general_feedback)]
    form_texts += [c.feedback for item in quizzes(elements) for c in item.choices]
    sentences = [text for text in form_texts if text.endswith((".", "?"))]
    assert reading_grade(sentences) <= 6
    assert reading_grade(sentences, terms=False) <= 6
