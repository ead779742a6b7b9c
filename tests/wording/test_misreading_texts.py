"""Every misreading has its words, no words are left over, and they speak only of what the misreading needs taught."""

import re

import pytest
from sample_items import made

from barwright.items.item import Item
from barwright.misreadings import MISREADINGS
from barwright.rhythm.conventions import Conventions
from barwright.templates_folder import languages
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
    for conventions in (Conventions(), Conventions(compound="bottom")):
        item = made("write-counts", "6/8 e e e e e e", ["1"], {}, conventions=conventions)
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


@pytest.mark.parametrize("ident", [i for i, m in MISREADINGS.items() if "rhythm-for-counts" in m.exercises])
def test_who_picked_a_rhythm_is_not_told_how_to_write_counts(ident: str) -> None:
    """In rhythm-for-counts the counts are printed and a figure is picked."""
    words = language("en-US")
    item = made("rhythm-for-counts", "3/4 q rq q", ["q rq q"], {})
    text = words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words))
    assert not re.search(r"\b(?:[Ww]rite|[Pp]ut|Give|[Ll]eave|Join)\b", text), text


@pytest.mark.parametrize("ident", [i for i, m in MISREADINGS.items() if "shortest-first" in m.exercises])
def test_where_symbols_are_put_in_order_no_time_signature_is_named(ident: str) -> None:
    for excerpt in ("2/4 q | h | w", "6/8 e | rq | q."):
        text = ordered(ident, excerpt)
        assert not re.search(r"\d/\d|time signature|share one beat|1 beat", text), text


def ordered(ident: str, excerpt: str) -> str:
    words = language("en-US")
    key = " < ".join(excerpt.split(" ", 1)[1].split(" | "))
    item = made("shortest-first", excerpt, [key], {})
    return words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words))


@pytest.mark.parametrize("ident", [i for i, m in MISREADINGS.items() if "does-it-fit" in m.exercises])
def test_where_one_symbol_is_shown_nothing_is_to_be_added_up(ident: str) -> None:
    words = language("en-US")
    item = made("does-it-fit", "3/4 h", ["fits 2 3"], {})
    assert "dd up" not in words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words))


@pytest.mark.parametrize("ident", [i for i, m in MISREADINGS.items() if "what-the-numbers-say" in m.exercises])
@pytest.mark.parametrize(("target", "bottom"), [("top", 4), ("bottom", 4), ("top", 8), ("bottom", 8)])
def test_feedback_does_not_say_what_the_number_tells(ident: str, target: str, bottom: int) -> None:
    words = language("en-US")
    excerpt, unit = ("3/4 h q", "quarter note") if bottom == 4 else ("6/8 q. q.", "eighth note")
    item = made("what-the-numbers-say", excerpt, ["kind-of-note"], {}, target=target)
    text = words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words))
    assert not re.search(rf"stands for the {unit}|tells how many|which note we count|in {bottom}", text), text


@pytest.mark.parametrize("ident", ["quarter-means-four-beats", "names-are-parts-of-a-beat"])
def test_a_name_taken_for_a_number_is_told_of_any_value(ident: str) -> None:
    words = language("en-US")
    item = made("does-it-fit", "6/8 re", ["fits 1 6"], {})
    assert words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words)) == (
        "The name of a note or rest does not tell how many eighth notes it lasts. "
        "In 6/8, count each eighth note as one."
    )


def test_a_slip_is_told_beside_the_blank_it_leads_to() -> None:
    words = language("en-US")

    def why(ident: str, ask: str, excerpt: str, key: str) -> str:
        item = made(ask, excerpt, [key], {})
        return words.text("misreadings", f"{ident}.why", scene_of(item, 1, words))

    few, many = "one-beat-too-few-counted", "one-beat-too-many-counted"
    assert why(few, "beats-left", "4/4 h _", "2") == "Counts 1 beat too few, so the blank seems 1 beat too long."
    assert why(many, "beats-left", "6/8 q. _", "3") == (
        "Counts 1 eighth note too many, so the blank seems 1 eighth note too short."
    )
    assert why(few, "time-signature-for-rhythm", "3/4 h q", "3/4") == (
        "Slips while adding up: each measure seems 1 beat too short."
    )


def test_one_measure_is_not_called_each_measure() -> None:
    words = language("en-US")
    for symbols, several in (("h q", False), ("h q | h.", True)):
        item = made("time-signature-for-rhythm", f"3/4 {symbols}", ["3/4"], {})
        for ident in [i for i, m in MISREADINGS.items() if item.ask in m.exercises]:
            text = words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words))
            assert several or "each measure" not in text, text


@pytest.mark.parametrize("ident", [i for i, m in MISREADINGS.items() if "time-signature-for-rhythm" in m.exercises])
def test_feedback_does_not_name_the_signature_that_is_asked_for(ident: str) -> None:
    words = language("en-US")
    for meter, symbols in (("3/4", "q q q"), ("2/2", "h h"), ("6/8", "e e e e e e"), ("4/4", "h h"), ("2/4", "q q")):
        item = made("time-signature-for-rhythm", f"{meter} {symbols}", [meter], {})
        assert meter not in words.text("misreadings", f"{ident}.feedback", scene_of(item, 1, words))
