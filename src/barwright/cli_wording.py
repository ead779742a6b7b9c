"""`barwright wording`: every sentence to read through, and a folder of the class's own; each calls its task."""

from pathlib import Path
from typing import Annotated

import typer

from barwright.cli_bank import Language, PlainCommand, Replace
from barwright.cli_output import say

wording_app = typer.Typer(
    rich_markup_mode=None,
    no_args_is_help=True,
    invoke_without_command=True,
    help="What students read: every sentence, and sentences of your own: show, start.",
)
All = Annotated[bool, typer.Option("--all", help="Also what teachers read: pages, reports, what wrong answers tell.")]


@wording_app.callback()
def wording(context: typer.Context, all_: All = False, language: Language = "en-US") -> None:
    """What students read: every sentence, and sentences of your own. Example: barwright wording --all --language es"""
    if context.invoked_subcommand is None:
        _print(language, every=all_)


@wording_app.command(cls=PlainCommand)
def show(all_: All = False, language: Language = "en-US") -> None:
    """Prints the sentences that students read. Example: barwright wording show --all --language es"""
    _print(language, every=all_)


def _print(language: str, *, every: bool) -> None:
    from barwright.tasks.shown.sentences import sentences

    for line in sentences(language, every=every):
        say(line)


@wording_app.command(cls=PlainCommand)
def start(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Beside the blueprints; usual: wording.")] = Path(
        "wording"
    ),
    language: Language = "en-US",
    replace: Replace = False,
) -> None:
    """Writes a file of all sentences that you may change. Example: barwright wording start"""
    from barwright.tasks.own_wording import start_wording

    path = start_wording(folder, language, replace=replace)
    say(f"Wrote {path}.")
    say(f'Next: change sentences in it, and write  wording = "{folder.name}"  into the blueprint beside it')


def add_to(app: typer.Typer) -> None:
    """Makes the commands those of the application."""
    app.add_typer(wording_app, name="wording")
