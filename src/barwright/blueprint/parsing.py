"""Reading a blueprint: TOML text to a Blueprint, or every fault of the file at once."""

import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from barwright.asks import ASKS, FAMILIES
from barwright.blueprint.blueprint import (
    MOST_LANGUAGES,
    MOST_METERS,
    USUAL_LANGUAGE,
    Blueprint,
    Door,
    Elements,
    Excerpts,
    Part,
    Quiz,
    taught_by,
)
from barwright.blueprint.bounds import bounds_faults
from barwright.blueprint.idle_keys import idle_faults
from barwright.blueprint.music import with_sound_music
from barwright.blueprint.names import name_faults
from barwright.blueprint.toml_lines import (
    Fault,
    Source,
    source_of,
    toml_faults,
    two_brackets,
)
from barwright.errors import BlueprintError, RhythmError
from barwright.items.difficulty import WEIGHTS
from barwright.misreadings import MISREADINGS
from barwright.rhythm.conventions import convention_values
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import LETTERS
from barwright.showing import (
    cut,
    is_many,
    meant,
    shown,
)
from barwright.templates_folder import languages

MOST_BYTES = 200_000
MOST_TOLD = 40  # faults of one file
MOST_WHOLE_NOTES = 24  # in one measure of each meter: what may stand in long ones takes long to work out

_TABLES: dict[str, type[Door]] = {"elements": Elements, "excerpts": Excerpts, "quiz": Quiz, "part": Part}


def read_blueprint(text: str, name: str) -> tuple[Blueprint, Source]:
    """The blueprint of a TOML text and where its keys stand; BlueprintError with all faults, one line each."""
    reading = examined(text, name)
    if reading.faults or reading.blueprint is None:
        raise BlueprintError(told(reading.faults, reading.source))
    return reading.blueprint, reading.source


def told(faults: Iterable[Fault], source: Source) -> list[str]:
    """The faults as messages, in the order of the file; of very many the first, and how many more there are."""
    messages = [source.fault(path, text) for path, text in sorted(faults, key=lambda f: source.line(f[0]))]
    if len(messages) <= MOST_TOLD:
        return messages
    return [*messages[:MOST_TOLD], f"{source.name}: {len(messages) - MOST_TOLD:,} more faults: mend these first"]


@dataclass(frozen=True, slots=True)
class Examined:
    """What of a text is sound as a blueprint (None if too little is), its lines, and all faults.

    Parts with faults are left out; `numbers` tells which parts of the file the others are, from 0.
    """

    source: Source
    faults: list[Fault]
    blueprint: Blueprint | None = None
    numbers: tuple[int, ...] = ()


def examined(text: str, name: str) -> Examined:
    """The text of a blueprint, looked through to the end whatever its faults."""
    text = text.replace("\r\n", "\n")
    if len(text.encode()) > MOST_BYTES:
        fault = f"the file has over {MOST_BYTES} bytes: a blueprint is a short text; is this the right file?"
        return Examined(Source(name, {}), [((), fault)])
    beyond = next(bounds_faults(text), None)
    if beyond is not None:
        line, fault = beyond
        return Examined(Source(name, {("",): line}), [(("",), fault)])
    source = source_of(text, name)
    try:
        raw = tomllib.loads(text, parse_float=WrittenNumber)
    except tomllib.TOMLDecodeError as error:
        return Examined(*toml_faults(str(error), text, name))
    faults = [*_shape_faults(raw), *_sense_faults(raw)]
    blueprint, numbers = _sound_rest(raw, faults)
    if blueprint is not None:
        blueprint, unread = with_sound_music(blueprint)
        faults += _focus_faults(blueprint, numbers)
        faults += idle_faults(blueprint, numbers, whole=not faults)
        faults += unread
    return Examined(source, faults, blueprint, numbers)


