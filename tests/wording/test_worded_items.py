"""Items and forms in words: order, identifiers, stems of every ask, what a package may and may not hold."""

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from sample_items import SAMPLES, form_of, made, placed

from barwright.asks import ASKS
from barwright.counting.counts import count_labels, format_row, normal_row
from barwright.errors import TemplateError
from barwright.items.form import FormItem
from barwright.items.item import Answer, Choice, Item
from barwright.misreadings import MISREADINGS
from barwright.rhythm.conventions import Conventions, Counting
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt
from barwright.wording.items_in_words import claim_text, note_names, worded_form, worded_item
from barwright.wording.language import language
from barwright.wording.own_sentences import own_changes
from barwright.wording.reading_level import reading_grade, sentences_of, student_texts
from barwright.wording.scene import scene_of
from barwright.wording.worded import WordedItem, figures_of

ENGLISH = language("en-US")
BY_ASK = {item.ask: item for item in SAMPLES}
HIGHEST_GRADE = 6


def worded(item: Item) -> WordedItem:
    return worded_item(placed(item), "en-US")


def test_there_is_a_sample_of_every_ask() -> None:
    assert set(BY_ASK) == set(ASKS)


@pytest.mark.parametrize(
    ("ask", "stem"),
    [
        ("finish-measure", "One note is missing. Which one fills the blank and makes the measure full?"),
        (
            "finish-measure-with-two",
            "Two notes or rests are missing. Which pair fills the blank and makes the measure full?",
        ),
        ("beats-left", "How many beats are missing? Count each quarter note as one beat."),
        ("all-that-fit", "Which of these fill the blank and make the measure full?"),
        ("drag-into-the-blank", "One note is missing. Drag one into the gap to fill the measure."),
        ("shortest-first", "Put these notes or rests in order, from shortest to longest."),
        ("counts-for-rhythm", "Which counts go with this rhythm?"),
        ("rhythm-for-counts", "Which rhythm goes with these counts in 3/4?"),
        ("count-under-mark", "What is the count at the mark?"),
        ("write-counts", "What are the counts of this rhythm?"),
        ("count-under-each", "Which count goes under each note or rest?"),
        ("time-signature-for-rhythm", "The time signature is hidden. Which one fits this rhythm?"),
        ("rhythm-for-time-signature", "Which rhythm fits the time signature 3/4?"),
        ("does-it-fit", "Look at this note. Does it fit in one measure of 3/4?"),
        ("what-the-numbers-say", "Look at the time signature. What does the top number tell you?"),
    ],
)
def test_stem_of_every_ask(ask: str, stem: str) -> None:
    assert worded(BY_ASK[ask]).stem[0] == stem


@pytest.mark.parametrize(
    ("language", "hidden", "given"),
    [
        ("en-US", "Each measure is full.", "Each measure must be full."),
        ("en-GB", "Each bar is full.", "Each bar must be full."),
        ("es", "Todos los compases están completos.", "Todos los compases tienen que estar completos."),
    ],
)
def test_of_several_measures_the_stem_says_that_none_is_a_pickup(language: str, hidden: str, given: str) -> None:
    """Two measures of 2/4 could else be a pickup in 4/4 and its last measure (Read 1979)."""
    two = made("time-signature-for-rhythm", "2/4 q q | h", ["2/4"], {"4/4": "four-four-taken-for-granted"})
    assert worded_item(placed(two), language).stem[1:] == (hidden,)
    rhythm = made("rhythm-for-time-signature", "4/4 w | h h", ["w | h h"], {"h | q q": "four-beats-counted-in-twos"})
    assert worded_item(placed(rhythm), language).stem[1:] == (given,)
    one = made("time-signature-for-rhythm", "2/4 q q", ["2/4"], {"4/4": "four-four-taken-for-granted"})
    assert len(worded_item(placed(one), language).stem) == 1


