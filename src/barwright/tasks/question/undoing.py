"""Never again, and back: a question that is not to be asked, and each change taken back."""

from dataclasses import dataclass
from pathlib import Path

from barwright import __version__
from barwright.bank.merging import merged
from barwright.bank.records import entry_of, record_of
from barwright.edits.changes import Whose
from barwright.edits.writing import ChangesText, Table, content_fields
from barwright.errors import BarwrightError
from barwright.items.item import Item
from barwright.showing import meant, shown
from barwright.tasks.bank.files import update
from barwright.tasks.progress import Progress, silent
from barwright.tasks.question.actions import at_place, at_spot, check_not_kept, has, put_instead, said
from barwright.tasks.question.changing import Changed, changed_by
from barwright.tasks.question.offering import offers, taken
from barwright.tasks.question.quiz import LEAST_OF_ID, NamedQuestion, StandingQuiz, Which, asked, kinds_of
from barwright.tasks.saying import listed

KINDS = ("another", "keep", "points", "move", "wording", "never")
_NEVER_KEYS = ("item", "ask", "excerpt", "target")


@dataclass(frozen=True, slots=True)
class Retirement:
    """The bank that is told that a question is never to be asked again, and what is written there beside it."""

    bank: Path
    by: str = ""
    date: str = ""
    comment: str = ""


def never(
    folder: Path, which: Which, *, take: str = "", bank: Retirement | None = None, progress: Progress = silent
) -> Changed:
    """The question is asked nowhere in this quiz again, and the likest other (or that of `take`) stands in its place.

    A bank gets its retirement as a record, with the item if it has not got it; nothing is deleted there. Of a question
    that is never asked already only that is said.
    """

    def edit(quiz: StandingQuiz, text: ChangesText) -> str:
        if tables := banned(text, which.question):
            return f"{tables[0]['item']} is never asked already."
        question = asked(quiz, which)
        item = question.placed.item
        other = taken(offers(quiz, question), take, question).item
        if bank is not None:
            retire_in_bank(bank, item, question.form.title)
        text.remove("keep", at_spot(question.spot))
        content = {key: value for key, value in content_fields(item).items() if key in _NEVER_KEYS}
        text.add("never", content)
        put_instead(text, question, other)
        noted = f" It is retired in {bank.bank}." if bank is not None else ""
        return f"{said(question)} ({item.id}) is never asked again; in its place stands {other.id}.{noted}"

    return changed_by(folder, which, edit, progress=progress)


def banned(text: ChangesText, question: str) -> list[Table]:
    """The tables of questions that are never asked and whose id begins so."""
    start = question.strip().lower()
    return [t for t in text.found("never", {}) if len(start) >= LEAST_OF_ID and str(t["item"]).startswith(start)]


def retire_in_bank(retirement: Retirement, item: Item, title: str) -> None:
    """Adds the item to a bank, if it is not there, and a review that retires it; BankError as `files.update`."""
    about = {"by": retirement.by, "date": retirement.date}
    source = record_of("source", **about, made_by=f"barwright {__version__}", title=title)
    review = record_of("review", **about, text=" ".join(retirement.comment.split()), verdict="retire")
    update(retirement.bank, lambda old: merged([old, (entry_of(item, [source, review]),)]))


def back(folder: Path, which: Which, *, what: str = "", progress: Progress = silent) -> Changed:
    """Takes one change of a question back: of the kind `what`, or the only one that there is.

    Of several exchanges the last is taken back. A question that is never asked is named by its id; if another stands in
    its place only for that, it comes back. BarwrightError where nothing is to be taken back, or where it is not said
    what.
    """
    if what and what not in KINDS:
        raise BarwrightError(f"--what {shown(what)} is not known{meant(what, KINDS, '')}")

    def edit(quiz: StandingQuiz, text: ChangesText) -> str:
        if what in ("", "never") and (tables := banned(text, which.question)):
            return _asked_again(quiz, text, str(tables[0]["item"]))
        question = asked(quiz, which)
        there = kinds_of(quiz, question.spot, question.placed)
        kind = what or (there[0] if len(there) == 1 else "")
        if not there or (what and what not in there):
            raise BarwrightError(f"{question.name} has no such change to take back{_instead(there)}")
        if not kind:
            raise BarwrightError(f"{question.name} has several changes: say which with --what {listed(there)}")
        if kind == "another":
            check_not_kept(quiz, question)
        _remove(text, question, kind)
        return f"{said(question)}: {kind} is taken back."

    return changed_by(folder, which, edit, progress=progress)


def _instead(there: tuple[str, ...]) -> str:
    return f": it has {listed(there, 'and')}" if there else ""


def _remove(text: ChangesText, question: NamedQuestion, kind: str) -> None:
    spot, item = question.spot, question.placed.item
    if kind == "another":
        _remove_last(text, spot.whose, question.placed.as_made.item.id)
    elif kind == "keep":
        text.remove("keep", at_spot(spot))
    elif kind == "points":
        text.remove("points", at_place(spot))
    elif kind == "move":
        text.remove("order", lambda table: has(table, spot.whose))
    else:
        text.remove("wording", lambda table: bool(table["item"] == item.id))


def _remove_last(text: ChangesText, whose: Whose, made: str) -> None:
    """Takes the last exchange of an item out."""
    last = [table for table in text.found("exchange", {"made": made}) if has(table, whose)][-1]
    text.remove("exchange", lambda table: table is last)


def _asked_again(quiz: StandingQuiz, text: ChangesText, item: str) -> str:
    """Lifts the ban of a question, and lets it stand again where it was exchanged for that."""
    text.remove("never", lambda table: bool(table["item"] == item))
    for form in quiz.forms:
        for placed in form.items:
            made = placed.as_made.item.id
            puts = quiz.changes.exchanged((form.section, form.retake), made)
            before = [made, *(put.item.id for put in puts)]
            if len(before) > 1 and before[-2] == item:
                _remove_last(text, (form.section, form.retake), made)
    return f"{item} may be asked again. What a bank was told stays there."
