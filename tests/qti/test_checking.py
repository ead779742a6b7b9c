"""The check is silent on good packages, finds the one fault of each broken one, and never raises."""

import io
import warnings
import zipfile
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from broken_packages import NEWER, OURS, SAMPLES, Broken
from package_bases import MANIFEST, our_files, packed, sample_files

from barwright.check.rules import (
    RULES,
    Place,
    Report,
    checked,
)
from barwright.qti import WRITERS
from barwright.wording.worded import Pictures, WordedForm
from worded_forms import FIGURES, TEXTS

SHAPES = ("quiz", "bank")
# Rules that take more than a changed file: each has a test of its own here or in test_checking_grammars.py.
TESTED_APART = {"file-twice", "always-same-key", "more-findings", "wrong-structure"}
SINGLE_SAMPLES = ("gap-match", "graphic-gap-match", "inline-choice", "multiple-response", "order", "text-entry")


def found(report: Report) -> list[tuple[str, str]]:
    assert report.refused == ""
    return [(f.rule, f.what) for f in report.findings]


def forms(form: WordedForm, whole_form: WordedForm, drawn_form: WordedForm, standard: str) -> Mapping[str, WordedForm]:
    """Forms that a standard can write, with options turned either way."""
    variants = {
        "usual": form,
        "silent": replace(form, feedback=False),
        "still": replace(form, shuffle=False),
        "one": replace(form, intro=(), items=(FIGURES,)),
    }
    if standard in ("qti22", "qti30"):
        variants |= {"whole": whole_form, "part-credit": replace(form, credit="per-choice")}
    return (
        variants if standard.startswith("cc") else variants | {"drawn": replace(drawn_form, items=drawn_form.items[:4])}
    )


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("standard", WRITERS)
def test_silent_on_everything_we_write(
    form: WordedForm,
    whole_form: WordedForm,
    drawn_form: WordedForm,
    pictures: Pictures,
    standard: str,
    shape: str,
) -> None:
    for name, variant in forms(form, whole_form, drawn_form, standard).items():
        if name == "drawn" and shape == "bank":
            continue
        report = checked(packed(our_files(variant, pictures, f"{standard}-{shape}")), name=name)
        assert found(report) == [], name
        assert (report.standard, report.items) == (WRITERS[standard].name, len(variant.items))


@pytest.mark.parametrize("name", ["cc13", "qti22", "qti30"])
def test_silent_on_the_sample_packages(standards: Path, tmp_path: Path, name: str) -> None:
    folder = standards / "samples" / name
    archive = tmp_path / f"{name}.zip"
    archive.write_bytes(packed(sample_files(standards, f"sample-{name}")))
    for source in (folder, archive, archive.read_bytes()):
        report = checked(source)
        assert found(report) == []
        assert (report.items, report.pictures) == (1, 1)


@pytest.mark.parametrize("version", ["22", "30"])
@pytest.mark.parametrize("name", SINGLE_SAMPLES)
def test_silent_on_the_sample_items(standards: Path, name: str, version: str) -> None:
    report = checked(standards / "samples" / f"items{version}" / f"{name}.xml")
    assert found(report) == []
    assert report.items == 1


def assert_found(broken: Broken, files: dict[str, bytes]) -> None:
    """The fault is found once, in these words, in a file of the package, and nothing else is."""
    broken.breaks(files)
    report = checked(packed(files), name="broken")
    assert found(report) == [(broken.rule, broken.what)]
    (finding,) = report.findings
    assert finding.place.file in (*files, "broken")


@pytest.mark.parametrize("broken", [*OURS, *NEWER], ids=lambda b: b.name)
def test_fault_in_a_package_of_ours(form: WordedForm, pictures: Pictures, broken: Broken) -> None:
    assert_found(broken, our_files(form, pictures, broken.base))


@pytest.mark.parametrize("broken", SAMPLES, ids=lambda b: b.name)
def test_fault_in_a_sample(standards: Path, broken: Broken) -> None:
    assert_found(broken, sample_files(standards, broken.base))


