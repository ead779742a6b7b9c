"""Good packages changed at random, byte by byte and part by part: the check and the reader answer, and never crash."""

import random
from contextlib import suppress

import pytest
from changed_packages import changed_bytes, changed_tree
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
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
