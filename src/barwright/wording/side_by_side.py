"""What is shown in two languages: each text below the same text of the language before it, where the two differ.

A form in words stands in its first language; its items carry themselves in the others (`WordedItem.also`). Rows of
counts, numbers and time signatures, which say the same everywhere, are shown once. Pictures keep the description of the
first language, since an attribute has one language.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import chain

from barwright.wording.worded import WordedChoice, WordedForm, WordedItem


@dataclass(frozen=True, slots=True)
class Said:
    """A text and its language; the language is empty where it is that of all around."""

    text: str
    language: str = ""


def beside(text: str, others: Iterable[tuple[str, str]]) -> tuple[Said, ...]:
    """The text, then those of other languages that say it otherwise, given as language and text; empty ones fall away.

    >>> beside("Which one?", [("es", "¿Cuál?")])[1]
    Said(text='¿Cuál?', language='es')
    >>> len(beside("1-2 (3)", [("es", "1-2 (3)")]))
    1
    """
    told = {text: ""} if text else {}
    for language, other in others:
        if other:
            told.setdefault(other, language)
    return tuple(Said(each, language) for each, language in told.items())


def paragraphs_of(item: WordedItem) -> tuple[tuple[Said, ...], ...]:
    """The paragraphs of the question, each in every language."""
    others = [(language, other.stem) for language, other in item.also]
    return tuple(
        beside(text, ((language, stem[place]) for language, stem in others if place < len(stem)))
        for place, text in enumerate(item.stem)
    )


def stem_of(item: WordedItem) -> tuple[Said, ...]:
    """The question, each paragraph in every language before the next one."""
    return tuple(chain.from_iterable(paragraphs_of(item)))


def note_of(item: WordedItem) -> tuple[Said, ...]:
    """How to answer, in every language; empty if that is clear."""
    return beside(item.note, ((language, other.note) for language, other in item.also))


def intro_of(form: WordedForm) -> tuple[Said, ...]:
    """The paragraphs before the questions, all of a language together."""
    first = tuple(map(Said, form.intro))
    return (*first, *(Said(text, language) for language, intro in form.also for text in intro))


def choice_of(item: WordedItem, place: int) -> tuple[Said, ...]:
    """The text of the choice in this place, from 0, in every language; empty for a picture."""
    return beside(item.choices[place].text, ((language, other.choices[place].text) for language, other in item.also))


def hint_of(item: WordedItem, place: int) -> tuple[Said, ...]:
    """What a student is told who gives the answer in this place, from 0, of `foreseen` or else of the choices."""

    def hint(version: WordedItem) -> str:
        return (version.foreseen or version.choices)[place].feedback

    return beside(hint(item), ((language, hint(other)) for language, other in item.also))


def general_of(item: WordedItem) -> tuple[Said, ...]:
    """What is told after an answer that was not foreseen, in every language."""
    return beside(item.general_feedback, ((language, other.general_feedback) for language, other in item.also))


def in_two(first: WordedItem, others: Iterable[tuple[str, WordedItem]]) -> WordedItem:
    """The item of the first language with those of the others, which are the same item in other words.

    What may be typed in any of the languages is taken: no spelling of a right answer stands for a wrong one.
    """
    also = tuple(others)
    if not also:
        return first
    versions = (first, *(item for _, item in also))
    taken: set[str] = set()
    spelled: dict[str, tuple[str, ...]] = {}
    for choice in sorted(first.choices, key=lambda c: not c.key):
        mine: dict[str, str] = {}
        for each in _versions(choice, versions):
            for spelling in each.spellings:
                if spelling.casefold() not in taken:
                    mine.setdefault(spelling.casefold(), spelling)
        taken |= mine.keys()
        spelled[choice.ident] = tuple(mine.values())
    return replace(first, also=also, choices=tuple(replace(c, spellings=spelled[c.ident]) for c in first.choices))


def _versions(choice: WordedChoice, versions: Iterable[WordedItem]) -> Iterable[WordedChoice]:
    return (each for item in versions for each in item.choices if each.ident == choice.ident)
