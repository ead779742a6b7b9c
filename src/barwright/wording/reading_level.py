"""Reading level of what students read: the Flesch-Kincaid grade, with taught music terms as known words.

Source: J. P. Kincaid, R. P. Fishburne, R. L. Rogers, B. S. Chissom, Derivation of new readability formulas for Navy
enlisted personnel (1975): 0.39 words per sentence + 11.8 syllables per word - 15.59. English only.
"""

import re
from collections.abc import Iterable

from barwright.wording.worded import WordedForm

# Terms that the unit teaches and the teacher says every lesson. The formula takes long words as unknown words; these
# are known, and several of them name one thing. So each counts as one word, of two syllables at most (that of
# "measure"), longest term first. All other words count as the formula has them.
TERMS = (
    r"time signatures?",
    r"(?:double-)?(?:dotted )?(?:whole|half|quarter|eighth|sixteenth) (?:notes?|rests?)",
    r"parentheses",
    r"barlines?",
    r"hyphens?",
    r"measures?",
    r"rhythms?",
    r"triplets?",
)
TERM_SYLLABLES = 2

# Words whose vowel groups mislead the counter.
EXCEPTIONS = {
    "every": 2,
    "values": 2,
    "value": 2,
    "quarter": 2,
    "being": 2,
    "idea": 3,
    "music": 2,
    "question": 2,
    "rhythm": 2,
}

_TERM = re.compile(r"\b(?:" + "|".join(TERMS) + r")\b", re.IGNORECASE)
_WORD = re.compile(r"[A-Za-z]+(?:['’-][A-Za-z]+)*|\d+(?:/\d+)?|[½¼¾]")
_SENTENCE_END = re.compile(r"[.!?:](?=\s|$)")
_VOWELS = re.compile(r"[aeiouy]+")
_SILENT = re.compile(r"(?:[^laeiouy]|[aeiouy]l|^l)e$|[^aeiouydt]ed$|[^aeiouysxzcgh]es$")


def syllables(word: str) -> int:
    """Syllables of an English word by its vowel groups, silent endings left out; at least 1.

    >>> [syllables(w) for w in ("which", "fills", "note", "finishes", "complete", "looked", "added", "over")]
    [1, 1, 1, 3, 2, 1, 2, 2]
    """
    plain = re.sub(r"[^a-z]", "", word.lower())
    if plain in EXCEPTIONS:
        return EXCEPTIONS[plain]
    groups = len(_VOWELS.findall(plain))
    return max(1, groups - bool(_SILENT.search(plain) and groups > 1))


def _words(text: str, terms: bool) -> tuple[int, int]:
    """Number of words and of syllables; a number or sign is read as one word of one syllable."""
    known = _TERM.findall(text) if terms else []
    others = _WORD.findall(_TERM.sub(" ", text) if terms else text)
    known_syllables = sum(min(TERM_SYLLABLES, sum(syllables(w) for w in term.split())) for term in known)
    return len(known) + len(others), known_syllables + sum(syllables(w) for w in others)


def sentences_of(text: str) -> tuple[str, ...]:
    """Its sentences; a text without a full stop is one.

    >>> sentences_of("Look at the measure. Which note fills it?")
    ('Look at the measure', 'Which note fills it')
    """
    return tuple(part.strip() for part in _SENTENCE_END.split(text) if _WORD.search(part))


def reading_grade(texts: Iterable[str], *, terms: bool = True) -> float:
    """The Flesch-Kincaid grade of all texts together; `terms` takes taught music terms as known (table above).

    One short question alone gives a wild figure: take a whole quiz. Raises ValueError if there is no word.
    """
    sentences = [sentence for text in texts for sentence in sentences_of(text)]
    counts = [_words(sentence, terms) for sentence in sentences]
    words, spoken = sum(w for w, _ in counts), sum(s for _, s in counts)
    if not words:
        raise ValueError("no words to read: give at least one sentence")
    return 0.39 * words / len(sentences) + 11.8 * spoken / words - 15.59


def student_texts(form: WordedForm) -> tuple[str, ...]:
    """Every sentence a student reads in a form: intro, stems, notes, choices in words, feedback.

    Only what ends as a sentence does: rows of counts and time signatures are left out.
    """
    texts = list(form.intro)
    for item in form.items:
        texts += [*item.stem, item.note, item.general_feedback]
        texts += [text for choice in item.choices for text in (choice.text, choice.feedback)]
    return tuple(text for text in texts if text.endswith((".", "?", "!")))
