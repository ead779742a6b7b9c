"""`rehearse`: how well a quiz will tell misreadings, before a class sits it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.blueprint.parsing import read_blueprint, told
from barwright.errors import BarwrightError, BlueprintError, CapacityError
from barwright.forms.assembly import made_forms
from barwright.items.form import Form
from barwright.results.answers import administered
from barwright.results.chances import LEAST_CHANCES, FormActs, acted_forms
from barwright.results.rehearsing import Rehearsal, Rehearsed, rehearsed
from barwright.tasks.capacity import meter_faults
from barwright.tasks.files import read_text
from barwright.tasks.form_folders import RECORD
from barwright.tasks.progress import Progress, silent
from barwright.tasks.record import read_record, read_record_text
from barwright.tasks.saying import counted, listed, quoted
from barwright.tasks.sections import with_sections
from barwright.tasks.telling import untold_groups

MOST_FORMS = 3
"""Forms that are rehearsed: they are parallel, and each takes a second or two."""
LEAST_CLASS, MOST_CLASS = 2, 200
WORTH_SAYING = 0.05
FEW = (2, 3)
HELD = 3


@dataclass(frozen=True, slots=True)
class RehearsedQuiz:
    """The rehearsal of so many of the forms of a quiz, with what their misreadings lead to."""

    title: str
    forms: tuple[FormActs, ...]
    of: int
    rehearsal: Rehearsal


def rehearse(path: Path, *, students: int = 25, seed: int = 1, progress: Progress = silent) -> RehearsedQuiz:
    """The rehearsal of a quiz folder, or of the quiz that a blueprint file makes; BarwrightError for what is neither.

    `students`: how many a class has.
    """
    if not LEAST_CLASS <= students <= MOST_CLASS:
        raise BarwrightError(f"--students {students}: a class has {LEAST_CLASS} to {MOST_CLASS} students here")
    forms = _of_folder(path) if path.is_dir() else _of_blueprint(path, progress)
    quiz = [form for form in forms if not form.retake] or list(forms)
    given = administered(quiz[:MOST_FORMS])
    progress("rehearsal", 0, 1)
    rehearsal = rehearsed(given, class_size=students, seed=seed)
    progress("rehearsal", 1, 1)
    return RehearsedQuiz(quiz[0].title, acted_forms(given), len(quiz), rehearsal)


def _of_folder(folder: Path) -> tuple[Form, ...]:
    path = folder / RECORD
    if not path.is_file():
        raise BarwrightError(f"{folder} has no {RECORD}: name a folder that barwright make wrote, or a blueprint file")
    return read_record(read_record_text(path), str(path))


def _of_blueprint(path: Path, progress: Progress) -> tuple[Form, ...]:
    """The first forms of a blueprint, as `make` would make them; nothing is written."""
    blueprint, source = read_blueprint(read_text(path), str(path))
    if faults := list(meter_faults(blueprint)):
        raise BlueprintError(told(faults, source))
    blueprint = with_sections(blueprint, path)
    few = blueprint.model_copy(update={"sections": blueprint.sections[:MOST_FORMS]})
    try:
        made = made_forms(few, progress=lambda done, of: progress("items", done, of))
    except CapacityError as error:
        raise BlueprintError([source.fault(("part", error.part - 1, "items"), str(error))]) from error
    return tuple(each.form for each in made)


def rehearsal_lines(quiz: RehearsedQuiz) -> Iterator[str]:
    """The table of the misreadings, and what holds of the quiz as a whole."""
    rehearsal = quiz.rehearsal
    forms = counted(len(quiz.forms), "form") if len(quiz.forms) == quiz.of else f"{len(quiz.forms)} of {quiz.of} forms"
    yield f"{quiz.title}: {rehearsal.students:,} simulated students on {forms}, who slip in one answer of ten."
    yield ""
    named = [row for row in rehearsal.rows if row.chances >= LEAST_CHANCES]
    yield from _table(named)
    yield ""
    yield from _rivals(named)
    if few := [row.misreading for row in rehearsal.rows if row.chances < LEAST_CHANCES]:
        yield f"Too few chances to name a student for, in some form at least: {listed(few, 'and')}."
    for group, where in untold_groups(quiz.forms):
        yield f"No item tells apart{where}: {listed(group)}. They are found as one."
    yield from _typed(named)
    yield from _whole(rehearsal)


def _table(rows: Sequence[Rehearsed]) -> Iterator[str]:
    width = max((len(row.misreading) for row in rows), default=10)
    yield f"{'misreading':<{width}}  chances  typed  apart  found  beside another  falsely  confused with or near"
    for row in rows:
        chances = f"{row.chances}-{row.most}" if row.most > row.chances else str(row.chances)
        other, share = row.mistaken
        mistaken = f"{other} ({share:.0%})" if share >= WORTH_SAYING else row.rival
        yield (
            f"{row.misreading:<{width}}  {chances:>7}  {row.typed:>5}  {row.apart:>5}  {row.found:>5.0%}  "
            f"{row.beside:>14.0%}  {row.false:>7.1%}  {mistaken}"
        )


def _rivals(rows: Sequence[Rehearsed]) -> Iterator[str]:
    """From what each can be told worst: the three that are most like it, where some chance is shared with them."""
    near = [(row, [pair for pair in row.rivals if pair[0] < row.chances]) for row in rows]
    if any(pairs for _, pairs in near):
        yield "How many chances set it apart from those that are most like it:"
        for row, pairs in near:
            if pairs:
                yield f"  {row.misreading}: {', '.join(f'{apart} from {rival}' for apart, rival in pairs)}"
        yield ""


def _typed(rows: Sequence[Rehearsed]) -> Iterator[str]:
    """That typed answers tell most, with the figures of this quiz where it has both kinds."""
    few = [row for row in rows if row.chances in FEW]
    kinds = [[row.found for row in few if each(row)] for each in (_all_typed, _none_typed)]
    shares = [sum(kind) / len(kind) for kind in kinds if len(kind) >= HELD]
    figures = (
        f" With two or three chances {shares[0]:.0%} are found here where all are typed, {shares[1]:.0%} where none is."
        if len(shares) == len(kinds)
        else ""
    )
    yield f"Answers that are typed or put together tell most: whatever a misreading leads to is seen.{figures}"


def _all_typed(row: Rehearsed) -> bool:
    return row.typed == row.chances


def _none_typed(row: Rehearsed) -> bool:
    return row.typed == 0


def _whole(rehearsal: Rehearsal) -> Iterator[str]:
    size = rehearsal.class_size
    yield (
        f"In a class of {size}: about {rehearsal.false * size:.1f} false findings; of those who hold nothing "
        f"{rehearsal.clean:.0%} are named. Nothing found does not mean nothing held."
    )
    if rehearsal.reliability is None:
        yield f"Reliability (KR-20) in a class of {size}: not defined for so few items."
    else:
        expected, low, high = rehearsal.reliability
        yield (
            f"Reliability (KR-20) in a class of {size}: about {expected:.2f}; "
            f"{low:.2f} to {high:.2f} in nine classes of ten."
        )
    yield f"A student needs about {-(-rehearsal.seconds // 60)} minutes ({rehearsal.seconds} seconds)."
    yield (
        f"Who guesses what is most like the other choices has {rehearsal.guesser:.0%} right, "
        f"and {rehearsal.guesser_false:.2f} false findings."
    )


def next_line(path: Path, quiz: RehearsedQuiz) -> str:
    """What to do about it."""
    few = any(row.chances < LEAST_CHANCES for row in quiz.rehearsal.rows)
    what = "more items, typed asks, or `misreadings` in a part, give more chances" if few else "all have chances enough"
    return f"Next: {what}; then  barwright make {quoted(path)}" if path.is_file() else f"Next: {what}."
