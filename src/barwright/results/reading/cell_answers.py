"""A cell, or the values of a report, as an answer: by identifier, label, text, alternative text, file or letter."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import get_args

from barwright.results.reading.asked import AskedOption, AskedQuestion, How
from barwright.results.reading.compared_texts import (
    described,
    files_named,
    number,
    plain,
)

HOWS: tuple[How, ...] = get_args(How)
_SEPARATORS = ("\n", ";", "|", ",", " < ", " > ", " - ", " ")
_MOST_PIECES = 80
_PLACE = re.compile(r"(?:response_)?(s\d+)\s*[:=]\s*(.+)", re.IGNORECASE)
_MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
_MONTH = f"({'|'.join(_MONTHS)})[a-z]*"
_DATES = tuple(
    re.compile(pattern)
    for pattern in (
        rf"(?P<day>\d{{1,2}})[-. /]{_MONTH.replace('(', '(?P<name>')}\.?(?:[-. ]\d{{2,4}})?",
        rf"{_MONTH.replace('(', '(?P<name>')}\.?[- ]0?(?P<day>\d{{1,2}})",
        r"\d{4}-(?P<month>\d\d)-(?P<day>\d\d)(?:[ t]00:00(?::00)?)?",
        r"(?P<month>\d{1,2})[./](?P<day>\d{1,2})[./]\d{4}",
    )
)
_PIECE = re.compile(r"[^\W\d_]+|.", re.DOTALL)
_NEGATIVE = re.compile(r"-(\d+)")


@dataclass(frozen=True, slots=True)
class Read:
    """A cell that was understood: the answer as in `Response`, and how it was named."""

    answer: tuple[str, ...]
    how: How


def read_cell(text: str, question: AskedQuestion, *, letters: bool = True) -> Read | None:
    """What a cell that is not blank answers to a question; None if it cannot be told.

    `letters`: whether A, B, C may stand for the choices in the order of the form.
    """
    if question.interaction == "entry":
        typed = typed_answer(text, question)
        return None if typed is None else Read((typed,), "text")
    idents, how = _picked(text, question, letters)
    if how is None:
        return None
    answer = answer_of(idents, question)
    return None if answer is None else Read(answer, how)


def answer_of(idents: Sequence[str], question: AskedQuestion) -> tuple[str, ...] | None:
    """The answer of picked options, or of options place by place; None if it is none that the item can have."""
    options = {option.ident: option for option in question.options}
    if not idents or any(ident not in options for ident in idents):
        return None
    if question.interaction == "several":
        return tuple(dict.fromkeys(o.answer for o in question.options if o.ident in idents))
    if question.interaction in ("inline", "order"):
        return _whole(tuple(idents), question, options)
    return (options[idents[0]].answer,) if len(set(idents)) == 1 else None


def _whole(idents: tuple[str, ...], question: AskedQuestion, options: dict[str, AskedOption]) -> tuple[str, ...] | None:
    """A row of counts, or an order, as canonical text."""
    known = question.wholes.get(idents)
    if known is not None:
        return (known,)
    if question.interaction == "order":
        if sorted(idents) != sorted(options):
            return None
        return (" < ".join(options[ident].answer for ident in idents),)
    if len(idents) != len(question.places):
        return None
    measures: dict[int, list[str]] = {}
    for place, ident in zip(question.places, idents, strict=True):
        measures.setdefault(place.measure, []).append(options[ident].answer)
    return (" | ".join(" ".join(labels) for labels in measures.values()),)


def typed_answer(text: str, question: AskedQuestion) -> str | None:
    """The canonical text of what was typed: a foreseen answer in any spelling, a number, else the text itself.

    None for a date that a spreadsheet made of an answer such as 1-2, where it cannot be told of which.
    """
    wanted = plain(text)
    known = question.typed.get(wanted)
    if known is not None:
        return known
    before = before_spreadsheet(wanted)
    if before:
        meant = {question.typed[each] for each in before if each in question.typed}
        if len(meant) == 1:
            return meant.pop()
        if looks_like_date(wanted):
            return None
    value = number(wanted)
    if value is not None and (question.kind == "number" or str(value) in question.typed):
        return question.typed.get(str(value), str(value))  # also a count that a spreadsheet wrote as 2.0
    return " ".join(in_system_words(text, question.own).split())[:200]


def in_system_words(text: str, own: Mapping[str, str]) -> str:
    """A row of counts with the words and signs of its system in place of the class's own.

    >>> in_system_words("1 te [2]", {"te": "&", "[": "(", "]": ")"})
    '1 & (2)'
    """
    return _PIECE.sub(lambda piece: own.get(piece[0].casefold(), piece[0]), text) if own else text


def looks_like_date(text: str) -> bool:
    """Whether a spreadsheet may have made a date of an answer.

    >>> looks_like_date("2-Jan"), looks_like_date("1-2")
    (True, False)
    """
    return any(pattern.fullmatch(plain(text)) for pattern in _DATES)


def before_spreadsheet(text: str) -> tuple[str, ...]:
    """What may have been typed where a spreadsheet made a date, or a negative number, of it; nothing for other texts.

    >>> before_spreadsheet("4-mar"), before_spreadsheet("-3")
    (('3/4', '4/3', '3-4', '4-3'), ('(3)',))
    """
    negative = _NEGATIVE.fullmatch(text)
    if negative is not None:
        return (f"({negative[1]})",)
    for pattern in _DATES:
        match = pattern.fullmatch(text)
        if match is not None:
            date = match.groupdict()
            month = _MONTHS.index(date["name"]) + 1 if "name" in date else int(date["month"])
            day = int(date["day"])
            return (f"{month}/{day}", f"{day}/{month}", f"{month}-{day}", f"{day}-{month}")
    return ()


def _picked(text: str, question: AskedQuestion, letters: bool) -> tuple[tuple[str, ...], How | None]:
    """The options that a cell names, in its order, and how; no how if they cannot be told."""
    names = _known_names(question, letters)
    for how, option in _one(text, names):
        return (option,), how
    meant = {names["text"][each] for each in before_spreadsheet(plain(text)) if each in names["text"]}
    if len(meant) == 1:
        return (meant.pop(),), "text"
    if question.interaction in ("several", "inline", "order") or "<" in text:
        return _many(text, question, names)
    return (), None


def _one(text: str, names: dict[How, dict[str, str]]) -> Iterator[tuple[How, str]]:
    """The option that a whole cell names, in each way in which it names one."""
    wanted = plain(text)
    alts, files = described(text), files_named(text)
    for how, known in names.items():
        tries: tuple[str, ...] = (wanted,)
        if how == "description":
            tries = (wanted, *alts) if len(alts) <= 1 else (wanted,)
        elif how == "file":
            tries = files if len(files) == 1 else ()
        for each in tries:
            if each in known:
                yield how, known[each]
                break
    yield from _after_label(wanted, names)


def _after_label(wanted: str, names: dict[How, dict[str, str]]) -> Iterator[tuple[How, str]]:
    """A label or letter with something behind it that does not speak against it: `KM half note`, `A. 3/4`."""
    head, rest = ([*re.split(r"[\s.:)]+", wanted, maxsplit=1), ""])[:2]
    for how in ("label", "letter"):
        option = names.get(how, {}).get(head.lstrip("("))
        if option is not None and rest:
            others = [names[each][rest] for each in ("text", "description", "file") if rest in names.get(each, {})]
            if all(each == option for each in others) and (how == "label" or others):
                yield how, option


def _known_names(question: AskedQuestion, letters: bool) -> dict[How, dict[str, str]]:
    names: dict[How, dict[str, str]] = {}
    for how in HOWS if letters else HOWS[:-1]:
        named: dict[str, list[str]] = {}
        for option in question.options:
            if name := option.names.get(how):
                named.setdefault(name, []).append(option.ident)
        names[how] = {name: idents[0] for name, idents in named.items() if len(idents) == 1}
    return names


def _many(text: str, question: AskedQuestion, names: dict[How, dict[str, str]]) -> tuple[tuple[str, ...], How | None]:
    """Several options in one cell: what stands between separators, joined again where a name holds one itself."""
    alts = described(text)
    if len(alts) > 1 and all(alt in names["description"] for alt in alts):
        return tuple(names["description"][alt] for alt in alts), "description"
    files = files_named(text.replace(",", " ").replace(";", " ")) if "<" not in text else files_named(text)
    if len(files) > 1 and all(file in names["file"] for file in files):
        return tuple(names["file"][file] for file in files), "file"
    cell = "\n".join(plain(line) for line in text.strip("[]{}").splitlines())
    written = _in_a_row(text, question, names)
    if written is not None:
        return written
    for separator in _SEPARATORS:
        pieces = [piece.strip().strip("\"'") for piece in cell.split(separator)]
        if 2 <= len(pieces) <= _MOST_PIECES:
            joined = _joined(_without_places(pieces, question), separator, names)
            if joined is not None:
                return joined
    return (), None


def _in_a_row(
    text: str, question: AskedQuestion, names: dict[How, dict[str, str]]
) -> tuple[tuple[str, ...], How] | None:
    """Letters without anything between them, AC or for an order BAC; or a row of counts with its barlines."""
    how: How = "text" if question.interaction == "inline" else "letter"
    parts = plain(text).replace("|", " ").split() if how == "text" else list(plain(text))
    options = tuple(names.get(how, {}).get(part, "") for part in parts)
    return (options, how) if len(options) > 1 and all(options) else None


def _without_places(pieces: list[str], question: AskedQuestion) -> list[str]:
    """The pieces in the order of the places, where each says its place: `s2=1-2`."""
    told = [_PLACE.fullmatch(piece) for piece in pieces]
    if not question.places or any(match is None for match in told):
        return pieces
    where = {match[1]: match[2] for match in told if match is not None}
    return [where.get(place.ident, "") for place in question.places]


def _joined(
    pieces: list[str], separator: str, names: dict[How, dict[str, str]]
) -> tuple[tuple[str, ...], How | None] | None:
    """Options that the pieces name one after another, all in the same way; fewest and longest names first."""
    for how, known in names.items():
        ends: dict[int, tuple[str, ...]] = {0: ()}
        for end in range(1, len(pieces) + 1):
            for start in range(max(0, end - 12), end):
                name = separator.join(pieces[start:end]).strip(" .")
                if start in ends and name in known:
                    ends[end] = (*ends[start], known[name])
                    break
            else:
                if pieces[end - 1] == "" and end - 1 in ends:
                    ends[end] = ends[end - 1]
        if ends.get(len(pieces)):
            return ends[len(pieces)], how
    return None
