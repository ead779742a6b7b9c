"""A form in the words of paper, with its drawings, as the data of the pages: plain values that a template sets.

Nothing of a text is markup there, so no text can change a page. The quiz's data holds nothing of keys or misreadings.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from itertools import chain
from typing import Literal

from barwright.asks import ASKS
from barwright.items.form import form_code
from barwright.paper.drawing import Drawing, ItemDrawings
from barwright.wording.language import Language, language
from barwright.wording.side_by_side import Said, choice_of, intro_of, note_of, paragraphs_of
from barwright.wording.worded import (
    WordedAnswer,
    WordedChoice,
    WordedFigure,
    WordedForm,
    WordedItem,
    numbered,
    worth,
)

PaperSize = Literal["letter", "a4"]
Data = dict[str, object]
Answering = Literal["letters", "line", "counts", "order"]
"""How a student answers on paper: letters to fill in, a line to write on, counts under the notes, letters in order."""


@dataclass(frozen=True, slots=True)
class PaperLook:
    """How a quiz is set otherwise than usual: how many times as large, how many times as thick its lines are, whether
    each question has a page of its own, and whether the answer strips stand on a sheet of their own.
    """

    zoom: float = 1
    thick: float = 1
    one_a_page: bool = False
    strips_apart: bool = False


USUAL_LOOK = PaperLook()
MOST_ROWS_APART = 14  # of a strip that is as large as the largest print
MOST_ROWS = 30  # of one answer strip, at 6.5 mm each; what is more goes on to the next page's
_NAMES = {"letter": "us-letter", "a4": "a4"}
_LABELS = ("name", "strip", "strip_number", "under", "offered")
_KEY_LABELS = ("key_how", "key_under", "number", "right", "points", "tells", "also", "order")


def answering(item: WordedItem) -> Answering:
    """How this item is answered on paper."""
    if item.interaction == "order":
        return "order"
    if item.interaction == "inline" or item.category == "write-counts":
        return "counts"
    return "line" if item.interaction == "entry" else "letters"


def quiz_data(
    form: WordedForm, drawings: Mapping[str, ItemDrawings], paper: PaperSize, look: PaperLook = USUAL_LOOK
) -> Data:
    """What quiz.pdf shows, by names that its template knows; `drawings` by the idents of items."""
    words = language(form.language)
    unequal = len({item.points for item in form.items}) > 1  # else the number of points says it all
    return {
        "kind": "quiz",
        **(asdict(look) if look != USUAL_LOOK else {}),
        **_head(form, words, paper),
        "title": form.title,
        "called": _called(form, words),
        "intro": _said(intro_of(form)),
        "labels": _labels(words, _LABELS),
        "items": [
            {
                **_item(number, item, drawings[item.ident]),
                "worth": words.text("paper", "worth", {"points": item.points}) if unequal else "",
            }
            for number, _, item in numbered(form)
        ],
        "strips": _strips(
            [_row(number, item) for number, _, item in numbered(form)],
            MOST_ROWS_APART if look.strips_apart else MOST_ROWS,
        ),
    }


def key_data(form: WordedForm, drawings: Mapping[str, ItemDrawings], paper: PaperSize) -> Data:
    """What key.pdf shows: the strip with every right answer, and what each wrong one tells."""
    words = language(form.language)
    rows = [{**_row(number, item), **_marked(item)} for number, _, item in numbered(form)]
    return {
        "kind": "key",
        **_head(form, words, paper),
        "title": f"{words.text('paper', 'key')}: {form.title}",
        "called": _called(form, words),
        "labels": _labels(words, (*_LABELS, *_KEY_LABELS)),
        "items": [_answers(number, item, drawings[item.ident]) for number, _, item in numbered(form)],
        "strips": _strips(rows),
    }


def drawn(drawing: Drawing, alt: str) -> Data:
    """A drawing and what it is called for who cannot see it."""
    lines = [[line.left_sp, line.right_sp, line.middle_sp, line.y_sp] for line in drawing.lines]
    size = {"width": drawing.width_sp, "height": drawing.height_sp, "line": drawing.line_sp}
    return {"svg": drawing.svg, **size, "alt": alt, "lines": lines}


def paper_name(paper: PaperSize) -> str:
    """The size of the sheet as the template names it."""
    return _NAMES[paper]


def _head(form: WordedForm, words: Language, paper: PaperSize) -> Data:
    questions, points = worth(form)
    code = form_code(form.ident)
    pages = {"number": "#", "pages": "%"}  # filled in by the template, which knows them
    return {
        "paper": paper_name(paper),
        "language": form.language,
        "form": f"{words.text('paper', 'form')} {code}",
        "count": words.text("paper", "count", {"questions": questions, "points": points}),
        "out_of": words.text("paper", "out_of", {"points": points}),
        "page": words.text("paper", "page", pages),
    }


def _called(form: WordedForm, words: Language) -> str:
    """The section, and the retake; empty for the only form of a quiz."""
    return f"{words.text('paper', 'section')}: {form.section}" if form.name else ""


def _labels(words: Language, names: Sequence[str]) -> dict[str, str]:
    return {name: words.text("paper", name) for name in names}


def _item(number: str, item: WordedItem, drawings: ItemDrawings) -> Data:
    how = answering(item)
    choices = item.choices if how in ("letters", "order") else ()
    paragraphs = paragraphs_of(item)
    return {
        "number": number,
        "called": item.title,
        "stem": _said(paragraphs[0]),
        "row": item.stem[1] if _row_shown(item) else "",
        "rules": _said(chain.from_iterable(paragraphs[2 if _row_shown(item) else 1 :])),
        "note": _said(note_of(item)),
        "figure": _figure(item.figure, drawings.figure),
        "counts": how == "counts",
        "offered": [choice.text for choice in item.choices] if item.interaction == "inline" else [],
        "choices": [_choice(place, item, drawings) for place in range(len(choices))],
    }


def _row_shown(item: WordedItem) -> bool:
    return "row-shown" in ASKS[item.category].cues


def _figure(figure: WordedFigure | None, drawing: Drawing | None) -> Data | None:
    return None if figure is None or drawing is None else drawn(drawing, figure.alt)


def _said(texts: Iterable[Said]) -> list[Data]:
    """Texts with their languages; the language is empty where it is that of the page."""
    return [{"text": said.text, "language": said.language} for said in texts]


def _choice(place: int, item: WordedItem, drawings: ItemDrawings) -> Data:
    choice, drawing = item.choices[place], drawings.choices[place] if drawings.choices else None
    return {
        "letter": choice.letter,
        "text": choice.text,
        "also": _said(choice_of(item, place)[1:]),
        "figure": _figure(choice.figure, drawing),
    }


def _row(number: str, item: WordedItem) -> Data:
    """A row of the answer strip: its circles, boxes to write letters in, or a line."""
    how = answering(item)
    letters = [choice.letter for choice in item.choices] if how == "letters" else []
    boxes = len(item.choices) if how == "order" else 0
    return {"number": number, "how": how, "letters": letters, "boxes": boxes, "right": []}


def _strips(rows: Sequence[Data], most_rows: int = MOST_ROWS) -> list[Sequence[Data]]:
    """The rows in strips about equally long."""
    strips = -(-len(rows) // most_rows)
    most = -(-len(rows) // strips)
    return [rows[start : start + most] for start in range(0, len(rows), most)]


def _letters(idents: Sequence[str], item: WordedItem) -> list[str]:
    letters = {choice.ident: choice.letter for choice in item.choices}
    return [letters[ident] for ident in idents]


def _marked(item: WordedItem) -> Data:
    """What the key strip shows: right letters, or the right answer as it is written."""
    how = answering(item)
    if how == "order":
        return {"right": _letters(item.sequence, item)}
    if how == "letters":
        return {"right": _letters([choice.ident for choice in item.choices if choice.key], item)}
    return {"right": [_right_text(item)]}


def _right_text(item: WordedItem) -> str:
    answers: Sequence[WordedAnswer | WordedChoice] = item.foreseen or item.choices
    return next(answer.text for answer in answers if answer.key)


def _answers(number: str, item: WordedItem, drawings: ItemDrawings) -> Data:
    """An item of the key: what is right, and what each foreseen wrong answer tells."""
    how = answering(item)
    answers: Sequence[WordedAnswer | WordedChoice] = item.foreseen or item.choices
    right, wrong = [], []
    for place, answer in enumerate(answers):
        shown = _answer(place, answer, item, drawings)
        if answer.key:
            right.append(shown)
        elif answer.why:
            wrong.append({**shown, "tells": answer.why})
    return {"number": number, "points": item.points, "how": how, "right": right, "wrong": wrong}


def _answer(place: int, answer: WordedAnswer | WordedChoice, item: WordedItem, drawings: ItemDrawings) -> Data:
    """An answer of the key: its letters, text or drawing, and other ways to write it that are right."""
    if isinstance(answer, WordedAnswer):
        in_order = item.interaction == "order"
        return {"letter": " ".join(_letters(answer.filled, item)) if in_order else "", "text": answer.text,
                "figure": None, "also": []}  # fmt: skip
    how, drawing = answering(item), drawings.choices[place] if drawings.choices else None
    return {
        "letter": answer.letter if how == "letters" else "",
        "text": answer.text,
        "figure": _figure(answer.figure, drawing),
        "also": list(answer.spellings[1:4]) if answer.key and ASKS[item.category].answer == "number" else [],
    }
