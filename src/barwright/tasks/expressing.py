"""What a blueprint wants and a standard cannot say: told with its line before any work, all at once."""

from collections.abc import Iterable, Iterator

from barwright.asks import ASKS
from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.toml_lines import Fault
from barwright.qti import MOST_ITEMS, WRITERS, Writer
from barwright.showing import shown
from barwright.tasks.packing import Kinds
from barwright.tasks.saying import listed


def standard_faults(blueprint: Blueprint, numbers: tuple[int, ...], kinds: Kinds) -> Iterator[Fault]:
    """A fault for too many items; and for each ask, and each of `draw` and `credit`, that a standard cannot express.

    `numbers` are those of the parts in the file, from 0. In a bank there is nothing to draw.
    """
    variants = blueprint.quiz.variants if blueprint.quiz.draw else 1
    items = variants * sum(part.items for part in blueprint.part)
    if items > MOST_ITEMS:
        each = f" ({variants} variants of each question)" if variants > 1 else ""
        yield (
            ("part", numbers[-1], "items"),
            f"that makes {items:,} items in all{each}: a quiz has at most {MOST_ITEMS:,}",
        )
    standards = tuple(dict.fromkeys(standard for standard, _ in kinds))
    drawing = tuple(dict.fromkeys(standard for standard, shape in kinds if shape == "quiz"))
    quiz = blueprint.quiz
    take = f"take --standard {listed(s for s, writer in WRITERS.items() if _can_say_all(writer, blueprint))}"
    if quiz.draw and (unable := _names(s for s in drawing if not WRITERS[s].draws)):
        text = f"draw = true: {unable} cannot draw a question for each student: {take}, or leave `draw` out"
        yield ("quiz", "draw"), text
    if _has_several(blueprint) and (unable := _names(s for s in standards if quiz.credit not in WRITERS[s].credits)):
        text = (
            f"credit = {shown(quiz.credit)}: {unable} cannot give points for parts of an answer: {take}, "
            f"or leave it out"
        )
        yield ("quiz", "credit"), text
    for number, part in zip(numbers, blueprint.part, strict=True):
        if unable := _names(s for s in standards if ASKS[part.ask].interaction not in WRITERS[s].interactions):
            text = f"ask = {shown(part.ask)}: {unable} cannot say how it is answered: {take}, or use another ask"
            yield ("part", number, "ask"), text


def _names(standards: Iterable[str]) -> str:
    """Their names in full, with `and`; empty for none.

    >>> _names(["cc13", "qti12"])
    'Common Cartridge 1.3 and plain QTI 1.2'
    """
    names = [WRITERS[standard].name for standard in standards]
    return listed(names, "and") if names else ""


def _has_several(blueprint: Blueprint) -> bool:
    return any(ASKS[part.ask].interaction == "several" for part in blueprint.part)


def _can_say_all(writer: Writer, blueprint: Blueprint) -> bool:
    quiz = blueprint.quiz
    return (
        all(ASKS[part.ask].interaction in writer.interactions for part in blueprint.part)
        and (writer.draws or not quiz.draw)
        and (quiz.credit in writer.credits or not _has_several(blueprint))
    )
