"""The teacher's own rhythms in a file beside the blueprint: one a line, `#` begins a remark."""

from pathlib import Path

from barwright.blueprint.blueprint import MOST_EXCERPTS, Blueprint
from barwright.blueprint.music import rhythm_faults
from barwright.errors import BlueprintError
from barwright.tasks.files import read_text


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
