"""Forms of the demo blueprints, with their pictures, and packages unpacked for the browser."""

from pathlib import Path

from barwright.blueprint.parsing import read_blueprint
from barwright.engrave.draw import drawn
from barwright.engrave.font import DEFAULT, load_font
from barwright.qti import written
from barwright.rhythm.conventions import Conventions
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import (
    Picture,
    Pictures,
    WordedForm,
    figures_of,
)
from made_once import forms_once

BLUEPRINTS = sorted((Path(__file__).parents[2] / "shared" / "blueprints").glob("*.toml"))


def demo_form(path: Path) -> WordedForm:
    """The form of the first section."""
    blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
    return worded_form(forms_once(blueprint.model_copy(update={"sections": blueprint.sections[:1]}))[0].form)


def drawn_pictures(form: WordedForm) -> Pictures:
    """Every figure of a form as it is drawn for students."""
    font = load_font(DEFAULT)
    made = {figure: drawn(figure, font, Conventions()) for figure in figures_of(form)}
    return {figure: Picture(f"f{n}.png", *told) for n, (figure, told) in enumerate(made.items())}


def unpack(form: WordedForm, pictures: Pictures, folder: Path) -> None:
    """Writes the files of the QTI 3.0 package of a form."""
    for entry in written(form, pictures, standard="qti30", shape="quiz"):
        path = folder / entry.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(entry.data)
