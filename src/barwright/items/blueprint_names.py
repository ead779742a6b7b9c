"""What may be wrong with the names in a blueprint: its title, its sections, and the file that lists them."""

from collections.abc import Iterator
from typing import Any

from barwright.items.blueprint_lines import Fault
from barwright.items.naming import MOST_LETTERS, folder_name, section_fault, text_fault


def name_faults(raw: dict[str, Any]) -> Iterator[Fault]:
    """Every fault of the names of a blueprint as TOML gives it, whatever else is wrong with it."""
    yield from _title_faults(raw.get("title"))
    yield from _section_faults(raw.get("sections", []))
    yield from _section_file_faults(raw)


def _section_faults(sections: Any) -> Iterator[Fault]:
    names = [s for s in sections if isinstance(s, str)] if isinstance(sections, list) else []
    folders: dict[str, str] = {}
    for name in names:
        folder = folder_name(name)
        fault = section_fault(name)
        if fault is not None:
            yield ("sections",), f"section {_shortened(name)!r} {fault}"
        elif folder in folders:
            yield (
                ("sections",),
                f"sections {folders[folder]!r} and {name!r} would share the folder {folder!r}: rename one",
            )
        folders.setdefault(folder, name)


def _shortened(text: str) -> str:
    return text if len(text) <= MOST_LETTERS else text[:MOST_LETTERS] + "..."


def _title_faults(title: Any) -> Iterator[Fault]:
    fault = text_fault(title) if isinstance(title, str) and title else None
    if fault is not None:
        yield ("title",), f"title {_shortened(title)!r} {fault}"


def _section_file_faults(raw: dict[str, Any]) -> Iterator[Fault]:
    if "sections_file" in raw and "sections" in raw:
        yield ("sections_file",), "sections_file stands beside sections: keep one of them"
    file = raw.get("sections_file")
    if isinstance(file, str) and not _stays_inside(file):
        yield (
            ("sections_file",),
            f"sections_file = {file!r} is not beside the blueprint: copy it there, and give its name",
        )
    for key in ("sections_column", "sections_where"):
        if key in raw and "sections_file" not in raw:
            yield (key,), f"{key} has no effect without sections_file: name the file, or take {key} out"


def _stays_inside(file: str) -> bool:
    """Whether a path leads to a file in the folder it starts from, on every system."""
    parts = file.replace("\\", "/").split("/")
    return ":" not in file and all(part not in ("", "..") for part in parts)
