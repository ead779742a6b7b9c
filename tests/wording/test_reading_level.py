"""The Flesch-Kincaid grade against worked figures, and the syllable counter against a dictionary's counts."""

import pytest

from barwright.wording.reading_level import reading_grade, sentences_of, syllables

# Worked by hand from the formula (Kincaid et al. 1975), terms counted as plain words: words, sentences and syllables
# are (5, 1, 8), (7, 1, 8) and (11, 2, 13).
WORKED = {
    "Which note finishes the measure?": 5.24,
    "How many beats does this rest last?": 0.63,
    "Look at the measure. Pick the rest that makes it complete.": 0.50,
}

# Syllables as any dictionary divides these words.
DICTIONARY = {
    1: "a which note rest half whole beat count make makes missed made eight the full fills sits hangs time top type "
    "these there like place lines tied stem looks held quite",
    2: "measure quarter barline rhythm hyphen missing number answer between dotted open every added music value "
    "table single longer shorter places notice counted",
    3: "signature finishes eleven together another",
    4: "parentheses",
}


@pytest.mark.parametrize(("text", "grade"), WORKED.items())
def test_grade_as_worked_by_hand(text: str, grade: float) -> None:
    assert reading_grade([text], terms=False) == pytest.approx(grade, abs=0.005)


@pytest.mark.parametrize(("count", "word"), [(n, w) for n, words in DICTIONARY.items() for w in words.split()])
def test_syllables(count: int, word: str) -> None:
    assert syllables(word) == count


def test_a_known_term_is_one_word_of_two_syllables() -> None:
    text = "The time signature is 3/4."
    # The, term, is, 3/4: four words, five syllables, one sentence.
    assert reading_grade([text]) == pytest.approx(0.39 * 4 + 11.8 * 5 / 4 - 15.59)
    assert reading_grade([text]) < reading_grade([text], terms=False)


def test_texts_are_read_together() -> None:
    assert reading_grade(["One note fits.", "Which one?"]) == reading_grade(["One note fits. Which one?"])


def test_a_decimal_point_ends_no_sentence() -> None:
    assert sentences_of("Type 1/2 or 0.5. Then stop") == ("Type 1/2 or 0.5", "Then stop")


def test_no_words_is_an_error() -> None:
    with pytest.raises(ValueError, match=r"^no words to read: give at least one sentence$"):
        reading_grade([" ", "..."])
