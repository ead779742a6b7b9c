"""`plan`: what the page of a plan shows and changes, for scripts."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from barwright.errors import BarwrightError
from barwright.inputs import content_of
from barwright.showing import shown
from barwright.tasks.files import MOST_BYTES, read_text
from barwright.tasks.plan.changing import change, class_change, form_changes, rewrite, undo
from barwright.tasks.plan.editing import AddPart, Change, RaisePart, RemovePart
from barwright.tasks.saying import counted
from barwright.tasks.shown.plan import plan_shown

FIRST_ITEMS = 3
_SET = re.compile(r"([\w.-]+)=(.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class WantedChanges:
    """What is to be changed; several are made together."""

    sets: tuple[str, ...] = ()
    add: str = ""
    remove: int = 0
    up: int = 0
    classes: Path | None = None
    text: Path | None = None
    undo: bool = False


def changed(path: Path, wanted: WantedChanges) -> None:
    """Changes the file of a plan as it is wanted; BarwrightError for a key that is not known, or as `plan.changing`."""
    if wanted.undo:
        undo(path)
    if wanted.text is not None:
        rewrite(path, read_text(wanted.text))
    changes: list[Change] = []
    if wanted.sets:
        changes += form_changes(path, _texts(path, wanted.sets))
    if wanted.classes is not None:
        try:
            content = content_of(wanted.classes, MOST_BYTES + 1)
        except OSError as error:
            raise BarwrightError(
                f"{wanted.classes}: cannot be read ({error.strerror}): check the name and the folder"
            ) from error
        changes.append(class_change(str(wanted.classes), content))
    changes += [AddPart(wanted.add, FIRST_ITEMS)] if wanted.add else []
    changes += [RemovePart(wanted.remove)] if wanted.remove else []
    changes += [RaisePart(wanted.up)] if wanted.up else []
    if changes or wanted.sets:  # where nothing is new, what a killed run left is still cleared away
        change(path, changes)


def _texts(path: Path, sets: tuple[str, ...]) -> dict[str, list[str]]:
    """What a form would send: of each key its values, which commas part where it may have several."""
    fields = plan_shown(path).fields
    texts: dict[str, list[str]] = {}
    for each in sets:
        match = _SET.fullmatch(each)
        if match is None:
            raise BarwrightError(f"--set {shown(each)}: write a key, = and a value, as in elements.ties=true")
        name, value = match[1], match[2].strip()
        if name not in fields:
            raise BarwrightError(
                f"--set {shown(each)}: {shown(name)} is no key of a plan: barwright plan --help shows some"
            )
        kind = fields[name].kind
        if kind in ("ticks", "lines"):
            texts[name] = [part.strip() for part in value.split(",") if part.strip()]
        else:
            texts[name] = ["" if kind == "flag" and value == "false" else value]
        texts[f"on.{name}"] = ["1"]
    return texts


def plan_lines(path: Path) -> Iterator[str]:
    """A plan as a table: what the student does, how many, and how long it takes; then its faults."""
    plan = plan_shown(path)
    yield f"{plan.title}: {counted(len(plan.section_names), 'section')}, about {counted(plan.minutes, 'minute')}"
    if plan.in_minutes:
        each = [f"about {counted(number, 'question')} in {minutes} minutes" for minutes, number in plan.in_minutes]
        yield f"Like these a student answers {', '.join(each)}."
    for part in plan.parts:
        items = part.fields["items"].text or "?"
        yield f"{part.number:>3}  the student {part.student or '?'}: {items} questions, about {part.minutes} min"
    faults = [*plan.faults, *(line for field in plan.fields.values() for line in field.faults)]
    faults += [line for part in plan.parts for line in part.faults]
    yield from dict.fromkeys(faults)
