"""`barwright question ...`: single questions of a made quiz; each command calls its task and prints the answer."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barwright.cli_bank import By, Date, PlainCommand, Replace, whole_number
from barwright.cli_output import say

if TYPE_CHECKING:
    from barwright.tasks.question.changing import Changed
    from barwright.tasks.question.quiz import Which

question_app = typer.Typer(
    rich_markup_mode=None,
    no_args_is_help=True,
    help="Single questions of a made quiz: show, others, another, keep, release, never, move, points, wording, back.",
)
Folder = Annotated[Path, typer.Argument(metavar="QUIZ_FOLDER", help="The folder that make wrote, e.g. out/unit-3.")]
Question = Annotated[
    str, typer.Argument(metavar="QUESTION", help="Its number (with --section), or four letters or more of its id.")
]
Section = Annotated[str, typer.Option("--section", metavar="NAME", help="The section whose form it is in.")]
Retake = Annotated[
    int | None,
    typer.Option(
        "--retake", parser=whole_number("--retake"), metavar="NUMBER", help="The retake; usual: the quiz itself."
    ),
]
Plan = Annotated[
    Path | None,
    typer.Option(
        "--blueprint", metavar="FILE", help="What the quiz was made from; usual: the one near that has its name."
    ),
]
Take = Annotated[str, typer.Option("--take", metavar="ID", help="Which of the others; usual: the likest.")]


@question_app.command(cls=PlainCommand)
def show(quiz: Folder, section: Section = "", retake: Retake = None, blueprint: Plan = None) -> None:
    """Lists the questions with their numbers and ids. Example: barwright question show out/unit-3"""
    from barwright.tasks.question.show import show as task

    for line in task(quiz, _which("", section, retake, blueprint)).lines:
        say(line)


@question_app.command(cls=PlainCommand)
def others(
    quiz: Folder,
    question: Question,
    section: Section = "",
    retake: Retake = None,
    blueprint: Plan = None,
    most: Annotated[
        int, typer.Option("--most", parser=whole_number("--most"), metavar="NUMBER", help="How many (usual: 6).")
    ] = 6,
    html: Annotated[
        Path | None, typer.Option("--html", metavar="FILE", help="Also write them as a page with figures.")
    ] = None,
    replace: Replace = False,
) -> None:
    """Tells what else could stand there. Example: barwright question others out/unit-3 4 --section "Period 1" """
    from barwright.tasks.question.offering import offered, write_page
    from barwright.tasks.saying import quoted

    offer = offered(quiz, _which(question, section, retake, blueprint), most=most, progress=_progress())
    for line in offer.lines:
        say(line)
    if html is not None:
        say(f"Wrote {write_page(offer, html, replace_it=replace)}.")
    ident = offer.asked.placed.item.id
    say(f"Next: take one with  barwright question another {quoted(quiz)} {ident} --take ID")


@question_app.command(cls=PlainCommand)
def another(
    quiz: Folder,
    question: Question,
    section: Section = "",
    retake: Retake = None,
    take: Take = "",
    blueprint: Plan = None,
) -> None:
    """Puts another question there. Example: barwright question another out/unit-3 4 --section "Period 1" """
    from barwright.tasks.question.actions import another as task

    _tell(task(quiz, _which(question, section, retake, blueprint), take=take, progress=_progress()))


@question_app.command(cls=PlainCommand)
def keep(
    quiz: Folder, question: Question, section: Section = "", retake: Retake = None, blueprint: Plan = None
) -> None:
    """Lets it stay whatever the seed. Example: barwright question keep out/unit-3 4 --section "Period 1" """
    from barwright.tasks.question.actions import keep as task

    _tell(task(quiz, _which(question, section, retake, blueprint), progress=_progress()))


@question_app.command(cls=PlainCommand)
def release(
    quiz: Folder, question: Question, section: Section = "", retake: Retake = None, blueprint: Plan = None
) -> None:
    """Keeps it no more; for now it stays. Example: barwright question release out/unit-3 4 --section "Period 1" """
    from barwright.tasks.question.actions import release as task

    _tell(task(quiz, _which(question, section, retake, blueprint), progress=_progress()))


@question_app.command(cls=PlainCommand)
def never(
    quiz: Folder,
    question: Question,
    section: Section = "",
    retake: Retake = None,
    take: Take = "",
    bank: Annotated[
        Path | None, typer.Option("--bank", metavar="BANK", help="Also retire it in this bank: a record, no deletion.")
    ] = None,
    comment: Annotated[str, typer.Option("--comment", metavar="TEXT", help="Why, for the bank.")] = "",
    by: By = "",
    date: Date = "",
    blueprint: Plan = None,
) -> None:
    """Is not asked again, another stands there. Example: barwright question never out/unit-3 9f2c --bank our.jsonl"""
    from barwright.tasks.question.undoing import Retirement
    from barwright.tasks.question.undoing import never as task

    if bank is None and (comment or by or date):
        raise typer.BadParameter("--comment, --by and --date are for the bank: give --bank, too", param_hint="--bank")
    told = None if bank is None else Retirement(bank, by, date, comment)
    _tell(task(quiz, _which(question, section, retake, blueprint), take=take, bank=told, progress=_progress()))


@question_app.command(cls=PlainCommand)
def move(
    quiz: Folder,
    question: Question,
    to: Annotated[
        int, typer.Option("--to", parser=whole_number("--to"), metavar="NUMBER", help="The number it is to have.")
    ],
    section: Section = "",
    retake: Retake = None,
    blueprint: Plan = None,
) -> None:
    """Gives it another number. Example: barwright question move out/unit-3 4 --section "Period 1" --to 1"""
    from barwright.tasks.question.actions import move as task

    _tell(task(quiz, _which(question, section, retake, blueprint), to, progress=_progress()))


@question_app.command(cls=PlainCommand)
def points(
    quiz: Folder,
    question: Question,
    worth: Annotated[
        int, typer.Argument(metavar="POINTS", parser=whole_number("POINTS"), help="How many it is worth, 1 to 100.")
    ],
    section: Section = "",
    retake: Retake = None,
    blueprint: Plan = None,
) -> None:
    """Says what it is worth. Example: barwright question points out/unit-3 4 2 --section "Period 1" """
    from barwright.tasks.question.actions import points as task

    _tell(task(quiz, _which(question, section, retake, blueprint), worth, progress=_progress()))


@question_app.command(cls=PlainCommand)
def wording(
    quiz: Folder,
    question: Question,
    stem: Annotated[str, typer.Option("--stem", metavar="TEXT", help="The question in your own words.")] = "",
    hint: Annotated[str, typer.Option("--hint", metavar="TEXT", help="What a student reads after a miss.")] = "",
    choice: Annotated[
        str, typer.Option("--choice", metavar="LETTER", help="The hint is for this wrong choice of the proof alone.")
    ] = "",
    section: Section = "",
    retake: Retake = None,
    blueprint: Plan = None,
) -> None:
    """Takes your own words. Example: barwright question wording out/unit-3 9f2c --hint "Clap it once more." """
    from barwright.tasks.question.actions import wording as task

    which = _which(question, section, retake, blueprint)
    _tell(task(quiz, which, stem=stem, hint=hint, choice=choice, progress=_progress()))


@question_app.command(cls=PlainCommand)
def back(
    quiz: Folder,
    question: Question,
    what: Annotated[str, typer.Option("--what", metavar="CHANGE", help="another keep points move wording never.")] = "",
    section: Section = "",
    retake: Retake = None,
    blueprint: Plan = None,
) -> None:
    """Takes a change back. Example: barwright question back out/unit-3 4 --section "Period 1" --what points"""
    from barwright.tasks.question.undoing import back as task

    _tell(task(quiz, _which(question, section, retake, blueprint), what=what, progress=_progress()))


@question_app.command(cls=PlainCommand)
def apply(quiz: Folder, blueprint: Plan = None) -> None:
    """Makes the forms follow questions.toml, which you edited. Example: barwright question apply out/unit-3"""
    from barwright.tasks.question.changing import edited

    _tell(edited(quiz, blueprint, progress=_progress()))


def _which(question: str, section: str, retake: int | None, blueprint: Path | None) -> "Which":
    from barwright.tasks.question.quiz import Which

    return Which(question, section, retake, blueprint)


def _tell(changed: "Changed") -> None:
    from barwright.tasks.saying import counted, quoted

    for line in changed.lines:
        say(line)
    if changed.forms:
        proof = quoted(changed.folder / "proof.html")
        say(f"Wrote {counted(len(changed.packages), 'package')} anew. Next: look at {proof}, and import what you use.")


def _progress() -> Callable[[str, int, int], None]:
    """How far a long phase is, on the error stream of a terminal."""
    from barwright.tasks.progress import told_on

    return told_on(sys.stderr)
