"""Where the files of a quiz lie in its folder."""

from barwright.blueprint.names import folder_name
from barwright.items.form import Form

RECORD = "record.jsonl"


def form_folder(form: Form) -> str:
    """Where a form's packages and printed pages lie inside the quiz folder."""
    folder = folder_name(form.section)
    return f"{folder}/retake-{form.retake}" if form.retake else folder
