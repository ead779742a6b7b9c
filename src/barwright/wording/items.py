"""One item of a form in words: stem, picture, choices in their order, feedback."""

from fractions import Fraction

from barwright.items.families import ASKS
from barwright.items.forms import FormItem
from barwright.items.model import Answer, Choice, Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import count_labels, format_row, spellings
from barwright.rhythm.excerpt import Figure
from barwright.wording.claims import claim_text
from barwright.wording.language import Language, language
from barwright.wording.model import WordedChoice, WordedFigure, WordedItem
from barwright.wording.numbers import number_spellings, number_text
from barwright.wording.placing import placing_scene, with_places
from barwright.wording.rules import counting_rules
from barwright.wording.scene import Scene, scene_of
from barwright.wording.shown import shown
from barwright.wording.spoken import spoken

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
    return answer.text if answer.kind in ("row", "meter") else ""


def answer_spellings(answer: Answer, item: Item, words: Language) -> tuple[str, ...]:
    """Everything a student may type for this answer, the usual spelling first."""
    if answer.kind == "number":
        return number_spellings(Fraction(answer.text), item.excerpt.meter, item.conventions, words)
    return spellings(answer.text, item.conventions)


def own_spellings(item: Item, choices: tuple[Choice, ...], words: Language) -> dict[Answer, tuple[str, ...]]:
    """Spellings of each answer of an entry item. One that two answers share belongs to the key, else to the first."""
    taken: set[str] = set()
    found = {}
    for choice in sorted(choices, key=lambda c: not c.key):
        mine = tuple(s for s in answer_spellings(choice.answer, item, words) if s not in taken)
        taken.update(mine)
        found[choice.answer] = mine
    return found


def item_scene(item: Item, number: int, words: Language) -> Scene:
    """Every name that the sentences of this item may use; with the row and the rules where counts are asked, and what
    the places are like where something is put into places."""
    scene = {**scene_of(item, number, words), **placing_scene(item)}
    if ASKS[item.ask].family != COUNTS:
        return scene
    row = format_row(count_labels(item.excerpt, item.conventions)) if item.ask == "rhythm-for-counts" else ""
    return {**scene, "row": row, "rules": counting_rules(item, scene, words)}


def worded_choices(form_item: FormItem, scene: Scene, words: Language) -> tuple[WordedChoice, ...]:
    """The choices in the form's order, with neutral identifiers c1, c2 ..."""
    item = form_item.item
    choices = tuple(item.choices[index] for index in form_item.order)
    entry = ASKS[item.ask].interaction == "entry"
    typed = own_spellings(item, choices, words) if entry else {}
    return tuple(
        WordedChoice(
            ident=f"c{place}",
            text=answer_text(choice.answer, item, scene, words),
            figure=worded_figure(shown(item.ask).choice(choice.answer, item), item.conventions, words),
            key=choice.key,
            feedback=words.text("asks", f"{item.ask}.key", scene)
            if choice.key
            else words.text("misreadings", f"{choice.misreading}.feedback", scene),
            misreading=choice.misreading,
            why="" if choice.key else words.text("misreadings", f"{choice.misreading}.why", scene),
            spellings=typed.get(choice.answer, ()),
        )
        for place, choice in enumerate(choices, 1)
    )


def worded_item(form_item: FormItem, language_code: str) -> WordedItem:
    """The item in the words of a language, its choices in the form's order; raises TemplateError for a missing text.

    The order is the form's for pinned asks too: the form has sorted their choices already.
    """
    words, item = language(language_code), form_item.item
    ask, scene = item.ask, item_scene(item, form_item.number, words)
    shown_item = WordedItem(
        ident=f"q{item.id}",
        item_id=item.id,
        title=words.text("asks", "form.title", scene),
        interaction=ASKS[ask].interaction,
        stem=words.texts("asks", f"{ask}.stem", scene),
        figure=worded_figure(shown(ask).figure(item), item.conventions, words),
        choices=worded_choices(form_item, scene, words),
        points=form_item.points,
        note=words.text("asks", f"{ask}.note", scene),
        general_feedback=words.text("asks", f"{ask}.general", scene),
        pinned=ASKS[ask].pinned,
        category=ask,
        pool=form_item.pool,
        keywords=form_item.keywords,
    )
    return with_places(shown_item, item, form_item.order, words)