def test_that_no_measure_is_a_pickup_stays_below_a_stem_of_one_s_own() -> None:
    """Who words the question anew may not think of it, and then two answers would be right."""
    own, faults = own_changes(
        {"questions": {"time-signature-for-rhythm": {"stem": "Which numbers hide here?"}}}, "en-US"
    )
    assert not faults
    two = made("time-signature-for-rhythm", "2/4 q q | h", ["2/4"], {"4/4": "four-four-taken-for-granted"})
    assert worded_item(placed(two), "en-US", own).stem == ("Which numbers hide here?", "Each measure is full.")


def test_the_row_to_read_stands_in_the_stem() -> None:
    assert worded(BY_ASK["rhythm-for-counts"]).stem[1] == "1 (2) 3"


@pytest.mark.parametrize("item", SAMPLES, ids=lambda i: i.ask)
def test_every_question_about_counts_prints_its_rules_and_no_other(item: Item) -> None:
    rule = "A count in parentheses is a rest." if item.ask == "rhythm-for-counts" else "Put rests in parentheses."
    told = any(rule in paragraph for paragraph in worded(item).stem)
    assert told == (ASKS[item.ask].family == "count-labeling")


def test_stem_names_notes_rests_or_both() -> None:
    def stem(*answers: str) -> str:
        wrong = dict.fromkeys(answers[1:], "neighbor-copied")
        return worded(made("finish-measure", "3/4 h _", [answers[0]], wrong)).stem[0]

    assert stem("q", "h", "w").startswith("One note is missing.")
    assert stem("rq", "rh", "rW").startswith("One rest is missing.")
    assert stem("q", "rh").startswith("One note or rest is missing.")


def test_over_eight_lengths_are_told_in_eighth_notes() -> None:
    item = made("beats-left", "6/8 q. _", ["3"], {"1": "blank-taken-for-one-beat"})
    shown = worded(item)
    texts = [*shown.stem, shown.note, shown.general_feedback, *(c.feedback for c in shown.choices)]
    assert shown.stem == ("How many eighth notes would fill the blank?",)
    assert not any("beat" in text for text in texts)
    fits = made("does-it-fit", "6/8 q", ["fits 2 6"], {"fits 1 6": "every-symbol-is-one-beat"})
    assert worded(fits).choices[1].text == "Yes. It is as long as 2 eighth notes, and the measure holds 6."


def test_a_part_of_a_beat_may_be_typed_only_where_the_measure_shows_one() -> None:
    parts = worded(made("beats-left", "4/4 q. h _", ["1/2"], {"1": "dots-passed-over"}))
    assert parts.note == "Type a number. You can type parts, as in 12 1/2 or 12.5."
    assert [c.text for c in parts.choices] == ["1", "½"]
    assert parts.choices[1].spellings[0] == "1/2"
    assert worded(BY_ASK["beats-left"]).note == "Type a number."


def test_the_example_of_a_part_is_never_the_answer() -> None:
    """No meter has room for so many: its spellings are read as numbers here, whatever the measure lacks."""
    example = ENGLISH.text("asks", "beats-left.note", {"parts": True})
    shown = {Fraction(n) for n in re.findall(r"\d+\.\d+", example)}
    assert shown
    assert min(shown) > max(parse_meter(m).top for m in ("4/4", "9/8", "12/8"))


def test_choices_stand_in_the_order_of_the_form() -> None:
    item = BY_ASK["counts-for-rhythm"]
    shown = worded_item(FormItem(item, (2, 0, 3, 1), 3, 7), "en-US")
    assert [c.text for c in shown.choices] == [item.choices[i].answer.text for i in (2, 0, 3, 1)]
    assert [c.ident for c in shown.choices] == ["c1", "c2", "c3", "c4"]
    assert [c.key for c in shown.choices] == [item.choices[i].key for i in (2, 0, 3, 1)]
    assert (shown.points, shown.title) == (3, "Question 7")


def test_only_time_signatures_and_lists_of_counts_are_pinned() -> None:
    assert [i.ask for i in SAMPLES if worded(i).pinned] == ["count-under-each", "time-signature-for-rhythm"]


