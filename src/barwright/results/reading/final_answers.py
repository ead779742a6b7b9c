"""From what files say to one answer a student and question: which attempt counts, who was absent, and what students are
called."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from barwright.results.answers import Response
from barwright.results.reading.asked import AskedSheet, Given

Attempt = Literal["last", "first"]
# Letters and digits that nobody takes for others, and no vowels: a code is no word.
_SIGNS = "23456789BCDFGHJKLMNPQRSTVWXZ"
_CODE = 4


@dataclass(frozen=True, slots=True)
class Settled:
    """The answers that count, by codes of students; `names`: of each code what the files call the student; remarks."""

    responses: tuple[Response, ...]
    names: Mapping[str, str]
    remarks: tuple[str, ...]


def settled(givens: Iterable[Given], sheets: Sequence[AskedSheet], *, attempt: Attempt, salt: str) -> Settled:
    """One answer a student, form and question, in a fixed order, whatever the order of the files.

    Of several attempts the last that is final counts, or the first. A student without any answer to a form was absent.
    Who answered some of a form in its version with fewer choices, and some not, counts as one who had all choices.
    `salt` makes the codes of one quiz differ from those of another.
    """
    chosen: dict[tuple[str, str, str], Given] = {}
    again: set[str] = set()
    for given in givens:
        key = (given.student, given.form, given.item)
        before = chosen.get(key)
        if before is not None:
            again.add(given.student)
        if before is None or _counts_more(given, before, attempt):
            chosen[key] = given
    present = {(given.student, given.form) for given in chosen.values() if given.answer}
    kept = {key: given for key, given in chosen.items() if key[:2] in present}
    codes = codes_of({student for student, _ in present}, salt)
    place = {(s.ident, q.item): (n, k) for n, s in enumerate(sheets) for k, q in enumerate(s.questions)}
    section = {sheet.ident: sheet.section for sheet in sheets}
    ordered = sorted(
        kept.values(), key=lambda g: (place[g.form, g.item][0], codes[g.student], place[g.form, g.item][1])
    )
    whole = {(given.student, given.form) for given in kept.values() if given.answer and not given.fewer}
    responses = tuple(
        Response(codes[g.student], section[g.form], g.form, g.item, g.answer, g.fewer and key not in whole)
        for g in ordered
        for key in ((g.student, g.form),)
    )
    names = {
        codes[given.student]: given.shown or given.student for given in sorted(kept.values(), key=lambda g: g.shown)
    }
    remarks = list(_remarks(chosen, present, section, kept))
    if again:
        counts = "last" if attempt == "last" else "first"
        remarks.append(f"{len(again)} student(s) answered more than once: the {counts} attempt counts")
    return Settled(responses, names, tuple(remarks))


def _counts_more(given: Given, before: Given, attempt: Attempt) -> bool:
    if given.final != before.final:
        return given.final
    later = (given.attempt, given.answer) > (before.attempt, before.answer)
    return later if attempt == "last" else not later


def codes_of(students: Iterable[str], salt: str) -> dict[str, str]:
    """A short code for each student, the same in every run; longer where two would be alike.

    >>> len(set(codes_of(["Ana", "Ben"], "quiz").values()))
    2
    """
    marks = {student: hashlib.sha256(f"{salt}\\0{student}".encode()).digest() for student in students}
    length = _CODE
    while True:
        codes = {
            student: "".join(_SIGNS[byte % len(_SIGNS)] for byte in mark[:length]) for student, mark in marks.items()
        }
        if len(set(codes.values())) == len(codes) or length == 32:
            return codes
        length += 1


def _remarks(
    chosen: Mapping[tuple[str, str, str], Given],
    present: set[tuple[str, str]],
    section: Mapping[str, str],
    kept: Mapping[tuple[str, str, str], Given],
) -> Iterable[str]:
    absent = {key[:2] for key in chosen} - present
    if absent:
        yield f"{len(absent)} student(s) without any answer, taken as absent"
    sections: dict[str, set[str]] = {}
    for student, form in present:
        sections.setdefault(student, set()).add(section[form])
    several = Counter(len(those) > 1 for those in sections.values())[True]
    if several:
        yield f"{several} student(s) with answers in more than one section, counted in each"
    if not all(given.final for given in kept.values()):
        unfinished = {given.student for given in kept.values() if not given.final}
        yield f"{len(unfinished)} student(s) with answers not handed in (not final), taken since there are no others"
