"""`barwright diagnose`: reading answers back; calls its task and prints the answer."""

import sys
from pathlib import Path
from typing import Annotated

import typer

from barwright.cli_bank import Font, PlainCommand

QuizFolder = Annotated[Path, typer.Argument(metavar="QUIZ_FOLDER", help="The folder that make wrote, e.g. out/unit-3.")]
Responses = Annotated[
    list[Path] | None,
    typer.Argument(metavar="RESPONSES", help="Files of answers, folders or zips of them: CSV, .xlsx, QTI results."),
]


def diagnose(
    quiz_folder: QuizFolder,
    responses: Responses = None,
    columns: Annotated[
        Path | None,
        typer.Option(
            "--columns", metavar="FILE", help="The file that says what columns are (usual: columns.toml there)."
        ),
    ] = None,
    attempt: Annotated[str, typer.Option("--attempt", metavar="WHICH", help="last (usual) or first.")] = "last",
    omit: Annotated[
        str, typer.Option("--omit", metavar="HOW", help="An answer left out counts as wrong (usual), or exclude it.")
    ] = "wrong",
    names: Annotated[bool, typer.Option("--names", help="Show students' names as in your files, not codes.")] = False,
    feedback: Annotated[bool, typer.Option("--feedback", help="Also write one short page for each student.")] = False,
    forget: Annotated[bool, typer.Option("--forget", help="Take away all that diagnose wrote for this quiz.")] = False,
    music_font: Font = "Bravura",
) -> None:
    """Tells what answers show and what to teach again. Example: barwright diagnose out/unit-3 answers.csv"""
    from barwright.tasks.diagnose.diagnose import Doubtful, Wish, checked_wish
    from barwright.tasks.diagnose.diagnose import diagnose as task
    from barwright.tasks.diagnose.diagnose import forget as take_away
    from barwright.tasks.progress import told_on
    from barwright.tasks.saying import counted, quoted

    if forget:
        folder, count = take_away(quiz_folder)
        typer.echo(f"Took {counted(count, 'file')} away from {folder}.")
        return
    if not responses:
        raise typer.BadParameter("give the files of answers, too", param_hint="RESPONSES")
    which, how = checked_wish(attempt, omit)
    wish = Wish(columns, which, how, names, feedback, music_font)
    done = task(quiz_folder, responses, wish, progress=told_on(sys.stderr))
    for line in done.told:
        typer.echo(line)
    if isinstance(done, Doubtful):
        typer.echo(
            f'Wrote {done.columns}: it asks what could not be told. Answer each "?" in it and run this again.', err=True
        )
        raise typer.Exit(1)
    students = len({student.student for student in done.diagnosis.findings.students})
    plain = ", ".join(name for name in done.files if "/" not in name and name != "README.txt")
    typer.echo(f"Wrote {done.folder}: {counted(students, 'student')}; {plain}{', feedback' if feedback else ''}.")
    typer.echo(f"Next: open {quoted(done.folder / 'report.html')}")


def add_to(app: typer.Typer) -> None:
    """Makes the command one of the application's."""
    app.command(cls=PlainCommand)(diagnose)
