"""The record of a quiz: which form has which items in which order, and what each choice stands for.

One JSON object a line: first a header, then a line a form item. Where answers are put together from texts (see
asks/pieces.py) the line also holds these, their slots, and each choice as a response, place by place; and of picture
choices the labels and file names that packages have. A line with `earlier` is of a form that another took the place of
(`Form.earlier`): its class may have had it. What a teacher changed in a question stands in `words`, and what `make` had
put there in `made`; `music_font` is what figures are drawn with. `diagnose`, retakes and banks read it; no platform
gets it. Written by `make`, and read back strictly: it may have been through other hands.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from barwright import __version__
from barwright.asks.item_content import parsed_item
from barwright.asks.pieces import recorded_places
from barwright.asks.tags import tags_of
from barwright.bank.json_text import JsonError, json_object
from barwright.bank.model import Content
from barwright.bank.shapes import shape_text
from barwright.blueprint.names import section_fault
from barwright.engrave.font import DEFAULT
from barwright.errors import BarwrightError, ItemError
from barwright.forms.assembly import form_ident
from barwright.items.form import Form, FormItem
from barwright.items.item import item_content
from barwright.items.own_words import OURS, OwnWords, own_text_fault
from barwright.tasks.files import read_text
from barwright.tasks.own_wording import recorded_wording, wording_header
from barwright.tasks.saying import counted
from barwright.wording.worded import Pictures, WordedForm, WordedItem

FORMAT = "barwright-record"
FORMAT_VERSION = 1
MOST_LINES = 20_000
MOST_BYTES = 50_000_000
MOST_MEASURED = 10_000  # what an item can be harder by
MOST_RETAKES = 10**18  # as --retake takes
CHANGED = "the record was changed; make the quiz again"


RecordedLeft = Mapping[tuple[str, int], Mapping[str, Mapping[str, object]]]
"""For the forms that are not earlier ones, by section and retake: what versions leave of each item, by its id."""
NOTHING_LEFT_OUT: RecordedLeft = {}


def record_text(
    forms: Sequence[Form],
    curriculum: Mapping[str, tuple[str, ...]],
    shown: tuple[Sequence[WordedForm], Pictures] | None = None,
    *,
    music_font: str = DEFAULT,
    left: RecordedLeft = NOTHING_LEFT_OUT,
) -> str:
    """The record of these forms as text, one canonical JSON object a line; forms without items are none.

    `shown` are the first of these forms in words, and their pictures. `left`: what stays of items in versions of a form
    with fewer choices or items; answers to these are read by it.
    """
    first = forms[0]
    header = {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "title": first.title,
        "language": first.language,
        **({"also": list(first.also)} if first.also else {}),
        **wording_header(first.wording),
        "shuffle": first.shuffle,
        "feedback": first.feedback,
        "credit": first.credit,
        "choice_labels": first.choice_labels,
        "plan": dict(next((form.prints for form in forms if form.prints), ())),
        **({"measured": dict(first.measured)} if first.measured else {}),
        "made_by": f"barwright {__version__}",
        **({"music_font": music_font} if music_font != DEFAULT else {}),
    }
    lines = [
        {**_line(form, placed, curriculum), **_left_of(form, placed, left)} for form in forms for placed in form.items
    ]
    if shown is not None:
        worded, pictures = shown
        items = [item for form in worded for item in form.items]
        drawn = [{**line, **_shown(item, pictures)} for line, item in zip(lines, items, strict=False)]
        lines = [*drawn, *lines[len(drawn) :]]  # earlier forms are in the record only
    lines.insert(0, header)
    return "".join(json.dumps(line, sort_keys=True, ensure_ascii=False) + "\n" for line in lines)


def _line(form: Form, placed: FormItem, curriculum: Mapping[str, tuple[str, ...]]) -> dict[str, object]:
    item = placed.item
    shown = [item.choices[index] for index in placed.order]
    return {
        "section": form.section,
        "retake": form.retake,
        **({"earlier": form.earlier} if form.earlier else {}),
        "form": form.ident,
        "number": placed.number,
        "item": item.id,
        "points": placed.points,
        "pool": placed.pool,
        "keywords": list(placed.keywords),
        "order": list(placed.order),
        "content": item_content(item),
        "choices": [
            {"ident": f"c{n}", "answer": c.answer.text, "key": c.key, "misreadings": list(c.misreadings)}
            for n, c in enumerate(shown, start=1)
        ],
        "tags": tags_of(item, curriculum),
        **recorded_places(item, placed.order),
        **({"words": _words(placed.words)} if placed.words.texts else {}),
        **({"made": _made(placed.made)} if placed.made else {}),
    }


def _left_of(form: Form, placed: FormItem, left: RecordedLeft) -> dict[str, object]:
    mine = {} if form.earlier else left.get((form.section, form.retake), {}).get(placed.item.id, {})
    return {"left": dict(mine)} if mine else {}


def _words(own: OwnWords) -> dict[str, object]:
    return {"stem": own.stem, "hint": own.hint, "hints": dict(own.hints)}


def _made(placed: FormItem) -> dict[str, object]:
    return {
        "number": placed.number,
        "item": placed.item.id,
        "points": placed.points,
        "pool": placed.pool,
        "keywords": list(placed.keywords),
        "order": list(placed.order),
        "content": item_content(placed.item),
    }


def _shown(item: WordedItem, pictures: Pictures) -> dict[str, object]:
    """How packages name the picture choices: the label beside each, and the file of its picture; nothing for texts."""
    drawn = {c.ident: (c.label, pictures[c.figure.figure].name) for c in item.choices if c.figure}
    if not drawn:
        return {}
    labels = {ident: label for ident, (label, _) in drawn.items() if label}
    return {"labels": labels, "pictures": {ident: name for ident, (_, name) in drawn.items()}}


def recorded_pictures(text: str, name: str) -> dict[tuple[str, str], dict[str, str]]:
    """The file names of picture choices by form and item, as packages name them; none in a record of old.

    `text` is one that `read_record` accepts.
    """
    pictures: dict[tuple[str, str], dict[str, str]] = {}
    for number, line in enumerate(text.splitlines()[1:], start=2):
        value = _object(line, name, number)
        named = value.get("pictures", {})
        if not isinstance(named, dict) or not all(isinstance(each, str) for each in named.values()):
            raise BarwrightError(f"{name}, line {number}: the pictures cannot be read: make the quiz again")
        pictures[str(value["form"]), str(value["item"])] = named
    return pictures


class Left(BaseModel):
    """What versions of a form leave of an item: the idents of its choices, and whether it is there at all."""

    model_config = ConfigDict(strict=True, frozen=True, extra="ignore")

    fewer_choices: list[str] = []
    fewer_items: bool = True


WHOLE = Left()


def recorded_left(text: str, name: str) -> dict[tuple[str, str], Left]:
    """What versions leave of each item, by form and item; nothing of a form that has no such version.

    `text` is one that `read_record` accepts.
    """
    found: dict[tuple[str, str], Left] = {}
    for number, line in enumerate(text.splitlines()[1:], start=2):
        value = _object(line, name, number)
        if "left" in value:
            try:
                left = Left.model_validate(value["left"])
            except ValidationError as error:
                raise BarwrightError(f"{name}, line {number}: left: {shape_text(error, CHANGED)}") from error
            found[str(value["form"]), str(value["item"])] = left
    return found


def recorded_font(text: str, name: str) -> str:
    """The music font with which the figures of a quiz are drawn; the usual one where the record names none."""
    font = _object(record_lines(text)[0], name, 1).get("music_font", DEFAULT)
    if not isinstance(font, str) or not font.isprintable():
        raise BarwrightError(f"{name}, line 1: music_font cannot be read: make the quiz again")
    return font


def read_record_text(path: Path) -> str:
    """The text of a record file; BarwrightError if it is missing, too large or not text."""
    return read_text(path, most=MOST_BYTES, kind="record")


def read_record(text: str, name: str) -> tuple[Form, ...]:
    """The forms of a record as they are now, in its order; BarwrightError naming file, line, and the mend."""
    return tuple(form for form in read_all_forms(text, name) if not form.earlier)


def read_all_forms(text: str, name: str) -> tuple[Form, ...]:
    """The forms of a record with those that others took the place of; BarwrightError as `read_record`."""
    lines = record_lines(text)
    if not 2 <= len(lines) <= MOST_LINES:
        held = counted(len(lines), "line") if text else "no line"
        raise BarwrightError(f"{name}: {held}, and a record has 2 to {MOST_LINES:,}: make the quiz again")
    header = _object(lines[0], name, 1)
    version = header.get("version")
    if header.get("format") != FORMAT or type(version) is not int or version != FORMAT_VERSION:
        raise BarwrightError(
            f"{name}, line 1: this is not a record of version {FORMAT_VERSION}: make the quiz again with this barwright"
        )
    by_form: dict[tuple[str, int, int], list[FormItem]] = {}
    for number, line in enumerate(lines[1:], start=2):
        whose, placed = _placed(line, name, number)
        by_form.setdefault(whose, []).append(placed)
    return tuple(_form(header, whose, items, name) for whose, items in by_form.items())


def record_lines(text: str) -> list[str]:
    """The lines of a record, without their ends."""
    return text.replace("\r\n", "\n").removesuffix("\n").split("\n")


def _object(line: str, name: str, number: int) -> dict[str, Any]:
    try:
        return json_object(line)
    except JsonError as error:
        raise BarwrightError(f"{name}, line {number}: {error}: make the quiz again") from error


class _Words(BaseModel):
    """A teacher's own words."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")

    stem: str
    hint: str
    hints: dict[str, str]


