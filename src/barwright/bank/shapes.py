"""What pydantic finds in a line, in words that tell how to mend it."""

from typing import Any

from pydantic import ValidationError

from barwright.showing import cut, is_many, shown

COPY = "take the line from another copy of the bank, or delete it"
_TEXTS = {
    "missing": "is missing",
    "extra_forbidden": "is not a key here",
    "bool_type": "must be true or false",
    "int_type": "must be a whole number",
    "greater_than_equal": "is too small",
    "less_than_equal": "is too large",
    "string_type": "must be text in quotes",
    "dict_type": "must be a table in braces",
    "model_type": "must be a table in braces",
    "list_type": "must be a list in square brackets",
    "tuple_type": "must be a list in square brackets",
    "literal_error": "is not allowed",
    "string_pattern_mismatch": "is not written as it must be, or too long",
    "too_long": "has too many entries",
    "too_short": "has too few entries",
    "union_tag_invalid": "is of a kind that is not known",
    "union_tag_not_found": "has no kind",
}
_OF_PYTHON = ("constrained-str", "str", "bool")  # which of several kinds was tried: no place in the line
# The value would be the whole of it.
_UNSHOWN = ("missing", "dict_type", "model_type", "union_tag_invalid", "union_tag_not_found")


def shape_text(error: ValidationError, mend: str = COPY) -> str:
    """The first thing that is wrong with the shape of a line, and the mend."""
    fault: Any = error.errors(include_url=False, include_context=True)[0]
    if fault["type"] == "json_invalid":
        return f"this is not JSON: {mend}"
    place = cut(".".join(str(each) for each in fault["loc"] if each not in _OF_PYTHON)) or "the line"
    value = "" if fault["type"] in _UNSHOWN or is_many(fault["input"]) else f" = {shown(fault['input'])}"
    text = _TEXTS.get(fault["type"], "is not as it must be")
    if fault["type"] == "literal_error":
        text += f": it is {fault['ctx']['expected']}"
    return f"{place}{value} {text}: {mend}"


_FIELDS = {
    "date": "write it as 2025-03-14",
    "form": "it must be the form's ident as make wrote it",
}
_PLAIN = "use plain characters on one line, not too many, and where it names something at least one"


def field_text(error: ValidationError) -> str:
    """The first field of a record that cannot be recorded, and the mend."""
    fault: Any = error.errors(include_url=False)[0]
    name = str(fault["loc"][-1])
    return f"{name} {shown(fault['input'])} cannot be recorded: {_FIELDS.get(name, _PLAIN)}"
