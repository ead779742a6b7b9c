"""`barwright diagnose`: reading answers back; calls its task and prints the answer."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barwright.cli_bank import Font, PlainCommand
from barwright.cli_output import complain, say
from barwright.errors import BarwrightError

if TYPE_CHECKING:
    from barwright.tasks.diagnose.diagnose import Wish
    from barwright.tasks.diagnose.district import SchoolQuiz

QuizFolder = Annotated[
    Path,
    typer.Argument(
        metavar="QUIZ_FOLDER",
        help="The folder that make wrote, e.g. out/unit-3; or that of all schools.",
    ),
]
Responses = Annotated[
    list[Path] | None,
    typer.Argument(metavar="RESPONSES", help="Files of answers, folders or zips of them: CSV, .xlsx, QTI results."),
]


Columns = Annotated[
    Path | None,
    typer.Option("--columns", metavar="FILE", help="The file that says what columns are (usual: columns.toml there)."),
]
Attempt = Annotated[str, typer.Option("--attempt", metavar="WHICH", help="last (usual) or first.")]
Omit = Annotated[str, typer.Option("--omit", metavar="HOW", help="An answer left out counts as wrong, or exclude it.")]
Names = Annotated[bool, typer.Option("--names", help="Show students' names as in your files, not codes.")]
Feedback = Annotated[bool, typer.Option("--feedback", help="Also write one short page for each student.")]
Slips = Annotated[
    str, typer.Option("--slips", metavar="PERCENT", help="How often a held misreading is not acted on (usual: 15).")
]
Prior = Annotated[
    str,
    typer.Option("--prior", metavar="PERCENT", help="How many students hold a misreading, beforehand (usual: 2)."),
]
Sensitivity = Annotated[
    bool, typer.Option("--sensitivity", help="Also tell how much hangs on what is assumed; takes five times as long.")
]
FromPaper = Annotated[
    bool, typer.Option("--paper", help="The tables were typed from paper: their letters are those of the forms.")
]
Forget = Annotated[bool, typer.Option("--forget", help="Take away all that diagnose wrote for this quiz.")]


def diagnose(
    quiz_folder: QuizFolder,
    responses: Responses = None,
    columns: Columns = None,
    attempt: Attempt = "last",
    omit: Omit = "wrong",
    names: Names = False,
    feedback: Feedback = False,
    slips: Slips = "",
    prior: Prior = "",
    sensitivity: Sensitivity = False,
    paper: FromPaper = False,
    forget: Forget = False,
    music_font: Font = "Bravura",
) -> None:
    """Tells what answers show and what to teach again. Example: barwright diagnose out/unit-3 answers.csv"""
    from barwright.tasks.diagnose.diagnose import Wish, assumed, checked_wish
    from barwright.tasks.diagnose.district import school_quizzes

    quizzes = school_quizzes(quiz_folder)
    if forget:
        _forget(quiz_folder, quizzes)
        return
    if not responses:
        raise typer.BadParameter("give the files of answers, too", param_hint="RESPONSES")
    which, how = checked_wish(attempt, omit)
    wish = Wish(columns, which, how, names, feedback, assumed(slips, prior), sensitivity, music_font, paper)
    if quizzes:
        _diagnose_schools(quiz_folder, quizzes, responses, wish)
    else:
        _diagnose_quiz(quiz_folder, responses, wish)


def _forget(folder: Path, quizzes: "Sequence[SchoolQuiz]") -> None:
    from barwright.tasks.diagnose.diagnose import forget
    from barwright.tasks.diagnose.district import forget_district

    say(forget_district(folder, quizzes) if quizzes else forget(folder))


def _diagnose_quiz(folder: Path, responses: list[Path], wish: "Wish") -> None:
    from barwright.tasks.diagnose.diagnose import Doubtful, diagnose, told_lines
    from barwright.tasks.progress import told_on

    done = diagnose(folder, responses, wish, progress=told_on(sys.stderr))
    for line in told_lines(done):
        say(line)
    if isinstance(done, Doubtful):
        raise typer.Exit(1)


def _diagnose_schools(folder: Path, quizzes: "Sequence[SchoolQuiz]", responses: list[Path], wish: "Wish") -> None:
    from barwright.tasks.diagnose.district import diagnose_district, district_lines
    from barwright.tasks.progress import told_on

    if wish.columns is not None:
        raise BarwrightError("--columns is for one quiz: each school has a columns.toml of its own in its quiz folder")
    done = diagnose_district(folder, quizzes, responses, wish, progress=told_on(sys.stderr))
    for line in district_lines(done):
        say(line)
    for fault in done.faults:
        complain(fault)
    if done.faults:
        raise typer.Exit(1)


def add_to(app: typer.Typer) -> None:
    """Makes the command one of the application's."""
    app.command(cls=PlainCommand)(diagnose)
