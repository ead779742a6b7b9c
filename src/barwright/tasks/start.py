"""`start`: a commented blueprint to edit."""

from pathlib import Path

from barwright.tasks.files import write_new
from barwright.wording.folder import templates_folder


def start(name: str, *, folder: Path, replace: bool) -> Path:
    """Writes NAME.toml into the folder and gives back its path; OutputError if it exists."""
    name = name.removesuffix(".toml")
    text = (templates_folder() / "start" / "blueprint.toml").read_text("utf-8")
    path = folder / f"{name}.toml"
    write_new(path, text.replace("{{ name }}", name).encode(), replace=replace)
    return path
