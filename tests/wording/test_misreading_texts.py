"""Every misreading has its words, no words are left over, and they speak only of what the misreading needs taught."""

import re

import pytest
from sample_items import made

from barwright.items.model import Item
from barwright.misreadings import MISREADINGS
from barwright.rhythm.conventions import Conventions
from barwright.wording.folder import languages
from barwright.wording.language import language
from barwright.wording.reading_level import reading_grade, sentences_of
from barwright.wording.scene import Scene, scene_of

# What a class must have been taught for a word to be known: any of the `needs` tokens after it (reading.py).
TAUGHT_FOR = {
    r"whole notes?": "w",
    r"whole rests?": "rW",
    r"half notes?": "h",
    r"half rests?": "rh",
    r"quarter rests?": "rq",
    r"eighth notes?": "e",
    r"eighth rests?": "re",
    r"sixteenth notes?": "s",
    r"rests?": "r",
    r"ties?|tied": "~",
    r"dots?|dotted": ".",
    r"triplets?": "t",
    r"flags?|beams?": "e",
}
# The bottom number's note is taught with the meter, and stands in the feedback only for items in that meter.
COMPOUND_ONLY = {"every-eighth-is-a-big-beat"}
# These show in simple meters only (see their functions), where the beat is no question.
SIMPLE_ONLY = {
    "cut-time-counted-in-four",
    "numbers-and-ands-alternate",
    "sixteenth-labels-never-skip",
    "note-after-a-dot-waits-for-the-beat",
    "syncopation-straightened",
}
MOST_WORDS = 16


def met(need: str, needs: frozenset[str]) -> bool:
    """Whether a class that was taught the needs knows this."""
    if need == "r":
        return any(n.startswith("r") for n in needs)
    if need == ".":
        return any("." in n for n in needs)
    return need in needs


def plain_item(meter: str, symbols: str) -> Item:
    """An item that shows only notes of one value."""
    return made("write-counts", f"{meter} {symbols}", ["1"], {})


BEGINNERS = (plain_item("3/4", "q q q"), plain_item("4/4", "q q q q"), plain_item("2/4", "q q"))
LATER = (plain_item("2/2", "h h"), plain_item("6/8", "e e e e e e"), plain_item("3/8", "e e e"))


def scenes(items: tuple[Item, ...]) -> list[Scene]:
    words = language("en-US")
    return [{**scene_of(item, 1, words), "rules": "", "row": ""} for item in items]


@pytest.mark.parametrize("code", languages())
def test_every_misreading_has_its_words_and_none_is_stale(code: str) -> None:
    words = language(code)
    assert sorted(words.ids("misreadings")) == sorted(MISREADINGS)
    for ident in MISREADINGS:
        for scene in scenes(BEGINNERS + LATER):
            assert words.text("misreadings", f"{ident}.feedback", scene)
            assert words.text("misreadings", f"{ident}.why", scene)


@pytest.mark.parametrize("ident", MISREADINGS)
def test_feedback_names_only_what_is_taught(ident: str) -> None:
    needs = MISREADINGS[ident].needs | {"q"} | ({"e"} if ident in COMPOUND_ONLY else set())
    for scene in scenes(BEGINNERS):
        text = language("en-US").text("misreadings", f"{ident}.feedback", scene)
        for pattern, need in TAUGHT_FOR.items():
            if re.search(rf"\b(?:{pattern})\b", text) and not met(need, needs):
                pytest.fail(f"{text!r} names {pattern!r}, which needs {need!r}")


@pytest.mark.parametrize("ident", MISREADINGS)
def test_over_eight_nothing_is_called_a_beat_without_saying_which(ident: str) -> None:
    in_six = plain_item("6/8", "e e e e e e")
    for house in (Conventions(), Conventions(compound="bottom")):
        item = made("write-counts", "6/8 e e e e e e", ["1"], {}, house=house)
        assert item.excerpt == in_six.excerpt
        for scene in scenes((item,)):
            text = language("en-US").text("misreadings", f"{ident}.feedback", scene)
            assert ident in SIMPLE_ONLY or not re.search(r"(?<!big )\bbeats?\b", text), text


@pytest.mark.parametrize("ident", MISREADINGS)
def test_feedback_is_short_and_plain(ident: str) -> None:
    for scene in scenes(BEGINNERS + LATER):
        text = language("en-US").text("misreadings", f"{ident}.feedback", scene)
        assert text[0].isupper()
        assert text.endswith(".")
        assert all(len(sentence.split()) <= MOST_WORDS for sentence in sentences_of(text)), text
        assert ident not in text
        assert "wrong" not in text.lower()


def test_feedback_of_all_misreadings_is_at_most_grade_five() -> None:
    words, scene = language("en-US"), scenes(BEGINNERS)[0]
    texts = [words.text("misreadings", f"{ident}.feedback", scene) for ident in MISREADINGS]
    assert reading_grade(texts) <= 5


@pytest.mark.parametrize("ident", [i for i, m in MISREADINGS.items() if "time-signature-for-rhythm" in m.asks])
def test_feedback_does_not_name_the_signature_that_is_asked_for(ident: str) -> None:
    words = language("en-US")
    for meter, symbols in (("3/4", "q q q"), ("2/2", "h h"), ("6/8", "e e e e e e"), ("4/4", "h h"), ("2/4", "q q")):
        item = made("time-signature-for-rhythm", f"{meter} {symbols}", [meter], {})
        assert meter not in words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words))
