"""Claims as sentences: a claim's text is its kind and then its numbers, e.g. `fits-not 4 3` (see items/model.py).

One item of a form in words: stem, picture, choices in their order, feedback.

A form in words: what the writers of packages and pages get."""

from dataclasses import replace
from fractions import Fraction

from barwright.asks import ASKS
from barwright.counting.counts import count_labels, format_row, spellings
from barwright.counting.labels import first_count
from barwright.errors import TemplateError
from barwright.items.form import ALL_SECTIONS, Changes, Form, FormItem
from barwright.items.item import Answer, Choice, Item
from barwright.items.own_words import OwnWords
from barwright.misreadings import JOINT, likeliest_first
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.values import NAMES
from barwright.wording.alt_text import spoken
from barwright.wording.counting_rules import counting_rules, rule_ids
from barwright.wording.figures import choice_figure, labelled, question_figure
from barwright.wording.language import Language, words_for, words_of
from barwright.wording.numbers_in_words import amount, number_spellings, number_text, unit_names
from barwright.wording.own_counts import said, said_spellings
from barwright.wording.placed_items import placing_scene, with_places
from barwright.wording.scene import Scene, hint_scene, scene_of
from barwright.wording.side_by_side import in_two
from barwright.wording.worded import WordedChoice, WordedFigure, WordedForm, WordedItem


def note_names(number: Fraction, words: Language) -> tuple[str, str]:
    """Names, one and several, of the note that a bottom number stands for: 4 is the quarter note.

    Raises TemplateError for a number that stands for no note.
    """
    if not number or 1 / number not in NAMES:
        known = ", ".join(str(1 / plain) for plain in NAMES)
        raise TemplateError(f"bottom number {str(number)!r} stands for no note: use {known}")
    return words.pair("words", f"note.{NAMES[1 / number]}")


def claim_text(text: str, item: Item, scene: Scene, words: Language) -> str:
    """The claim as a sentence; raises TemplateError for a kind that the language has no sentence for."""
    kind, *rest = text.split()
    numbers = [Fraction(number) for number in rest]
    beats = unit_names(item.excerpt.meter, item.conventions, words)
    names: dict[str, object] = {}
    if kind in ("fits", "fits-not"):
        names = {"lasts": amount(numbers[0], beats, words), "holds_number": number_text(numbers[1])}
    elif kind == "adds-up":
        names = {"amount": amount(numbers[0], note_names(numbers[1], words), words)}
    elif kind in ("stands-for", "gets-beat"):
        names = {"unit": note_names(numbers[0], words)[0]}
    elif numbers:
        beat = words.pair("words", "number.beat")
        names = {"number": number_text(numbers[0]), "amount": amount(numbers[0], beat, words)}
    return words.text("claims", kind, {**scene, **names})


COUNTS = "count-labeling"


def worded_figure(figure: Figure | None, conventions: Conventions, words: Language) -> WordedFigure | None:
    """The figure with its alternative text; None for None."""
    return None if figure is None else WordedFigure(figure, spoken(figure, conventions, words))


def answer_text(answer: Answer, item: Item, scene: Scene, words: Language) -> str:
    """The answer as it stands in a list of texts; empty for symbols and measures, which are shown as pictures."""
    if answer.kind == "number":
        return number_text(Fraction(answer.text))
    if answer.kind == "claim":
        return claim_text(answer.text, item, scene, words)
    if answer.kind == "row":
        return said(answer.text, item.conventions.counting, words)
    return answer.text if answer.kind == "meter" else ""


# A wrong answer that is spelt otherwise is told the general hint instead of its own; it is wrong all the same.
MOST_FORESEEN = 20


