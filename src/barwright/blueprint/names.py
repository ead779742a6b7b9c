"""Names that a teacher gives to quizzes and sections: what they may hold, and the folders that they make.

What may be wrong with the names in a blueprint: its title, its sections, and the files beside it."""

import unicodedata
from collections.abc import Iterator
from typing import Any

from barwright.blueprint.toml_lines import Fault
from barwright.showing import shown

MOST_LETTERS = 80
# Names that no file or folder may have on Windows (published file-naming rules of that system), whatever their case.
RESERVED = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))})


# Letters that Unicode does not take apart into a plain one and an accent.
_PLAIN = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ı": "i"})


def folder_name(name: str) -> str:
    """A folder name of plain letters, digits and hyphens; empty where the name has none of them.

    Accents fall away, and ß becomes ss (Unicode, normalization form KD): ö becomes o, not oe, in whatever language.

    >>> folder_name("Größe 3: Ms. Ávila"), folder_name("Con")
    ('grosse-3-ms-avila', 'con-')
    """
    apart = unicodedata.normalize("NFKD", name.lower().translate(_PLAIN)).lower()
    bare = "".join(c for c in apart if not unicodedata.combining(c))
    kept = "".join(c if c.isascii() and c.isalnum() else " " for c in bare)
    folder = "-".join(kept.split())
    return f"{folder}-" if folder in RESERVED else folder


def text_fault(name: str) -> str | None:
    """What is wrong with a text that packages, pages and banks must carry, and the mend; None if nothing is.

    >>> text_fault("Period 1"), text_fault("a\\tb")
    (None, "has a control character ('<U+0009>'): write it in one line of plain text")
    """
    strange = next((c for c in name if not c.isprintable()), None)
    if strange is not None:
        return f"has a control character ({shown(strange)}): write it in one line of plain text"
    if not name.strip():
        return "is empty: write a name"
    return None


def section_fault(name: str) -> str | None:
    """What is wrong with the name of a section, and the mend; None if nothing is.

    >>> section_fault("***")
    "has no letter a-z or digit to name its folder by: give it a name such as 'Period 1'"
    """
    if len(name) > MOST_LETTERS:
        return f"has over {MOST_LETTERS} letters: shorten it"
    if text_fault(name) is not None:
        return text_fault(name)
    if not folder_name(name):
        return "has no letter a-z or digit to name its folder by: give it a name such as 'Period 1'"
    return None


def name_faults(raw: dict[str, Any]) -> Iterator[Fault]:
    """Every fault of the names of a blueprint as TOML gives it, whatever else is wrong with it."""
    yield from _title_faults(raw.get("title"))
    yield from _section_faults(raw.get("sections", []))
    yield from _file_faults(raw)


def _section_faults(sections: Any) -> Iterator[Fault]:
    names = [s for s in sections if isinstance(s, str)] if isinstance(sections, list) else []
    folders: dict[str, str] = {}
    for name in names:
        folder = folder_name(name)
        fault = section_fault(name)
        if fault is not None:
            yield ("sections",), f"section {shown(_shortened(name))} {fault}"
        elif folder in folders:
            yield (
                ("sections",),
                f"sections {shown(folders[folder])} and {shown(name)} would share the folder "
                f"{shown(folder)}: rename one",
            )
        folders.setdefault(folder, name)


def _shortened(text: str) -> str:
    return text if len(text) <= MOST_LETTERS else text[:MOST_LETTERS] + "..."


def _title_faults(title: Any) -> Iterator[Fault]:
    fault = text_fault(title) if isinstance(title, str) and title else None
    if fault is not None:
        yield ("title",), f"title {shown(_shortened(title))} {fault}"


def _file_faults(raw: dict[str, Any]) -> Iterator[Fault]:
    if "sections_file" in raw and "sections" in raw:
        yield ("sections_file",), "sections_file stands beside sections: keep one of them"
    for key in ("sections_file", "excerpts_file", "wording"):
        file = raw.get(key)
        if isinstance(file, str) and not _stays_inside(file):
            yield (key,), f"{key} = {shown(file)} is not beside the blueprint: copy it there, and give its name"
    for key in ("sections_column", "sections_where"):
        if key in raw and "sections_file" not in raw:
            yield (key,), f"{key} has no effect without sections_file: name the file, or take {key} out"


def _stays_inside(file: str) -> bool:
    """Whether a path leads to a file in the folder it starts from, on every system."""
    parts = file.replace("\\", "/").split("/")
    return ":" not in file and all(part not in ("", "..") for part in parts)
