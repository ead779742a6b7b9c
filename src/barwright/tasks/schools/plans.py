"""The plan of one school: that of the district with the school's sections and seed, in the school's own folder.

So whoever teaches there can go on alone with it: retakes, another section, other questions.
"""

import os
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.errors import BarwrightError
from barwright.showing import shown
from barwright.tasks.excerpts import avoided
from barwright.tasks.files import read_text, write_new
from barwright.tasks.make import sound_plan
from barwright.tasks.packing import Order
from barwright.tasks.plan.editing import Put, edited
from barwright.tasks.schools.reading import School

SECTION_KEYS = ("sections_file", "sections_column", "sections_where")


class SharedPlan:
    """The plan that all schools have, read once; `wanted`: the classes that it asks of its own class list."""

    def __init__(self, path: Path, order: Order) -> None:
        self.path, self.text = path, read_text(path)
        self.blueprint, self.source = sound_plan(path, order)
        self.seed = self.blueprint.seed if order.seed is None else order.seed
        self.wanted = dict(self.blueprint.sections_where)
        self.never = avoided(self.blueprint, path)

    def of(self, school: School) -> Blueprint:
        """The plan of a school, with the first of its seeds: what is read of the text that `put_into` writes."""
        own = {"sections": list(school.sections), "sections_file": None, "seed": school.seeds(self.seed)[0]}
        return self.blueprint.model_copy(update=own)

    def put_into(self, folder: Path, school: School, seed: int) -> None:
        """Writes the school's plan with this seed into its folder, and the file of rhythms that it names.

        OutputError if the system refuses.
        """
        changes = [Put((key,), None) for key in SECTION_KEYS]
        changes += [Put(("sections",), list(school.sections)), Put(("seed",), seed)]
        if self.blueprint.avoid is not None:
            changes.append(Put(("avoid",), os.path.relpath(self.path.parent / self.blueprint.avoid, folder)))
        own = edited(self.text, changes, str(self.path))
        write_new(folder / self.path.name, own.encode(), replace=True)
        if self.blueprint.excerpts_file is not None:
            rhythms = read_text(self.path.parent / self.blueprint.excerpts_file, kind="list of rhythms")
            write_new(folder / self.blueprint.excerpts_file, rhythms.encode(), replace=True)


def plans_of(paths: list[Path], order: Order) -> tuple[SharedPlan, ...]:
    """The plans of these files; BlueprintError with the faults of one."""
    return tuple(SharedPlan(path, order) for path in paths)


def check_names(paths: list[Path]) -> None:
    """BarwrightError for two plans whose quizzes would share a folder."""
    names: dict[str, Path] = {}
    for path in paths:
        other = names.setdefault(path.stem.casefold(), path)
        if other is not path:
            raise BarwrightError(f"{other} and {path} would be quizzes of one name {shown(path.stem)}: rename one")
