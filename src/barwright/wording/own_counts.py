"""Counting syllables of the class's own: what is said on each place of a beat, in place of the words of a system.

Answers stay as the system has them; only what is shown, read aloud and typed is said in the class's words. So each word
of the system has a word of its own, and no two the same: another answer is never shown alike.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from barwright.counting.labels import STROKE
from barwright.counting.systems import SYSTEMS
from barwright.rhythm.conventions import Counting
from barwright.wording.language import SYLLABLES, Language

# The places of a beat, by names for teachers, and our word for each: systems in which each place has a word of its own.
PLACES: Mapping[Counting, Mapping[str, str]] = MappingProxyType(
    {
        "numbers": {
            "second-quarter": "e",
            "half": "&",
            "fourth-quarter": "a",
            "second-third": "la",
            "last-third": "li",
            "sixths": "ta",
        },
        "takadimi": {
            "beat": "ta",
            "second-quarter": "ka",
            "half": "di",
            "fourth-quarter": "mi",
            "second-third": "ki",
            "last-third": "da",
            "second-sixth": "va",
            "last-sixth": "ma",
        },
    }
)
MOST_LETTERS = 8
TAKEN = ("r", "sh", "shh", "rest", "and")  # what a row says otherwise
_WORD = re.compile(rf"(?:[^\W\d_]{STROKE}?)+|&{STROKE}?")


def syllable_fault(text: str) -> str:
    """What is wrong with a syllable, and the mend; empty if nothing is.

    >>> syllable_fault("te"), syllable_fault("1 te")
    ('', "'1 te' is no syllable: write one word of letters, up to 8, or &")
    """
    if text != "&" and not (text.isalpha() and len(text) <= MOST_LETTERS):
        return f"'{text[:20]}' is no syllable: write one word of letters, up to {MOST_LETTERS}, or &"
    if text.casefold() in TAKEN:
        return f"'{text}' means something else in a row of counts: use another syllable"
    return ""


def own_syllables(counting: Counting, words: Language) -> Mapping[str, str]:
    """The words of a system that the class says otherwise, and what it says; nothing where it says ours."""
    own = words.tables.get(SYLLABLES, {}).get(counting, {})
    return {PLACES[counting][place]: text for place, text in own.items()} if own else {}


def clash(counting: Counting, own: Mapping[str, str]) -> tuple[str, str] | None:
    """Two places of a system that would be said alike, the one that was changed first; None if there are none."""
    said: dict[str, str] = {}
    for place in sorted(PLACES[counting], key=lambda each: each in own):
        text = own.get(place, PLACES[counting][place]).casefold()
        if text in said:
            return place, said[text]
        said[text] = place
    fixed = {word: word for word in SYSTEMS[counting].words if word not in PLACES[counting].values()}
    return next(((place, fixed[text]) for place, text in own.items() if text.casefold() in fixed), None)


def said(text: str, counting: Counting, words: Language) -> str:
    """A row, a count, or a list of words of a system, as the class says it.

    >>> from barwright.wording.language import words_for
    >>> own = words_for("en-US", (("en-US", "syllables", "numbers.half", ("te",)),))
    >>> said("1 & (2 &) | 3-4", "numbers", own)
    '1 te (2 te) | 3-4'
    """
    own = own_syllables(counting, words)
    return _WORD.sub(lambda found: _replaced(found[0], own), text) if own else text


def _replaced(word: str, own: Mapping[str, str]) -> str:
    plain = word.replace(STROKE, "")
    new = own.get(plain, plain)
    return "".join(letter + STROKE for letter in new) if STROKE in word else new


def said_row(row: Sequence[Sequence[str]], counting: Counting, words: Language) -> tuple[tuple[str, ...], ...]:
    """The labels of a row as the class says them, measure by measure."""
    return tuple(tuple(said(label, counting, words) for label in measure) for measure in row)


def said_spellings(spellings: Iterable[str], counting: Counting, words: Language) -> tuple[str, ...]:
    """The ways to type a row as the class says it; ways that go with our words alone fall away."""
    own = own_syllables(counting, words)
    if not own:
        return tuple(spellings)
    known = {*SYSTEMS[counting].words}
    sound = [
        text
        for text in spellings
        if all(word.replace(STROKE, "") in known or not word.islower() for word in _WORD.findall(text))
        and not ("&" in own and "+" in text)
    ]
    return tuple(dict.fromkeys(said(text, counting, words) for text in sound))