@dataclass(frozen=True, slots=True)
class WrittenNumber:
    """A number with a decimal point or an exponent, as it is written: a blueprint has none, so it is only shown."""

    text: str

    def __str__(self) -> str:
        return self.text if any(map(str.isdecimal, self.text)) else "no number"


def _sound_rest(raw: dict[str, Any], faults: list[Fault]) -> tuple[Blueprint | None, tuple[int, ...]]:
    """The blueprint without its faulty parts and faulty optional keys, and the numbers of the parts it keeps."""
    bad = {path[:2] if path[:1] == ("part",) else path[:1] for path, _ in faults}
    if {(), ("elements",), ("conventions",), ("part",)} & bad:
        return None, ()
    left = {k: v for k, v in raw.items() if (k,) not in bad}
    parts = {n: p for n, p in enumerate(raw.get("part", [])) if ("part", n) not in bad}
    left["part"] = list(parts.values())
    left.setdefault("title", "untitled")
    try:
        return Blueprint.model_validate(left), tuple(parts)
    except ValidationError:
        return None, ()


def _focus_faults(blueprint: Blueprint, numbers: tuple[int, ...]) -> Iterator[Fault]:
    """Misreadings that a part is to be about and that nothing taught can show."""
    taught = taught_by(blueprint.elements)
    for number, part in zip(numbers, blueprint.part, strict=True):
        for name in part.misreadings:
            if not MISREADINGS[name].nameable(taught.tokens, ties=taught.ties):
                needs = ", ".join(map(_element, sorted(MISREADINGS[name].needs)))
                text = (
                    f"misreading {shown(name)} cannot show with what is taught: it needs {needs}; teach "
                    f"them or take it out"
                )
                yield ("part", number, "misreadings"), text


def _element(need: str) -> str:
    """What a need of a misreading is called in a blueprint.

    >>> _element("rh"), _element("q."), _element(".")
    ('half rests', 'dotted quarter notes', 'dots')
    """
    general = {"~": "ties", ".": "dots", "t": "triplets", "r": "rests"}
    if need in general:
        return general[need]
    kind = "rests" if need.startswith("r") else "notes"
    return f"{'dotted ' * need.endswith('.')}{LETTERS[need.removeprefix('r')[0].lower()]} {kind}"


def _shape_faults(raw: dict[str, Any]) -> Iterator[Fault]:
    """What pydantic finds, in our words."""
    try:
        Blueprint.model_validate(raw)
    except ValidationError as error:
        for fault in error.errors():
            if fault["loc"][0] == "language":
                continue  # told by `_language_faults`
            yield tuple(fault["loc"]), _shape_text(fault)


def _shape_text(fault: Any) -> str:
    path, kind, value = fault["loc"], fault["type"], fault["input"]
    key = _key_text(path)
    context = fault.get("ctx", {})
    if kind == "missing":
        return f"{shown(key)} is missing: add it"
    if kind == "extra_forbidden":
        return f"{shown(key)} is not a key here{_meant(key, _known_keys(path), 'plan')}"
    if is_many(value) and not (kind == "too_short" or kind == "too_long" or len(path) == 1):
        return f"{key} is {shown(value)}: {_KINDS.get(kind, 'write one value')}"
    if kind == "literal_error":
        return f"{key} = {shown(value)} is not allowed: use {context['expected'].replace(' or ', ', ')}"
    if kind in ("greater_than_equal", "less_than_equal"):
        bound = "at least" if kind.startswith("greater") else "at most"
        return f"{key} = {shown(value)} is out of range: use {bound} {context.get('ge', context.get('le'))}"
    if kind.endswith(("too_short", "too_long")):
        return f"{key} {_length_text(kind, str(key), value, context.get('max_length'))}"
    if path == ("part",):
        return (
            two_brackets("part")
            if isinstance(value, dict)
            else "part is not said as it must be: begin each with [[part]]"
        )
    if kind in ("model_type", "dict_type") and len(path) == 1 and isinstance(value, list):
        return f"[[{key}]] has two pairs of brackets: write [{key}], with one, and once only"
    if is_many(value):
        return f"{key} is {shown(value)}: {_KINDS.get(kind, 'write one value')}"
    return f"{key} = {shown(value)} is not of the right kind: {_KINDS.get(kind, 'write another')}"


