"""What lies in a quiz folder of a school beside the quiz: of what it was made, and what is told of it.

It takes its place together with the quiz, or not at all; so a folder that has it is whole, and is not made again as
long as it would be made of the same plan, sections, seed and options by the same version.
"""

import json
from dataclasses import asdict, dataclass, fields
from hashlib import sha256
from pathlib import Path

from barwright import __version__
from barwright.blueprint.blueprint import Blueprint
from barwright.inputs import content_of
from barwright.tasks.form_folders import RECORD
from barwright.tasks.packing import Order

NAME = "made.json"
FORMAT = "barwright-made"
MOST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class State:
    """`of`: a hash of all that the quiz was made of. `forms`, `items`: how many. `short`: what is bent in a few words,
    and `bent` in sentences; both empty where nothing is.
    """

    of: str
    forms: int
    items: int
    short: str
    bent: tuple[str, ...]

    def text(self) -> bytes:
        """The file."""
        return (json.dumps({"format": FORMAT, **asdict(self)}, sort_keys=True, ensure_ascii=False) + "\n").encode()


def hash_of(blueprint: Blueprint, never: frozenset[str], order: Order) -> str:
    """A hash of all that a quiz is made of: plan, sections, seed, what it avoids, the options, and the version."""
    options = [order.standards, order.shapes, order.paper, order.music_font, order.allow_repeats]
    made_of = [__version__, blueprint.model_dump(mode="json"), sorted(never), options]
    return sha256(json.dumps(made_of, sort_keys=True).encode()).hexdigest()


def state_in(folder: Path) -> State | None:
    """The state of a folder that holds a whole quiz; None for any other, and for a file of others' making."""
    try:
        told = json.loads(content_of(folder / NAME, MOST_BYTES))
    except (OSError, ValueError):
        return None
    if not isinstance(told, dict) or told.get("format") != FORMAT or not (folder / RECORD).is_file():
        return None
    values = [told.get(field.name) for field in fields(State)]
    of, forms, items, short, bent = values
    known = isinstance(of, str) and isinstance(forms, int) and isinstance(items, int) and isinstance(short, str)
    if not known or not isinstance(bent, list) or not all(isinstance(line, str) for line in bent):
        return None
    return State(str(of), int(str(forms)), int(str(items)), str(short), tuple(bent))
