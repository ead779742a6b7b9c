"""`barwright desk`, and `barwright plan`, which does from a terminal what the page of a plan does."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from barwright.cli_bank import PlainCommand, Replace, whole_number
from barwright.cli_output import say

Folder = Annotated[
    Path | None,
    typer.Argument(metavar="FOLDER", help="Where your plans and quizzes lie (usual: Barwright, in your home folder)."),
]


Sets = Annotated[
    list[str] | None,
    typer.Option(
        "--set",
        metavar="KEY=VALUE",
        help="e.g. elements.ties=true or part.2.items=4; an empty value takes the key out; may be repeated.",
    ),
]
Remove = Annotated[
    int, typer.Option("--remove", parser=whole_number("--remove"), metavar="NUMBER", help="Take a part out.")
]
Up = Annotated[int, typer.Option("--up", parser=whole_number("--up"), metavar="NUMBER", help="Move a part up.")]
Classes = Annotated[Path | None, typer.Option("--classes", metavar="FILE", help="Take the sections from a class list.")]
Text = Annotated[Path | None, typer.Option("--text", metavar="FILE", help="Take the whole text from a file.")]
Reteach = Annotated[
    Path | None,
    typer.Option("--reteach", metavar="QUIZ_FOLDER", help="Begin the plan with what its answers say to teach again."),
]


def desk(
    folder: Folder = None,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open the page in the browser, or print its address.")
    ] = True,
    minutes: Annotated[
        int,
        typer.Option(
            parser=whole_number("--minutes"), metavar="NUMBER", help="End so long after its last page was closed."
        ),
    ] = 15,
    shortcut: Annotated[
        bool, typer.Option("--shortcut", help="Put a file to double-click on the desktop instead.")
    ] = False,
    replace: Replace = False,
) -> None:
    """Opens the desk: everything that the commands do, as pages. Example: barwright desk quizzes"""
    place = folder or Path.home() / "Barwright"
    if shortcut:
        from barwright.tasks.shortcut import write_shortcut

        path = write_shortcut(place, system=sys.platform, python=sys.executable, replace=replace)
        say(f"Wrote {path}: double-click it to open the desk of {place}.")
        return
    from barwright.desk.serving import in_browser, open_desk, printed

    show: Callable[[str], object] = in_browser if browser else printed
    open_desk(place, show=show, say=say, idle_seconds=60.0 * minutes)


def plan(
    blueprint: Annotated[Path, typer.Argument(metavar="BLUEPRINT", help="A blueprint file, e.g. quiz.toml.")],
    sets: Sets = None,
    add: Annotated[str, typer.Option("--add", metavar="ASK", help="Add a part of this ask.")] = "",
    remove: Remove = 0,
    up: Up = 0,
    classes: Classes = None,
    text: Text = None,
    reteach: Reteach = None,
    undo: Annotated[bool, typer.Option("--undo", help="Take the last change back.")] = False,
    preview: Annotated[bool, typer.Option("--preview", help="Also tell what each part can give.")] = False,
) -> None:
    """Shows a plan, and changes it piece by piece. Example: barwright plan quiz.toml --set elements.ties=true"""
    from barwright.tasks.keeping import reteach_plan
    from barwright.tasks.plan.command import WantedChanges, changed, plan_lines

    if reteach is not None:
        reteach_plan(reteach, blueprint)
    wanted = WantedChanges(tuple(sets or ()), add, remove, up, classes, text, undo)
    changed(blueprint, wanted)
    for line in plan_lines(blueprint):
        say(line)
    if preview:
        from barwright.tasks.progress import told_on
        from barwright.tasks.shown.preview import previewed

        shown = previewed(blueprint, told_on(sys.stderr))
        for part in shown.parts:
            say(f"Part {part.number}: {part.capacity}")
        say(shown.verdict)


def add_to(app: typer.Typer) -> None:
    """Makes the commands those of the application."""
    app.command(cls=PlainCommand)(desk)
    app.command(cls=PlainCommand)(plan)
