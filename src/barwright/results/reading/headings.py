"""What the heading of a column says: that it names students, or sections, or points; or which question it is about."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from barwright.results.reading.asked import AskedQuestion, AskedSheet
from barwright.results.reading.compared_texts import plain

Role = Literal["key", "login", "name", "first", "last", "section", "attempt", "question", "answer", "other", ""]
By = Literal["id", "title", "number", "stem", "position", "your file"]

# Words of headings in general use, not of any product; whole words, in a text as `plain` gives it. The first row that
# fits counts. Columns that none of these tell can be named in the file of columns.
_ROLES: tuple[tuple[Role, str], ...] = (
    (
        "other",
        r"points?|pts|scores?|marks?|grades?|correct|right|percent|%|time|duration|feedback|comments?|possible|max",
    ),
    ("other", r"started|finished|submitted|completed|date|key|rank|result|status|total|seconds|minutes|credit|version"),
    ("attempt", r"attempts?|tries|try"),
    ("question", r"(?:question|item)s?(?: (?:title|number|no\.?|id|text|prompt))?|prompt|questions?"),
    (
        "answer",
        r"(?:student |given )?(?:answers?|responses?|selected|choices?)(?: (?:given|text|selected|choice))?|value",
    ),
    ("first", r"(?:first|given) ?names?|first"),
    ("last", r"(?:last|family) ?names?|surnames?|last"),
    (
        "key",
        r"(?:(?:student|user|pupil|learner|candidate|sis|login)[ _-]*)?(?:id|identifier|number|sourced ?id|code)",
    ),
    ("login", r"e-?mail(?: address)?|user ?names?|login|account"),
    ("name", r"(?:(?:student|user|pupil|learner|candidate|full|display)[ _'’s-]*)?names?|students?|pupils?|learners?"),
    ("name", r"candidates?|users?|participants?|respondents?"),
    ("section", r"(?:section|class|period|group|course)s?(?: names?)?|form(?: code)?"),
)
_WHOLE = tuple((role, re.compile(rf"(?:(?:{words})\W*)+" if role == "other" else words)) for role, words in _ROLES)
_OTHER = re.compile(rf"\b(?:{_ROLES[0][1]}|{_ROLES[1][1]})(?:\b|$)")
_NUMBERED = re.compile(
    r"(?:(?:question|quest|item|response|answer|no|nr|q|#)[ ._:#-]*)?0*(\d{1,3})([a-j])?(?![\w.,/]*\d)\b(.*)", re.S
)
_SAID = re.compile(r"(?:question|quest|item|response|answer|no|nr|q|#)[ ._:#-]*\d")
_IDENT = re.compile(r"q?([0-9a-f]{16})")
_LEAST_STEM = 20
_AHEAD = re.compile(r"^\D{0,10}\d{1,3}[a-j]?[.:) -]+")


@dataclass(frozen=True, slots=True)
class Mention:
    """A question that a heading or a cell names, in which way; `alone`: no other question of the form is named so."""

    question: AskedQuestion
    by: By
    alone: bool = True


def role_of(heading: str) -> Role:
    """What a column holds, by its heading; nothing if it does not say.

    >>> [role_of(each) for each in ("Student ID", "Last Name", "Points possible", "3", "Email address")]
    ['key', 'last', 'other', '', 'login']
    """
    words = plain(heading).strip(" :.*#")
    for role, pattern in _WHOLE:
        if pattern.fullmatch(words):
            return role
    return ""


def holds_other(rest: str) -> bool:
    """Whether what a heading says beside its question tells that the column holds no answers: points, time and so on.

    >>> holds_other("(points)"), holds_other("response")
    (True, False)
    """
    return _OTHER.search(plain(rest)) is not None


@dataclass(frozen=True, slots=True)
class Names:
    """The questions of a form by all they can be called."""

    idents: dict[str, AskedQuestion]
    numbers: dict[tuple[int, str], AskedQuestion]
    stems: dict[str, tuple[AskedQuestion, ...]]


def names_of(sheet: AskedSheet) -> Names:
    """The questions of a form by ident, by number and variant, and by stem."""
    stems: dict[str, list[AskedQuestion]] = {}
    for question in sheet.questions:
        stems.setdefault(question.stem, []).append(question)
    numbers = {(question.number, question.variant): question for question in sheet.questions}
    for question in sheet.questions:
        if sum(other.number == question.number for other in sheet.questions) == 1:
            numbers[question.number, ""] = question
    return Names({q.item: q for q in sheet.questions}, numbers, {stem: tuple(qs) for stem, qs in stems.items() if stem})


def mentions(heading: str, sheet: AskedSheet, *, bare: bool = True) -> tuple[Mention, ...]:
    """The questions that a heading may be about; none if it says nothing, or says that it holds points, time and so on.

    `bare`: whether a number alone names a question.
    """
    words = plain(heading)
    if not words:
        return ()
    names = names_of(sheet)
    ident = _IDENT.search(words)
    if ident is not None and ident[1] in names.idents:
        return () if holds_other(words.replace(ident[0], "")) else (Mention(names.idents[ident[1]], "id"),)
    by_stem = _by_stem(words, names)
    if by_stem is not None:
        questions, rest = by_stem
        numbered = _number(rest, names, bare=True)
        if numbered is not None and numbered in questions:
            return (Mention(numbered, "number"),)
        if holds_other(rest):
            return ()
        return tuple(Mention(question, "stem", alone=len(questions) == 1) for question in questions)
    asked = _number(words, names, bare=bare)
    if asked is None:
        return ()
    return (Mention(asked, "title" if words == asked.title else "number"),)


def _number(words: str, names: Names, *, bare: bool) -> AskedQuestion | None:
    match = _NUMBERED.match(words)
    if match is None or holds_other(match[3]) or not (bare or _SAID.match(words)):
        return None
    return names.numbers.get((int(match[1]), match[2] or ""))


def _by_stem(words: str, names: Names) -> tuple[tuple[AskedQuestion, ...], str] | None:
    """The questions whose stem a heading holds, or a good part of its beginning, and what else the heading says."""
    held = [stem for stem in names.stems if stem in words]
    if held:
        stem = max(held, key=len)
        return names.stems[stem], words.replace(stem, " ").strip()
    for body in (words, _AHEAD.sub("", words)):
        start = body.removesuffix("...").removesuffix("…").strip()
        questions = [
            q for stem, qs in names.stems.items() if len(start) >= _LEAST_STEM and stem.startswith(start) for q in qs
        ]
        if questions:
            return tuple(questions), words.replace(start, " ").strip(" .…")
    return None


def mentioned(headings: Sequence[str], sheets: Sequence[AskedSheet]) -> int:
    """How many of these headings name a question, each once, or say what their column holds: a sign of headings."""
    roles = sum(bool(role_of(text)) for text in headings)
    named = [
        {m.question.item for m in mentions(text, sheet)} for text in headings for sheet in sheets[:1] if text.strip()
    ]
    distinct = {item for items in named for item in items if len(items) == 1}
    return roles + len(distinct) + sum(len(items) > 1 for items in named)
