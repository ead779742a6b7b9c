"""Everything that the desk does, as one call each that a command makes, too: no rule of the job stands here.

`tests/desk/test_layers.py` holds that: what is imported here from the tasks, the commands import as well. Long ones are
done in a process of their own (`LONG`), by orders that JSON can hold; `Progress` tells how far they are.
"""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from barwright.desk.rendering import rendered
from barwright.desk.sentences import Say
from barwright.tasks.bank.add import add
from barwright.tasks.bank.merge import merge
from barwright.tasks.bank.news import news
from barwright.tasks.bank.review import review, verdict_of
from barwright.tasks.diagnose.diagnose import forget
from barwright.tasks.folders import mend
from barwright.tasks.keeping import keep, reteach_plan, say_columns, take_away
from barwright.tasks.plan.changing import change, class_change, form_changes, rewrite, undo
from barwright.tasks.plan.editing import AddPart, Change, RaisePart, RemovePart
from barwright.tasks.progress import Progress
from barwright.tasks.question.actions import another, move, points, release, wording
from barwright.tasks.question.actions import keep as keep_question
from barwright.tasks.question.changing import Changed, edited
from barwright.tasks.question.quiz import Which
from barwright.tasks.question.undoing import Retirement, back, never
from barwright.tasks.start import start

__all__ = [
    "LONG",
    "AddPart",
    "Answer",
    "Change",
    "RaisePart",
    "RemovePart",
    "add",
    "change",
    "change_question",
    "class_change",
    "forget",
    "form_changes",
    "keep",
    "mend",
    "merge",
    "news",
    "reteach_plan",
    "review",
    "rewrite",
    "say_columns",
    "start",
    "take_away",
    "undo",
    "verdict_of",
]

Answer = dict[str, Any]
Asked = Mapping[str, Any]


def _make(order: Asked, progress: Progress) -> Answer:
    """`barwright make`, or with `bank` `barwright bank take`."""
    from barwright.tasks.bank.take import take, taken_lines
    from barwright.tasks.make import make
    from barwright.tasks.packing import Order, accommodations_of, first_to_import, shapes_of, standards_of
    from barwright.tasks.saying import counted
    from barwright.tasks.shown.contents import OUT
    from barwright.tasks.summary import summary

    asked = Order(
        Path(OUT),
        order.get("seed"),
        standards_of(order.get("standards") or None),
        shapes_of(order.get("shapes") or None),
        tuple(order.get("sections", ())),
        bool(order.get("replace")),
        retake=int(order.get("retake", 0)),
        forget_retakes=bool(order.get("forget_retakes")),
        paper=bool(order.get("paper")),
        allow_repeats=bool(order.get("allow_repeats")),
        accommodations=accommodations_of(order.get("accommodations") or None),
    )
    plan = Path(order["plan"])
    if order.get("bank"):
        taken = take(Path(order["bank"]), plan, asked, where=(), since=str(order["since"]), progress=progress)
        made, lines = taken.made, (*taken.faults, *taken_lines(taken))
    else:
        made = make(plan, asked, progress=progress)
        lines = summary(made)
    packages = made.packed.packages
    told = f"Wrote {made.folder}: {counted(len(packages), 'package')}, {counted(made.packed.figures, 'figure')}."
    return {
        "lines": [*lines, told],
        "first": first_to_import(packages),
        "quiz": made.folder.name,
    }


def _preview(order: Asked, progress: Progress) -> Answer:
    """`barwright plan --preview`."""
    from barwright.tasks.shown.preview import previewed

    say = Say(order["language"])
    preview = previewed(Path(order["plan"]), progress, order["language"])
    return {
        "lines": [preview.verdict],
        "section": preview.section,
        "parts": {str(part.number): rendered("preview.html.j2", say, part=part) for part in preview.parts},
    }


def change_question(order: Asked, progress: Progress) -> Answer:
    """`barwright question ...`: the command that `do` names, on the question as it stood in what was `seen`."""
    folder, plan, seen = Path(order["quiz"]), Path(order["plan"]), str(order["seen"])
    if order["do"] == "apply":
        return {"lines": list(edited(folder, plan, seen=seen, progress=progress).news)}
    which = Which(order["question"], order["section"], order["retake"], plan, seen)
    return {"lines": list(_QUESTION[order["do"]](folder, which, order, progress).news)}


_Question = Callable[[Path, Which, Asked, Progress], Changed]
_QUESTION: dict[str, _Question] = {
    "another": lambda folder, which, order, progress: another(folder, which, take=order["take"], progress=progress),
    "keep": lambda folder, which, _order, progress: keep_question(folder, which, progress=progress),
    "release": lambda folder, which, _order, progress: release(folder, which, progress=progress),
    "never": lambda folder, which, order, progress: never(
        folder, which, take=order["take"], bank=_retirement(order), progress=progress
    ),
    "move": lambda folder, which, order, progress: move(folder, which, order["to"], progress=progress),
    "points": lambda folder, which, order, progress: points(folder, which, order["worth"], progress=progress),
    "wording": lambda folder, which, order, progress: wording(
        folder, which, stem=order["stem"], hint=order["hint"], choice=order["choice"], progress=progress
    ),
    "back": lambda folder, which, order, progress: back(folder, which, what=order["what"], progress=progress),
}


def _retirement(order: Asked) -> Retirement | None:
    if not order.get("bank"):
        return None
    return Retirement(Path(order["bank"]), order["by"], order["date"], order["comment"])


def _diagnose(order: Asked, progress: Progress) -> Answer:
    """`barwright diagnose`."""
    from barwright.tasks.diagnose.diagnose import Doubtful, Wish, diagnose, told_lines

    wish = Wish(names=bool(order.get("names")), feedback=bool(order.get("feedback")))
    done = diagnose(Path(order["quiz"]), _paths(order["files"]), wish, progress=progress)
    return {"lines": list(told_lines(done)), "doubtful": isinstance(done, Doubtful)}


def _paths(names: Sequence[str]) -> list[Path]:
    return [Path(name) for name in names]


LONG: dict[str, Callable[[Asked, Progress], Answer]] = {
    "make": _make,
    "preview": _preview,
    "question": change_question,
    "diagnose": _diagnose,
}
