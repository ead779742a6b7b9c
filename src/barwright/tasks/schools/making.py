"""Many quizzes in one run: of several plans, or of each plan for every school of a list.

Folders are read and written here, by one process; what lies between, the work itself, is done by the crew, which opens
none. A folder is held from its reading to its writing. So a worker or this process may end at any time: what is whole
stays, and all else is as it was.
"""

from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.blueprint.names import folder_name
from barwright.errors import BarwrightError, BlueprintError, OutputError, UnfairError
from barwright.showing import shown
from barwright.tasks.bank.measured import NOTHING, Measured
from barwright.tasks.crews import HERE, Crew, Lost
from barwright.tasks.excerpts import avoided
from barwright.tasks.folders import HeldFolder, changing
from barwright.tasks.make import Asking, Made, asking_in, folder_of, made_of, sound_blueprint, written_in
from barwright.tasks.packing import Order
from barwright.tasks.progress import Progress, silent
from barwright.tasks.saying import counted
from barwright.tasks.schools.plans import SharedPlan
from barwright.tasks.schools.reading import School
from barwright.tasks.schools.state import NAME, State, hash_of, state_in
from barwright.tasks.summary import bent_in_short, bent_lines, summary


@dataclass(frozen=True, slots=True)
class WantedQuiz:
    """One quiz that is wanted: its plan, and the school it is for; None where a plan is made as it stands."""

    plan: Path
    school: School | None = None
    of: SharedPlan | None = None

    @property
    def name(self) -> str:
        """What messages call it."""
        return f"{self.school.name}, {self.plan.stem}" if self.school else str(self.plan)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a job: where the quiz lies and what is told of it, or why there is none.

    `told`: all that `make` says of a quiz that was made just now. `was_there`: it had been made before.
    """

    job: WantedQuiz
    folder: Path
    state: State | None = None
    faults: tuple[str, ...] = ()
    told: tuple[str, ...] = ()
    was_there: bool = False


@dataclass(frozen=True, slots=True)
class RunWish:
    """How many quizzes are made: the order for each, whether what is done stays, the counts of a bank, and whether all
    that `make` tells is wanted of each.
    """

    order: Order
    resume: bool = False
    measured: Measured = NOTHING
    told: bool = False


@dataclass(frozen=True, slots=True)
class _Held:
    """A folder that is held while somebody works for it: what lets it go, what is made, and of what."""

    stack: ExitStack
    held: HeldFolder
    asking: Asking
    of: str


@dataclass(frozen=True, slots=True)
class _Work:
    """One quiz for a worker: what is made, a hash of that, for which school, with which seeds; whether all is told."""

    asking: Asking
    of: str
    school: str
    seeds: tuple[int, ...]
    told: bool


def jobs_of(plans: Sequence[SharedPlan], schools: Sequence[School]) -> tuple[WantedQuiz, ...]:
    """A job for each school and plan; BarwrightError for a plan that is called as a school is."""
    for school in schools:
        for plan in plans:
            if school.folder == _quiz_folder(plan.path):
                raise BarwrightError(
                    f"{plan.path} is called as the folder of the school {shown(school.name)}: give it another name"
                )
    return tuple(WantedQuiz(plan.path, school, plan) for school in schools for plan in plans)


def make_all(
    jobs: Sequence[WantedQuiz], wish: RunWish, *, crew: Crew = HERE, progress: Progress = silent
) -> tuple[Outcome, ...]:
    """Makes every quiz, and tells what came of each, in their order; a fault of one stops no other.

    BarwrightError if it is stopped by Ctrl-C: what is made by then stays, and nothing else was changed.
    """
    run = _Run(jobs, wish, progress)
    try:
        for number, result in crew.done(_worked, run.pieces()):
            run.settle(number, result)
    except KeyboardInterrupt as error:
        raise BarwrightError(
            f"stopped: {len(run.outcomes):,} of {len(jobs):,} quizzes are made or refused, and nothing of them is "
            "lost; the same command with --resume makes the others"
        ) from error
    finally:
        run.let_go()
    return tuple(run.outcomes[number] for number in range(len(jobs)))


class _Run:
    """One run: which folders are held, and what came of each job."""

    def __init__(self, jobs: Sequence[WantedQuiz], wish: RunWish, progress: Progress) -> None:
        self.jobs, self.wish, self.progress = jobs, wish, progress
        self.held: dict[int, _Held] = {}
        self.outcomes: dict[int, Outcome] = {}

    def pieces(self) -> Iterator[tuple[int, _Work]]:
        """What is to be worked on, as far as it is not done yet; each folder is held from here on."""
        for number, job in enumerate(self.jobs):
            order = _order_for(job, self.wish.order)
            try:
                held = self._begun(number, job, order)
            except BarwrightError as error:
                self._end(number, Outcome(job, folder_of(job.plan, order), faults=_faults(error)))
                continue
            if held is not None:
                self.held[number] = held
                seeds = job.school.seeds(job.of.seed) if job.school and job.of else (held.asking.blueprint.seed,)
                school = job.school.name if job.school else ""
                yield number, _Work(held.asking, held.of, school, seeds, self.wish.told)

    def settle(self, number: int, result: "_Worked | Lost") -> None:
        """Writes what came back, and lets the folder go."""
        mine, job = self.held.pop(number), self.jobs[number]
        with mine.stack:
            if isinstance(result, Lost) or result.made is None:
                faults = (result.text,) if isinstance(result, Lost) else result.faults
                self._end(number, Outcome(job, mine.asking.folder, faults=faults))
                return
            try:
                if job.school is not None and job.of is not None and result.state is not None:
                    job.of.put_into(mine.held.path.parent, job.school, result.state.seed)
                written_in(mine.held, mine.asking, result.made)
            except OutputError as error:
                self._end(number, Outcome(job, mine.asking.folder, faults=_faults(error)))
                return
            self._end(number, Outcome(job, mine.asking.folder, result.state, told=result.told))

    def let_go(self) -> None:
        """Lets all folders go that are still held."""
        for mine in self.held.values():
            mine.stack.close()

    def _begun(self, number: int, job: WantedQuiz, order: Order) -> _Held | None:
        """The folder of a job, held and looked at; None if the job is done already."""
        if job.school is not None and job.school.fault:
            raise BarwrightError(job.school.fault)
        with ExitStack() as stack:
            held = stack.enter_context(changing(folder_of(job.plan, order)))
            if job.school is not None and job.of is not None:
                blueprint, source, never = job.of.of(job.school), job.of.source, job.of.never
            else:
                blueprint, source = sound_blueprint(job.plan, order)
                never = avoided(blueprint, job.plan)
            of = hash_of(blueprint.with_measured(self.wish.measured.weights), never, order)
            state = state_in(held.real) if self.wish.resume else None
            if state is not None and state.of == of:
                self._end(number, Outcome(job, held.path, state, was_there=True))
                return None
            if held.exists and not order.replace and self.wish.resume:
                raise OutputError(
                    f"{held.path} is not what this plan, its sections, the options and this version would make: give "
                    "--replace as well to make it anew, or another folder with --out"
                )
            asking = asking_in(held, job.plan, order, blueprint, source, measured=self.wish.measured)
            return _Held(stack.pop_all(), held, asking, of)

    def _end(self, number: int, outcome: Outcome) -> None:
        self.outcomes[number] = outcome
        self.progress("quizzes", len(self.outcomes), len(self.jobs))


def _order_for(job: WantedQuiz, order: Order) -> Order:
    return order if job.school is None else replace(order, out=order.out / job.school.folder)


def _faults(error: BarwrightError) -> tuple[str, ...]:
    return error.faults if isinstance(error, BlueprintError) else (str(error),)


@dataclass(frozen=True, slots=True)
class _Worked:
    """What a worker gives back: the quiz with its state among the files, or why there is none."""

    made: Made | None
    state: State | None = None
    told: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()


def _worked(work: _Work) -> _Worked:
    """One whole quiz, wherever this runs: with the first seed that gives fair forms."""
    faults: tuple[str, ...] = ()
    for seed in work.seeds:
        blueprint = work.asking.blueprint.model_copy(update={"seed": seed})
        try:
            return _with_state(made_of(replace(work.asking, blueprint=blueprint)), work, seed)
        except UnfairError as error:
            faults = faults or error.faults
        except BarwrightError as error:
            return _Worked(None, faults=_faults(error))
    return _Worked(None, faults=faults)


def _with_state(made: Made, work: _Work, seed: int) -> _Worked:
    state = State(
        of=work.of,
        seed=seed,
        school=work.school,
        forms=len(made.forms),
        items=sum(len(each.form.items) for each in made.forms),
        short=bent_in_short(made),
        bent=list(bent_lines(made)),
    )
    files = {**made.packed.files, NAME: state.text()}
    told = summary(made) if work.told else ()
    return _Worked(replace(made, packed=replace(made.packed, files=files)), state, told)


def outcome_line(outcome: Outcome) -> str:
    """What is bent in a quiz, or that there is none, in one line; empty for a quiz that is as it should be."""
    if outcome.state is None:
        return f"{outcome.job.name}: refused: {outcome.faults[0]}" + _more(len(outcome.faults) - 1)
    return f"{outcome.job.name}: {outcome.state.short}" if outcome.state.short else ""


def counts_line(outcomes: Sequence[Outcome]) -> str:
    """How many quizzes were made now, had been made, and were refused."""
    made = [outcome for outcome in outcomes if outcome.state]
    there = sum(outcome.was_there for outcome in made)
    forms = sum(outcome.state.forms for outcome in outcomes if outcome.state)
    before = f", {there:,} of them before" if there else ""
    refused = f"; {len(outcomes) - len(made):,} refused"
    return f"{len(made):,} of {len(outcomes):,} quizzes are made{before}: {counted(forms, 'form')}{refused}."


def _more(faults: int) -> str:
    return f" (and {faults} more)" if faults else ""


def folder_in_short(job: WantedQuiz) -> str:
    """Where a quiz lies below the folder of all, with forward slashes."""
    name = _quiz_folder(job.plan)
    return name if job.school is None else f"{job.school.folder}/{name}"


def _quiz_folder(plan: Path) -> str:
    return folder_name(plan.stem) or "quiz"