@pytest.mark.parametrize("item", SAMPLES, ids=lambda i: i.ask)
def test_every_choice_is_text_or_picture_and_says_something_afterwards(item: Item) -> None:
    shown = worded(item)
    assert shown.interaction == ASKS[item.ask].interaction
    assert all(answer.feedback for answer in shown.foreseen)
    for choice in shown.choices:
        assert bool(choice.text) != (choice.figure is not None)
        assert choice.feedback or shown.foreseen
        assert choice.key == (choice.misreading == "") == (choice.why == "")
        assert bool(choice.spellings) == (shown.interaction == "entry")
    assert bool(shown.general_feedback) == (shown.interaction in ("entry", "several", "inline", "order"))


@pytest.mark.parametrize("item", SAMPLES, ids=lambda i: i.ask)
def test_what_students_see_names_no_misreading_and_no_key(item: Item) -> None:
    """Identifiers, titles, stems and alternative texts: none tells the key or what an error is called."""
    shown = worded(item)
    alts = [c.figure.alt for c in shown.choices if c.figure] + ([shown.figure.alt] if shown.figure else [])
    seen = [shown.ident, shown.title, *shown.stem, shown.note, *(c.ident for c in shown.choices), *alts]
    for text in seen:
        assert not any(ident in text for ident in MISREADINGS)
        assert not re.search(r"\b(key|correct|wrong|distractor|misreading|answer is)\b", text, re.IGNORECASE)
    assert re.fullmatch(r"q[0-9a-f]{16}", shown.ident)
    assert shown.ident == f"q{item.id}"


def test_an_identifier_does_not_depend_on_place_or_points() -> None:
    item = BY_ASK["finish-measure"]
    one, other = placed(item, 1), FormItem(item, (3, 2, 1, 0), 5, 9)
    assert worded_item(one, "en-US").ident == worded_item(other, "en-US").ident


@pytest.mark.parametrize("ask", ["beats-left", "count-under-mark", "write-counts"])
def test_no_spelling_serves_two_answers(ask: str) -> None:
    choices = worded(BY_ASK[ask]).choices
    taken = [text.casefold() for choice in choices for text in choice.spellings]  # platforms pass over capitals
    assert len(taken) == len(set(taken))
    assert all(len(choice.spellings) <= (64 if choice.key else 20) for choice in choices)


def test_a_spelling_of_a_row_means_the_row() -> None:
    conventions = Conventions()
    for ask in ("count-under-mark", "write-counts"):
        for choice in worded(BY_ASK[ask]).choices:
            assert {normal_row(s, conventions) for s in choice.spellings} == {normal_row(choice.text, conventions)}


def test_a_shared_spelling_belongs_to_the_key() -> None:
    item = made("beats-left", "4/4 q _", ["1"], {"2": "rests-take-no-time"})
    doubled = replace(item, choices=(replace(item.choices[1], answer=Answer("number", "2/2")), item.choices[0]))
    shown = worded(doubled)
    assert [c.key for c in shown.choices] == [False, True]
    assert "1" in shown.choices[1].spellings
    assert shown.choices[0].spellings == ()


def test_claims_as_sentences() -> None:
    item = BY_ASK["does-it-fit"]
    scene = scene_of(item, 1, ENGLISH)

    def told(text: str) -> str:
        return claim_text(text, item, scene, ENGLISH)

    assert told("fits 2 3") == "Yes. It lasts 2 beats, and the measure holds 3."
    assert told("fits 1 3") == "Yes. It lasts 1 beat, and the measure holds 3."
    assert told("fits 3/2 3") == "Yes. It lasts 1½ beats, and the measure holds 3."
    assert told("fits-not 4 3") == "No. It lasts 4 beats, and the measure holds 3."
    assert told("fits 0 3") == "Yes. It lasts 0 beats, and the measure holds 3."
    assert told("fits 1/2 3") == "Yes. It lasts ½ of a beat, and the measure holds 3."
    assert told("stands-for 8") == "The eighth note is the one we count."
    assert told("gets-beat 4") == "The quarter note gets one beat."
    assert told("how-many 4") == "There are 4 beats in each measure."
    assert told("adds-up 6 8") == "There are 6 eighth notes in each measure."


