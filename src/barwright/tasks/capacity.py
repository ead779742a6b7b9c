"""`capacity`: how many different items each part can give, exactly, and how many sections that serves."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from random import Random

from barwright.items.blueprint import Blueprint, Plan, plan_of
from barwright.items.blueprint_faults import Fault, read_blueprint
from barwright.items.making import Tally, made_item
from barwright.rhythm.capacity import measure_count
from barwright.rhythm.text import format_excerpt
from barwright.tasks.files import read_text
from barwright.tasks.sections import with_sections

MOST_LISTED = 4_000

Progress = Callable[[str, int, int], None]


def _silent(_what: str, _done: int, _of: int) -> None:
    """Tells nobody."""


@dataclass(frozen=True, slots=True)
class PartCapacity:
    """What one part can give.

    `measures` is the exact number of legal measures of its meters, `excerpts` of different excerpts, `items` of those
    that give an item; `ideas` of items that one form can hold. `exact` is False where more than MOST_LISTED questions
    exist: then the last three are lower bounds.
    """

    number: int
    ask: str
    wanted: int
    measures: int
    excerpts: int
    items: int
    ideas: int
    exact: bool

    @property
    def sections(self) -> int:
        """How many sections can have this part without a common excerpt."""
        return self.items // self.wanted


def capacity(path: Path, *, progress: Progress = _silent) -> tuple[Blueprint, tuple[PartCapacity, ...]]:
    """The capacity of every part of a blueprint file; BlueprintError with all its faults.

    `progress` is told what is looked at, how many so far, and of how many at most.
    """
    blueprint, _ = read_blueprint(read_text(path), str(path))
    blueprint = with_sections(blueprint, path)
    return blueprint, tuple(
        part_capacity(number, plan_of(part, blueprint), progress=progress)
        for number, part in enumerate(blueprint.part, start=1)
    )


def part_capacity(number: int, plan: Plan, *, enough: int | None = None, progress: Progress = _silent) -> PartCapacity:
    """Counts by listing every question and building its item; with `enough` it stops at so many items."""
    space = plan.space
    measures = sum(measure_count(space.alphabet, m, space.conventions, counted=space.counted) for m in space.meters)
    excerpts: set[str] = set()
    able: set[str] = set()
    ideas: set[str] = set()
    questions = plan.ask.listed(space)
    looked = 0
    for looked, question in enumerate(islice(questions, MOST_LISTED), start=1):
        text = format_excerpt(question.excerpt)
        idea = _idea(plan, text, question.target)
        excerpts.add(text)
        if (text not in able or idea not in ideas) and made_item(
            plan, question, fewer=int(plan.fewer_choices), tally=Tally(), rng=Random(text)
        ):
            able.add(text)
            ideas.add(idea)
        if enough is not None and len(ideas) >= enough:
            break
        progress(f"part {number}, questions", looked, MOST_LISTED)
    if looked < MOST_LISTED:
        progress(f"part {number}, questions", looked, looked)
    exact = next(questions, None) is None
    counts = (measures, len(excerpts), len(able), len(ideas))
    return PartCapacity(number, plan.ask.id, plan.items, *counts, exact)


def _idea(plan: Plan, excerpt: str, target: str) -> str:
    """What makes two items of one form different; what a number says is one question for each number and meter."""
    return f"{excerpt.split(' ')[0]} {target}" if plan.ask.id == "what-the-numbers-say" else excerpt


def capacity_table(parts: tuple[PartCapacity, ...], sections: int) -> tuple[str, ...]:
    """A table for the teacher: one line a part, and a last line that says what binds."""
    lines = [f"{'part':<5}{'ask':<28}{'measures':>10}{'excerpts':>10}{'items':>10}{'a form':>8}{'sections':>10}"]
    for part in parts:
        least = "" if part.exact else "+"
        lines.append(
            f"{part.number:<5}{part.ask:<28}{part.measures:>10,}{f'{part.excerpts:,}{least}':>10}"
            f"{f'{part.items:,}{least}':>10}{part.wanted:>8}{f'{part.sections:,}{least}':>10}"
        )
    tight = min(parts, key=lambda p: p.sections)
    enough = tight.sections >= sections
    lines.append(
        f"{sections} sections need no common excerpt."
        if enough
        else f"Part {tight.number} ({tight.ask}) serves {tight.sections} sections without a common excerpt, and "
        f"there are {sections}: some excerpts will be shared."
    )
    if not all(p.exact for p in parts):
        lines.append(f"+ at least so many: only {MOST_LISTED:,} questions were built. Measures are exact.")
    return tuple(lines)


def capacity_faults(blueprint: Blueprint, numbers: tuple[int, ...]) -> Iterator[Fault]:
    """A fault for every part that cannot fill even one form; `numbers` are those of the parts in the file, from 0."""
    for number, part in zip(numbers, blueprint.part, strict=True):
        plan = plan_of(part, blueprint)
        found = part_capacity(number + 1, plan, enough=plan.items)
        if found.ideas < plan.items:
            text = (
                f"items = {plan.items}: only {found.ideas} different {plan.ask.id!r} items can be made from what is "
                "taught: ask for fewer, teach more elements or meters, or allow longer excerpts with `measures`"
            )
            yield ("part", number, "items"), text
