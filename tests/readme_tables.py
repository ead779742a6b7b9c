"""The README's reference tables, made of the code and of `templates/reference`.

    python tests/readme_tables.py

writes them into the README, between the remarks that mark where each begins and ends. A test holds the README to them.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from barwright.asks import FAMILIES
from barwright.blueprint.blueprint import Blueprint, Elements, Excerpts, Part, Quiz
from barwright.misreadings import MISREADINGS
from barwright.qti import WRITERS
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.tasks.counts import counts
from barwright.wording.language import language

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
SAID: dict[str, dict[str, Any]] = tomllib.loads((ROOT / "templates/reference/en-US.toml").read_text("utf-8"))
BLOCK = re.compile(r"(<!-- table: (\w+), made by tests/readme_tables.py -->\n).*?(\n<!-- end of table -->)", re.DOTALL)
TABLES_OF_KEYS = {"elements": Elements, "excerpts": Excerpts, "quiz": Quiz, "part": Part}
HEADINGS = {"elements": "`[elements]`",
    "excerpts": "`[excerpts]`", "conventions": "`[conventions]`", "quiz": "`[quiz]`", "part": "`[[part]]`",
            "curriculum": "`[curriculum]`", "difficulty": "`[difficulty]`"}  # fmt: skip
COUNTED = ("4/4 q. e e e rq", "6/8 q e e e re")
Row = tuple[str, ...]


def spelt(value: object) -> str:
    """A value as TOML spells it, without the quotation marks of a text."""
    return str(value).lower() if isinstance(value, bool) else str(value)


def of_every(table: str, names: Iterator[str] | list[str]) -> Iterator[tuple[str, Any]]:
    """What `templates/reference` says of each name; KeyError for a name without a text, or a text without a name."""
    said = dict(SAID[table])
    for name in names:
        yield name, said.pop(name)
    if said:
        raise KeyError(f"no such name in {table!r}: {', '.join(said)}")


def usual(field: FieldInfo) -> str:
    """The usual value of a key."""
    if field.is_required():
        return "needed"
    value = field.default
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    return f"`{spelt(value)}`" if value or value is False else "none"


def key_rows(table: str, model: type[BaseModel]) -> Iterator[Row]:
    """Name, values and usual value of every key of a table of the blueprint, in the order of the code."""
    for name, text in of_every(table, list(model.model_fields)):
        holds, normal = text if isinstance(text, list) else (text, usual(model.model_fields[name]))
        yield (f"**{HEADINGS[name]}**" if table == "blueprint" and name in HEADINGS else f"`{name}`"), holds, normal
        if name in TABLES_OF_KEYS and table == "blueprint":
            yield from key_rows(name, TABLES_OF_KEYS[name])


def ask_rows() -> Iterator[Row]:
    """Family, ask and what the student does; a star where only some standards can say how it is answered."""
    words = language("en-US")
    for family, asks in FAMILIES.items():
        for number, ask in enumerate(asks):
            rare = any(ask.interaction not in writer.interactions for writer in WRITERS.values())
            yield "" if number else f"`{family}`", f"`{ask.id}`{' *' * rare}", words.text("asks", f"{ask.id}.student")


def convention_rows() -> Iterator[Row]:
    """Each convention, its values with the usual one first, and what it changes."""
    values = convention_values()
    for name, text in of_every("convention", list(values)):
        yield f"`{name}`", " ".join(f"`{spelt(value)}`" for value in values[name]), text


def system_rows() -> Iterator[Row]:
    """Each counting system, what it writes under two rhythms, and what its words tell."""
    for name, text in of_every("counting", list(map(str, convention_values()["counting"]))):
        chosen = replace(Conventions(), counting=name)
        written = [" ".join(counts(rhythm, conventions=chosen)[1].split()) for rhythm in COUNTED]
        yield f"`{name}`", *written, text


def misreading_rows() -> Iterator[Row]:
    """Each misreading in a teacher's words, as the proof tells it, and where it is known from."""
    words = language("en-US")
    for name, m in MISREADINGS.items():
        told = words.text("misreadings", f"{name}.why", {"one_unit": "one beat", "blank": True, "short": False})
        yield f"`{name}`", told, m.source


def table(heads: Row, rows: Iterator[Row]) -> str:
    """A table in Markdown."""
    lines = [heads, tuple("---" for _ in heads), *rows]
    return "\n".join(f"| {' | '.join(line)} |".replace("|  |", "| |") for line in lines)


def tables() -> dict[str, str]:
    """Every table by the name that marks its place in the README."""
    return {
        "keys": table(("key", "values", "usual"), key_rows("blueprint", Blueprint)),
        "asks": table(("family", "ask", "the student"), ask_rows()),
        "conventions": table(("key", "values", "what it changes"), convention_rows()),
        "systems": table(("`counting`", *(f"`{r}`" for r in COUNTED), "its words tell"), system_rows()),
        "misreadings": table(("id", "the student ...", "known from"), misreading_rows()),
    }


def filled(text: str) -> str:
    """The README with its tables made anew."""
    made = tables()
    return BLOCK.sub(lambda block: block[1] + made[block[2]] + block[3], text)


if __name__ == "__main__":
    README.write_text(filled(README.read_text("utf-8")), "utf-8")
