"""The teacher's own rhythms in a file beside the blueprint, one a line, `#` begins a remark; and those to avoid."""

from pathlib import Path

from barwright.blueprint.blueprint import MOST_EXCERPTS, Blueprint
from barwright.blueprint.music import rhythm_faults
from barwright.errors import BarwrightError, BlueprintError
from barwright.rhythm.text import format_excerpt
from barwright.tasks.files import read_text
from barwright.tasks.record import read_record, read_record_text


def with_excerpts(blueprint: Blueprint, path: Path) -> Blueprint:
    """The blueprint with the rhythms of its `excerpts_file`, which lies beside the blueprint file, after its own.

    Raises BarwrightError naming the file, and each line with a fault and its mend.
    """
    if blueprint.excerpts_file is None:
        return blueprint
    file = path.parent / blueprint.excerpts_file
    lines = enumerate(read_text(file, kind="list of rhythms").splitlines(), start=1)
    rhythms = {line: rhythm for line, text in lines if (rhythm := text.partition("#")[0].strip())}
    numbers, texts = tuple(rhythms), list(rhythms.values())
    if faults := list(rhythm_faults(blueprint, texts)):
        raise BlueprintError([f"{file}, line {numbers[number]}: {fault}" for number, fault in faults])
    every = [*blueprint.excerpts.rhythms, *texts]
    if not texts or len(every) > MOST_EXCERPTS:
        have = f"holds {len(texts)} rhythms" if texts else "holds no rhythm"
        raise BlueprintError([f"{file}: {have}: write 1 to {MOST_EXCERPTS}, one a line, such as 4/4 q. e q q"])
    return blueprint.model_copy(update={"excerpts": blueprint.excerpts.model_copy(update={"rhythms": every})})


def avoided(blueprint: Blueprint, path: Path) -> frozenset[str]:
    """The excerpts of the record that a blueprint wants to avoid; BarwrightError if it is not where `avoid` says."""
    if blueprint.avoid is None:
        return frozenset()
    record = path.parent / blueprint.avoid
    if not record.is_file():
        raise BarwrightError(
            f"{path}: avoid = {blueprint.avoid!r}: there is no such record (from the blueprint's folder)"
        )
    forms = read_record(read_record_text(record), str(record))
    return frozenset(format_excerpt(placed.item.excerpt) for form in forms for placed in form.items)
