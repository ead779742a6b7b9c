"""The command line: each command calls its task and prints the answer; heavy packages are imported where used."""

import gc
import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from barwright import __version__
from barwright.cli_bank import (
    As,
    Font,
    For,
    Forget,
    Out,
    Paper,
    PlainCommand,
    Repeats,
    Replace,
    Seed,
    bank_app,
    whole_number,
)
from barwright.cli_desk import add_to as add_desk
from barwright.cli_help import add_to as add_help
from barwright.cli_output import (
    answer,
    complain,
    ended,
    say,
)
from barwright.cli_question import question_app
from barwright.cli_results import add_to as add_results
from barwright.cli_schools import (
    Classes,
    Dask,
    Many,
    Resume,
    Schools,
    Workers,
    make_many,
)
from barwright.cli_wording import add_to as add_wording
from barwright.errors import BarwrightError

if TYPE_CHECKING:
    from barwright.tasks.bank.measured import Measured
    from barwright.tasks.crews import Crew
    from barwright.tasks.make import Made
    from barwright.tasks.packing import Order

app = typer.Typer(
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
    add_completion=False,
    help="Rhythm-reading quizzes whose every wrong answer is a diagnosis. Start with: barwright start",
)
app.add_typer(bank_app, name="bank")
app.add_typer(question_app, name="question")

# A command makes hundreds of thousands of small things that never point back at each other and ends soon: looking among
# them for circles as often as Python usually does costs a twentieth of the time of `make` and finds nothing.
FEW_COLLECTIONS = (50_000, 20, 100)

BlueprintFile = Annotated[Path, typer.Argument(metavar="BLUEPRINT", help="A blueprint file, e.g. quiz.toml.")]
BlueprintFiles = Annotated[
    list[Path], typer.Argument(metavar="BLUEPRINT", help="Blueprint files, one or more, e.g. quiz.toml.")
]
Rhythm = Annotated[str, typer.Argument(metavar="RHYTHM", help='Meter and symbols, e.g. "3/4 q. e q | h.".')]
Standards = Annotated[
    list[str] | None,
    typer.Option("--standard", metavar="STANDARD", help="cc11 cc12 cc13 qti12 qti22 qti30, or all; may be repeated."),
]
Sections = Annotated[
    list[str] | None,
    typer.Option(
        "--section",
        metavar="NAME",
        help="Make this section's form again, or add it; leave the others; may be repeated.",
    ),
]
Retake = Annotated[
    int,
    typer.Option(
        "--retake",
        parser=whole_number("--retake"),
        metavar="NUMBER",
        help="Make this retake: parallel, of excerpts not seen before.",
    ),
]
Convention = Annotated[
    list[str] | None,
    typer.Option("--convention", "-c", metavar="RULE", help="A convention, e.g. held=onset_only; may be repeated."),
]


def run() -> NoReturn:
    """The entry point: a BarwrightError is one message and exit code 1; wrong usage is 2."""
    gc.set_threshold(*FEW_COLLECTIONS)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the matrices are small: threads would wait for each other
    ended(app)


def _version(wanted: bool) -> None:
    if wanted:
        say(f"barwright {__version__}")
        raise typer.Exit


