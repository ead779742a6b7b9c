"""The words of one language, read once from `templates/items/LANGUAGE/*.toml`.

A text in these files is a sentence for Jinja, or plain; each is compiled at its first use and kept. Every name in a
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
from jinja2.meta import find_undeclared_variables

from barwright.errors import TemplateError
from barwright.wording.folder import languages, templates_folder

FILES = ("words", "spoken", "asks", "claims", "counting", "misreadings", "pages")
# Filled-in texts that are kept for one id: few names have many values, and then only the last ones matter.
MOST_KEPT = 4096

_JINJA = Environment(undefined=StrictUndefined, autoescape=False)
_JINJA.globals.clear()


@dataclass(frozen=True, slots=True, eq=False)
class Sentences:
    """What stands under one id: plain texts and compiled ones, the names these use, and what they gave so far."""

    parts: tuple[Template | str, ...]
    names: tuple[str, ...]
    kept: dict[tuple[object, ...], tuple[str, ...]] = field(default_factory=dict)

    def filled(self, context: Mapping[str, object]) -> tuple[str, ...]:
        """The texts with the names filled in and the spaces evened; empty ones are left out. Raises JinjaError."""
        values = tuple(map(context.get, self.names))
        found = self.kept.get(values)
        if found is None:
            texts = (part if isinstance(part, str) else part.render(context) for part in self.parts)
            found = tuple(kept for kept in (" ".join(text.split()) for text in texts) if kept)
            if len(self.kept) >= MOST_KEPT:
                self.kept.clear()
            if None not in values:  # None may be a name that the context lacks: that must be told every time
                self.kept[values] = found
        return found


@dataclass(frozen=True, slots=True, eq=False)
class Language:
    """Tables of texts by file name and id; `language(code)` keeps one of each. `compiled` fills as texts are used."""

    code: str
    tables: Mapping[str, Mapping[str, Any]] = field(repr=False)
    compiled: dict[tuple[str, str], Sentences] = field(default_factory=dict, repr=False)

    def ids(self, file: str) -> tuple[str, ...]:
        """The ids at the top of a file, in the order of the file."""
        return tuple(self.tables[file])

    def texts(self, file: str, ident: str, context: Mapping[str, object] | None = None) -> tuple[str, ...]:
        """The texts of a list (or of one string, as a list of one) with the context filled in; empty ones are left out.

        Raises TemplateError, naming language, file and id, for a missing id, a broken sentence or an unknown name.
        """
        try:
            sentences = self.compiled.get((file, ident)) or self._compile(file, ident)
            return sentences.filled(context or {})
        except JinjaError as error:
            raise TemplateError(f"language {self.code!r}: {file}.toml, {ident!r}: {error.message}") from error

    def text(self, file: str, ident: str, context: Mapping[str, object] | None = None) -> str:
        """One text with the context filled in; a list is joined by spaces. Raises TemplateError as `texts` does."""
        return " ".join(self.texts(file, ident, context))

    def pair(self, file: str, ident: str) -> tuple[str, str]:
        """The two texts [one, several]. Raises TemplateError if there are not two."""
        found = self.texts(file, ident)
        if len(found) != 2:
            raise TemplateError(f"language {self.code!r}: {file}.toml, {ident!r}: two words are needed, not {found!r}")
        return found[0], found[1]

    def spacing(self, file: str, ident: str) -> str:
        """A text that joins others, with its spaces as they are. Raises TemplateError for a missing id."""
        return str(self._found(file, ident))

    def _found(self, file: str, ident: str) -> Any:
        found: Any = self.tables[file]
        for name in ident.split("."):
            if not isinstance(found, Mapping) or name not in found:
                raise TemplateError(f"language {self.code!r}: {file}.toml has no {ident!r}: add it there")
            found = found[name]
        return found

    def _compile(self, file: str, ident: str) -> Sentences:
        found = self._found(file, ident)
        sources = found if isinstance(found, list) else [found]
        if not all(isinstance(source, str) for source in sources):
            raise TemplateError(
                f"language {self.code!r}: {file}.toml, {ident!r}: text in quotes is needed, not {found!r}"
            )
        names = {name for s in sources if "{" in s for name in find_undeclared_variables(_JINJA.parse(s))}
        parts = tuple(_JINJA.from_string(s) if "{" in s else s for s in sources)
        return self.compiled.setdefault((file, ident), Sentences(parts, tuple(sorted(names))))


def read_language(code: str, folder: Path) -> Language:
    """The language in `folder`; raises TemplateError naming the file that is missing or is no TOML."""
    tables = {}
    for file in FILES:
        try:
            tables[file] = tomllib.loads((folder / f"{file}.toml").read_text(encoding="utf-8"))
        except FileNotFoundError as error:
            raise TemplateError(f"language {code!r}: {file}.toml is missing in {str(folder)!r}") from error
        except tomllib.TOMLDecodeError as error:
            raise TemplateError(f"language {code!r}: {file}.toml cannot be read: {error}") from error
    return Language(code, tables)


@cache
def language(code: str) -> Language:
    """The language with this code, read once; raises TemplateError if there is none."""
    if code not in languages():
        raise TemplateError(f"language {code!r} is not known: use one of {', '.join(languages())}")
    return read_language(code, templates_folder() / "items" / code)
