"""`barwright help`: the reference, a topic at a time."""

import shutil
from typing import Annotated

import typer

from barwright.cli_bank import PlainCommand
from barwright.cli_output import say

WIDTHS = (40, 100)  # letters: narrower cannot be read, wider is tiring


def help_(
    topic: Annotated[
        list[str] | None, typer.Argument(metavar="TOPIC", help="As conventions, or a command, as bank add.")
    ] = None,
    language: Annotated[str, typer.Option(metavar="LANGUAGE", help="en-US or es; usual: en-US.")] = "en-US",
) -> None:
    """Prints the reference: topics, tables, every option. Example: barwright help conventions"""
    from barwright.tasks.shown.help import help_lines

    least, most = WIDTHS
    width = min(max(shutil.get_terminal_size().columns, least), most)
    for line in help_lines(" ".join(topic or ()).lower(), width, language):
        say(line)


def add_to(app: typer.Typer) -> None:
    """Makes the command one of the application."""
    app.command("help", cls=PlainCommand)(help_)
