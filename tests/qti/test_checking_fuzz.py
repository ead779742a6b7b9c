"""Good packages changed at random, byte by byte and part by part: the check and the reader answer, and never crash."""

import random
from collections.abc import Callable
from contextlib import suppress
from copy import deepcopy

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree
from package_bases import our_files, packed

from barwright.check.reading import read_package, same_content
from barwright.check.rules import (
    RULES,
    checked,
    report_lines,
    reports_json,
)
from barwright.errors import PackageError
from barwright.wording.worded import Pictures, WordedForm
from whole import whole_or_part

BASES = ("cc13", "cc13-bank", "qti12", "qti22", "qti30")
# Texts that attributes and elements are given: what the standards use somewhere, and what no one should.
VALUES = (
    "",
    " ",
    "c1",
    "c9",
    "RESPONSE",
    "SCORE",
    "-1",
    "0",
    "1e99",
    "99999999999999999999",
    "0.5",
    "Yes",
    "true",
    "single",
    "multiple",
    "ordered",
    "identifier",
    "directedPair",
    "string",
    "integer",
    "c1 s1",
    "../../etc/passwd",
    "http://example.org/a",
    "http://[",
    "images/f0000.png",
    "%00%ff",
    "a" * 3_000,
    "\u2028é\U0001f3b5",
    "<b>&amp;<img src=x onerror=y>",
)
small = settings(
    max_examples=whole_or_part(200, 15),
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


def answered(data: bytes) -> None:
    """The check gives a report of known rules that can be printed; the reader a package that is like itself, or no."""
    report = checked(data, name="fuzzed")
    assert all(f.rule in RULES for f in report.findings)
    for line in report_lines(report):
        assert line.isprintable()
    reports_json([report]).encode("ascii")
    with suppress(PackageError):
        package = read_package(data, name="fuzzed")
        assert same_content(package, package) == ()


def changed_bytes(data: bytes, rng: random.Random) -> bytes:
    """A few bytes changed, taken out, put in or doubled, or the end cut off."""
    made = bytearray(data)
    for _ in range(rng.randint(1, 8)):
        at, length = rng.randrange(len(made) + 1), rng.randint(1, 40)
        kind = rng.randrange(5)
        if kind == 0:
            made[at : at + 1] = bytes([rng.randrange(256)])
        elif kind == 1:
            del made[at : at + length]
        elif kind == 2:
            made[at:at] = rng.randbytes(length)
        elif kind == 3:
            made[at:at] = made[at : at + length]
        else:
            del made[max(at, len(made) // 2) :]
    return bytes(made)


def changed_tree(data: bytes, rng: random.Random) -> bytes:
    """A document with a few elements or attributes changed, moved, doubled, renamed or taken out."""
    root = etree.fromstring(data)
    for _ in range(rng.randint(1, 6)):
        elements = list(root.iter("*"))
        rng.choice(CHANGES)(rng.choice(elements), rng.choice(elements), rng)
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True)


def _value(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    names = [*element.attrib, rng.choice(("ident", "identifier", "href", "baseType", "index", "n", "select"))]
    element.set(rng.choice(names), rng.choice(VALUES))


def _text(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    element.text = rng.choice(VALUES)


def _gone(element: etree._Element, _other: etree._Element, _rng: random.Random) -> None:
    if element.getparent() is not None:
        element.getparent().remove(element)


def _bare(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    if element.attrib:
        del element.attrib[rng.choice(list(element.attrib))]


def _copied(element: etree._Element, other: etree._Element, _rng: random.Random) -> None:
    if sum(1 for _ in element.iter()) < 200:
        other.append(deepcopy(element))


def _renamed(element: etree._Element, other: etree._Element, _rng: random.Random) -> None:
    element.tag = other.tag


def _foreign(element: etree._Element, _other: etree._Element, rng: random.Random) -> None:
    element.tag = f"{{{rng.choice(('urn:x', ''))}}}x" if rng.random() < 0.5 else "x"


CHANGES: tuple[Callable[[etree._Element, etree._Element, random.Random], None], ...] = (
    _value,
    _value,
    _text,
    _gone,
    _bare,
    _copied,
    _renamed,
    _foreign,
)


@pytest.mark.parametrize("base", BASES)
@small
@given(seed=st.integers(0, 2**32))
def test_changed_bytes_of_the_zip(form: WordedForm, pictures: Pictures, base: str, seed: int) -> None:
    answered(changed_bytes(packed(our_files(form, pictures, base)), random.Random(seed)))


@pytest.mark.parametrize("base", BASES)
@small
@given(seed=st.integers(0, 2**32))
def test_changed_bytes_of_a_file(form: WordedForm, pictures: Pictures, base: str, seed: int) -> None:
    rng, files = random.Random(seed), our_files(form, pictures, base)
    path = rng.choice(sorted(files))
    answered(packed(files | {path: changed_bytes(files[path], rng)}))


@pytest.mark.parametrize("base", BASES)
@small
@given(seed=st.integers(0, 2**32))
def test_changed_parts_of_a_document(form: WordedForm, pictures: Pictures, base: str, seed: int) -> None:
    rng, files = random.Random(seed), our_files(form, pictures, base)
    path = rng.choice(sorted(p for p in files if p.endswith(".xml")))
    answered(packed(files | {path: changed_tree(files[path], rng)}))


@pytest.mark.parametrize("base", ["qti22", "qti30"])
@small
@given(seed=st.integers(0, 2**32))
def test_changed_parts_of_newer_interactions(whole_form: WordedForm, pictures: Pictures, base: str, seed: int) -> None:
    rng, files = random.Random(seed), our_files(whole_form, pictures, base)
    path = rng.choice([f"items/q00a{n}.xml" for n in (3, 5, 6, 7)])
    answered(files[path] if rng.random() < 0.1 else changed_tree(files[path], rng))


@small
@given(data=st.binary(max_size=300))
def test_any_bytes(data: bytes) -> None:
    answered(data)
    answered(b"PK\3\4" + data)
    answered(b"<" + data)