class _Put(BaseModel):
    """An item in a place."""

    model_config = ConfigDict(strict=True, frozen=True, extra="ignore")

    item: str
    number: int = Field(ge=1, le=MOST_LINES)
    points: int = Field(ge=1, le=100)
    pool: str
    keywords: list[str]
    order: list[int]
    content: Content


class _Line(_Put):
    """What is read of a line; the rest tells other programs what the choices are."""

    section: str
    retake: int = Field(ge=0, le=MOST_RETAKES)
    earlier: int = Field(default=0, ge=0, le=MOST_LINES)
    words: _Words | None = None
    made: _Put | None = None


def _placed(line: str, name: str, number: int) -> tuple[tuple[str, int, int], FormItem]:
    """Section, retake and how much earlier the form of a line is; and its item in its place."""
    _object(line, name, number)
    try:
        read = _Line.model_validate_json(line)
        placed = _put(read)
        made = None if read.made is None else _put(read.made)
    except ValidationError as error:
        raise BarwrightError(f"{name}, line {number}: {shape_text(error, CHANGED)}") from error
    except ItemError as error:
        raise BarwrightError(f"{name}, line {number}: {error}: {CHANGED}") from error
    own = OURS if read.words is None else OwnWords(read.words.stem, read.words.hint, tuple(read.words.hints.items()))
    if placed is None or section_fault(read.section) is not None or (read.made is not None and made is None):
        raise BarwrightError(
            f"{name}, line {number}: item, order or section do not agree with the content: make it again"
        )
    if fault := next(filter(None, map(own_text_fault, own.texts)), ""):
        raise BarwrightError(f"{name}, line {number}: a text of your own {fault}: {CHANGED}")
    return (read.section, read.retake, read.earlier), replace(placed, words=own, made=made)


