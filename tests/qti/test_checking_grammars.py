"""Our grammars, held against the published schemas: whatever those accept, ours accept, after thousands of changes.

The other way round ours let pass what the rules in Python check (identifiers twice, links) and what no importer minds
(values of `xml:lang`, media types, LOM).
"""

from collections.abc import Callable, Iterator
from copy import deepcopy
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from package_bases import our_files, sample_files

import published
from barwright.check.reading.standards import (
    PACKAGING30,
    QTI12,
    QTI22,
    QTI30,
    namespace_of,
)
from barwright.check.rules.grammars import judge, judge_of_one
from barwright.check.rules.structure import structure_faults
from barwright.wording.worded import Pictures, WordedForm
from whole import whole_or_part

Change = tuple[str, Callable[[etree._Element], object]]
STRIDE = whole_or_part(1, 7)  # every seventh change is tried: some 400
SOURCES = ("sample-qti22", "sample-qti30", *(f"item{v}-{n}" for v in (22, 30) for n in ("gap-match", "inline-choice")))


@pytest.fixture(scope="module")
def checker(standards: Path) -> ModuleType:
    """The standards' checker as a module, for its compiled schemas."""
    return published.checker(standards)


def changes(element: etree._Element) -> Iterator[Change]:
    """Every way to change one element or what is around it."""
    for attribute in list(element.attrib):
        yield f"without {attribute}", lambda e, a=attribute: e.attrib.pop(a)
        yield f"bad {attribute}", lambda e, a=attribute: e.set(a, "%% %%")
        yield f"number {attribute}", lambda e, a=attribute: e.set(a, "3")
    yield "new attribute", lambda e: e.set("zork", "1")
    yield "text", lambda e: setattr(e, "text", "zork")
    if element.getparent() is not None:
        yield "gone", lambda e: e.getparent().remove(e)
        yield "twice", lambda e: e.addnext(deepcopy(e))
        yield "last", lambda e: e.getparent().append(e)
        yield "first", lambda e: e.getparent().insert(0, e)
        yield "renamed", lambda e: setattr(e, "tag", f"{e.tag}x")
        yield "unwrapped", lambda e: [e.addprevious(c) for c in list(e)]


def grammar_of(root: etree._Element) -> str:
    return {QTI22: "qti2", QTI30: "qti3"}.get(namespace_of(root), "manifest")


def published_accepts(checker: ModuleType, root: etree._Element) -> bool:
    tree = etree.ElementTree(deepcopy(root))
    for element in tree.iter("*"):
        for attribute in [a for a in element.attrib if a.startswith("data-")]:
            del element.attrib[attribute]
    namespace = namespace_of(root)
    known = namespace in (QTI22, QTI30, PACKAGING30)
    if not checker.schema_for(namespace if known else checker.CP11).validate(tree):
        return False
    names = {a for e in tree.iter("*") for a in e.attrib if "}" not in a}
    return namespace != QTI22 or names <= checker.attributes_22()


@pytest.mark.parametrize("source", SOURCES)
def test_no_false_alarm(checker: ModuleType, standards: Path, source: str) -> None:
    accepted = refused = 0
    for path, data in sample_files(standards, source).items():
        if not path.endswith(".xml"):
            continue
        count = 0
        for index, element in enumerate(etree.fromstring(data).iter("*")):
            for label, change in changes(element):
                count += 1
                if count % STRIDE:
                    continue
                root = etree.fromstring(data)
                change(list(root.iter("*"))[index])
                faults = structure_faults(root, grammar_of(root), namespace_of(root))
                if published_accepts(checker, root):
                    accepted += 1
                    assert faults == (), f"{path}: {element.tag} {label}"
                else:
                    refused += bool(faults)
    assert accepted > 2
    assert refused > 15


@pytest.mark.parametrize("standard", ["qti22", "qti30"])
def test_our_documents_are_valid_by_our_grammars(whole_form: WordedForm, pictures: Pictures, standard: str) -> None:
    for path, data in our_files(whole_form, pictures, standard).items():
        if path.endswith(".xml"):
            root = etree.fromstring(data)
            assert structure_faults(root, grammar_of(root), namespace_of(root)) == (), path


def test_every_element_can_be_judged_by_itself() -> None:
    for name, namespace in (("qti2", QTI22), ("qti3", QTI30), ("qti12", QTI12), ("cartridge-qti12", QTI12)):
        assert judge(name, namespace) is judge(name, namespace)
        assert judge_of_one(name, namespace, "zork") is None
    assert judge_of_one("qti12", QTI12, "item") is not None


def test_structure_that_no_single_element_explains() -> None:
    """An empty `response_label` is fine for a typed answer and not for a choice: only the whole shows it."""
    label = '<response_label ident="a"/>'
    text = (
        f'<questestinterop xmlns="{QTI12}"><objectbank ident="o"><item ident="i"><itemmetadata><qtimetadata>'
        "<qtimetadatafield><fieldlabel>cc_profile</fieldlabel><fieldentry>cc.multiple_choice.v0p1</fieldentry>"
        '</qtimetadatafield></qtimetadata></itemmetadata><presentation><response_lid ident="r"><render_choice>'
        f"{label}</render_choice></response_lid></presentation></item></objectbank></questestinterop>"
    )
    (fault,) = structure_faults(etree.fromstring(text), "cartridge-qti12", QTI12)
    assert (fault.kind, fault.words) == (
        "wrong-structure",
        "the structure of <questestinterop> is not that of the standard",
    )


@pytest.mark.parametrize(
    ("document", "kind", "words"),
    [
        ("<zork/>", "unknown-element", "the document begins with <zork>, which this standard does not know"),
        ("<item/>", "missing-attribute", "<item> lacks the attribute 'ident'"),
        (
            '<item ident="a" x="1"/>',
            "unknown-attribute",
            "<item> has the attribute 'x', which the standard does not know",
        ),
        ('<item ident="a"><b/></item>', "unknown-element", "<b> does not belong in <item>"),
        ('<item ident="a">text</item>', "misplaced-text", "text stands directly in <item>"),
        ('<item ident="a"><not/></item>', "unknown-element", "<not> does not belong in <item>"),
        (
            '<render_fib prompt="Line"/>',
            "wrong-value",
            "prompt='Line' of <render_fib> is none of Asterisk, Box, Dashline, Underline",
        ),
        ("<not/>", "wrong-children", "<not> holds nothing; the standard wants <and> or <or> or <not> or"),
    ],
)
def test_faults_in_words(document: str, kind: str, words: str) -> None:
    inside = {"<zork": "{}", "<item": "<questestinterop>{}</questestinterop>"}.get(document[:5])
    text = (
        inside or '<questestinterop><item ident="a"><resprocessing>{}</resprocessing></item></questestinterop>'
    ).format(document)
    faults = structure_faults(etree.fromstring(text), "qti12", "")
    found = [(f.kind, f.words) for f in faults if f.kind == kind]
    assert found[0][0] == kind
    assert found[0][1].startswith(words)


def test_free_attributes_and_foreign_elements_do_not_count() -> None:
    text = (
        f'<assessmentItem xmlns="{QTI22}" identifier="i" title="T" adaptive="false" timeDependent="false" data-x="1">'
        '<itemBody><p aria-label="x">1<m:math xmlns:m="urn:m"><m:mi/></m:math></p></itemBody>'
        '<x:extra xmlns:x="urn:x"/></assessmentItem>'
    )
    assert structure_faults(etree.fromstring(text), "qti2", QTI22) == ()
