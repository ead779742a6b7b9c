"""`barwright make` for several plans or many schools: calls its task and prints a line a quiz."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barwright.cli_bank import whole_number
from barwright.cli_output import complain, say
from barwright.errors import BarwrightError

if TYPE_CHECKING:
    from barwright.tasks.bank.measured import Measured
    from barwright.tasks.crews import Crew
    from barwright.tasks.packing import Order
    from barwright.tasks.progress import Progress
    from barwright.tasks.schools.making import Outcome, RunWish
    from barwright.tasks.schools.plans import SharedPlan

Schools = Annotated[
    Path | None,
    typer.Option("--schools", metavar="FILE", help="Make it for each school of a list: CSV, or OneRoster in a zip."),
]
Classes = Annotated[
    list[str] | None,
    typer.Option("--where", metavar="COLUMN=VALUE", help="With --schools: only such classes, e.g. subjects=Music."),
]
Resume = Annotated[bool, typer.Option("--resume", help="Leave what is made already, and make what is missing.")]
Workers = Annotated[
    int,
    typer.Option("--workers", parser=whole_number("--workers"), metavar="NUMBER", help="Work in so many processes."),
]
Dask = Annotated[str, typer.Option("--dask", metavar="ADDRESS", help="Let the Dask cluster at this address work.")]


@dataclass(frozen=True, slots=True)
class Many:
    """What was asked of many quizzes: the list of schools, which classes of it, and whether what is done stays."""

    schools: Path | None
    where: Sequence[str]
    resume: bool

    def check(self, plans: int, order: "Order", *, verbose: bool) -> None:
        """BarwrightError for an option that has no effect on what is asked."""
        if self.where and self.schools is None:
            raise BarwrightError("--where does nothing here: give it with --schools")
        if self.resume and self.schools is None and plans == 1:
            raise BarwrightError("--resume does nothing here: give it with --schools, or with several blueprints")
        if self.is_many(plans) and verbose:
            raise BarwrightError("--verbose is for one quiz: leave it out, and look at single quizzes by their proofs")
        if self.is_many(plans) and (order.sections or order.retake):
            raise BarwrightError(
                "--section and --retake are for one quiz: each school's folder holds its own plan, so give that with "
                "--out, e.g.  barwright make out/alder-creek/unit-3.toml --out out/alder-creek --retake 1"
            )

    def is_many(self, plans: int) -> bool:
        """Whether more than one plan as it stands is to be made."""
        return self.schools is not None or plans > 1


def make_many(
    blueprints: list[Path],
    many: Many,
    order: "Order",
    crew: "Crew",
    *,
    measured: "Measured",
    progress: "Progress",
) -> None:
    """Makes all of them, prints a line for each with something to tell, and writes the page of all schools."""
    from barwright.tasks.schools.making import RunWish, WantedQuiz, make_all
    from barwright.tasks.schools.page import check_index
    from barwright.tasks.schools.plans import check_names, plans_of

    check_names(blueprints)
    wish = RunWish(order, many.resume, measured, told=many.schools is None)
    if many.schools is None:
        outcomes = make_all([WantedQuiz(path) for path in blueprints], wish, crew=crew, progress=progress)
        _tell_plans(outcomes)
    else:
        check_index(order, resume=many.resume)
        outcomes = _make_schools(plans_of(blueprints, order), many.schools, many.where, wish, crew, progress)
    if any(outcome.state is None for outcome in outcomes):
        raise typer.Exit(1)


def _make_schools(
    plans: Sequence["SharedPlan"], path: Path, where: Sequence[str], wish: "RunWish", crew: "Crew", progress: "Progress"
) -> "tuple[Outcome, ...]":
    from barwright.tasks.saying import counted, quoted
    from barwright.tasks.schools.making import jobs_of, make_all
    from barwright.tasks.schools.page import write_index
    from barwright.tasks.schools.reading import conditions_of, schools_in

    listed = schools_in(path, conditions_of(where, [plan.wanted for plan in plans]))
    sections = sum(len(school.sections) for school in listed.schools)
    say(f"{path}: {counted(len(listed.schools), 'school')}, {counted(sections, 'section')}.")
    outcomes = make_all(jobs_of(plans, listed.schools), wish, crew=crew, progress=progress)
    _tell_lines(outcomes)
    page = write_index(wish.order.out, outcomes, listed.without, plans[0].blueprint)
    say(f"Next: open {quoted(page)}, which has all schools.")
    return outcomes


def _tell_lines(outcomes: "Sequence[Outcome]") -> None:
    """A line for each quiz with something to look at, and how many there are."""
    from barwright.tasks.schools.making import counts_line, outcome_line

    for outcome in outcomes:
        if line := outcome_line(outcome):
            (say if outcome.state else complain)(line)
    say(counts_line(outcomes))


def _tell_plans(outcomes: "Sequence[Outcome]") -> None:
    """For each plan what `make` tells of it alone."""
    from barwright.tasks.schools.making import counts_line

    for outcome in outcomes:
        for line in (f"{outcome.job.plan}:", *outcome.told) if outcome.told else ():
            say(line)
        for fault in outcome.faults:
            complain(fault)
    say(counts_line(outcomes))