def test_claims_speak_of_each_measure_only_where_there_are_several() -> None:
    def told(text: str, symbols: str) -> str:
        item = made("what-the-numbers-say", f"3/4 {symbols}", ["adds-up 3 4"], {}, target="top")
        return claim_text(text, item, scene_of(item, 1, ENGLISH), ENGLISH)

    assert told("notes 3", "h q | h.") == "There are just 3 notes in every measure."
    assert told("notes 3", "h q") == "There are just 3 notes in the measure."


@pytest.mark.parametrize("ask", ["time-signature-for-rhythm", "rhythm-for-time-signature"])
def test_a_right_answer_speaks_of_each_measure_only_where_there_are_several(ask: str) -> None:
    def told(symbols: str) -> str:
        item = made(ask, f"3/4 {symbols}", ["3/4" if ask.startswith("time") else symbols], {})
        return worded(item).choices[0].feedback

    assert told("h q") == "Right. The measure adds up to 3 beats."
    assert told("h q | h.") == "Right. Each measure adds up to 3 beats."


SYLLABLES: tuple[Counting, ...] = ("kodaly", "gordon", "takadimi")


@pytest.mark.parametrize("ask", ["count-under-mark", "write-counts", "count-under-each"])
@pytest.mark.parametrize("counting", [*SYLLABLES, "eastman", "numbers"])
def test_a_general_hint_speaks_of_one_only_where_counts_are_numbers(ask: str, counting: Counting) -> None:
    conventions = Conventions(counting=counting)
    excerpt = "3/4 *q q q | h." if ask == "count-under-mark" else "3/4 q q q | h."
    rhythm = excerpt.replace("*", "")
    keys = ["x"] if ask == "count-under-mark" else [format_row(count_labels(parse_excerpt(rhythm), conventions))]
    item = made(ask, excerpt, keys, {}, conventions=conventions)
    hint = worded_hint(item)
    assert ("words" in hint or "rhythm word" in hint) == (counting in SYLLABLES), hint
    assert not re.search(r"\b1\b", hint) or counting not in SYLLABLES, hint


def worded_hint(item: Item) -> str:
    scene = scene_of(item, 1, ENGLISH)
    return ENGLISH.text("asks", f"{item.ask}.general", scene)


def test_a_general_hint_is_true_of_a_mark_on_the_first_note_and_does_not_give_its_count() -> None:
    for mark in ("*q q q | h.", "q q q | *h.", "q q *q | h."):
        hint = worded_hint(made("count-under-mark", f"3/4 {mark}", ["1"], {}))
        assert hint == "Count through the measure with the mark. Which count comes at the mark?"


def test_one_measure_starts_at_1_and_several_each() -> None:
    one = made("write-counts", "3/4 h q", ["1-2 3"], {})
    two = made("write-counts", "3/4 h q | h rq", ["1-2 3 | 1-2 (3)"], {})
    joined = "Then join the counts it is held for."
    assert worded_hint(one) == f"Start the measure at 1. Write the count where each note starts. {joined}"
    assert worded_hint(two) == f"Start each measure at 1. Write the count where each note or rest starts. {joined}"
    short = made("write-counts", "3/4 q q q", ["1 2 3"], {})
    assert worded_hint(short) == "Start the measure at 1. Write the count where each note starts."


def test_unknown_claims_are_refused() -> None:
    item = BY_ASK["does-it-fit"]
    with pytest.raises(TemplateError) as raised:
        claim_text("floats 3", item, scene_of(item, 1, ENGLISH), ENGLISH)
    assert str(raised.value) == "language 'en-US': claims.toml has no 'floats': add it there"
    with pytest.raises(TemplateError) as raised:
        note_names(Fraction(3), ENGLISH)
    assert str(raised.value) == "bottom number '3' stands for no note: use 1, 2, 4, 8, 16"


