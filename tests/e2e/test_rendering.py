"""Our QTI 3.0 items in a rendering library that implements the standard, answered with mouse and keyboard.

The library shuffles, draws and scores by itself; nothing of ours runs in the browser.
"""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from browser import Renderer
from shown_forms import BLUEPRINTS, demo_form, drawn_pictures, unpack

from barwright.wording.worded import (
    WordedChoice,
    WordedForm,
    WordedItem,
    WordedSlot,
    figures_of,
)
from whole import WHOLE, whole_or_part
from worded_forms import ENTRY, FIGURES, GAPS, INLINE, ORDER, SEVERAL, TEXTS, form_of

ITEMS = whole_or_part(99, 1)  # of an ask
Act = tuple[str, object]
Attempt = tuple[list[Act], Fraction, list[str]]  # what is done, the score and the feedback it must give


def attempts(item: WordedItem, *, partial: bool) -> list[Attempt]:
    """The right answer, every wrong choice alone, every wrong answer that is foreseen, and no answer at all."""
    if item.interaction in ("figures", "texts"):
        tried = [([("click", c.ident)], scored(item, c.key), own(c)) for c in item.choices]
        return [*tried, ([], Fraction(0), [])]
    if item.interaction == "several":
        keys = [c for c in item.choices if c.key]
        return [ticked(item, some, partial=partial) for some in (keys, *([c] for c in item.choices), item.choices, [])]
    if item.interaction == "entry":
        tried = [([("type", c.spellings[0])], scored(item, c.key), own(c)) for c in item.choices]
        return [*tried, ([("type", "?")], Fraction(0), general(item)), ([], Fraction(0), general(item))]
    if item.interaction == "order":
        orders = dict.fromkeys([item.sequence, item.sequence[::-1], *(a.filled for a in item.foreseen)])
        return [ordered(item, order, partial=partial) for order in orders]
    slots = [p for p in item.pieces if isinstance(p, WordedSlot)]
    right = {slot.ident: slot.keys[-1] for slot in slots}
    offered = reversed(slots[0].options or tuple(c.ident for c in item.choices))
    wrong = next(ident for ident in offered if ident not in slots[0].keys)
    whole = [dict(zip(right, a.filled, strict=True)) for a in item.foreseen if not a.key]
    others = [{slots[0].ident: c.ident} for c in item.choices if not c.key and len(slots) == 1]
    tried = [right, right | {slots[0].ident: wrong}, {}, *whole, *others]
    return [filled(item, some, partial=partial) for n, some in enumerate(tried) if some not in tried[:n]]


def scored(item: WordedItem, right: bool) -> Fraction:
    return Fraction(item.points * right)


def own(choice: WordedChoice) -> list[str]:
    return [choice.feedback] if choice.feedback else []


def general(item: WordedItem) -> list[str]:
    return [item.general_feedback] if item.general_feedback else []


def ticked(item: WordedItem, some: list[WordedChoice], *, partial: bool) -> Attempt:
    keys = [c for c in item.choices if c.key]
    right = set(some) == set(keys)
    parts = sum((Fraction(item.points, len(keys)) * (1 if c.key else -1) for c in some), Fraction(0))
    said = [text for c in item.choices if c in some for text in own(c)] + ([] if right else general(item))
    return [("click", c.ident) for c in some], max(parts, Fraction(0)) if partial else scored(item, right), said


def ordered(item: WordedItem, order: tuple[str, ...], *, partial: bool) -> Attempt:
    good = sum(a == b for a, b in zip(order, item.sequence, strict=True))
    right = good == len(order)
    acts = [("place", {"choice": ident, "place": place}) for place, ident in enumerate(order)]
    score = Fraction(item.points * good, len(order)) if partial else scored(item, right)
    return acts, score, told_placing(item, right, order)


def filled(item: WordedItem, choices: dict[str, str], *, partial: bool) -> Attempt:
    slots = [p for p in item.pieces if isinstance(p, WordedSlot)]
    good = sum(choices.get(slot.ident) in slot.keys for slot in slots)
    right = good == len(slots)
    if item.interaction == "gaps":
        acts = [("fill", {"choice": ident, "gap": slot}) for slot, ident in choices.items()]
    else:
        acts = [("pick", {"response": f"RESPONSE_{slot}", "choice": ident}) for slot, ident in choices.items()]
    score = Fraction(item.points * good, len(slots)) if partial else scored(item, right)
    return acts, score, told_placing(item, right, tuple(choices.get(slot.ident, "") for slot in slots))


def told_placing(item: WordedItem, right: bool, given: tuple[str, ...]) -> list[str]:
    placed = set(item.sequence).union(*(p.keys for p in item.pieces if isinstance(p, WordedSlot)))
    if right:
        return [text for c in item.choices if c.ident in placed for text in own(c)][:1]
    astray = [text for c in item.choices if c.ident in set(given) - placed for text in own(c)]
    whole = [a.feedback for a in item.foreseen if a.filled == given and a.feedback and not a.told_by]
    return [*astray, *(whole or general(item))]


def check(form: WordedForm, renderer: Renderer, folder: Path) -> int:
    """Shows every item, tries every attempt, and gives back how many attempts there were."""
    pictures = drawn_pictures(form)
    unpack(form, pictures, folder)
    expected = {f"items/{i.ident}.xml": attempts(i, partial=form.credit == "per-choice") for i in form.items}
    asked = [{"path": path, "attempts": [acts for acts, _, _ in tried]} for path, tried in expected.items()]
    told = renderer({"folder": str(folder), "items": asked})
    assert (told["faults"], told["missing"]) == ([], [])
    for item, shown in zip(form.items, told["items"], strict=True):
        wanted = figures_of(replace(form, items=(item,)))
        assert all(p["loaded"] for p in shown["pictures"])
        assert {Path(p["source"]).name for p in shown["pictures"]} == {pictures[f].name for f in wanted}
        assert {p["width"] for p in shown["pictures"]} == {pictures[f].width_px for f in wanted}
        assert all(p["alt"] for p in shown["pictures"])
        for (acts, score, said), came in zip(expected[shown["path"]], shown["attempts"], strict=True):
            assert abs(came["score"] - score) < 0.01, (item.ident, acts)  # the library keeps three places of each part
            assert came["feedback"] == said, (item.ident, acts)
    return sum(map(len, expected.values()))


@pytest.mark.parametrize("credit", ["all-or-nothing", "per-choice"])
def test_every_interaction_works(renderer: Renderer, tmp_path: Path, credit: str) -> None:
    form = replace(form_of(FIGURES, TEXTS, SEVERAL, ENTRY, GAPS, INLINE, ORDER), credit=credit)
    assert check(form, renderer, tmp_path) == 4 + 4 + 7 + 5 + 3 + 3 + 2


# Six sections have the questions of another blueprint.
FORMS = [path for path in BLUEPRINTS if WHOLE or "six-sections" not in path.stem]


@pytest.mark.parametrize("path", FORMS, ids=lambda p: p.stem)
def test_forms_of_the_demo_blueprints_work(renderer: Renderer, tmp_path: Path, path: Path) -> None:
    """Of each ask some items; all in the long run."""
    form = demo_form(path)
    asked = [item.category for item in form.items]
    form = replace(form, items=tuple(i for n, i in enumerate(form.items) if asked[:n].count(i.category) < ITEMS))
    assert {item.category for item in form.items} == set(asked)
    assert check(form, renderer, tmp_path) > 2 * len(form.items)
