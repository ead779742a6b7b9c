"""Tables of answers to a version of a form with fewer choices or fewer items, as the name of a file says it.

Identifiers, labels, texts and numbers are the form's own, so that nothing need be known of a version to read those.
Letters and places that a platform counts by itself are counted among what the version has.
"""

from collections.abc import Sequence
from dataclasses import replace
from string import ascii_lowercase

from barwright.blueprint.names import folder_name
from barwright.items.accommodations import accommodation_folder
from barwright.results.reading.asked import AskedOption, AskedQuestion, AskedSheet, How


def of_version(name: str, sheets: Sequence[AskedSheet], *, paper: bool = False) -> list[AskedSheet]:
    """The forms as the version has them that a file is named after, as `period-1-fewer-choices.csv`; else whole.

    On paper letters and numbers are the form's in every version.
    """
    words = folder_name(name)
    if accommodation_folder("fewer_choices") in words:
        sheets = [replace(sheet, fewer=True) for sheet in sheets]
    if paper:
        return [*sheets]
    if accommodation_folder("fewer_choices") in words:
        sheets = [replace(sheet, questions=tuple(map(_with_choices, sheet.questions))) for sheet in sheets]
    if accommodation_folder("fewer_items") in words:
        sheets = [
            replace(sheet, questions=tuple(question for question in sheet.questions if not question.left_out))
            for sheet in sheets
        ]
    return [sheet for sheet in sheets if sheet.questions]


def _with_choices(question: AskedQuestion) -> AskedQuestion:
    if not question.left:
        return question
    options = [option for option in question.options if option.ident in question.left]
    return replace(question, options=tuple(map(_lettered, options, ascii_lowercase)))


def _lettered(option: AskedOption, letter: str) -> AskedOption:
    names: dict[How, str] = {how: letter if how == "letter" else text for how, text in option.names.items()}
    return replace(option, names=names)
