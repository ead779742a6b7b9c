"""Simulated classes for tests of reading: who answers what, and the same answers in the shapes that files have.

A student holds some misreadings and picks their choice where it is on offer, slips now and then, else is right or
guesses. No part of the inference is used.
"""

import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random

from lxml import etree

from barwright.asks import ASKS
from barwright.items.form import Form, FormItem
from barwright.items.item import Item
from barwright.tasks.diagnose.asked import AskedQuiz

BLUEPRINTS = Path(__file__).parents[2] / "shared" / "blueprints"
RR22 = "http://www.imsglobal.org/xsd/imsqti_result_v2p2"
RR30 = "http://www.imsglobal.org/xsd/imsqti_result_v3p0"


@dataclass(frozen=True)
class Sitting:
    """One student on one form: for each item the places of the picked choices in the shown order, or what was typed."""

    student: str
    name: str
    form: Form
    picks: tuple[tuple[int, ...] | str, ...]


def sittings(quiz: AskedQuiz, students: int, seed: int = 1) -> tuple[Sitting, ...]:
    """A class for each form."""
    rng = Random(seed)
    found = []
    for number, form in enumerate(quiz.forms):
        held = sorted({m for placed in form.items for c in placed.item.choices for m in c.misreadings})
        for n in range(students):
            mine = set(rng.sample(held, rng.choice([0, 1, 1, 2])))
            picks = tuple(_pick(placed.item, placed.order, mine, rng) for placed in form.items)
            found.append(Sitting(f"s{number}{n:03}", f"Zoë {number} Nr{n}", form, picks))
    return tuple(found)


def alike_in_all_forms(sat: Iterable[Sitting]) -> list[Sitting]:
    """The same without what only one form can mean: typed answers, and choices behind the third."""
    return [
        Sitting(each.student, each.name, each.form, tuple(map(_anywhere, each.picks, each.form.items))) for each in sat
    ]


def _anywhere(picks: tuple[int, ...] | str, placed: FormItem) -> tuple[int, ...]:
    if isinstance(picks, str) or ASKS[placed.item.ask].interaction == "entry":
        return ()
    return tuple(place for place in picks if place < 3)


def _pick(item: Item, order: Sequence[int], held: set[str], rng: Random) -> tuple[int, ...]:
    shown = [item.choices[index] for index in order]
    led = [place for place, choice in enumerate(shown) if held & set(choice.misreadings)]
    right = tuple(place for place, choice in enumerate(shown) if choice.key)
    if rng.random() < 0.03:
        return ()
    if led and rng.random() < 0.9:
        return (led[0],)
    if rng.random() < 0.1:
        return (rng.randrange(len(shown)),)
    return right if len(right) > 1 and item.ask == "all-that-fit" else right[:1]


def zipped(files: Mapping[str, bytes]) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return target.getvalue()


def report(quiz: AskedQuiz, sitting: Sitting, namespace: str) -> bytes:
    """One student's results as QTI Results Reporting, written from the published schema alone."""
    place = quiz.forms.index(sitting.form)
    sheet, worded = quiz.sheets[place], quiz.worded[place]
    root = etree.Element(f"{{{namespace}}}assessmentResult", nsmap={None: namespace})
    etree.SubElement(root, f"{{{namespace}}}context", sourcedId=sitting.student)
    test = {"identifier": sheet.ident, "datestamp": "2026-03-05T10:00:00"}
    etree.SubElement(root, f"{{{namespace}}}testResult", test)
    for picks, question, item in zip(sitting.picks, sheet.questions, worded.items, strict=True):
        head = {"identifier": question.ident, "datestamp": "2026-03-05T10:00:00", "sessionStatus": "final"}
        result = etree.SubElement(root, f"{{{namespace}}}itemResult", head)
        for name, values, cardinality, base in _variables(picks, question, item):
            told = {"identifier": name, "cardinality": cardinality, "baseType": base}
            variable = etree.SubElement(result, f"{{{namespace}}}responseVariable", told)
            given = etree.SubElement(variable, f"{{{namespace}}}candidateResponse")
            for value in values:
                etree.SubElement(given, f"{{{namespace}}}value").text = value
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8")


def _variables(picks, question, item):
    if question.interaction in ("inline", "order"):
        whole = [item.foreseen[place].filled for place in picks]
        filled = whole[0] if whole else ()
        if question.interaction == "order":
            return [("RESPONSE", filled, "ordered", "identifier")]
        empty = [()] * len(question.places)
        values = [(value,) for value in filled] or empty
        return [
            (f"RESPONSE_{place.ident}", value, "single", "identifier")
            for place, value in zip(question.places, values, strict=True)
        ]
    idents = [item.choices[place].ident for place in picks]
    if question.interaction == "entry":
        return [("RESPONSE", [item.choices[place].spellings[-1] for place in picks], "single", "string")]
    if question.interaction == "gaps":
        return [("RESPONSE", [f"{ident} s1" for ident in idents], "multiple", "directedPair")]
    several = question.interaction == "several"
    return [("RESPONSE", idents, "multiple" if several else "single", "identifier")]
