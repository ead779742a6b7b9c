"""The words of one language, read once from `templates/items/LANGUAGE/*.toml`.

A text in these files is a sentence for Jinja, or plain; each is made ready at its first use and kept. Every name in a
sentence must be known (StrictUndefined). The layout of the folder is told in templates/items/LAYOUT.md.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, StrictUndefined, Template
from jinja2 import TemplateError as JinjaError

from barwright.errors import TemplateError
from barwright.items.form import Changes, Form
from barwright.templates_folder import languages, templates_folder

_JINJA = Environment(undefined=StrictUndefined, autoescape=False)
_JINJA.globals.clear()
SYLLABLES = "syllables"  # what a class says on the places of a beat: no file of ours (own_counts.py)
FILES = ("words", "spoken", "asks", "claims", "counting", "misreadings", "pages", "results", "paper")
DESK = "desk"  # the tenth file: read by the desk alone, and no part of a quiz, so no class changes it


@dataclass(frozen=True, slots=True, eq=False)
class Language:
    """Tables of texts by file name and id; `language(code)` keeps one of each. `compiled` fills as texts are used."""

    code: str
    tables: Mapping[str, Mapping[str, Any]] = field(repr=False)
    compiled: dict[tuple[str, str], tuple[Template, ...]] = field(default_factory=dict, repr=False)

    def ids(self, file: str) -> tuple[str, ...]:
        """The ids at the top of a file, in the order of the file."""
        return tuple(self.tables[file])

    def texts(self, file: str, ident: str, context: Mapping[str, object] | None = None) -> tuple[str, ...]:
        """The texts of a list (or of one string, as a list of one) with the context filled in; empty ones are left out.

        Raises TemplateError, naming language, file and id, for a missing id, a broken sentence or an unknown name.
        """
        try:
            sentences = self.compiled.get((file, ident)) or self._compile(file, ident)
            filled = [" ".join(sentence.render(context or {}).split()) for sentence in sentences]
        except JinjaError as error:
            raise TemplateError(f"language {self.code!r}: {file}.toml, {ident!r}: {error.message}") from error
        return tuple(text for text in filled if text)

    def text(self, file: str, ident: str, context: Mapping[str, object] | None = None) -> str:
        """One text with the context filled in; a list is joined by spaces. Raises TemplateError as `texts` does."""
        return " ".join(self.texts(file, ident, context))

    def pair(self, file: str, ident: str) -> tuple[str, str]:
        """The two texts [one, several]. Raises TemplateError if there are not two."""
        texts = self.texts(file, ident)
        if len(texts) != 2:
            raise TemplateError(f"language {self.code!r}: {file}.toml, {ident!r}: two words are needed, not {texts!r}")
        return texts[0], texts[1]

    def sources(self, file: str, ident: str) -> tuple[str, ...]:
        """The texts of an entry as they are written. Raises TemplateError for a missing id."""
        found = self._found(file, ident)
        return tuple(map(str, found)) if isinstance(found, list) else (str(found),)

    def spacing(self, file: str, ident: str) -> str:
        """A text that joins others, with its spaces as they are. Raises TemplateError for a missing id."""
        return str(self._found(file, ident))

    def has(self, file: str, ident: str) -> bool:
        """Whether a file has a text of this id."""
        entry: Any = self.tables[file]
        for name in ident.split("."):
            entry = entry.get(name) if isinstance(entry, Mapping) else None
        return entry is not None

    def _found(self, file: str, ident: str) -> Any:
        entry: Any = self.tables[file]
        for name in ident.split("."):
            if not isinstance(entry, Mapping) or name not in entry:
                raise TemplateError(f"language {self.code!r}: {file}.toml has no {ident!r}: add it there")
            entry = entry[name]
        return entry

    def _compile(self, file: str, ident: str) -> tuple[Template, ...]:
        entry = self._found(file, ident)
        sources = entry if isinstance(entry, list) else [entry]
        if not all(isinstance(source, str) for source in sources):
            raise TemplateError(
                f"language {self.code!r}: {file}.toml, {ident!r}: text in quotes is needed, not {entry!r}"
            )
        return self.compiled.setdefault((file, ident), tuple(map(_JINJA.from_string, sources)))


def with_changes(table: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """A table of texts with other texts in place of some of its own, in the order of the table; new ids go last.

    >>> with_changes({"note": {"half": "half note", "whole": "whole note"}}, {"note": {"half": "minim"}})
    {'note': {'half': 'minim', 'whole': 'whole note'}}
    """
    changed = dict(table)
    for name, value in changes.items():
        own = changed.get(name)
        changed[name] = with_changes(own, value) if isinstance(own, Mapping) and isinstance(value, Mapping) else value
    return changed


def read_language(code: str, folder: Path) -> Language:
    """The language in `folder`; raises TemplateError naming the file that is missing or is no TOML.

    One that says in `words.toml` which language it is `based_on` takes from there what it does not say itself; then a
    file may be missing.
    """
    words = _table(code, folder, "words", needed=True)
    model = words.pop("based_on", "")
    based = language(model).tables if model else {}
    tables = {file: _table(code, folder, file, needed=not model) for file in FILES if file != "words"} | {
        "words": words
    }
    return Language(code, {file: with_changes(based.get(file, {}), tables[file]) for file in FILES})


def _table(code: str, folder: Path, file: str, *, needed: bool) -> dict[str, Any]:
    try:
        return tomllib.loads((folder / f"{file}.toml").read_text(encoding="utf-8"))
    except FileNotFoundError as error:
        if not needed:
            return {}
        raise TemplateError(f"language {code!r}: {file}.toml is missing in {str(folder)!r}") from error
    except tomllib.TOMLDecodeError as error:
        raise TemplateError(f"language {code!r}: {file}.toml cannot be read: {error}") from error


@cache
def language(code: str) -> Language:
    """The language with this code, read once; raises TemplateError if there is none."""
    if code not in languages():
        raise TemplateError(f"language {code!r} is not known: use one of {', '.join(languages())}")
    return read_language(code, templates_folder() / "items" / code)


@cache
def desk_language(code: str) -> Language:
    """The words of the desk's own pages, read once; errors as `language` and `read_language` tell them."""
    if code not in languages():
        raise TemplateError(f"language {code!r} is not known: use one of {', '.join(languages())}")
    folder = templates_folder() / "items" / code
    model = _table(code, folder, "words", needed=True).get("based_on", "")
    based = desk_language(model).tables[DESK] if model else {}
    return Language(code, {DESK: with_changes(based, _table(code, folder, DESK, needed=not model))})


@cache
def words_for(code: str, changes: Changes) -> Language:
    """The language with a class's own texts in place of some of ours; raises TemplateError as `language` does."""
    words = language(code)
    tables = dict(words.tables)
    for language_code, file, ident, texts in changes:
        if language_code == code:
            was_list = file != SYLLABLES and isinstance(words._found(file, ident), list)
            value: Any = list(texts) if was_list else texts[0]
            for name in reversed(ident.split(".")):
                value = {name: value}
            tables[file] = with_changes(tables.get(file, {}), value)
    return Language(code, tables) if tables != words.tables else words


def words_of(form: Form) -> Language:
    """The words of a form's first language, with the class's own in place of ours."""
    return words_for(form.language, form.wording)
