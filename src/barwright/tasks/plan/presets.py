"""Plans to begin with: what a class of a grade has usually been taught, in band and in general music.

The table is `templates/start/presets.toml`; it is a beginning to edit, and no rule.
"""

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any

from barwright.asks import ASKS
from barwright.errors import BarwrightError
from barwright.results.reading.mapping import toml_text
from barwright.results.timing import questions_in
from barwright.showing import meant, shown
from barwright.tasks.shown.desk_words import USUAL, desk_text
from barwright.templates_folder import templates_folder

MINUTES = 20
SECTIONS = ("Period 1", "Period 3")


@dataclass(frozen=True, slots=True)
class Preset:
    """One plan to begin with: its id, for whom it is, what is taught, its title, and what is said of its kind.

    `questions`: about how many like its own a student answers in `MINUTES`.
    """

    id: str
    kind: str
    grade: int
    title: str
    about: str
    lead: str
    questions: int


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = tomllib.loads((templates_folder() / "start" / "presets.toml").read_text("utf-8"))
    return table


@cache
def presets(code: str = USUAL) -> tuple[Preset, ...]:
    """Every preset, by kind of class and grade, in the words of a language.

    >>> presets()[0].id, len(presets())
    ('band-4', 13)
    """
    table = _table()
    return tuple(
        Preset(
            f"{kind}-{level['grade']}",
            desk_text(code, f"preset.name.{kind}"),
            level["grade"],
            level["title"],
            desk_text(code, f"preset.about.{level['grade']}"),
            desk_text(code, f"preset.lead.{kind}"),
            questions_in(MINUTES, each["parts"]),
        )
        for kind, each in table["kinds"].items()
        for level in table["level"]
        if kind in level["kinds"]
    )


def preset_text(ident: str, *, title: str = "") -> str:
    """The blueprint of a preset, with the title if one is given; BarwrightError for a preset that is not known."""
    known = {each.id: each for each in presets()}
    if ident not in known:
        mend = meant(ident, known, "barwright start --help lists them all")
        raise BarwrightError(f"preset {shown(ident)} is not known{mend}")
    preset = known[ident]
    kind, _, grade = ident.rpartition("-")
    made = _table()["kinds"][kind]
    level = next(each for each in _table()["level"] if each["grade"] == int(grade))
    lines = [
        f"# {preset.kind}, grade {grade}: {preset.about}. Change what your class has not been taught.",
        "",
        f"title    = {toml_text(title or preset.title)}",
        "seed     = 1  # another number gives another quiz of the same kind",
        f"sections = {_value(list(SECTIONS))}  # one form each",
        "",
        "[elements]  # only what the class has been taught: nothing else appears anywhere",
        *(f"{key:<11} = {_value(value)}" for key, value in level["elements"].items()),
        "",
        "[conventions]",
        f"counting = {toml_text(made['counting'])}",
    ]
    for ask, items in made["parts"]:
        lines += ["", "[[part]]", f'family = "{ASKS[ask].family}"', f'ask    = "{ask}"', f"items  = {items}"]
    return "\n".join(lines) + "\n"


def _value(value: object) -> str:
    """A value as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return toml_text(str(value))