def test_form_in_words() -> None:
    form = form_of(*SAMPLES, title="Rests & ties", section="Period 3")
    shown = worded_form(form)
    assert (shown.title, shown.section, shown.language, shown.ident) == ("Rests & ties", "Period 3", "en-US", "f1")
    assert (shown.shuffle, shown.feedback) == (True, True)
    assert [i.title for i in shown.items] == [f"Question {n}" for n in range(1, len(SAMPLES) + 1)]
    assert shown == worded_form(form)
    assert len(figures_of(shown)) > len(SAMPLES)


def test_intro_speaks_of_typing_only_where_something_is_typed() -> None:
    assert "type" in worded_form(form_of(*SAMPLES)).intro[0]
    assert "type" not in worded_form(form_of(BY_ASK["finish-measure"])).intro[0]


def test_unknown_language_of_a_form_is_refused() -> None:
    with pytest.raises(TemplateError) as raised:
        worded_form(replace(form_of(BY_ASK["finish-measure"]), language="xx"))
    assert str(raised.value) == "language 'xx' is not known: use one of en-GB, en-US, es"


def test_reading_level_of_a_quiz_with_every_ask() -> None:
    texts = student_texts(worded_form(form_of(*SAMPLES)))
    assert len(texts) > 50
    assert reading_grade(texts) <= HIGHEST_GRADE
    assert reading_grade(texts, terms=False) <= HIGHEST_GRADE


def test_sentences_are_short() -> None:
    """At most twelve words where a student must act on them (stems, notes); numbers and signatures count as words."""
    for item in SAMPLES:
        shown = worded(item)
        for text in (*shown.stem, shown.note):
            assert all(len(sentence.split()) <= 12 for sentence in sentences_of(text)), text


def test_where_a_marked_note_is_held_its_first_count_will_do() -> None:
    """Stem, praise and accepted spellings agree: the count is where the note starts, and what it holds may be added."""
    item = made("count-under-mark", "4/4 q *h q", ["2-3"], {"3-4": "notes-numbered-in-order"})
    shown = worded_item(placed(item), "en-US")
    right, wrong = (next(c for c in shown.choices if c.key == key) for key in (True, False))
    assert right.spellings[:2] == ("2-3", "2")
    assert right.feedback == "Right. That is where the marked note starts."
    assert shown.note == "Type only that count. Where a hyphen joins several, the first will do."
    assert wrong.spellings[:2] == ("3-4", "3")
    rest = worded_item(placed(made("count-under-mark", "4/4 h *rh", ["(3-4)"], {})), "en-US")
    assert rest.choices[0].spellings[:2] == ("(3-4)", "(3)")
    onsets = Conventions(held="onset_only")
    short = worded_item(placed(made("count-under-mark", "4/4 q *h q", ["2"], {}, conventions=onsets)), "en-US")
    assert short.note == "Type only that count."


def test_a_choice_of_several_misreadings_has_the_hint_of_the_likeliest_and_the_teacher_is_told_of_all() -> None:
    item = made("finish-measure", "3/4 h _", ["q"], {})
    swapped, slip = "numbers-of-the-signature-swapped", "one-beat-too-few-counted"
    both = replace(item, choices=(Choice(Answer("symbols", "h"), (swapped, slip)), *item.choices))
    choice = worded_item(placed(both), "en-US").choices[0]
    assert choice.misreading == swapped
    assert choice.feedback == "You are close. Add up again, and start with the first note."
    assert choice.why == (
        "Counts 1 beat too few, so the blank seems 1 beat too long. Or: Swaps the two numbers of the time signature."
    )


def test_where_two_signatures_hold_the_same_the_praise_speaks_of_the_groups() -> None:
    def praise(wrong: str) -> str:
        item = made("time-signature-for-rhythm", "6/8 e e e q e", ["6/8"], {wrong: "six-eight-counted-as-three-four"})
        return next(c.feedback for c in worded_item(placed(item), "en-US").choices if c.key)

    assert praise("3/4") == "Right. The measure adds up to 6 eighth notes. The groups fit 6/8, too."
    assert praise("2/4") == "Right. The measure adds up to 6 eighth notes."
