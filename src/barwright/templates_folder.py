"""Where the templates are: at the top of a checkout, or inside the installed package."""

from functools import cache
from pathlib import Path

import barwright
from barwright.errors import TemplateError


def nearest_folder(package: Path) -> Path:
    """The templates that go with a package folder: `templates` in it (a wheel), else two above it (a checkout).

    The wheel gets its copy by `force-include` in pyproject.toml. Raises TemplateError if there is none.
    """
    places = (package / "templates", package.parents[1] / "templates")
    for place in places:
        if (place / "items").is_dir():
            return place
    raise TemplateError(f"no templates in {str(places[0])!r} or {str(places[1])!r}: install barwright again")


@cache
def templates_folder() -> Path:
    """The folder `templates` of this installation; it holds `items/LANGUAGE/` and `pages/`."""
    return nearest_folder(Path(barwright.__file__).resolve().parent)


@cache
def languages() -> tuple[str, ...]:
    """Codes of all languages there are words for, sorted.

    >>> "en-US" in languages()
    True
    """
    return tuple(sorted(p.name for p in (templates_folder() / "items").iterdir() if p.is_dir()))