def _key_text(path: tuple[Any, ...]) -> str:
    """The key of a path; of an entry of a list its number, too."""
    if not path:
        return "the file"
    if isinstance(path[-1], str):
        return cut(path[-1])
    return f"{cut(str(path[-2]))} (entry {path[-1] + 1})"


def _length_text(kind: str, key: str, value: Any, most: object) -> str:
    """What is wrong with a text or list that is empty or too long, and the mend."""
    if kind == "string_too_short":
        return f"is empty: write a {key}"
    if kind == "too_short":
        return "is empty: give it at least one entry"
    if kind == "string_too_long":
        return f"has {len(value)} letters: shorten it to {most} letters"
    return f"has {len(value)} entries: keep at most {most}"


_KINDS = {
    "int_type": "write a whole number, without quotes",
    "string_type": "write text in quotes",
    "bool_type": "write true or false, without quotes",
    "list_type": "write a list in square brackets",
    "dict_type": "write a table, its name in square brackets",
    "model_type": "write a table, its name in square brackets",
}


def _known_keys(path: tuple[Any, ...]) -> list[str]:
    model = _TABLES.get(str(path[0]), Blueprint) if len(path) > 1 else Blueprint
    return list(model.model_fields)


def _language_faults(written: Any) -> Iterator[Fault]:
    """A language without words, and what is neither a language nor a list of them."""
    several = isinstance(written, list)
    codes = written if several else [written]
    if not codes or not all(isinstance(code, str) for code in codes):
        yield (("language",), f"{_language_text(written)} names no language: write one in quotes, or two in a list")
        return
    for code in codes:
        if code not in languages():
            yield ("language",), f"language = {shown(code)} has no wording yet: use {', '.join(languages())}"
    if len(set(codes)) < len(codes) or len(codes) > MOST_LANGUAGES:
        yield (
            ("language",),
            f"{_language_text(written)} has too many: name at most {MOST_LANGUAGES} languages, each once",
        )


def _language_text(written: Any) -> str:
    return "language is a list that" if is_many(written) else f"language = {shown(written)}"


def _meant(word: str, known: Iterable[str], topic: str) -> str:
    """How to mend an unknown name of a blueprint."""
    return meant(word, known, f"barwright help {topic} lists them all")


def _sense_faults(raw: dict[str, Any]) -> Iterator[Fault]:
    """What no schema can say: names that must exist, elements that must be taught."""
    yield from _language_faults(raw.get("language", USUAL_LANGUAGE))
    yield from name_faults(raw)
    elements = raw.get("elements", {})
    if isinstance(elements, dict):
        yield from _element_faults(elements)
    yield from _convention_faults(raw.get("conventions", {}))
    yield from _weight_faults(raw.get("difficulty", {}))
    parts = raw.get("part", [])
    for number, part in enumerate(parts if isinstance(parts, list) else []):
        if isinstance(part, dict):
            for key, text in _part_faults(part, elements if isinstance(elements, dict) else {}):
                yield ("part", number, key), text
    for key in raw.get("curriculum", {}) if isinstance(raw.get("curriculum"), dict) else ():
        if key not in FAMILIES and key not in ASKS:
            yield (
                ("curriculum", key),
                f"{shown(key)} is neither a family nor an ask{_meant(key, [*FAMILIES, *ASKS], 'asks')}",
            )


