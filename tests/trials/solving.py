"""Prints a trial quiz to be solved on paper before looking at the key:  python tests/trials/solving.py FILE [--key]

Without `--key` only what a student sees is printed; with it the key, and every wrong answer with its hint.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.items.form import FormItem
from barwright.rhythm.text import format_excerpt
from barwright.wording.items_in_words import worded_item


def sheet(placed: FormItem, *, key: bool) -> Iterator[str]:
    """One item as lines."""
    item, shown = placed.item, worded_item(placed, "en-US")
    signed = format_excerpt(item.excerpt)
    hidden = item.ask == "time-signature-for-rhythm"
    seen = shown.figure is not None
    yield f"{placed.number}. {' '.join(shown.stem)} {shown.note}"
    yield f"   {signed.split(' ', 1)[1] if hidden else signed}" if seen or key else "   (no figure)"
    for choice, index in zip(shown.choices, placed.order, strict=True):
        answer = item.choices[index].answer.text
        if key:
            yield f"   {'=' if choice.key else ' '} {choice.text or answer}  [{choice.feedback}] {choice.misreading}"
        elif shown.interaction != "entry":
            yield f"   - {choice.text or answer}"
    if key and shown.general_feedback:
        yield f"   general: {shown.general_feedback}"


def sheets(path: Path, *, key: bool) -> Iterator[str]:
    """All items of the first form of a blueprint."""
    blueprint, _ = read_blueprint(path.read_text(encoding="utf-8"), str(path))
    for placed in made_forms(blueprint)[0].form.items:
        yield from sheet(placed, key=key)


if __name__ == "__main__":
    print("\n".join(sheets(Path(sys.argv[1]), key="--key" in sys.argv)))
