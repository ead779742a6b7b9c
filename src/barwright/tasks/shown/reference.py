"""Tables of the reference: names, values and order come from the code, what each means from `templates/reference`."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from barwright.asks import FAMILIES
from barwright.blueprint.blueprint import Blueprint, Elements, Excerpts, Part, Quiz
from barwright.errors import TemplateError
from barwright.misreadings import MISREADINGS
from barwright.qti import WRITERS
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.tasks.counts import conventions_of, counts
from barwright.tasks.shown.desk_words import desk_text
from barwright.templates_folder import templates_folder
from barwright.wording.language import language, with_changes
from barwright.wording.own_counts import sign_names
from barwright.wording.scene import names_scene

LANGUAGE = "en-US"
TABLES_OF_KEYS: dict[str, type[BaseModel]] = {"elements": Elements, "excerpts": Excerpts, "quiz": Quiz, "part": Part}
HEADINGS = {name: f"`[{name}]`" for name in ("elements", "excerpts", "conventions", "quiz", "curriculum", "difficulty")}
HEADINGS["part"] = "`[[part]]`"
SHOWN_COUNTS = ("4/4 q. e e e rq", "6/8 q e e e re")  # what the words of a counting system are shown under
Row = tuple[str, ...]


@cache
def reference_texts(code: str = LANGUAGE) -> dict[str, Any]:
    """What `templates/reference` says of each name, by table; what another language does not say is as in ours."""
    path = templates_folder() / "reference" / f"{code}.toml"
    texts: dict[str, Any] = tomllib.loads(path.read_text("utf-8"))
    return texts if code == LANGUAGE else with_changes(reference_texts(), texts)


def tables(code: str = LANGUAGE) -> dict[str, str]:
    """Every table as Markdown in a language, by the name that marks its place in a topic; TemplateError if a text is
    missing.
    """
    head = reference_texts(code)["head"]

    def titled(*names: str) -> Row:
        return tuple(head.get(name, name) for name in names)

    return {
        "keys": _table(titled("key", "values", "usual"), _key_rows("blueprint", Blueprint, code)),
        "asks": _table(titled("family", "ask", "student"), _ask_rows(code)),
        "conventions": _table(titled("key", "values", "changes"), _convention_rows(code)),
        "counting": _table(titled("`counting`", *(f"`{each}`" for each in SHOWN_COUNTS), "tell"), _counting_rows(code)),
        "misreadings": _table(titled("id", "holds", "known"), _misreading_rows(code)),
        "standards": _table(titled("standard", "`--standard`", "quiz", "bank"), _standard_rows()),
    }


def _table(heads: Row, rows: Iterable[Row]) -> str:
    lines = (heads, tuple("---" for _ in heads), *rows)
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def _spelt(value: object) -> str:
    """A value as TOML spells it, without the quotation marks of a text."""
    return str(value).lower() if isinstance(value, bool) else str(value)


def _of_every(table: str, names: Iterable[str], code: str) -> Iterator[tuple[str, Any]]:
    """What is said of each name; TemplateError for a name without a text, or a text without a name."""
    texts = dict(reference_texts(code)[table])
    for name in names:
        if name not in texts:
            raise TemplateError(f"reference/{LANGUAGE}.toml, [{table}]: {name!r} has no text: add it there")
        yield name, texts.pop(name)
    if texts:
        raise TemplateError(f"reference/{LANGUAGE}.toml, [{table}]: there is no {', '.join(texts)}: take it out")


def _usual(field: FieldInfo, head: Mapping[str, str]) -> str:
    if field.is_required():
        return head["needed"]
    value = field.default
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    return f"`{_spelt(value)}`" if value or value is False else head["none"]


def _key_rows(table: str, model: type[BaseModel], code: str) -> Iterator[Row]:
    """Name, values and usual value of every key of a table of the blueprint, in the order of the code."""
    for name, text in _of_every(table, model.model_fields, code):
        holds, normal = (
            text if isinstance(text, list) else (text, _usual(model.model_fields[name], reference_texts(code)["head"]))
        )
        heads = table == "blueprint" and name in HEADINGS
        yield (f"**{HEADINGS[name]}**" if heads else f"`{name}`"), holds, normal
        if heads and name in TABLES_OF_KEYS:
            yield from _key_rows(name, TABLES_OF_KEYS[name], code)


def _ask_rows(code: str) -> Iterator[Row]:
    """Family, ask and what the student does; a star where only some standards can say how it is answered."""
    words = language(code)
    for family, asks in FAMILIES.items():
        for number, ask in enumerate(asks):
            rare = any(ask.interaction not in writer.interactions for writer in WRITERS.values())
            name = f"`{ask.id}`{' *' * rare}"
            yield "" if number else f"`{family}`", name, words.text("asks", f"{ask.id}.student")


def _convention_rows(code: str) -> Iterator[Row]:
    """Each convention, its values with the usual one first, and what it changes."""
    values = convention_values()
    for name, text in _of_every("convention", values, code):
        yield f"`{name}`", " ".join(f"`{_spelt(value)}`" for value in values[name]), text


def _counting_rows(code: str) -> Iterator[Row]:
    """Each counting system, the counts of two rhythms in it, and what its words tell."""
    for name, text in _of_every("counting", map(str, convention_values()["counting"]), code):
        own = conventions_of((f"counting={name}",))
        yield f"`{name}`", *(" ".join(counts(rhythm, conventions=own)[1].split()) for rhythm in SHOWN_COUNTS), text


def _misreading_rows(code: str) -> Iterator[Row]:
    """Each misreading in a teacher's words, as the proof tells it, and where it is known from."""
    for name, misreading in MISREADINGS.items():
        source = reference_texts(code)["source"].get(misreading.source, misreading.source)
        yield f"`{name}`", why_told(name, code), source


def why_told(misreading: str, code: str = LANGUAGE) -> str:
    """Why students hold a misreading, told of no question."""
    words = language(code)
    scene = {
        **names_scene(words),
        **sign_names(Conventions(), words),
        "one_unit": desk_text(code, "plan.one_beat"),
        "blank": True,
    }
    return words.text("misreadings", f"{misreading}.why", scene)


def _standard_rows() -> Iterator[Row]:
    """Each standard, and the names of its packages; the one to try first on top."""
    for name, writer in sorted(WRITERS.items(), key=lambda row: (row[0] != "cc13", row[0] != "cc12", row[0])):
        yield writer.name, f"`{name}`", f"`{writer.files['quiz']}`", f"`{writer.files['bank']}`"
