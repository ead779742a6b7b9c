"""Six classes, grade 4 to 9, as a teacher would describe them (district scope-and-sequence documents)."""

from random import Random

from barwright.asks.drawn_excerpts import drawn_excerpt
from barwright.blueprint.blueprint import Blueprint, plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.rhythm.excerpt import Excerpt

ELEMENTS = {
    "grade 4": """
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["whole", "half", "quarter"]
dots = ["half"]
ties = true
""",
    "grade 5": """
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["whole", "half", "quarter", "eighth"]
dots = ["half", "quarter"]
ties = true
""",
    "grade 6": """
meters = ["2/4", "3/4", "4/4", "2/2", "3/8"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["whole", "half", "quarter", "eighth"]
dots = ["half", "quarter", "eighth"]
triplets = ["eighth"]
ties = true
syncopation = true
""",
    "grade 7": """
meters = ["2/4", "3/4", "4/4", "2/2", "6/8"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["whole", "half", "quarter", "eighth", "sixteenth"]
dots = ["half", "quarter", "eighth"]
rest_dots = ["quarter"]
triplets = ["eighth"]
ties = true
syncopation = true
""",
    "grade 8": """
meters = ["3/4", "4/4", "2/2", "6/8", "9/8", "5/8"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["whole", "half", "quarter", "eighth", "sixteenth"]
dots = ["half", "quarter", "eighth"]
rest_dots = ["quarter"]
triplets = ["eighth", "quarter"]
ties = true
syncopation = true
""",
    "grade 9": """
meters = ["4/4", "6/8", "9/8", "12/8", "7/8", "2+3/8"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["whole", "half", "quarter", "eighth", "sixteenth"]
dots = ["half", "quarter", "eighth"]
double_dots = ["half"]
rest_dots = ["quarter"]
triplets = ["eighth", "quarter"]
ties = true
syncopation = true
""",
}


def class_of(level: str, *, own: str = "", measures: int = 2) -> Blueprint:
    """The blueprint of a class of this level, its patterns those of the level; `own`: more lines of its elements."""
    text = (
        f'title = "{level}"\n[elements]{ELEMENTS[level]}{own or f"patterns = [{level!r}]"}\n'
        f'[[part]]\nfamily = "count-labeling"\nask = "counts-for-rhythm"\nitems = 1\nmeasures = {measures}\n'
    )
    return read_blueprint(text, f"{level}.toml")[0]


def lines(level: str, count: int, *, own: str = "", measures: int = 2, seed: int = 1) -> list[Excerpt]:
    """So many lines of measures as a quiz of this class draws them."""
    blueprint = class_of(level, own=own, measures=measures)
    space, rng = plan_of(blueprint.part[0], blueprint).space, Random(f"{level} {seed}")
    return [drawn_excerpt(space, rng) for _ in range(count)]
