"""Claims as sentences: a claim's text is its kind and then its numbers, e.g. `fits-not 4 3` (see items/model.py)."""

from fractions import Fraction

from barwright.errors import TemplateError
from barwright.items.model import Item
from barwright.rhythm.values import NAMES
from barwright.wording.language import Language
from barwright.wording.numbers import amount, number_text, unit_names
from barwright.wording.scene import Scene


def note_names(number: Fraction, words: Language) -> tuple[str, str]:
    """Names, one and several, of the note that a bottom number stands for: 4 is the quarter note.

    Raises TemplateError for a number that stands for no note.
    """
    if not number or 1 / number not in NAMES:
        known = ", ".join(str(1 / plain) for plain in NAMES)
        raise TemplateError(f"bottom number {str(number)!r} stands for no note: use {known}")
    return words.pair("words", f"note.{NAMES[1 / number]}")


def claim_text(text: str, item: Item, scene: Scene, words: Language) -> str:
    """The claim as a sentence; raises TemplateError for a kind that the language has no sentence for."""
    kind, *rest = text.split()
    numbers = [Fraction(number) for number in rest]
    beats = unit_names(item.excerpt.meter, item.conventions, words)
    names: dict[str, object] = {}
    if kind in ("fits", "fits-not"):
        names = {"lasts": amount(numbers[0], beats, words), "holds_number": number_text(numbers[1])}
    elif kind == "adds-up":
        names = {"amount": amount(numbers[0], note_names(numbers[1], words), words)}
    elif kind == "stands-for":
        names = {"unit": note_names(numbers[0], words)[0]}
    elif numbers:
        beat = words.pair("words", "number.beat")
        names = {"number": number_text(numbers[0]), "amount": amount(numbers[0], beat, words)}
    return words.text("claims", kind, {**scene, **names})
