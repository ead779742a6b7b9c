"""A quiz folder as it was asked: its forms, in words, and by every name that reports may use for what is in them."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from string import ascii_uppercase

from barwright.asks.pieces import Placing, place_name, placing_of
from barwright.errors import ResultsError
from barwright.items.form import Form, FormItem
from barwright.items.item import Choice
from barwright.results.answers import Kept
from barwright.results.reading.asked import (
    AskedOption,
    AskedPlace,
    AskedQuestion,
    AskedSheet,
    How,
)
from barwright.results.reading.compared_texts import plain
from barwright.tasks.form_folders import RECORD
from barwright.tasks.record import (
    WHOLE,
    Left,
    read_record,
    read_record_text,
    recorded_left,
    recorded_pictures,
)
from barwright.tasks.standing import label
from barwright.wording.items_in_words import worded_form
from barwright.wording.language import words_for
from barwright.wording.own_counts import in_system
from barwright.wording.worded import (
    WordedChoice,
    WordedForm,
    WordedItem,
    numbered,
)


@dataclass(frozen=True, slots=True)
class AskedQuiz:
    """The forms of a quiz folder, the same in words, and the same as reports may name them; all in one order."""

    folder: Path
    forms: tuple[Form, ...]
    worded: tuple[WordedForm, ...]
    sheets: tuple[AskedSheet, ...]

    @property
    def left(self) -> Kept:
        """What the versions with fewer choices have on offer, as `administered` wants it."""
        return {
            (sheet.ident, question.item): frozenset(o.answer for o in question.options if o.ident in question.left)
            for sheet in self.sheets
            for question in sheet.questions
            if question.left
        }

    @property
    def title(self) -> str:
        """The title of the quiz."""
        return self.forms[0].title


def asked_quiz(folder: Path) -> AskedQuiz:
    """The quiz of a folder that `make` wrote; BarwrightError if it has no record, or one that was changed."""
    path = folder / RECORD
    if folder.is_file():
        raise ResultsError(
            f"{folder} is a file: give the quiz folder that make wrote, e.g. out/unit-3, and then the answers"
        )
    if not path.is_file():
        raise ResultsError(
            f"{path} is missing: give the quiz folder that make wrote, e.g. out/unit-3, and then the answers"
        )
    text = read_record_text(path)
    forms = read_record(text, str(path))
    named = Recorded(recorded_pictures(text, str(path)), recorded_left(text, str(path)))
    worded = tuple(map(worded_form, forms))
    sheets = tuple(_sheet(form, words, named) for form, words in zip(forms, worded, strict=True))
    return AskedQuiz(folder, forms, worded, sheets)


@dataclass(frozen=True, slots=True)
class Recorded:
    """What a record tells beside its forms, by form and item: files of pictures, and what versions leave."""

    pictures: Mapping[tuple[str, str], Mapping[str, str]]
    left: Mapping[tuple[str, str], Left]


def _sheet(form: Form, words: WordedForm, recorded: Recorded) -> AskedSheet:
    questions = tuple(
        _question(placed, item, variant, form, recorded)
        for placed, (_, variant, item) in zip(form.items, numbered(words), strict=True)
    )
    return AskedSheet(form.ident, form.section, form.retake, label(form), questions)


def _question(placed: FormItem, item: WordedItem, variant: str, form: Form, recorded: Recorded) -> AskedQuestion:
    content, whole = placed.item, (form.ident, item.item_id)
    files, left = recorded.pictures.get(whole, {}), recorded.left.get(whole, WHOLE)
    placing = placing_of(content)
    parts = list(placing.texts) if placing is not None else [c.answer.text for c in _shown(placed)]
    typed = {plain(s): answer for choice, answer in zip(item.choices, parts, strict=True) for s in choice.spellings}
    options = tuple(
        AskedOption(choice.ident, part, _names(choice, place, files))
        for place, (choice, part) in enumerate(zip(item.choices, parts, strict=True))
    )
    return AskedQuestion(
        ident=item.ident,
        item=content.id,
        number=placed.number,
        variant=variant,
        title=plain(item.title),
        stem=plain(" ".join(item.stem)),
        interaction=item.interaction,
        kind=content.choices[0].answer.kind,
        options=() if item.interaction == "entry" else options,
        keys=frozenset(key.answer.text for key in content.keys),
        mixed=form.shuffle and not item.pinned,
        places=() if placing is None else _places(placing),
        typed=typed,
        own=_own_counting(placed, form) if content.choices[0].answer.kind == "row" else {},
        wholes={} if placing is None else _wholes(placing, placed),
        left=frozenset(left.fewer_choices),
        left_out=not left.fewer_items,
    )


def _own_counting(placed: FormItem, form: Form) -> dict[str, str]:
    """What the class writes otherwise than the counting system, in any language of the form; the first one's goes."""
    own: dict[str, str] = {}
    for code in (*reversed(form.also), form.language):
        own |= in_system(placed.item.conventions.counting, words_for(code, form.wording))
    return own


def _shown(placed: FormItem) -> list[Choice]:
    """The choices in the order of the form."""
    return [placed.item.choices[index] for index in placed.order]


def _places(placing: Placing) -> tuple[AskedPlace, ...]:
    return tuple(AskedPlace(place_name(n, slot=True), slot.measure) for n, slot in enumerate(placing.slots))


def _wholes(placing: Placing, placed: FormItem) -> dict[tuple[str, ...], str]:
    """Every foreseen answer that is put together, place by place, with its canonical text."""
    filled = {tuple(map(place_name, placing.filled[index])): index for index in placed.order}
    return {idents: placed.item.choices[index].answer.text for idents, index in filled.items()}


def _names(choice: WordedChoice, place: int, files: Mapping[str, str]) -> dict[How, str]:
    names: dict[How, str] = {
        "identifier": choice.ident,
        "label": plain(choice.label),
        "text": plain(choice.text),
        "description": plain(choice.figure.alt) if choice.figure else "",
        "file": files.get(choice.ident, "").lower(),
        "letter": ascii_uppercase[place].lower() if place < len(ascii_uppercase) else "",
    }
    return {how: name for how, name in names.items() if name}
