"""Where the files of a form lie inside the folder of its quiz."""

from barwright.blueprint.names import folder_name
from barwright.items.form import Form


def form_folder(form: Form) -> str:
    """Where a form's packages and printed pages lie inside the quiz folder."""
    folder = folder_name(form.section)
    return f"{folder}/retake-{form.retake}" if form.retake else folder
