"""How long it takes to print forms, and how many pages they have.

    python tests/benchmarks/bench_paper.py [FORMS]

Prints for each demo unit and both sheet sizes the pages of the quiz and the questions on a page, then the seconds of
quiz and key of 60 forms (aim: under 20 s, and wording and drawing are part of it). Nothing here is a test.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from barwright.blueprint.parsing import read_blueprint
from barwright.engrave.font import load_font
from barwright.forms.assembly import made_forms
from barwright.paper.forms import key_data, quiz_data
from barwright.paper.typesetting import typeset_all
from barwright.tasks.paper_drawings import form_drawings
from barwright.wording.items_in_words import worded_form
from barwright.wording.on_paper import paper_form
from paper.printed import BLUEPRINTS, UNITS, Pdf, all_units_in_one, first_form, on_paper

DIFFERENT = 6  # forms that are printed again and again, each time with another code


def pages() -> None:
    """A line for each unit and sheet size."""
    forms = {name: first_form(name) for name in UNITS} | {"all units in one": all_units_in_one()}
    for name, form in forms.items():
        for paper in ("letter", "a4"):
            made = on_paper(form, paper)
            quiz, key, questions = Pdf(made.quiz).pages, Pdf(made.key).pages, len(made.worded.items)
            each = f"{questions / quiz:.1f} questions on a page, {quiz / questions:.2f} pages a question"
            print(f"{name}, {paper}: {questions} questions on {quiz} pages ({each}), key {key}")


def seconds(count: int) -> None:
    """How long quiz and key of so many forms take."""
    path = BLUEPRINTS / f"{UNITS[1]}.toml"
    blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
    some = blueprint.model_copy(update={"sections": [f"Period {n}" for n in range(1, DIFFERENT + 1)]})
    forms, font = [each.form for each in made_forms(some)], load_font("Bravura")
    screens = [worded_form(form) for form in forms]
    wall, cpu = time.perf_counter(), time.process_time()
    files = []
    for n in range(count):
        form, screen = forms[n % DIFFERENT], screens[n % DIFFERENT]
        worded = paper_form(form, screen)
        drawings = form_drawings(worded, font, form.items[0].item.conventions)
        files += [{**make(worded, drawings, "letter"), "form": f"Form {n}"} for make in (quiz_data, key_data)]
    assert len(list(typeset_all(files))) == 2 * count
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    print(f"{count} forms, quiz and key: {wall:.1f} s by the clock, {cpu:.1f} s of a processor (aim: under 20 s)")


if __name__ == "__main__":
    pages()
    seconds(int(sys.argv[1]) if len(sys.argv) > 1 else 60)
