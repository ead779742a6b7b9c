"""A form without pictures: as a script for who reads it out, and as lines for a braille display.

Music is told as its alternative text tells it (`alt_text`): what a sighted student sees, and no more. Signs that a
voice has no word for are said as they are printed. Lines of 40 cells are the usual length of a braille display.
"""

import re
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from barwright.asks import ASKS
from barwright.counting.labels import STROKE
from barwright.wording.language import Language, language
from barwright.wording.own_counts import JOINS, PAIRS
from barwright.wording.side_by_side import Said, choice_of, intro_of, note_of, paragraphs_of
from barwright.wording.worded import WordedChoice, WordedForm, WordedItem, numbered, worth

CELLS = 40
LANGUAGES_APART = " "
_METER = re.compile(r"\b(\d+(?:\+\d+)*)/(2|4|8|16)\b(?!/)")
_PART = re.compile(r"\d 1/2")  # a mixed number, which is no time signature
_STRUCK = re.compile(f"((?:[^\\W{STROKE}]|&){STROKE})+")
# What stands between the two signs of a rest, for each pair of signs that a class may use (own_counts.py).
_RESTED = {pair: re.compile(f"{re.escape(pair[0])}([^{re.escape(pair)}]*){re.escape(pair[1])}") for pair in PAIRS}


@dataclass(frozen=True, slots=True)
class Spoken:
    """One question as it is said: its name, what comes before the choices, and the letter and text of each choice."""

    title: str
    lines: tuple[Said, ...]
    choices: tuple[tuple[str, tuple[Said, ...]], ...]


def spoken_items(form: WordedForm) -> tuple[Spoken, ...]:
    """Every question of a form (in the words of paper) as it is read out, with signs in words."""
    return tuple(_spoken(item, form.language) for _, _, item in numbered(form))


def script_lines(form: WordedForm) -> tuple[str, ...]:
    """The script as plain text, a line a paragraph; an empty line before each question."""
    words = language(form.language)
    lines = [script_title(form), form.called, "", *words.texts("paper", "script.how")]
    for item in spoken_items(form):
        lines += ["", item.title, *(said.text for said in item.lines)]
        lines += [f"{letter}. {LANGUAGES_APART.join(said.text for said in texts)}" for letter, texts in item.choices]
    return tuple(lines)


def script_title(form: WordedForm) -> str:
    """What the script is called."""
    return language(form.language).text("paper", "script.title", {"title": form.title})


def braille_lines(form: WordedForm) -> tuple[str, ...]:
    """The form (in the words of paper) as lines of at most 40 cells; a longer one goes on in the next, two cells in."""
    words = language(form.language)
    questions, points = worth(form)
    count = words.text("paper", "count", {"questions": questions, "points": points})
    lines = [form.called, count, *(said.text for said in intro_of(form))]
    for number, _, item in numbered(form):
        before = [*_plain_stem(item, words), *(said.text for said in note_of(item))]
        lines += ["", f"{number}. {before[0]}", *before[1:]]
        lines += [
            f"{choice.letter}. {LANGUAGES_APART.join(_unstruck(said.text, words) for said in texts)}"
            for choice, texts in _choices(item)
        ]
    return tuple(part for line in lines for part in _wrapped(line))


def _wrapped(line: str) -> Iterable[str]:
    return textwrap.wrap(line, CELLS, subsequent_indent="  ", break_on_hyphens=False) or [""]


def _plain_stem(item: WordedItem, words: Language) -> Iterator[str]:
    for said in (each for paragraph in paragraphs_of(item) for each in paragraph):
        yield _unstruck(said.text, words)
    if item.figure is not None:
        yield words.text("paper", "script.music", {"music": item.figure.alt})
    if item.interaction == "inline":
        offered = ", ".join(_unstruck(choice.text, words) for choice in item.choices)
        yield f"{words.text('paper', 'offered')}: {offered}"


def _spoken(item: WordedItem, code: str) -> Spoken:
    words = language(code)
    row = item.stem[1] if "row-shown" in ASKS[item.category].cues else ""
    lines = [
        Said(
            spoken_row(said.text, words) if said.text == row else signs_said(said.text, said.language or code),
            said.language,
        )
        for paragraph in paragraphs_of(item)
        for said in paragraph
    ]
    if item.figure is not None:
        lines.append(Said(words.text("paper", "script.music", {"music": item.figure.alt})))
    if item.interaction == "inline":
        offered = ", ".join(spoken_row(choice.text, words) for choice in item.choices)
        lines.append(Said(f"{words.text('paper', 'offered')}: {offered}"))
    lines += [Said(signs_said(said.text, said.language or code), said.language) for said in note_of(item)]
    rows = ASKS[item.category].answer == "row"
    choices = tuple(
        (choice.letter, tuple(_choice_said(said, code, rows=rows) for said in texts))
        for choice, texts in _choices(item)
    )
    return Spoken(item.title, tuple(lines), choices)


def _choice_said(said: Said, code: str, *, rows: bool) -> Said:
    own = said.language or code
    return Said(spoken_row(said.text, language(own)) if rows else signs_said(said.text, own), said.language)


def _choices(item: WordedItem) -> Iterator[tuple[WordedChoice, tuple[Said, ...]]]:
    """The choices that paper shows, each with its text, or what its picture shows, in every language."""
    if item.interaction in ("entry", "inline"):
        return
    for place, choice in enumerate(item.choices):
        yield choice, (Said(choice.figure.alt),) if choice.figure is not None else choice_of(item, place)


def signs_said(text: str, code: str) -> str:
    """A sentence with its time signatures in words.

    >>> signs_said("Does it fit in one measure of 3/4? Write 12 1/2.", "en-US")
    'Does it fit in one measure of 3 over 4? Write 12 1/2.'
    """
    words = language(code)
    plus, over = words.spacing("spoken", "plus"), words.spacing("spoken", "over")
    parts = {match.end() for match in _PART.finditer(text)}

    def said(match: re.Match[str]) -> str:
        return match[0] if match.end() in parts else match[1].replace("+", plus) + over + match[2]

    return _METER.sub(said, text)


def spoken_row(row: str, words: Language) -> str:
    """A row of counts as it is read out: each sign that it has, and nothing else.

    >>> spoken_row("1-2 & (3) | 1", language("en-US"))
    '1 hyphen 2, and, 3 in parentheses, barline, 1'
    """
    labels = row.replace(" | ", f" {_BARLINE} ").split()
    return ", ".join(_label_said(label, words) for label in labels)


_BARLINE = "|"


def _label_said(label: str, words: Language) -> str:
    if label == _BARLINE:
        return words.text("spoken", "barline")
    text = _unstruck(label, words)
    for pair, rested in _RESTED.items():
        signs = words.text("words", f"signs.{PAIRS[pair]}")
        text = rested.sub(partial(_rest_said, signs=signs, words=words), text)
    if any(sign.isdigit() or sign == "&" for sign in label):  # else it is a word with a hyphen, such as ti-ti
        for sign, ident in JOINS.items():
            text = text.replace(sign, f" {words.text('words', f'signs.{ident}')} ")
    return text.replace("&", words.text("paper", "row.and"))


def _rest_said(rest: re.Match[str], *, signs: str, words: Language) -> str:
    return words.text("paper", "row.rest", {"count": rest[1], "signs": signs})


def _unstruck(text: str, words: Language) -> str:
    """The text with counts that are struck through told in words: a voice and braille have no such stroke."""
    return _STRUCK.sub(lambda it: words.text("paper", "row.struck", {"count": it[0].replace(STROKE, "")}), text)
