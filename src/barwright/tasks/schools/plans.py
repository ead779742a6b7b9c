"""The plan of one school: that of the district with the school's sections and seed, in the school's own folder.

So whoever teaches there can go on alone with it: retakes, another section, other questions.
"""

import os
from pathlib import Path

from barwright.blueprint.parsing import examined, told
from barwright.errors import BarwrightError, BlueprintError
from barwright.showing import shown
from barwright.tasks.excerpts import with_excerpts
from barwright.tasks.files import read_text, write_new
from barwright.tasks.plan.editing import Put, edited
from barwright.tasks.schools.reading import School

SECTION_KEYS = ("sections_file", "sections_column", "sections_where")


class Plan:
    """The plan that all schools have, read once; `wanted`: the classes that it asks of its own class list."""

    def __init__(self, path: Path) -> None:
        self.path, self.text = path, read_text(path)
        reading = examined(self.text, str(path))
        if reading.blueprint is None or reading.faults:
            raise BlueprintError(told(reading.faults, reading.source))
        self.blueprint = with_excerpts(reading.blueprint, path)
        self.wanted = dict(self.blueprint.sections_where)

    def put_into(self, folder: Path, school: School, seed: int | None) -> Path:
        """Writes the school's plan into its folder, and the file of rhythms that it names; the path of the plan.

        Nothing is written where it is so already. OutputError if the system refuses.
        """
        own = self.blueprint.seed if seed is None else seed
        changes = [Put((key,), None) for key in SECTION_KEYS]
        changes += [Put(("sections",), list(school.sections)), Put(("seed",), school.seed(own))]
        if self.blueprint.avoid is not None:
            changes.append(Put(("avoid",), os.path.relpath(self.path.parent / self.blueprint.avoid, folder)))
        own_text = edited(self.text, changes, str(self.path)).encode()
        write_new(folder / self.path.name, own_text, replace=True)
        if self.blueprint.excerpts_file is not None:
            rhythms = read_text(self.path.parent / self.blueprint.excerpts_file, kind="list of rhythms")
            write_new(folder / self.blueprint.excerpts_file, rhythms.encode(), replace=True)
        return folder / self.path.name


def plans_of(paths: list[Path]) -> tuple[Plan, ...]:
    """The plans of these files; BarwrightError with the faults of one, and for two whose quizzes share a folder."""
    names: dict[str, Path] = {}
    for path in paths:
        other = names.setdefault(path.stem.casefold(), path)
        if other != path:
            raise BarwrightError(f"{other} and {path} would be quizzes of one name {shown(path.stem)}: rename one")
    return tuple(Plan(path) for path in names.values())