def answer_spellings(answer: Answer, item: Item, words: Language) -> tuple[str, ...]:
    """Everything a student may type for this answer, the usual spelling first."""
    if answer.kind == "number":
        return number_spellings(Fraction(answer.text), item.excerpt.meter, item.conventions, words)
    counting = item.conventions.counting
    usual = said_spellings(spellings(answer.text, item.conventions), counting, words)
    if item.excerpt.mark is None or counting != "numbers":
        return usual
    first = spellings(first_count(answer.text), item.conventions)  # where the marked sound starts
    return tuple(dict.fromkeys((usual[0], *said_spellings(first, counting, words), *usual)))


def own_spellings(item: Item, choices: tuple[Choice, ...], words: Language) -> dict[Answer, tuple[str, ...]]:
    """Spellings of each answer of an entry item, those of a wrong one only as many as `MOST_FORESEEN`.

    One that two answers share, whatever the capitals, belongs to the key, else to the first.
    """
    taken: set[str] = set()
    spelled = {}
    for choice in sorted(choices, key=lambda c: not c.key):
        free = [s for s in answer_spellings(choice.answer, item, words) if s.casefold() not in taken]
        mine = tuple(free if choice.key else free[:MOST_FORESEEN])
        taken.update(map(str.casefold, mine))
        spelled[choice.answer] = mine
    return spelled


def item_scene(item: Item, number: int, words: Language) -> Scene:
    """Every name that the sentences of this item may use; with the row and the rules where counts are asked, and what
    the places are like where something is put into places."""
    scene = {**scene_of(item, number, words), **placing_scene(item)}
    if ASKS[item.ask].family != COUNTS:
        return scene
    row = format_row(count_labels(item.excerpt, item.conventions)) if "row-shown" in ASKS[item.ask].cues else ""
    hyphens = {"held.beats", "held.subdivisions"}.intersection(rule_ids(item))
    seen = {"row": said(row, item.conventions.counting, words), "row_rests": "(" in row, "row_holds": "-" in row}
    return {**scene, **seen, "rules": counting_rules(item, scene, words), "hyphens": bool(hyphens)}


def worded_choices(form_item: FormItem, scene: Scene, words: Language) -> tuple[WordedChoice, ...]:
    """The choices in the form's order, with neutral identifiers c1, c2 ..."""
    item = form_item.item
    choices = tuple(item.choices[index] for index in form_item.order)
    entry = ASKS[item.ask].interaction == "entry"
    typed = own_spellings(item, choices, words) if entry else {}
    return tuple(
        replace(_worded_choice(choice, place, item, scene, words), spellings=typed.get(choice.answer, ()))
        for place, choice in enumerate(choices, 1)
    )


def _worded_choice(choice: Choice, place: int, item: Item, scene: Scene, words: Language) -> WordedChoice:
    """The choice with its hint, which fits the likeliest of its misreadings; the teacher is told of all."""
    here = {**scene, **hint_scene(item, choice.answer, words)}
    told = likeliest_first(choice.misreadings)
    whys = [reason_why(each, here, words) for each in told]
    return WordedChoice(
        ident=f"c{place}",
        text=answer_text(choice.answer, item, scene, words),
        figure=worded_figure(choice_figure(choice.answer, item), item.conventions, words),
        key=choice.key,
        feedback=hint(told[0], item, here, words) if told else words.text("asks", f"{item.ask}.key", here),
        misreading=choice.misreading,
        why=" ".join([*whys[:1], *(words.text("asks", "form.or", {"why": why}) for why in whys[1:])]),
    )


def hint(told: str, item: Item, scene: Scene, words: Language) -> str:
    """What a student is told whose wrong choice stands for this misreading, or for these two held at once.

    Of two first that of the error nearer to the key, which is acted out first: who mends it is next told of the other.
    Of both at once where the item has the choices of either alone as well. Who tells the job of the other number is
    told of that only, whatever else is wrong.
    """
    held = told.split(JOINT)
    held = held[-1:] if item.target else held
    hints = [words.text("misreadings", f"{each}.feedback", scene) for each in held]
    corner = {c.misreading for c in item.wrong}.issuperset(held)
    return " ".join(dict.fromkeys(hints)) if corner else hints[0]


