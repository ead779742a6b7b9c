"""The opened folder: every name in an address is looked up among what lies in it, so none leads elsewhere."""

from pathlib import Path

from starlette.exceptions import HTTPException

from barwright.errors import BarwrightError
from barwright.tasks.shown.contents import OUT, Contents, Listed, contents_of, quiz_name

HERE = Path()
"""The desk works in the opened folder, so that paths are as in commands that are given there."""


def opened_contents() -> Contents:
    """What lies in the opened folder."""
    return contents_of(HERE)


def plan_file(name: str) -> Path:
    """The file of a plan by its name; HTTPException 404 if there is none in the folder."""
    return _looked_up(Path(f"{name}.toml"), name, opened_contents().plans)


def plan_of_quiz(folder: Path) -> Path | None:
    """The plan that a quiz has its name from; None if there is none in the folder, or more than one."""
    names = [each.name for each in opened_contents().plans if quiz_name(each.name) == folder.name]
    return plan_file(names[0]) if len(names) == 1 else None


def bank_file(name: str) -> Path:
    """The file of a bank by its name; HTTPException 404 if there is none in the folder."""
    return _looked_up(Path(name), name, opened_contents().banks)


def quiz_folder(name: str) -> Path:
    """The folder of a quiz by its name; HTTPException 404 if there is none in the folder, else as `checked_whole`."""
    return checked_whole(_looked_up(Path(OUT) / name, name, opened_contents().quizzes))


def checked_whole(folder: Path) -> Path:
    """The folder, if neither it nor anything in it leads out of the opened one; else BarwrightError.

    Whatever a task writes or takes away in it lies where it seems to lie.
    """
    checked_inside(folder)
    for path in folder.rglob("*"):
        if path.is_symlink():
            checked_inside(path)
    return folder


def _looked_up(path: Path, name: str, known: tuple[Listed, ...]) -> Path:
    if name not in {each.name for each in known}:
        raise HTTPException(404)
    return checked_inside(path)


def checked_inside(path: Path) -> Path:
    """The path, if it leads nowhere outside of the opened folder; BarwrightError if a link on the way does.

    What is not there yet counts by the folder in which it would be.
    """
    try:
        inside = path.resolve().is_relative_to(HERE.resolve())
    except (OSError, ValueError, RuntimeError) as error:
        raise BarwrightError(f"{path}: cannot be looked up: check the name") from error
    if not inside:
        raise BarwrightError(f"{path} leads out of the opened folder, where the desk neither reads nor writes")
    return path
