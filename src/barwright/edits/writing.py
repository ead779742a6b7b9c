"""Changing the file of changes: what the teacher wrote in it by hand, remarks and order, stays as it is."""

from collections.abc import Callable, Mapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array

from barwright.errors import BarwrightError
from barwright.items.item import Item, item_content

HEAD = """\
# Changes to single questions of this quiz, written by `barwright question`. They hold whenever the quiz is made again.
# You may edit this file, and copy it to a colleague's quiz of the same blueprint; then run `barwright question apply`.
"""
Fields = Mapping[str, Any]
Table = Any
"""A table of a TOML document, as tomlkit has it."""


class ChangesText:
    """The text of a file of changes while it is changed; BarwrightError if it cannot be read."""

    def __init__(self, text: str, name: str) -> None:
        try:
            self._document = tomlkit.parse(text or HEAD)
        except TOMLKitError as error:
            raise BarwrightError(f"{name}: cannot be read: {error}: mend it by hand") from error

    @property
    def text(self) -> str:
        """The text as it is now; empty where no table is left and nothing was written by hand."""
        text = tomlkit.dumps(self._document)
        return "" if text.strip() == HEAD.strip() else text

    def add(self, kind: str, fields: Fields) -> None:
        """One more table at the end of its kind."""
        held = self._document.get(kind)
        if isinstance(held, Array):
            inline = tomlkit.inline_table()
            inline.update(dict(fields))
            held.append(inline)
            return
        table = tomlkit.table()
        for key, value in fields.items():
            table.add(key, _value(value))
        table.add(tomlkit.nl())  # an empty line before the next table
        if isinstance(held, AoT):
            held.append(table)
        else:
            tables = tomlkit.aot()
            tables.append(table)
            self._document.append(kind, tables)

    def found(self, kind: str, fields: Fields) -> list[Table]:
        """The tables of a kind that have these fields; what is not said is 0, 1 or empty as the fields want it."""
        return [table for table in self._document.get(kind, []) if _has(table, fields)]

    def set(self, kind: str, fields: Fields, more: Fields) -> None:
        """Writes more fields into the table that has these, which is added where there is none."""
        held = self.found(kind, fields)
        if not held:
            self.add(kind, {**{key: value for key, value in fields.items() if value or key != "retake"}, **more})
        for table in held:
            for key, value in more.items():
                table[key] = _value(value)

    def remove(self, kind: str, holds: Callable[[Table], bool]) -> int:
        """Takes the tables out for which this holds, and gives back how many."""
        held = self._document.get(kind, [])
        places = [place for place, table in enumerate(held) if holds(table)]
        for place in reversed(places):
            del held[place]
        if kind in self._document and not len(held):
            del self._document[kind]
        return len(places)


def _has(table: Table, fields: Fields) -> bool:
    usual = {"retake": 0, "variant": 1}
    return all(table.get(key, usual.get(key, "")) == value for key, value in fields.items())


def _value(value: Any) -> Any:
    """A value as it stands in the file: tables in braces."""
    if isinstance(value, dict):
        inline = tomlkit.inline_table()
        inline.update(value)
        return inline
    return value


def content_fields(item: Item) -> dict[str, Any]:
    """What a table says of a question: its id, and its content without what is empty."""
    return {"item": item.id, **{key: value for key, value in item_content(item).items() if value}}
