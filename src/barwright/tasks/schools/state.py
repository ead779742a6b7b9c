"""What lies in a quiz folder of a school beside the quiz: of what it was made, and what is told of it.

It takes its place together with the quiz, or not at all; so a folder that has it is whole, and is not made again as
long as it would be made of the same plan, sections, seed and options by the same version.
"""

import json
from hashlib import sha256
from pathlib import Path
from typing import Literal

from barwright import __version__
from barwright.blueprint.blueprint import Blueprint, Door
from barwright.inputs import content_of
from barwright.tasks.form_folders import RECORD
from barwright.tasks.packing import Order

NAME = "made.json"
MOST_BYTES = 1_000_000


class State(Door):
    """What the file holds.

    `of`: a hash of all that the quiz was made of, with the first of the school's seeds; `seed`: the one it has, since
    others may have been tried. `school`: its name, empty where the quiz is for none. `forms` and `items`: how many.
    `short`: what is bent in a few words, and `bent` in sentences; both empty where nothing is.
    """

    format: Literal["barwright-made"] = "barwright-made"
    of: str
    seed: int
    school: str
    forms: int
    items: int
    short: str
    bent: list[str]

    def text(self) -> bytes:
        """The file."""
        return (json.dumps(self.model_dump(), sort_keys=True, ensure_ascii=False) + "\n").encode()


def hash_of(blueprint: Blueprint, never: frozenset[str], order: Order) -> str:
    """A hash of all that a quiz is made of: plan, sections, seed, what it avoids, the options, and the version."""
    options = [order.standards, order.shapes, order.paper, order.music_font, order.allow_repeats, order.accommodations]
    made_of = [__version__, blueprint.model_dump(mode="json"), sorted(never), options]
    return sha256(json.dumps(made_of, sort_keys=True).encode()).hexdigest()


def state_in(folder: Path) -> State | None:
    """The state of a folder that holds a whole quiz; None for any other, and for a file of others' making."""
    try:
        state = State.model_validate_json(content_of(folder / NAME, MOST_BYTES))
    except (OSError, ValueError):
        return None
    return state if (folder / RECORD).is_file() else None
