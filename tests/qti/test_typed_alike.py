"""Answers that an item cannot tell apart share one outcome: it must be what each comes to when carried out alone."""

import random
from collections.abc import Iterator
from fractions import Fraction

import pytest
from lxml import etree
from package_bases import MANIFEST, packed

from barwright.check.reading import read_package
from barwright.check.reading.edition_names import named
from barwright.check.reading.items2 import SCORE
from barwright.check.reading.package_model import ReadItem
from barwright.check.reading.processing2 import processed as processed2
from barwright.check.reading.processing2 import program2
from barwright.check.reading.processing12 import processed as processed12
from barwright.check.reading.processing12 import program12
from barwright.check.reading.xml_documents import parsed
from barwright.errors import PackageError
from fuzz.changed_packages import bases, broken, changed_tree
from whole import whole_or_part

CHANGED = whole_or_part(500, 150)


def alone(element: etree._Element, item: ReadItem) -> Iterator[Fraction]:
    """The score of each answer that was tried, carried out by itself."""
    idents = [r.ident for r in item.responses]
    every = [dict(zip(idents, answered.given, strict=True)) for answered in item.answers]
    if every and named(element) == "item":
        program = program12(element)
        yield from (processed12(program, given)[0] for given in every)
    elif every:
        newer = program2(element)
        for given in every:
            atoms = processed2(newer, given)[SCORE].atoms
            yield atoms[0] if atoms and isinstance(atoms[0], Fraction) else Fraction(0)


def compared(files: dict[str, bytes]) -> int:
    """How many answers of a package were compared; those of items that are read and call their score SCORE."""
    try:
        items = read_package(packed(files)).items
    except PackageError:
        return 0
    elements: dict[str, list[etree._Element]] = {}
    for path, data in files.items():
        if any(item.file == path for item in items):
            root = parsed(path, data).root
            elements[path] = [root] if named(root) == "assessmentItem" else list(root.iter("{*}item"))
    count = 0
    for path, inside in elements.items():
        read = [i for i in items if i.file == path]
        for element, item in zip(inside, read, strict=True):
            names = {o.get("identifier") for o in element.iter("{*}outcomeDeclaration", "{*}qti-outcome-declaration")}
            if named(element) == "item" or SCORE in names:
                assert [a.score for a in item.answers] == list(alone(element, item)), (path, item.ident)
                count += len(item.answers)
    return count


def test_every_answer_scores_what_it_scores_alone() -> None:
    found = bases()
    found += broken(found)
    assert sum(map(compared, [files for files in found if MANIFEST in files])) > 3_000
    rng = random.Random(5)
    whole = [files for files in found if MANIFEST in files]
    count = 0
    for _ in range(CHANGED):
        files = dict(rng.choice(whole))
        path = rng.choice(sorted(p for p in files if p.endswith(".xml") and p != MANIFEST))
        files[path] = changed_tree(files[path], rng)
        count += compared(files)
    assert count > 20 * CHANGED


ITEM = """<assessmentItem xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2" identifier="i" title="t">
<responseDeclaration identifier="R" cardinality="single" baseType="string"/>
<outcomeDeclaration identifier="SCORE" cardinality="single" baseType="float"/>
<responseProcessing>{}</responseProcessing></assessmentItem>"""
OR = (
    "<responseCondition><responseIf><or>"
    '<stringMatch caseSensitive="false"><variable identifier="R"/><baseValue baseType="string">half</baseValue>'
    '</stringMatch><stringMatch caseSensitive="false"><variable identifier="R"/><baseValue baseType="string">1/2'
    "</baseValue></stringMatch></or></responseIf></responseCondition>"
)
WHOLE = '<setOutcomeValue identifier="SCORE"><variable identifier="R"/></setOutcomeValue>'


@pytest.mark.parametrize(("rules", "alike"), [(OR, True), (OR + WHOLE, False)])
def test_spellings_of_one_condition_are_alike_unless_the_text_itself_is_used(rules: str, alike: bool) -> None:
    sight = program2(etree.fromstring(ITEM.format(rules))).sights["R"]
    assert (sight.of(("Half",)) == sight.of(("1/2",))) is alike
    assert sight.of(("half",)) != sight.of(("third",))
    assert sight.of(("third",)) != sight.of(())
