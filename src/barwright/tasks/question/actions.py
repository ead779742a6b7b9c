"""What `barwright question` does to one question: each function is one command, and what a page would call."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from string import ascii_uppercase

from barwright.edits.changes import Spot, Whose
from barwright.edits.writing import ChangesText, Fields, Table, content_fields
from barwright.errors import BarwrightError
from barwright.items.item import Item
from barwright.items.own_words import OwnWords, own_text_fault
from barwright.rhythm.text import format_excerpt
from barwright.showing import meant, shown
from barwright.tasks.progress import Progress, silent
from barwright.tasks.question.changing import Changed, changed
from barwright.tasks.question.giveaways import own_faults
from barwright.tasks.question.offering import offers, taken
from barwright.tasks.question.quiz import NamedQuestion, StandingQuiz, Which
from barwright.tasks.standing import label

MOST_POINTS = 100


def another(folder: Path, which: Which, *, take: str = "", progress: Progress = silent) -> Changed:
    """Another question in the place of one: that whose id begins with `take`, else the likest.

    BarwrightError if it is kept, or if there is no other.
    """

    def edit(quiz: StandingQuiz, question: NamedQuestion, text: ChangesText) -> str:
        check_not_kept(quiz, question)
        item = taken(offers(quiz, question), take, question).item
        put_instead(text, question, item)
        return f"{said(question)} is now {item.id}: {format_excerpt(item.excerpt)}."

    return changed(folder, which, edit, progress=progress)


def keep(folder: Path, which: Which, *, progress: Progress = silent) -> Changed:
    """The question stays where it is whenever the quiz is made again, with whatever seed."""

    def edit(quiz: StandingQuiz, question: NamedQuestion, text: ChangesText) -> str:
        if question.spot in quiz.changes.keeps:
            return f"{said(question)} is kept already."
        text.add("keep", {**spot_fields(question.spot), **content_fields(question.placed.item)})
        return f"{said(question)} is kept: it stays whenever the quiz is made again."

    return changed(folder, which, edit, progress=progress)


def release(folder: Path, which: Which, *, progress: Progress = silent) -> Changed:
    """The question stays for now, and goes when the quiz is made with another seed."""

    def edit(quiz: StandingQuiz, question: NamedQuestion, text: ChangesText) -> str:
        if question.spot not in quiz.changes.keeps:
            return f"{said(question)} is not kept, so there is nothing to release."
        made, item = question.placed.as_made.item, question.placed.item
        text.remove("keep", at_spot(question.spot))
        puts = quiz.changes.exchanged(question.spot.whose, made.id)
        if item != (puts[-1].item if puts else made):
            put_instead(text, question, item)
        return f"{said(question)} is kept no more: another seed brings another question."

    return changed(folder, which, edit, progress=progress)


def move(folder: Path, which: Which, to: int, *, progress: Progress = silent) -> Changed:
    """The question gets another number, and those between move up or down."""

    def edit(_quiz: StandingQuiz, question: NamedQuestion, text: ChangesText) -> str:
        places = {placed.number: placed.as_made.number for placed in question.form.items}
        if to not in places:
            raise BarwrightError(f"{label(question.form)} has no question {to}: it has 1 to {len(places)}")
        order = [places[number] for number in sorted(places)]
        order.insert(to - 1, order.pop(question.placed.number - 1))
        whose = form_fields((question.spot.section, question.spot.retake))
        if order == sorted(order):
            text.remove("order", lambda table: has(table, question.spot.whose))
        else:
            text.set("order", whose, {"places": order})
        return f"{said(question)} is now question {to}."

    return changed(folder, which, edit, progress=progress)


def points(folder: Path, which: Which, worth: int, *, progress: Progress = silent) -> Changed:
    """What the question in this place is worth, whichever it is."""

    def edit(_quiz: StandingQuiz, question: NamedQuestion, text: ChangesText) -> str:
        if not 1 <= worth <= MOST_POINTS:
            raise BarwrightError(f"{worth} points: use 1 to {MOST_POINTS}")
        spot = question.spot
        if worth == question.placed.as_made.points:
            text.remove("points", at_place(spot))
        else:
            text.set("points", place_fields(spot), {"points": worth})
        return f"{said(question)} is worth {worth} point{'' if worth == 1 else 's'}."

    return changed(folder, which, edit, progress=progress)


def wording(
    folder: Path, which: Which, *, stem: str = "", hint: str = "", choice: str = "", progress: Progress = silent
) -> Changed:
    """A teacher's own stem of the question, or hint: for any wrong answer, or for one choice (a letter of the proof).

    BarwrightError for a text that is not plain or too long, that gives the answer away, or that leaves out what nobody
    can answer without.
    """

    def edit(quiz: StandingQuiz, question: NamedQuestion, text: ChangesText) -> str:
        check_texts(question, stem, hint, choice)
        old = question.placed.words
        hints = {answer_of(question, choice): hint} if choice else {}
        own = OwnWords(stem, "" if choice else hint, tuple(hints.items()))
        for fault in own_faults(replace(question.placed, words=own), question.form, quiz.blueprint):
            raise BarwrightError(f"{question.name}, {fault}")
        more: dict[str, object] = {"stem": own.stem, "hint": own.hint, "hints": {**dict(old.hints), **hints}}
        text.set("wording", {"item": question.placed.item.id}, {key: each for key, each in more.items() if each})
        return f"{said(question)} has your own {' and '.join(['stem'] * bool(stem) + ['hint'] * bool(hint))}."

    return changed(folder, which, edit, progress=progress)


def check_texts(question: NamedQuestion, stem: str, hint: str, choice: str) -> None:
    """BarwrightError for own words that no form could show."""
    if not (stem or hint):
        raise BarwrightError("say what to write: --stem TEXT, --hint TEXT, or --hint TEXT with --choice LETTER")
    if choice and not hint:
        raise BarwrightError(f"--choice {shown(choice)} does nothing here: give it with --hint")
    if hint and not question.form.feedback:
        raise BarwrightError("this quiz tells no hints (feedback = false in the blueprint), so leave out --hint")
    for name, given in (("--stem", stem), ("--hint", hint)):
        if given and (fault := own_text_fault(given)):
            raise BarwrightError(f"{name} {fault}")


def answer_of(question: NamedQuestion, choice: str) -> str:
    """The text of a wrong answer by its letter in the proof, or as rhythm text; BarwrightError for any other."""
    placed = question.placed
    texts = [placed.item.choices[index].answer.text for index in placed.order]
    letters = dict(zip(ascii_uppercase, texts, strict=False))
    answer = letters.get(choice.strip().upper(), choice.strip())
    wrong = [each.answer.text for each in placed.item.wrong]
    if answer in {key.answer.text for key in placed.item.keys}:
        raise BarwrightError(
            f"--choice {shown(choice)} is the right answer of {question.name}: a hint is for wrong ones"
        )
    if answer not in wrong:
        mend = meant(answer, wrong, "the proof shows them all")
        raise BarwrightError(f"--choice {shown(choice)} is no choice of {question.name}{mend}")
    return answer


# Fields of tables, and whether a table has them.


def form_fields(whose: Whose) -> Fields:
    """What names a form in a table."""
    section, retake = whose
    return {"section": section, "retake": retake} if retake else {"section": section}


def place_fields(spot: Spot) -> Fields:
    """What names a question in a table."""
    return {**form_fields(spot.whose), "place": spot.place}


def spot_fields(spot: Spot) -> Fields:
    """What names an item in a table: with several variants also which it is."""
    return {**place_fields(spot), "variant": spot.variant} if spot.variant > 1 else place_fields(spot)


def has(table: Table, whose: Whose) -> bool:
    """Whether a table is of this form."""
    return bool((table["section"], table.get("retake", 0)) == whose)


def at_place(spot: Spot) -> Callable[[Table], bool]:
    """Whether a table is of this question."""
    return lambda table: has(table, spot.whose) and bool(table["place"] == spot.place)


def at_spot(spot: Spot) -> Callable[[Table], bool]:
    """Whether a table is of this item."""
    return lambda table: at_place(spot)(table) and bool(table.get("variant", 1) == spot.variant)


def check_not_kept(quiz: StandingQuiz, question: NamedQuestion) -> None:
    """BarwrightError if a question is kept."""
    if question.spot in quiz.changes.keeps:
        raise BarwrightError(f"{question.name} is kept: release it first, with barwright question release")


def put_instead(text: ChangesText, question: NamedQuestion, item: Item) -> None:
    """Notes an item in the place of one that make put there."""
    made = {"made": question.placed.as_made.item.id}
    text.add("exchange", {**spot_fields(question.spot), **made, **content_fields(item)})


def said(question: NamedQuestion) -> str:
    """What a question is called at the beginning of a sentence."""
    return f"Q{question.name[1:]}"
