"""Keys of a blueprint that would do nothing: each is a fault, since whoever wrote it expects something."""

from collections.abc import Iterator

from barwright.asks import ASKS
from barwright.blueprint.blueprint import Blueprint, Elements
from barwright.blueprint.toml_lines import Fault
from barwright.items.item import Interaction
from barwright.rhythm.meter import Meter, parse_meter
from barwright.showing import shown

# Asks that show no choices: the wrong answers are foreseen, and their number is no matter of the blueprint.
_WITHOUT_CHOICES: dict[Interaction, str] = {"entry": "typed", "order": "an order"}
# Asks of which a part of the answer can be right, see the scoring of QTI 2.2 and 3.0.
_WITH_PARTS: frozenset[Interaction] = frozenset(("several", "gaps", "inline", "order"))


def idle_faults(blueprint: Blueprint, numbers: tuple[int, ...], *, whole: bool) -> Iterator[Fault]:
    """A fault for each key without effect; `numbers` are those of the sound parts in the file, from 0.

    Only with `whole`, where no part was left out, it is known that no part needs a key.
    """
    quiz = blueprint.quiz
    if "variants" in quiz.model_fields_set and not quiz.draw:
        yield ("quiz", "variants"), "variants has no effect without draw = true: add draw = true, or take variants out"
    interactions = {ASKS[part.ask].interaction for part in blueprint.part}
    if whole and quiz.credit == "per-choice" and not interactions & _WITH_PARTS:
        asks = ", ".join(ask.id for ask in ASKS.values() if ask.interaction in _WITH_PARTS)
        text = f"credit = 'per-choice' has no effect, since no answer here has parts: use one of {asks}, or take it out"
        yield ("quiz", "credit"), text
    for number, part in zip(numbers, blueprint.part, strict=True):
        kind = _WITHOUT_CHOICES.get(ASKS[part.ask].interaction)
        if kind is not None and part.choices is not None:
            text = f"choices has no effect in {shown(part.ask)}, whose answer is {kind}: take choices out"
            yield ("part", number, "choices"), text
    yield from _rest_dots_faults(blueprint)
    yield from _plain_faults(blueprint.elements)


def _plain_faults(elements: Elements) -> Iterator[Fault]:
    """Bounds on measures are lifted that are lifted already, or that patterns are named for."""
    if elements.allow and not elements.plain:
        yield ("elements", "allow"), "allow has no effect with plain = false: take one of them out"
    elif elements.patterns and "any-pattern" in elements.allow:
        text = "patterns has no effect with allow = ['any-pattern']: take one of them out"
        yield ("elements", "patterns"), text
    if elements.most_sounds and "many-sounds" in elements.allow:
        yield ("elements", "most_sounds"), "most_sounds stands beside allow = ['many-sounds']: take one of them out"


def _rest_dots_faults(blueprint: Blueprint) -> Iterator[Fault]:
    """Dotted rests are taught, and no measure may have one."""
    rule = blueprint.all_conventions.dotted_rests
    elements = blueprint.elements
    if not elements.rest_dots or rule == "all":
        return
    if rule == "none":
        text = "rest_dots has no effect with dotted_rests = 'none': change one of them, or take it out"
        yield ("elements", "rest_dots"), text
    elif not any(_has_threes(parse_meter(meter)) for meter in elements.meters):
        text = (
            f"rest_dots has no effect in {', '.join(elements.meters)} with dotted_rests = 'compound_only': set it to "
            "'all', teach a meter such as 6/8, or take rest_dots out"
        )
        yield ("elements", "rest_dots"), text


def _has_threes(meter: Meter) -> bool:
    """Whether a beat of the meter may have three parts: 3/8, compound meters, and additive ones in eighths."""
    return meter.bottom == 8 and (meter.kind != "simple" or meter.top == 3)
