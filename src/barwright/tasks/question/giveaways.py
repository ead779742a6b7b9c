"""Whether a teacher's own words for a question give something away, or leave out what it cannot do without.

Held to what our own texts are held to: they name no key and no choice alone, no other question's answer, nothing that
was not taught, and say of nothing that it is right.
"""

import re
from collections.abc import Iterable, Iterator

from barwright.blueprint.blueprint import Blueprint, taught_by
from barwright.check.rules.giveaways import tells_aloud
from barwright.items.form import Form, FormItem
from barwright.items.item import Answer
from barwright.items.taught import Taught
from barwright.misreadings import MISREADINGS
from barwright.rhythm.text import LETTERS
from barwright.showing import in_quotes
from barwright.wording.items_in_words import item_scene, worded_item
from barwright.wording.language import Language, words_for, words_of
from barwright.wording.worded import WordedAnswer, WordedChoice, WordedItem

# An own text that speaks of a choice by its letter or number: platforms mix the choices.
_BY_LETTER = re.compile(
    r"\b(choice|answer|letter|option|opción|respuesta|letra)s?\s+(?-i:[A-E]|[1-5])\b|\bc[1-9]\b", re.IGNORECASE
)
_WORD = re.compile(r"[^\W_]+(?:[/.½¼¾][^\W_]+)*[½¼¾]?|[½¼¾]")
LEAST_ELSEWHERE = 3  # signs of another question's answer: shorter ones stand in every sentence


def own_faults(placed: FormItem, form: Form, blueprint: Blueprint) -> Iterator[str]:
    """What is wrong with the own words of a question in its form, each with the mend; nothing where they are ours."""
    own = placed.words
    if not own.texts:
        return
    words, shown = words_of(form), worded_item(placed.in_our_words, form.language, form.wording)
    texts = {choice.answer.text for choice in placed.item.wrong}
    for text, _ in own.hints:
        if text not in texts:
            yield f"hints: {in_quotes(text)} is no wrong choice of this question: take one as the page shows it"
    if own.stem:
        yield from (f"stem: {fault}" for fault in _missing(own.stem, placed, shown, words))
    kinds = (("stem", own.stem), ("hint", own.hint), *(("hints", text) for _, text in own.hints))
    versions = [(words, shown)]
    for code in form.also:
        versions.append((words_for(code, form.wording), worded_item(placed.in_our_words, code, form.wording)))
    for kind, text in kinds:
        faults: dict[str, None] = {}
        for tongue, version in versions if text else ():
            faults |= dict.fromkeys(_told(text, placed, version, form, taught_by(blueprint.elements), tongue))
            faults |= dict.fromkeys(_parting(text, version)) if kind == "stem" else {}
        yield from (f"{kind}: {fault}" for fault in faults)


def _missing(text: str, placed: FormItem, shown: WordedItem, words: Language) -> Iterator[str]:
    """What our own question says and nothing else tells: the meter, the unit, which number is asked about."""
    scene, ours = item_scene(placed.item, placed.number, words), shown.stem[0]
    for name in ("meter", "target", "unit", "units"):
        value = str(scene.get(name, ""))
        if value and _holds(ours, value) and not _holds(text, value):
            yield f"it leaves out {in_quotes(value)}, without which nobody can answer: say it, too"