@app.callback()
def main(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Every command explains itself: barwright COMMAND --help."""


@app.command(cls=PlainCommand)
def start(
    name: Annotated[str, typer.Argument(metavar="NAME", help="The quiz's file name, e.g. unit-3.")] = "quiz",
    out: Out = Path(),
    preset: Annotated[
        str,
        typer.Option(
            metavar="PRESET", help="Begin with what a grade is taught: band-4 to band-9, general-3 to general-9."
        ),
    ] = "",
    title: Annotated[str, typer.Option(metavar="TITLE", help="With --preset: the title of the quiz.")] = "",
    replace: Replace = False,
) -> None:
    """Writes a commented starter blueprint to edit. Example: barwright start unit-3"""
    from barwright.tasks.saying import quoted
    from barwright.tasks.start import start as task

    path = task(name, folder=out, replace=replace, preset=preset, title=title)
    say(f"Wrote {path}.")
    say(f"Next: edit it, then run  barwright make {quoted(path)}")


MeasuredBank = Annotated[
    Path | None,
    typer.Option("--bank", metavar="FILE", help="Keep forms equally hard by how classes did on this bank's items."),
]
Verbose = Annotated[
    bool,
    typer.Option("--verbose", help="Also tell what is not parallel, the reading level, what the judge refused."),
]


@app.command(cls=PlainCommand)
def make(
    blueprints: BlueprintFiles,
    out: Out = Path("out"),
    seed: Seed = None,
    standard: Standards = None,
    section: Sections = None,
    retake: Retake = 0,
    as_: As = None,
    paper: Paper = False,
    for_: For = None,
    music_font: Font = "Bravura",
    replace: Replace = False,
    forget_retakes: Forget = False,
    allow_repeats: Repeats = False,
    bank: MeasuredBank = None,
    verbose: Verbose = False,
    schools: Schools = None,
    where: Classes = None,
    resume: Resume = False,
    workers: Workers = 1,
    dask: Dask = "",
) -> None:
    """Builds the forms of a blueprint: packages, proof, key, record. Example: barwright make quiz.toml"""
    from barwright.tasks.bank.measured import NOTHING, measured_by
    from barwright.tasks.crews import crew_of
    from barwright.tasks.packing import Order, accommodations_of, shapes_of, standards_of

    kinds, wanted = (standards_of(standard), shapes_of(as_)), (paper, accommodations_of(for_))
    allowed = (forget_retakes, allow_repeats)
    order = Order(out, seed, *kinds, tuple(section or ()), replace, music_font, retake, *allowed, *wanted)
    many = Many(schools, where or (), resume)
    many.check(len(blueprints), order, verbose=verbose)
    measured = NOTHING if bank is None else measured_by(bank)
    for fault in measured.faults:
        complain(fault)
    with crew_of(workers, dask, complain) as crew:
        if many.is_many(len(blueprints)):
            make_many(blueprints, many, order, crew, measured=measured, progress=_progress())
        else:
            _make_one(blueprints[0], order, crew, measured, verbose=verbose)


def _make_one(blueprint: Path, order: "Order", crew: "Crew", measured: "Measured", *, verbose: bool) -> None:
    from barwright.tasks.make import make as task
    from barwright.tasks.summary import judgements, summary

    made = task(blueprint, order, progress=_progress(), measured=measured, crew=crew)
    for line in (*summary(made), *(judgements(made) if verbose else ())):
        say(line)
    _tell_made(made)


def _tell_made(made: "Made") -> None:
    from barwright.tasks.packing import first_to_import
    from barwright.tasks.saying import counted, quoted

    folder, packages = made.folder, made.packed.packages
    what = f"{counted(len(packages), 'package')}, {counted(made.packed.figures, 'figure')}"
    say(f"Wrote {folder}: {what}, proof.html, key.html, record.jsonl.")
    proof, first = quoted(folder / "proof.html"), quoted(folder / first_to_import(packages))
    say(f"Next: open {proof}, look through every item, then import {first}")


@app.command(cls=PlainCommand)
def capacity(blueprint: BlueprintFile) -> None:
    """Tells how many different items each part can give. Example: barwright capacity quiz.toml"""
    from barwright.tasks.capacity import capacity as task
    from barwright.tasks.capacity import capacity_table

    plan, parts = task(blueprint, progress=_progress())
    for line in capacity_table(parts, len(plan.sections)):
        say(line)


@app.command(cls=PlainCommand)
def rehearse(
    quiz: Annotated[
        Path, typer.Argument(metavar="BLUEPRINT_OR_QUIZ", help="A blueprint file, or a folder that make wrote.")
    ],
    students: Annotated[
        int,
        typer.Option(
            "--students", parser=whole_number("--students"), metavar="NUMBER", help="How many a class has (usual: 25)."
        ),
    ] = 25,
    seed: Seed = None,
) -> None:
    """Tells which misreadings a quiz will find, by simulated students. Example: barwright rehearse quiz.toml"""
    from barwright.tasks.rehearse import next_line, rehearsal_lines
    from barwright.tasks.rehearse import rehearse as task

    rehearsal = task(quiz, students=students, seed=1 if seed is None else seed, progress=_progress())
    for line in (*rehearsal_lines(rehearsal), next_line(quiz, rehearsal)):
        say(line)


@app.command(cls=PlainCommand)
def sheet(
    blueprint: BlueprintFile,
    out: Out = Path("out"),
    seed: Seed = None,
    music_font: Font = "Bravura",
    replace: Replace = False,
) -> None:
    """Writes a page of practice to print, and its key. Example: barwright sheet quiz.toml"""
    from barwright.tasks.packing import Order
    from barwright.tasks.saying import quoted
    from barwright.tasks.sheet import sheet as task
    from barwright.tasks.sheet import sheet_lines

    done = task(blueprint, Order(out, seed, replace=replace, music_font=music_font), progress=_progress())
    for line in sheet_lines(done):
        say(line)
    say(f"Next: look at {quoted(done.page)}, and print it for the lesson before the quiz.")


@app.command(cls=PlainCommand)
def check(
    packages: Annotated[list[Path], typer.Argument(metavar="PACKAGE", help="A zip, its folder, or one document.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print the findings for scripts.")] = False,
) -> None:
    """Tells what would go wrong on import, of any package of QTI. Example: barwright check quiz.imscc"""
    from barwright.tasks.check import check as task
    from barwright.tasks.check import failed, told

    reports = task(packages)
    for line in told(reports, as_json=as_json):
        (answer if as_json else say)(line)
    if failed(reports):
        raise typer.Exit(1)


@app.command(cls=PlainCommand)
def counts(rhythm: Rhythm, convention: Convention = None) -> None:
    """Prints the counts under a rhythm. Example: barwright counts "4/4 h rq q" -c counting=takadimi"""
    from barwright.tasks.counts import conventions_of
    from barwright.tasks.counts import counts as task
    from barwright.tasks.remarks import remarks

    conventions = conventions_of(tuple(convention or ()))
    answer("\n".join(task(rhythm, conventions=conventions)))
    _remark(remarks(rhythm, conventions=conventions))


@app.command(cls=PlainCommand)
def draw(
    rhythm: Rhythm,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="The picture to write, e.g. rhythm.png.")
    ],
    musicxml: Annotated[
        bool, typer.Option("--musicxml", help="Write MusicXML for a notation program instead.")
    ] = False,
    with_counts: Annotated[bool, typer.Option("--counts", help="Print the counts under the notes.")] = False,
    numbers: Annotated[bool, typer.Option("--numbers", help="Print measure numbers.")] = False,
    convention: Convention = None,
    music_font: Font = "Bravura",
    replace: Replace = False,
) -> None:
    """Engraves one rhythm as a picture. Example: barwright draw "3/4 q. e q | h." -o rhythm.png"""
    from barwright.tasks.counts import conventions_of
    from barwright.tasks.draw import draw as task
    from barwright.tasks.draw import draw_musicxml
    from barwright.tasks.remarks import remarks

    conventions = conventions_of(tuple(convention or ()))
    if musicxml:
        if with_counts or numbers or convention or music_font != "Bravura":
            raise BarwrightError(
                "--musicxml holds the notes alone: leave out --counts, --numbers, --convention and --music-font"
            )
        say(f"Wrote {draw_musicxml(rhythm, output, replace=replace)}.")
        _remark(remarks(rhythm, conventions=conventions))
        return
    path, width, height = task(
        rhythm,
        output,
        conventions=conventions,
        music_font=music_font,
        counts=with_counts,
        numbers=numbers,
        replace=replace,
    )
    say(f"Wrote {path}: show it {width} by {height} pixels large (it has twice as many, for sharp print).")
    _remark(remarks(rhythm, conventions=conventions))


add_results(app)
add_wording(app)
add_desk(app)
add_help(app)


def _progress() -> Callable[[str, int, int], None]:
    """How far a long phase is, on the error stream of a terminal."""
    from barwright.tasks.progress import told_on

    return told_on(sys.stderr)


def _remark(remarks: Iterable[str]) -> None:
    """Remarks go to the error stream, so that the output is the answer alone."""
    for remark in remarks:
        complain(f"Remark: {remark}")
