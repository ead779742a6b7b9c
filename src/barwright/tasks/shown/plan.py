"""A plan as its page shows it: every key as a field with its faults beside it, and what the parts come to."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

from barwright.asks import ASKS, FAMILIES
from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.parsing import examined
from barwright.blueprint.toml_lines import Fault
from barwright.errors import BarwrightError
from barwright.items.accommodations import ACCOMMODATIONS
from barwright.misreadings import MISREADINGS
from barwright.notation.patterns import NEW_AT_LEVEL
from barwright.qti import WRITERS
from barwright.results.timing import questions_in, seconds_of_ask
from barwright.rhythm.conventions import Counting, counting_conventions
from barwright.rhythm.text import LETTERS
from barwright.rhythm.values import PLAIN
from barwright.tasks.files import read_text
from barwright.tasks.packing import USUAL_STANDARDS
from barwright.tasks.plan.changing import can_undo, print_of
from barwright.tasks.plan.editing import PARTS
from barwright.tasks.plan.fields import LANGUAGE as LANGUAGE_KEY
from barwright.tasks.plan.fields import Key, keys_of, written_value
from barwright.tasks.sections import with_sections
from barwright.tasks.shown.desk_words import desk_text, has_text
from barwright.tasks.shown.pictures import PictureWish, alt_of
from barwright.tasks.shown.reference import LANGUAGE, reference_texts, why_told
from barwright.wording.language import language

TIMES = (10, 20, 40)  # minutes: a warm-up, half a lesson, a lesson
_FILES = ("avoid", "excerpts_file", "sections_file", "wording")  # keys that name another file or a folder of them
# A measure that shows each meter by its beats; of another the signature alone is told.
METERS = {
    "2/4": "2/4 q q",
    "3/4": "3/4 q q q",
    "4/4": "4/4 q q q q",
    "2/2": "2/2 h h",
    "3/8": "3/8 e e e",
    "6/8": "6/8 q. q.",
    "9/8": "9/8 q. q. q.",
    "12/8": "12/8 q. q. q. q.",
    "5/8": "5/8 q. q",
    "7/8": "7/8 q q q.",
}
TRIPLETS = {"eighth": "et et et", "quarter": "qt qt qt"}
FLAGS = {"ties": "q~ q", "syncopation": "e q e"}


@dataclass(frozen=True, slots=True)
class ShownOption:
    """One value that can be ticked or chosen: as the file has it, in words, whether it is, and a picture of it."""

    value: str
    label: str
    on: bool
    picture: PictureWish | None = None
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Field:
    """One key on the page: its name in the form, its kind, what stands in it, what it means, what is wrong there."""

    name: str
    kind: str
    text: str
    options: tuple[ShownOption, ...]
    usual: str
    about: str
    faults: tuple[str, ...]
    acts: bool = True

    @property
    def key(self) -> str:
        """The key alone, without its table."""
        return self.name.rpartition(".")[2]

    @property
    def ident(self) -> str:
        """The name as an id of the page."""
        return self.name.replace(".", "-")


@dataclass(frozen=True, slots=True)
class PartShown:
    """One part: its number, what the student does, how long it takes, and its fields by key."""

    number: int
    student: str
    seconds: int
    ask: str
    items: int
    fields: Mapping[str, Field]
    faults: tuple[str, ...]

    @property
    def minutes(self) -> int:
        """How long it takes, in minutes, begun ones too."""
        return -(-self.seconds // 60)


@dataclass(frozen=True, slots=True)
class PlanShown:
    """A plan's page. `seen` is the print of the text that is shown; `faults` those that belong to no field of it.

    `in_minutes`: how many minutes, and about how many questions like these a student answers in them; `reads`: the
    other files that the plan names.
    """

    name: str
    seen: str
    text: str
    title: str
    readable: bool
    faults: tuple[str, ...]
    count: int
    fields: Mapping[str, Field]
    parts: tuple[PartShown, ...]
    minutes: int
    in_minutes: tuple[tuple[int, int], ...]
    section_names: tuple[str, ...]
    reads: tuple[str, ...]
    undo: bool


def plan_shown(path: Path, code: str = LANGUAGE) -> PlanShown:
    """Everything that the page of a plan shows in a language; BarwrightError if the file cannot be read at all.

    What is wrong in the plan is told in English in any.
    """
    text = read_text(path)
    reading = examined(text, str(path))
    raw, readable = _raw(text)
    parts = raw.get(PARTS, [])
    number = len(parts) if isinstance(parts, list) and all(isinstance(each, dict) for each in parts) else 0
    keys = {key.name: key for key in keys_of(number)}
    placed, rest = _placed(reading.faults, keys)

    def told(faults: Sequence[Fault]) -> tuple[str, ...]:
        return tuple(dict.fromkeys(f"Line {reading.source.line(place)}: {text}" for place, text in faults))

    fields = {name: _field(key, raw, told(placed.get(name, ())), code) for name, key in keys.items()}
    shown_parts = tuple(_part(n, raw, fields, told(placed.get(f"part.{n}", ())), code) for n in range(1, number + 1))
    mix = [(part.ask, part.items) for part in shown_parts if part.seconds]
    title = raw.get("title")
    return PlanShown(
        name=path.stem,
        seen=print_of(text),
        text=text,
        title=title if isinstance(title, str) and title else path.stem,
        readable=readable,
        faults=told(rest),
        count=len(reading.faults),
        fields=fields,
        parts=shown_parts,
        minutes=-(-sum(part.seconds for part in shown_parts) // 60),
        in_minutes=tuple((each, questions_in(each, mix)) for each in TIMES if mix),
        section_names=_sections(reading.blueprint, path),
        reads=tuple(raw[key] for key in _FILES if isinstance(raw.get(key), str)),
        undo=can_undo(path),
    )


def _sections(blueprint: Blueprint | None, path: Path) -> tuple[str, ...]:
    """The sections of a plan, those of its class list too; none where they cannot be read."""
    if blueprint is None:
        return ()
    try:
        return tuple(with_sections(blueprint, path).sections)
    except BarwrightError:
        return ()


def _raw(text: str) -> tuple[dict[str, Any], bool]:
    try:
        return tomllib.loads(text), True
    except (tomllib.TOMLDecodeError, RecursionError):
        return {}, False


def _placed(faults: Sequence[Fault], keys: Mapping[str, Key]) -> tuple[dict[str, list[Fault]], list[Fault]]:
    """The faults by the field, or the part, that they are about; and the others."""
    placed: dict[str, list[Fault]] = {}
    rest: list[Fault] = []
    for fault in faults:
        steps = [str(each + 1) if isinstance(each, int) and n == 1 else str(each) for n, each in enumerate(fault[0])]
        names = [".".join(steps[:length]) for length in range(len(steps), 0, -1)]
        name = next((n for n in names if n in keys), None)
        if name is None and steps[:1] == [PARTS] and len(steps) > 1 and f"part.{steps[1]}.ask" in keys:
            name = f"part.{steps[1]}"
        if name is None:
            rest.append(fault)
        else:
            placed.setdefault(name, []).append(fault)
    return placed, rest


def _field(key: Key, raw: Mapping[str, Any], faults: tuple[str, ...], code: str) -> Field:
    value = written_value(raw, key.place)
    held = key.usual if value is None else value
    held = [held] if key.place == LANGUAGE_KEY and isinstance(held, str) else held
    texts = [str(each) for each in held] if isinstance(held, list) else []
    text = "\n".join(texts) if isinstance(value, list) else "" if value is None else _spelt(value)
    counting = written_value(raw, ("conventions", "counting")) or "numbers"
    return Field(
        name=key.name,
        kind=key.kind,
        text=text,
        options=tuple(_options(key, held, texts, raw, code)),
        usual=", ".join(map(str, key.usual)) if isinstance(key.usual, list) else _spelt(key.usual),
        about=_about(key, code),
        faults=faults,
        acts=_acts(key.place, str(counting)),
    )


def _spelt(value: object) -> str:
    return "" if value is None else str(value).lower() if isinstance(value, bool) else str(value)


def _acts(place: tuple[str, ...], counting: str) -> bool:
    """Whether a convention changes anything in the counting system of the class."""
    if place[0] != "conventions" or place[1] not in _COUNTED:
        return True
    known = {name for name in _COUNTED if counting in _COUNTED[name]}
    return place[1] in known


_COUNTED: dict[str, tuple[str, ...]] = {}
for _system in get_args(Counting):
    for _name in counting_conventions(_system):
        _COUNTED[_name] = (*_COUNTED.get(_name, ()), _system)


def _about(key: Key, code: str) -> str:
    table = {"conventions": "convention"}.get(key.place[0], key.place[0] if len(key.place) > 1 else "blueprint")
    said = reference_texts(code)[table][key.place[-1]]
    text = (said[0] if isinstance(said, list) else str(said)).replace(" †", "").replace("`", "").replace("*", "")
    return f"{text[0].upper()}{text[1:]}."


def _options(key: Key, held: Any, on: Sequence[str], raw: Mapping[str, Any], code: str) -> Iterator[ShownOption]:
    """What can be ticked or chosen in a field."""
    last = key.place[-1]
    if key.kind == "flag" and key.place[0] != "conventions":
        picture = PictureWish(FLAGS[last]) if key.place[0] == "elements" and last in FLAGS else None
        yield _option("true", "", bool(held), code, picture)
    elif key.place[0] == "conventions":
        yield from _convention_options(key, held, raw, code)
    elif key.kind == "choice":
        yield from (_option(str(each), _value_told(str(each), code), each == held, code) for each in key.values)
    elif key.kind == "ticks":
        known = {value: (label, picture) for value, label, picture in _ticks(key, raw, code)}
        for value, (label, picture) in known.items():
            yield _option(value, label, value in on, code, picture)
        for value in on:
            if value not in known:
                yield _option(value, value, True, code)


def _value_told(value: str, code: str) -> str:
    """A value of a key in words; as the file has it where there are none."""
    return desk_text(code, f"value.{value}") if has_text(code, f"value.{value}") else value


def _option(value: str, label: str, on: bool, code: str, picture: PictureWish | None = None) -> ShownOption:
    alt = ""
    if picture is not None:
        try:
            alt = alt_of(picture, code)
        except BarwrightError:
            picture = None
    return ShownOption(value, label, on, picture, alt)


def _ticks(key: Key, raw: Mapping[str, Any], code: str) -> Iterator[tuple[str, str, PictureWish | None]]:
    """Value, label and picture of everything that can be ticked."""
    last = key.place[-1]
    if key.place == LANGUAGE_KEY:
        yield from ((each, language(each).text("pages", "language"), None) for each in key.values)
    elif last == "meters" and key.place[0] == PARTS:
        taught = written_value(raw, ("elements", "meters"))
        yield from ((str(each), str(each), None) for each in (taught if isinstance(taught, list) else ()))
    elif last == "meters":
        yield from ((meter, meter, PictureWish(text)) for meter, text in METERS.items())
        taught = written_value(raw, ("elements", "meters"))
        others = [each for each in (taught if isinstance(taught, list) else ()) if isinstance(each, str)]
        yield from ((each, each, None) for each in others if each not in METERS)
    elif last == "patterns":
        for level, figures in NEW_AT_LEVEL.items():
            yield level, desk_text(code, "plan.up_to", level=level.removeprefix("grade ")), None
            yield from ((figure, figure, PictureWish(figure)) for figure in figures)
    elif last == "misreadings":
        ask = ASKS.get(str(written_value(raw, (*key.place[:2], "ask"))))
        for name, each in MISREADINGS.items():
            if ask is not None and ask.exercise in each.exercises:
                yield name, why_told(name, code), None
    else:
        yield from ((str(each), _value_told(str(each), code), _symbol(last, str(each))) for each in key.values)


def _symbol(key: str, value: str) -> PictureWish | None:
    """The symbol that an element is."""
    if key == "triplets":
        return PictureWish(TRIPLETS[value])
    if value not in PLAIN:
        return None
    letter = next(letter for letter, name in LETTERS.items() if name == value)
    if key == "rests" and value == "whole":
        return PictureWish("4/4 rW")
    rest, dots = "r" * key.startswith("rest"), {"dots": ".", "rest_dots": ".", "double_dots": ".."}.get(key, "")
    return PictureWish(f"{rest}{letter}{dots}")


def _convention_options(key: Key, held: Any, raw: Mapping[str, Any], code: str) -> Iterator[ShownOption]:
    """Each value of a convention with an example as this class would have it."""
    name, texts = key.place[1], reference_texts(code)
    example = texts["example"][name]
    said = written_value(raw, ("conventions",))
    others = {k: v for k, v in said.items() if isinstance(v, str | bool)} if isinstance(said, dict) else {}
    for value in key.values:
        settings = {**others, **dict(each.split("=") for each in example.get("with", ())), name: value}
        text = example["rhythm"] if "rhythm" in example else example["rhythms"][_spelt(value)]
        wish = PictureWish(
            text, example.get("counts", False), tuple(f"{k}={_spelt(v)}" for k, v in sorted(settings.items()))
        )
        labels = {**texts["value"], **example.get("labels", {})}
        label = labels.get(_spelt(value), _spelt(value))
        if key.kind == "flag":
            yield _option(_spelt(value), label, bool(held) == value, code, wish)
        else:
            yield _option(_spelt(value), label, held == value, code, wish)


def _part(
    number: int, raw: Mapping[str, Any], fields: Mapping[str, Field], faults: tuple[str, ...], code: str
) -> PartShown:
    place = (PARTS, str(number))
    ask, items = written_value(raw, (*place, "ask")), written_value(raw, (*place, "items"))
    known = isinstance(ask, str) and ask in ASKS
    number_of_items = items if isinstance(items, int) and 0 < items <= 200 else 0
    seconds = seconds_of_ask(str(ask)) * number_of_items if known else 0
    mine = {name.rpartition(".")[2]: each for name, each in fields.items() if name.startswith(f"part.{number}.")}
    student = what_students_do(str(ask), code) if known else ""
    return PartShown(number, student, seconds, str(ask), number_of_items, mine, faults)


def what_students_do(ask: str, code: str = LANGUAGE) -> str:
    """What the student does in an ask, for the teacher: "the student ...".

    >>> what_students_do("write-counts")
    'types the whole row'
    """
    return language(code).text("asks", f"{ask}.student").replace("`", "")


def standards_shown() -> tuple[tuple[str, str, bool], ...]:
    """Every standard, its name in full, and whether it is a usual one."""
    return tuple((ident, writer.name, ident in USUAL_STANDARDS) for ident, writer in WRITERS.items())


def accommodations_shown(code: str) -> tuple[tuple[str, str], ...]:
    """Every accommodation, and what it is called on a page."""
    return tuple((name, desk_text(code, f"accommodation.{name}")) for name in ACCOMMODATIONS)


def asks_by_family(code: str) -> dict[str, tuple[tuple[str, str], ...]]:
    """Every ask with what the student does, under the family in words."""
    return {
        desk_text(code, f"family.{family}"): tuple((ask.id, what_students_do(ask.id, code)) for ask in asks)
        for family, asks in FAMILIES.items()
    }