def _told(text: str, placed: FormItem, shown: WordedItem, form: Form, taught: Taught, words: Language) -> Iterator[str]:
    """What any text must not say: hints as well."""
    ours = " ".join(shown.stem)
    if told := tells_aloud(text):
        yield f"{in_quotes(told)} tells what is right or wrong: leave it out"
    if match := _BY_LETTER.search(text):
        yield f"{in_quotes(match[0])} names a choice by its place, and platforms mix them: leave it out"
    if ident := next((each for each in MISREADINGS if each in text), ""):
        yield f"{in_quotes(ident)} is the name of a misreading, which students must not see: leave it out"
    if name := next((each for each in _untaught(taught, words) if _holds(text, each)), ""):
        yield f"{in_quotes(name)} is not among the elements taught: leave it out"
    keys, others = _names(shown, key=True), _names(shown, key=False)
    key = next((each for each in keys if _holds(text, each, beside=others) and not _holds(ours, each)), "")
    if key and not all(any(_holds(text, each) for each in _of(choice)) for choice in shown.choices):
        yield f"{in_quotes(key)} gives the answer away: leave it out"
    for other in form.items:
        if other.number != placed.number:
            for answer in (choice.answer for choice in other.item.keys if choice.answer.kind in ("row", "measures")):
                if _is_long(answer) and _holds(text, answer.text) and not _holds(ours, answer.text):
                    yield f"{in_quotes(answer.text)} is the answer to question {other.number}: leave it out"


def _parting(text: str, shown: WordedItem) -> Iterator[str]:
    """What of a stem parts the right choices from the wrong ones, or names a wrong one alone, where one is picked."""
    if shown.interaction in ("entry", "inline", "order"):
        return
    ours = " ".join(shown.stem)
    named = [any(_holds(text, each) and not _holds(ours, each) for each in _of(c)) for c in shown.choices]
    keys = [choice.key for choice in shown.choices]
    if any(named) and not all(named) and not any(n and k for n, k in zip(named, keys, strict=True)):
        yield "it names some of the wrong choices, so that fewer are left: name all choices, or none"
    right, wrong = (
        [set(_WORD.findall(choice.text.casefold())) for choice in shown.choices if choice.key is side]
        for side in (True, False)
    )
    telling = set.intersection(*right).difference(*wrong, _WORD.findall(ours.casefold())) if right else set()
    if word := next((each for each in _WORD.findall(text.casefold()) if each in telling), ""):
        yield f"{in_quotes(word)} stands in the right choice only, and gives it away: leave it out"


def _is_long(answer: Answer) -> bool:
    return len(answer.text) >= LEAST_ELSEWHERE and " " in answer.text


def _of(choice: WordedChoice | WordedAnswer) -> tuple[str, ...]:
    """What a choice is called: its text, the picture as it is read aloud, all that may be typed for it."""
    if isinstance(choice, WordedAnswer):
        return (choice.text,) if choice.text else ()
    aloud = choice.figure.alt.strip().rstrip(".") if choice.figure is not None else ""
    return tuple(each for each in (choice.text, _bare(aloud), *choice.spellings) if each)


def _bare(aloud: str) -> str:
    """A picture as it is read aloud, without what is said before a colon."""
    return aloud.rpartition(": ")[2]


def _names(shown: WordedItem, *, key: bool) -> list[str]:
    """What the right choices are called, or the wrong ones; where an answer is put together, the whole answers."""
    every: list[WordedChoice | WordedAnswer] = list(shown.foreseen or shown.choices)
    return [name for each in every if each.key is key for name in _of(each)]


def _holds(text: str, name: str, *, beside: Iterable[str] = ()) -> bool:
    """Whether a text holds a name as whole words, not only inside one of the longer names beside it."""
    plain = " ".join(text.casefold().split())
    wanted = " ".join(name.casefold().split())
    for other in beside:
        longer = " ".join(other.casefold().split())
        if wanted != longer and wanted in longer:
            plain = plain.replace(longer, " ")
    return bool(wanted) and re.search(rf"(?<![\w/.-]){re.escape(wanted)}(?![\w/-]|\.\d)", plain) is not None


def _untaught(taught: Taught, words: Language) -> Iterator[str]:
    """Names of notes and rests that the class does not know."""
    for letter, name in LETTERS.items():
        for kind, token in (("note", letter), ("rest", f"r{letter}" if letter != "w" else "rW")):
            if token not in taught.tokens and f"{token}t" not in taught.tokens:
                yield from words.pair("words", f"{kind}.{name}")
