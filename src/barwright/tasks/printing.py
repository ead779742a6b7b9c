"""Forms as PDF files: for each form the quiz without answers, and its key."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barwright.engrave.font import load_font
from barwright.items.form import Form
from barwright.paper.forms import PaperSize, key_data, quiz_data
from barwright.tasks.form_folders import form_folder
from barwright.tasks.paper_drawings import form_drawings
from barwright.tasks.progress import Progress
from barwright.wording.on_paper import paper_form
from barwright.wording.worded import WordedForm

QUIZ_PDF = "quiz.pdf"
KEY_PDF = "key.pdf"
PDFS = (QUIZ_PDF, KEY_PDF)


@dataclass(frozen=True, slots=True)
class Printed:
    """Which forms are printed, and on which sheets."""

    forms: Sequence[Form] = ()
    paper: PaperSize = "letter"


NOTHING_PRINTED = Printed()


def printed_files(
    printed: Printed,
    worded: Mapping[tuple[str, int], WordedForm],
    music_font: str,
    *,
    progress: Progress,
) -> dict[str, bytes]:
    """The PDF files by their paths inside the quiz folder; `worded` by section and retake.

    Raises FontError if the font lacks a glyph, TemplateError if a text is missing.
    """
    if not printed.forms:
        return {}
    from barwright.paper.typesetting import typeset_all  # a large library, which a quiz without paper never needs

    pages: dict[str, Mapping[str, object]] = {}
    for form in printed.forms:
        on_paper = paper_form(form, worded[form.section, form.retake])
        drawings = form_drawings(on_paper, load_font(music_font), form.items[0].item.conventions)
        folder = form_folder(form)
        pages[f"{folder}/{QUIZ_PDF}"] = quiz_data(on_paper, drawings, printed.paper)
        pages[f"{folder}/{KEY_PDF}"] = key_data(on_paper, drawings, printed.paper)
    files: dict[str, bytes] = {}
    for done, (path, pdf) in enumerate(zip(pages, typeset_all(pages.values()), strict=True), start=1):
        files[path] = pdf
        progress("printed files", done, len(pages))
    return files


def one_variant(forms: Sequence[Form]) -> int:
    """How many questions of a form have variants, of which paper shows the first to everybody; the most of any form."""
    return max((len({placed.number for placed in form.items if placed.pool}) for form in forms), default=0)
