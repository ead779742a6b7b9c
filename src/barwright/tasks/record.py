"""The record of a quiz: which form has which items in which order, and what each choice stands for.

One JSON object a line: first a header, then a line a form item. `diagnose` and retakes read it; no platform gets it.
"""

import json
from collections.abc import Mapping, Sequence

from barwright import __version__
from barwright.items.forms import Form, FormItem
from barwright.items.model import item_content
from barwright.items.tags import tags_of

FORMAT = "barwright-record"
FORMAT_VERSION = 1


def record_text(title: str, forms: Sequence[Form], curriculum: Mapping[str, tuple[str, ...]]) -> str:
    """The record of these forms as text, one canonical JSON object a line."""
    header = {"format": FORMAT, "version": FORMAT_VERSION, "title": title, "made_by": f"barwright {__version__}"}
    lines = [header, *(_line(form, placed, curriculum) for form in forms for placed in form.items)]
    return "".join(json.dumps(line, sort_keys=True, ensure_ascii=False) + "\n" for line in lines)


def _line(form: Form, placed: FormItem, curriculum: Mapping[str, tuple[str, ...]]) -> dict[str, object]:
    item = placed.item
    shown = [item.choices[index] for index in placed.order]
    return {
        "section": form.section,
        "form": form.ident,
        "number": placed.number,
        "item": item.id,
        "points": placed.points,
        "content": item_content(item),
        "choices": [
            {"ident": f"c{n}", "answer": c.answer.text, "key": c.key, "misreadings": list(c.misreadings)}
            for n, c in enumerate(shown, start=1)
        ],
        "tags": tags_of(item, curriculum),
    }
