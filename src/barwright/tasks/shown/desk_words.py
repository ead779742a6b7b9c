"""The words of the desk's own pages, in each language: `templates/items/LANGUAGE/desk.toml`."""

from functools import cache

from barwright.items.form import ALL_SECTIONS
from barwright.templates_folder import languages
from barwright.wording.language import DESK, desk_language

USUAL = "en-US"
__all__ = ["ALL_SECTIONS", "USUAL", "desk_pair", "desk_text", "has_text", "names_of_languages"]


@cache
def names_of_languages() -> tuple[tuple[str, str], ...]:
    """The code of each language, and what it calls itself; the usual one first."""
    codes = sorted(languages(), key=lambda code: (code != USUAL, code))
    return tuple((code, desk_text(code, "name")) for code in codes)


def desk_text(code: str, ident: str, /, **names: object) -> str:
    """One sentence of the desk with its names filled in; TemplateError for a language or a sentence there is not."""
    return desk_language(code).text(DESK, ident, names)


def desk_pair(code: str, ident: str, /, **names: object) -> tuple[str, ...]:
    """A text of two, as of what is read on a button and what is told besides; TemplateError as `desk_text`."""
    return desk_language(code).texts(DESK, ident, names)


def has_text(code: str, ident: str) -> bool:
    """Whether the desk has a sentence of this id."""
    return desk_language(code).has(DESK, ident)
