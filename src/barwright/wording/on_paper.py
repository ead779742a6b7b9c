"""A form in the words of paper: nothing is typed, dragged or picked from a list there.

What the student does is said in `paper.toml` where paper asks for something else than a screen. A rhythm that a screen
shows in pieces, with a gap or lists between them, is shown whole.
"""

from collections.abc import Mapping
from dataclasses import replace

from barwright.items.form import Form, FormItem
from barwright.items.item import Choice, Item
from barwright.misreadings import likeliest_first
from barwright.wording.figures import whole_excerpt
from barwright.wording.items_in_words import item_scene, reason_why, worded_figure
from barwright.wording.language import Language, words_for, words_of
from barwright.wording.scene import Scene, hint_scene
from barwright.wording.worded import WordedForm, WordedItem

IN_PIECES = ("gaps", "inline")


def paper_form(form: Form, worded: WordedForm, *, apart: bool = False) -> WordedForm:
    """The form as paper asks it, of the same form as `worded` for screens, with its choices in the form's order.

    Of variants, of which a student gets one, it has the first. `apart`: the answer strip is a sheet of its own.

    Raises TemplateError if a text is missing in the form's language.
    """
    words = words_of(form)
    kept: dict[int, tuple[FormItem, WordedItem]] = {}
    for placed, shown in zip(form.items, worded.items, strict=True):
        kept.setdefault(placed.number, (placed, shown))
    others = {code: words_for(code, form.wording) for code in form.also}
    items = tuple(_in_all(placed, shown, words, others) for placed, shown in kept.values())
    intro = "intro_apart" if apart else "intro"
    also = tuple((code, other.texts("paper", intro)) for code, other in others.items())
    return replace(worded, intro=words.texts("paper", intro), items=items, also=also)


def _in_all(placed: FormItem, shown: WordedItem, words: Language, others: Mapping[str, Language]) -> WordedItem:
    """The item as paper asks it, in its first language and in the others."""
    also = tuple((code, _paper_item(placed, other, others[code])) for code, other in shown.also)
    return replace(_paper_item(placed, shown, words), also=also)


def _paper_item(placed: FormItem, on_screen: WordedItem, words: Language) -> WordedItem:
    item, shown = placed.item, replace(on_screen, pool="")
    if shown.interaction in IN_PIECES:
        shown = replace(shown, figure=worded_figure(whole_excerpt(item), item.conventions, words))
    scene = item_scene(item, placed.number, words)
    shown = _with_one_reason(shown, placed, scene, words)
    if words.has("paper", f"{item.ask}.stem"):
        shown = replace(shown, stem=words.texts("paper", f"{item.ask}.stem", scene))
    if words.has("paper", f"{item.ask}.note"):
        shown = replace(shown, note=words.text("paper", f"{item.ask}.note", scene))
    return shown


def _with_one_reason(shown: WordedItem, placed: FormItem, scene: Scene, words: Language) -> WordedItem:
    """The item whose wrong answers name the likeliest misreading alone: a key on paper has no room for all of them."""
    item = placed.item
    reasons = [_reason(item.choices[place], item, scene, words) for place in placed.order]
    if shown.foreseen:
        foreseen = tuple(replace(a, why=why) for a, why in zip(shown.foreseen, reasons, strict=True))
        return replace(shown, foreseen=foreseen)
    return replace(shown, choices=tuple(replace(c, why=why) for c, why in zip(shown.choices, reasons, strict=True)))


def _reason(choice: Choice, item: Item, scene: Scene, words: Language) -> str:
    told = likeliest_first(choice.misreadings)
    here = {**scene, **hint_scene(item, choice.answer, words)}
    return reason_why(told[0], here, words) if told else ""