def _put(read: _Put) -> FormItem | None:
    """The item in its place; None where item or order are not as the content is. Raises ItemError as `parsed_item`."""
    item = parsed_item(read.content.model_dump())
    if read.item != item.id or sorted(read.order) != list(range(len(item.choices))):
        return None
    return FormItem(item, tuple(read.order), read.points, read.number, read.pool, tuple(read.keywords))


def _form(header: Mapping[str, Any], whose: tuple[str, int, int], items: list[FormItem], name: str) -> Form:
    section, retake, earlier = whose
    title, placed = header.get("title"), tuple(items)
    language, shuffle, feedback = header.get("language"), header.get("shuffle"), header.get("feedback")
    credit = header.get("credit")
    if not isinstance(title, str) or not isinstance(language, str) or credit not in ("all-or-nothing", "per-choice"):
        raise BarwrightError(f"{name}, line 1: title, language or credit is missing: make the quiz again")
    plan = header.get("plan", {})
    if not isinstance(plan, dict) or not all(isinstance(value, str) for value in plan.values()):
        raise BarwrightError(f"{name}, line 1: the plan cannot be read: make the quiz again")
    ident = form_ident(title, placed)
    measured = header.get("measured", {})
    if not isinstance(measured, dict) or not all(
        len(key.split()) > 1 and type(value) is int and abs(value) <= MOST_MEASURED for key, value in measured.items()
    ):
        raise BarwrightError(f"{name}, line 1: what was measured cannot be read: make the quiz again")
    also = header.get("also", [])
    if not isinstance(also, list) or not all(isinstance(code, str) for code in also):
        raise BarwrightError(f"{name}, line 1: the second language cannot be read: make the quiz again")
    prints = tuple(plan.items())
    labels = header.get("choice_labels") is True  # quizzes made before there were labels have none
    plain = (title, section, language, bool(shuffle), bool(feedback), placed, ident, retake, credit, prints)
    return Form(
        *plain,
        choice_labels=labels,
        earlier=earlier,
        measured=tuple(measured.items()),
        also=tuple(also),
        wording=recorded_wording(header, name),
    )
