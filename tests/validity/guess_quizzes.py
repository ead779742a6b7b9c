"""The quizzes that are guessed at: every blueprint of this folder, made by the engine that `make` uses."""

from collections.abc import Iterator
from pathlib import Path

from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.forms.seeing import seen_form
from barwright.guesser import SeenItem

BLUEPRINTS = Path(__file__).parent / "blueprints"
FIRST_YEARS = 4  # blueprints named after grades up to this one are of beginners


def blueprint_paths() -> list[Path]:
    """The blueprints in the order of their names."""
    return sorted(BLUEPRINTS.glob("*.toml"))


def seen_quizzes(paths: list[Path]) -> Iterator[tuple[str, list[tuple[SeenItem, ...]]]]:
    """Name of each quiz and its forms as a student sees them who reads neither stem nor figure."""
    for path in paths:
        blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
        yield path.stem, [seen_form(made.form) for made in made_forms(blueprint)]


def grade_of(quiz: str) -> int:
    """The grade in the name of a blueprint."""
    return int(quiz.split("-")[1])
