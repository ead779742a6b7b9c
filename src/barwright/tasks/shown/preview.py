"""What a plan would give, before it is made: how much each part holds, and its first questions as they would come."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.engrave.font import DEFAULT
from barwright.forms.assembly import first_form
from barwright.items.form import Form
from barwright.pages import items_shown
from barwright.tasks.capacity import MOST_STEPS, PartCapacity, Served, capacity, served
from barwright.tasks.excerpts import avoided
from barwright.tasks.make import sound_blueprint
from barwright.tasks.own_wording import check_own_wording, own_wording
from barwright.tasks.packing import Order, drawn_pictures
from barwright.tasks.progress import Progress
from barwright.tasks.shown.contents import OUT
from barwright.tasks.shown.desk_words import USUAL, desk_text
from barwright.wording.items_in_words import worded_form

FIRST = 3
ALL_ASKS = ("qti30",)  # a standard that says how anything is answered; which is wanted is asked when it is made
STEPS = (600, 2_400, MOST_STEPS)  # of looking for questions: the first, a second or two, are mostly enough


@dataclass(frozen=True, slots=True)
class PartPreview:
    """A part: its number, how much it can give, in words, and the first questions of the first section as HTML."""

    number: int
    capacity: str
    questions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """All parts, what they come to together, and whose form it is."""

    parts: tuple[PartPreview, ...]
    verdict: str
    section: str


def previewed(path: Path, progress: Progress, code: str = USUAL) -> Preview:
    """The preview of a plan's file in the words of a language.

    In the sentences of the class. BlueprintError with all faults, as `make`, CapacityError as there.
    """
    blueprint, _ = sound_blueprint(path, Order(Path(OUT), standards=ALL_ASKS), progress=progress)
    section, own = blueprint.sections[0], own_wording(blueprint, path)
    made, _ = first_form(blueprint, section, taken={}, never=avoided(blueprint, path))
    form = replace(made.form, wording=own.changes)
    check_own_wording([form], own, blueprint)
    questions = dict(_first_questions(form, [part.items for part in blueprint.part], progress))
    parts = _capacities(path, len(blueprint.sections), progress)
    told = tuple(PartPreview(part.number, _told(part, code), questions[part.number]) for part in parts)
    return Preview(told, _verdict(served(parts), len(blueprint.sections), code), section)


def _capacities(path: Path, sections: int, progress: Progress) -> tuple[PartCapacity, ...]:
    """What the parts can give, looked at until it is enough for all sections, or as far as `capacity` looks."""
    parts: tuple[PartCapacity, ...] = ()
    for steps in STEPS:
        _, parts = capacity(path, most_steps=steps, progress=progress)
        if all(part.exact for part in parts) or served(parts).sections >= sections:
            break
    return parts


def _told(part: PartCapacity, code: str) -> str:
    names = {"items": f"{part.items:,}", "sections": f"{part.sections:,}", "wanted": part.wanted, "exact": part.exact}
    return desk_text(code, "preview.capacity", **names)


def _verdict(bound: Served, sections: int, code: str) -> str:
    """How many sections the parts serve together, in words."""
    if bound.sections >= sections:
        return desk_text(code, "preview.enough", sections=sections)
    which = [str(part.number) for part in bound.parts]
    names = {"parts": which, "one": len(which) == 1, "exact": bound.exact, "served": bound.sections}
    return desk_text(code, "preview.shared" if bound.sections else "preview.too_few", sections=sections, **names)


def _first_questions(form: Form, counts: list[int], progress: Progress) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Of each part, by its number, the first questions; of variants the first."""
    worded = worded_form(form)
    pictures = drawn_pictures([worded], form.items[0].item.conventions, DEFAULT, progress=progress)
    articles = items_shown(worded, pictures)
    place = 0
    numbers = [placed.number for placed in form.items]
    for number, count in enumerate(counts, start=1):
        firsts = [numbers.index(each) for each in range(place + 1, place + 1 + min(count, FIRST))]
        yield number, tuple(articles[index] for index in firsts)
        place += count
