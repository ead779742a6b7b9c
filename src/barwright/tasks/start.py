"""`start`: a commented blueprint to edit."""

from pathlib import Path

from barwright.blueprint.names import text_fault
from barwright.errors import OutputError
from barwright.showing import shown
from barwright.tasks.files import write_new
from barwright.tasks.plan.presets import preset_text
from barwright.tasks.saying import quoted
from barwright.templates_folder import templates_folder


def start(name: str, *, folder: Path, replace: bool, preset: str = "", title: str = "") -> Path:
    """Writes NAME.toml into the folder and gives back its path; OutputError if it exists or cannot be written.

    With `preset` it is the plan of that name, with `title` in it; BarwrightError for one that is not known.
    """
    if (fault := text_fault(name)) is not None:
        raise OutputError(f"name {shown(name)} {fault}")
    name = name.removesuffix(".toml")
    path = folder / f"{name}.toml"
    if preset:
        text = preset_text(preset, title=title)
    else:
        text = (templates_folder() / "start" / "blueprint.toml").read_text("utf-8").replace("{{ file }}", quoted(path))
    write_new(path, text.encode(), replace=replace)
    return path