def test_every_rule_has_a_broken_package() -> None:
    names = [b.name for b in (*OURS, *NEWER, *SAMPLES)]
    assert len(set(names)) == len(names) > 40
    assert {b.rule for b in (*OURS, *NEWER, *SAMPLES)} | TESTED_APART == set(RULES)


def test_every_rule_says_why_and_how_to_mend() -> None:
    for rule in RULES.values():
        assert rule.severity in ("error", "caution")
        for text in (rule.why, rule.mend):
            assert text[0].isupper() or text[0] == "$"
            assert text.endswith((".", "'."))


def test_zip_with_a_file_twice(form: WordedForm, pictures: Pictures) -> None:
    files = our_files(form, pictures, "cc13")
    target = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(target, "w") as archive:
        warnings.simplefilter("ignore")
        for path, data in (*files.items(), (MANIFEST, files[MANIFEST])):
            archive.writestr(path, data)
    report = checked(target.getvalue(), name="twice")
    assert found(report) == [("file-twice", "the zip holds 'imsmanifest.xml' more than once")]


@pytest.mark.parametrize("standard", ["qti22", "qti30"])
@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"max-width: 100%;", b"max-width: 100%; visibility: hidden;"),
        (b"/* A figure", b"@media print { .rhythm-figure { height: auto } }\n/* A figure"),
        (b"/* A figure", b"/*" + b" " * 4096 + b"*/ /* A figure"),
        (b"/* A figure", b"\xff /* A figure"),
    ],
    ids=["hides", "for print", "long", "not text"],
)
def test_a_sheet_that_does_more_than_let_figures_shrink(
    form: WordedForm, pictures: Pictures, standard: str, old: bytes, new: bytes
) -> None:
    files = our_files(form, pictures, standard)
    assert old in files["style/figures.css"]
    files["style/figures.css"] = files["style/figures.css"].replace(old, new, 1)
    assert set(found(checked(packed(files), name="sheet"))) == {("style-dropped", "the look depends on <stylesheet>")}


def test_same_key_in_all_items(form: WordedForm, pictures: Pictures) -> None:
    items = tuple(replace(TEXTS, ident=f"q{n}", title=f"Question {n}") for n in range(6))
    report = checked(packed(our_files(replace(form, items=items), pictures, "cc13")))
    assert found(report) == [("always-same-key", "in all 6 items the right choice is 'c1'")]
    report = checked(packed(our_files(replace(form, items=(*items[:5], FIGURES)), pictures, "cc13")))
    assert found(report) == []


def test_findings_end_at_a_thousand(form: WordedForm, pictures: Pictures) -> None:
    files = our_files(form, pictures, "qti12") | {f"f{n}.txt": b"" for n in range(1_100)}
    report = checked(packed(files))
    assert len(report.findings) == 1_001
    last = next(f for f in report.findings if f.rule == "more-findings")
    assert last.what == "there are over 1000 findings; these are the first"


def test_errors_come_before_cautions(form: WordedForm, pictures: Pictures) -> None:
    files = our_files(form, pictures, "cc13")
    files["notes.txt"] = b""
    del files["images/f0000.png"]
    report = checked(packed(files))
    assert [f.rule for f in report.findings] == ["file-missing", "file-unlisted"]


def test_findings_name_file_line_and_item(form: WordedForm, pictures: Pictures) -> None:
    files = our_files(form, pictures, "qti22")
    path = next(p for p, d in files.items() if b"<value>c2</value>" in d)
    files[path] = files[path].replace(b"<value>c2</value>", b"<value>c9</value>")
    (finding,) = checked(packed(files)).findings
    line = files[path].split(b"<responseDeclaration")[0].count(b"\n") + 1
    assert (finding.place.file, finding.place.line, finding.place.item) == (path, line, "q00a1")
    assert str(finding.place) == f"{path}, line {line}, item q00a1"


def test_findings_about_pictures_name_the_first_item_that_shows_them(form: WordedForm, pictures: Pictures) -> None:
    files = our_files(form, pictures, "cc13")
    files["images/f0003.png"] = files["quiz/images/f0003.png"] = b""
    (finding,) = checked(packed(files)).findings
    assert str(finding.place) == "images/f0003.png, item q00a3"


def test_place_of_the_whole_package() -> None:
    assert str(Place()) == "the package"