def _element_faults(elements: dict[str, Any]) -> Iterator[Fault]:
    for meter in _texts(elements.get("meters")):
        try:
            parse_meter(meter)
        except RhythmError as error:
            yield ("elements", "meters"), str(error)
    lengths = [parse_meter(meter).capacity for meter in _texts(elements.get("meters")) if _is_meter(meter)]
    if len(lengths) <= MOST_METERS and sum(lengths) > MOST_WHOLE_NOTES:
        yield (
            ("elements", "meters"),
            f"these measures last over {MOST_WHOLE_NOTES} whole notes together: name fewer long ones",
        )
    pairs = (("dots", "notes"), ("double_dots", "dots"), ("rest_dots", "rests"), ("triplets", "notes"))
    for key, base in pairs:
        for name in _texts(elements.get(key)):
            if name not in _texts(elements.get(base)) and isinstance(elements.get(base, []), list):
                yield ("elements", key), f"{key} names {shown(name)}, but {base} does not: add it to {base}"


def _texts(value: Any) -> list[str]:
    return [v for v in value if isinstance(v, str)] if isinstance(value, list) else []


def _convention_faults(conventions: Any) -> Iterator[Fault]:
    known = convention_values()
    for key, value in conventions.items() if isinstance(conventions, dict) else ():
        if key not in known:
            yield ("conventions", key), f"{shown(key)} is not a convention{_meant(key, known, 'conventions')}"
        elif not any(type(value) is type(each) and value == each for each in known[key]):
            allowed = ", ".join(map(shown, known[key]))
            said = "is a list or a table" if is_many(value) else f"= {shown(value)} is not allowed"
            yield ("conventions", key), f"{key} {said}: use {allowed}"


def _weight_faults(weights: Any) -> Iterator[Fault]:
    for key in weights if isinstance(weights, dict) else ():
        if key not in WEIGHTS:
            yield ("difficulty", key), f"{shown(key)} is not a feature of difficulty{_meant(key, WEIGHTS, 'plan')}"


def _part_faults(part: dict[str, Any], elements: dict[str, Any]) -> Iterator[tuple[str, str]]:
    family, ask_id = part.get("family"), part.get("ask")
    if isinstance(family, str) and family not in FAMILIES:
        yield "family", f"family = {shown(family)} is not known{_meant(family, FAMILIES, 'asks')}"
    taught = _texts(elements.get("meters"))  # none: that is told where it stands, and nothing follows from it
    for meter in _texts(part.get("meters")):
        if taught and meter not in taught:
            yield "meters", f"meter {shown(meter)} is not among the elements taught: add it to [elements] meters"
    if not isinstance(ask_id, str):
        return
    if ask_id not in ASKS:
        yield "ask", f"ask = {shown(ask_id)} is not known{_meant(ask_id, ASKS, 'asks')}"
        return
    ask = ASKS[ask_id]
    if isinstance(family, str) and family in FAMILIES and ask.family != family:
        yield (
            "ask",
            f"ask = {shown(ask_id)} belongs to the family {shown(ask.family)}, not {shown(family)}: change one of them",
        )
    lengths = {parse_meter(m).capacity for m in taught if _is_meter(m)}
    if taught and len(lengths) < ask.needs_meters and all(map(_is_meter, taught)):
        yield (
            "ask",
            (
                f"ask = {shown(ask_id)} needs {ask.needs_meters} time signatures of different length, and "
                f"{len(lengths)} "
                f"{'is' if len(lengths) == 1 else 'are'} taught: name more in [elements] meters or take another ask"
            ),
        )
    for name in _texts(part.get("misreadings")):
        able = sorted(m for m, each in MISREADINGS.items() if ask.exercise in each.exercises)
        if name not in MISREADINGS:
            yield "misreadings", f"misreading {shown(name)} is not known{_meant(name, able, 'misreadings')}"
        elif name not in able:
            yield (
                "misreadings",
                f"misreading {shown(name)} cannot show in {shown(ask_id)}{_meant(name, able, 'misreadings')}",
            )


def _is_meter(text: str) -> bool:
    try:
        parse_meter(text)
    except RhythmError:
        return False
    return True
