"""`start`: a commented blueprint to edit."""

from pathlib import Path

from barwright.blueprint.names import text_fault
from barwright.errors import OutputError
from barwright.showing import shown
from barwright.tasks.files import write_new
from barwright.tasks.saying import quoted
from barwright.templates_folder import templates_folder


def start(name: str, *, folder: Path, replace: bool) -> Path:
    """Writes NAME.toml into the folder and gives back its path; OutputError if it exists or cannot be written."""
    if (fault := text_fault(name)) is not None:
        raise OutputError(f"name {shown(name)} {fault}")
    name = name.removesuffix(".toml")
    text = (templates_folder() / "start" / "blueprint.toml").read_text("utf-8")
    path = folder / f"{name}.toml"
    write_new(path, text.replace("{{ file }}", quoted(path)).encode(), replace=replace)
    return path