def reason_why(told: str, scene: Scene, words: Language) -> str:
    """Why a student takes a wrong choice that stands for this misreading, or for these two held at once."""
    whys = [words.text("misreadings", f"{held}.why", scene) for held in told.split(JOINT)]
    return whys[0] if len(whys) == 1 else words.text("pages", "held-together", {"first": whys[0], "second": whys[1]})


def worded_item(form_item: FormItem, language_code: str, wording: Changes = ()) -> WordedItem:
    """The item in the words of a language, its choices in the form's order; raises TemplateError for a missing text.

    The order is the form's for pinned asks too: the form has sorted their choices already.
    """
    words, item = words_for(language_code, wording), form_item.item
    ask, scene = item.ask, item_scene(item, form_item.number, words)
    shown_item = WordedItem(
        ident=f"q{item.id}",
        item_id=item.id,
        title=words.text("asks", "form.title", scene),
        interaction=ASKS[ask].interaction,
        stem=_stem(words.texts("asks", f"{ask}.stem", scene), form_item.words),
        figure=worded_figure(question_figure(item), item.conventions, words),
        choices=_with_hints(worded_choices(form_item, scene, words), form_item),
        points=form_item.points,
        note=words.text("asks", f"{ask}.note", scene),
        general_feedback=_own(words.text("asks", f"{ask}.general", scene), form_item.words.hint),
        pinned=ASKS[ask].pinned,
        category=ask,
        pool=form_item.pool,
        keywords=form_item.keywords,
    )
    return with_places(shown_item, item, form_item.order, words)


def _stem(ours: tuple[str, ...], own: OwnWords) -> tuple[str, ...]:
    """The question; own words stand for its first paragraph, and rows of counts and rules stay below."""
    return (own.stem, *ours[1:]) if own.stem else ours


def _own(ours: str, own: str) -> str:
    """Own words in place of ours, where there are any of both."""
    return own if own and ours else ours


def _with_hints(choices: tuple[WordedChoice, ...], placed: FormItem) -> tuple[WordedChoice, ...]:
    """The choices with the teacher's own hints beside the wrong ones."""
    hints, spare = dict(placed.words.hints), placed.words.hint
    texts = [placed.item.choices[index].answer.text for index in placed.order]
    return tuple(
        choice if choice.key else replace(choice, feedback=_own(choice.feedback, hints.get(text, spare)))
        for choice, text in zip(choices, texts, strict=True)
    )


def worded_form(form: Form) -> WordedForm:
    """The form in the words of its languages; raises TemplateError if a text is missing there."""
    first = _in_one(form)
    if not form.also:
        return first
    others = [(code, _in_one(replace(form, language=code))) for code in form.also]
    items = tuple(
        in_two(item, [(code, other.items[place]) for code, other in others]) for place, item in enumerate(first.items)
    )
    return replace(first, items=items, also=tuple((code, other.intro) for code, other in others))


def _in_one(form: Form) -> WordedForm:
    words = words_of(form)
    entries = any(ASKS[i.item.ask].interaction == "entry" for i in form.items)
    whole = form.section == ALL_SECTIONS
    section = words.text("pages", "all_sections") if whole else form.section
    if form.retake:
        section = words.text("pages", "retake", {"section": section, "number": form.retake})
    alone = whole and not form.retake
    return WordedForm(
        ident=form.ident,
        title=form.title,
        name="" if alone else words.text("pages", "form", {"title": form.title, "section": section}),
        section=section,
        language=form.language,
        intro=words.texts("asks", "form.intro", {"entries": entries, "questions": len(form.items)}),
        items=tuple(_worded(item, form) for item in form.items),
        shuffle=form.shuffle,
        feedback=form.feedback,
        credit=form.credit,
    )


def _worded(placed: FormItem, form: Form) -> WordedItem:
    shown = worded_item(placed, form.language, form.wording)
    return labelled(shown, mixed=form.shuffle and not shown.pinned) if form.choice_labels else shown
