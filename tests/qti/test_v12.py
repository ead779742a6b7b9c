"""QTI 1.2.1 packages: read by an independent reader, refused or not by the standards' checker, compared with files."""

import html
import posixpath
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from itertools import chain, combinations
from pathlib import Path

import pytest
from qti12_reader import Package

from barwright.qti import ZipEntry, written, zipped
from barwright.wording.worded import Pictures, WordedForm
from published import complaints

CARTRIDGES = ("cc11", "cc12", "cc13")
STANDARDS = (*CARTRIDGES, "qti12")
CASES = [(standard, shape) for standard in STANDARDS for shape in ("quiz", "bank")]
GOLDEN = Path(__file__).parent / "golden"

each_case = pytest.mark.parametrize(("standard", "shape"), CASES)
each_standard = pytest.mark.parametrize("standard", STANDARDS)


def package(form: WordedForm, pictures: Pictures, standard: str, shape: str = "quiz") -> Package:
    return Package(zipped(written(form, pictures, standard=standard, shape=shape)))


def variants(form: WordedForm) -> dict[str, WordedForm]:
    """The form, and forms with an option turned the other way."""
    bare = replace(form.items[0], figure=None, note="", category="")
    return {
        "usual": form,
        "silent": replace(form, feedback=False),
        "still": replace(form, shuffle=False),
        "spare": replace(form, title="Hé <3", intro=(), language="es", items=(bare,)),
    }


def test_checker_accepts_every_standard_shape_and_option(
    form: WordedForm, pictures: Pictures, standards: Path, tmp_path: Path
) -> None:
    files = []
    for name, variant in variants(form).items():
        for standard, shape in CASES:
            files.append(tmp_path / f"{name}-{standard}-{shape}.zip")
            files[-1].write_bytes(zipped(written(variant, pictures, standard=standard, shape=shape)))
    broken = tmp_path / "broken.zip"
    broken.write_bytes(
        zipped([e for e in written(form, pictures, standard="cc13", shape="quiz") if "f0003" not in e.path])
    )
    found = complaints(standards, [*files, broken])
    assert found
    assert [line for line in found if not line.startswith(f"{broken}: ")] == []


def from_the_top(link: str) -> str:
    """A link of a cartridge as readers follow it who begin at the top of the package."""
    return posixpath.normpath(link.replace("$IMS-CC-FILEBASE$/", ""))


def from_the_file(base: str, link: str) -> str:
    """A link of a cartridge as readers follow it who begin at the file that holds it."""
    return posixpath.normpath(f"{posixpath.dirname(base)}/{link.removeprefix('$IMS-CC-FILEBASE$/')}")


@pytest.mark.parametrize("standard", CARTRIDGES)
@pytest.mark.parametrize("shape", ["quiz", "bank"])
def test_links_lead_to_the_same_picture_from_the_top_and_from_the_file(
    form: WordedForm, pictures: Pictures, standard: str, shape: str
) -> None:
    made = package(form, pictures, standard, shape)
    text = "".join(made.root.itertext())
    links = [html.unescape(link) for link in re.findall(r'src="([^"]*)"', text)]
    assert len(links) == text.count("<img") > 6
    for link in links:
        top, beside = from_the_top(link), from_the_file(made.path, link)
        assert top != beside
        assert made.entries[top] == made.entries[beside]
    assert {made.entries[from_the_top(link)] for link in links} == {p.png for p in pictures.values()}


# pyslet knows QTI 1.2.1 without namespaces only, and complains in its log. It runs apart: it warns about its own code.
PYSLET = """
import io, sys
from pyslet.qtiv1.xml import QTIDocument
document = QTIDocument()
document.read(src=io.BytesIO(sys.stdin.buffer.read()))
root = document.root
items = root.ObjectBank.ObjectMixin if root.ObjectBank else root.Assessment.SectionMixin[0].SectionItemMixin
for item in items:
    print(item.ident, item.title, len(item.ItemFeedback), len(item.ResProcessing[0].ConditionMixin))
"""


@each_case
def test_pyslet_reads_every_item(form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    made = package(form, pictures, standard, shape)
    plain = re.sub(rb' xmlns(:xsi)?="[^"]*"| xsi:schemaLocation="[^"]*"', b"", made.entries[made.path])
    said = subprocess.run([sys.executable, "-W", "ignore", "-c", PYSLET], input=plain, capture_output=True, check=False)
    assert said.stderr == b""
    assert said.stdout.decode().splitlines() == [
        "q00a1 Question 1 3 3",
        "q00a2 Question 2 3 3",
        "q00a3 Question 3 5 6",
        "q00a4 Question 4 4 6",
    ]


@each_case
def test_every_word_and_picture_reads_back(form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    made = package(form, pictures, standard, shape)
    assert list(made.items) == [item.ident for item in form.items]
    for item in form.items:
        stem = made.stem(item.ident)
        assert stem.texts == [*item.stem, *([item.note] if item.note else [])]
        assert stem.pictures == [(pictures[item.figure.figure].png, item.figure.alt, "4", None)]
        expected = {} if item.interaction == "entry" else {c.ident: c for c in item.choices}
        choices = made.choices(item.ident)
        assert list(choices) == list(expected)
        for ident, choice in expected.items():
            figure = choice.figure
            assert choices[ident].texts == ([] if figure else [choice.text])
            assert choices[ident].pictures == ([(pictures[figure.figure].png, figure.alt, "4", None)] if figure else [])


@each_case
@pytest.mark.parametrize("rest", [False, True])
def test_every_answer_scores_and_tells_what_it_should(
    form: WordedForm, pictures: Pictures, standard: str, shape: str, rest: bool
) -> None:
    made = package(form, pictures, standard, shape)
    for item in form.items:
        full = 100 if standard in CARTRIDGES else item.points
        if item.interaction in ("figures", "texts"):
            for choice in item.choices:
                expected = (full if choice.key else 0, [choice.feedback])
                assert made.answered(item.ident, choice.ident, other_is_rest=rest) == expected
        if item.interaction == "entry":
            for choice in item.choices:
                for typed in chain(choice.spellings, map(str.upper, choice.spellings)):
                    expected = (full if choice.key else 0, [choice.feedback])
                    assert made.answered(item.ident, typed, other_is_rest=rest) == expected
            assert made.answered(item.ident, "4", other_is_rest=rest) == (0, [item.general_feedback])


@each_case
def test_the_likeliest_spellings_have_conditions_of_their_own_and_all_others_score(
    form: WordedForm, pictures: Pictures, standard: str, shape: str
) -> None:
    """For importers that read no `or`; 64 spellings are as many as an answer has."""
    item = next(item for item in form.items if item.interaction == "entry")
    key, *wrong = item.choices
    many = tuple(f"{number} & {number + 1}" for number in range(64))
    long = replace(item, choices=(replace(key, spellings=many), *wrong))
    made = package(replace(form, items=(long,)), pictures, standard, shape)
    full = 100 if standard in CARTRIDGES else item.points
    for typed in many:
        assert made.answered(item.ident, typed) == (full, [key.feedback])
    tests = made.items[item.ident].findall(".//{*}respcondition/{*}conditionvar/{*}varequal")
    assert [test.text for test in tests] == list(many[:32])


@each_case
def test_several_keys_are_all_or_nothing(form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    made, item = package(form, pictures, standard, shape), form.items[2]
    keys = {c.ident for c in item.choices if c.key}
    for size in range(len(item.choices) + 1):
        for ticked in combinations(item.choices, size):
            right = {c.ident for c in ticked} == keys
            score = (100 if standard in CARTRIDGES else item.points) if right else 0
            said = [c.feedback for c in ticked] + ([] if right else [item.general_feedback])
            assert made.answered(item.ident, *(c.ident for c in ticked)) == (score, said)


@each_standard
def test_wrong_choice_without_its_own_text_gets_the_general_one(
    form: WordedForm, pictures: Pictures, standard: str
) -> None:
    item = form.items[0]
    choices = tuple(replace(c, feedback="" if c.ident != "c3" else c.feedback) for c in item.choices)
    quiet = replace(form, items=(replace(item, choices=choices, general_feedback="Add up."),))
    made = package(quiet, pictures, standard)
    assert [made.answered(item.ident, c)[1] for c in ("c1", "c2", "c3")] == [["Add up."], [], [choices[2].feedback]]


@each_case
def test_feedback_can_be_left_out(form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    made = package(replace(form, feedback=False), pictures, standard, shape)
    document = made.entries[made.path].decode()
    assert not re.search("itemfeedback|displayfeedback|Right|general", document)
    assert made.answered("q00a1", "c2")[0] > made.answered("q00a1", "c1")[0] == 0


@each_standard
@pytest.mark.parametrize("shuffle", [True, False])
def test_choices_are_shuffled_unless_pinned(form: WordedForm, pictures: Pictures, standard: str, shuffle: bool) -> None:
    made = package(replace(form, shuffle=shuffle), pictures, standard)
    orders = [e.get("shuffle") for e in made.root.iter() if e.tag.endswith("}render_choice")]
    assert orders == (["Yes", "No", "Yes"] if shuffle else ["No", "No", "No"])
    fixed = [e.get("rshuffle") for e in made.root.iter() if e.tag.endswith("}response_label")]
    assert fixed == [None] * 3 + ["No"] * 3 + [None] * 4


@each_case
def test_points_and_categories(form: WordedForm, pictures: Pictures, standard: str, shape: str) -> None:
    made = package(form, pictures, standard, shape)
    cartridge = standard in CARTRIDGES
    for item in form.items:
        fields = {
            field[0].text: field[1].text
            for field in made.items[item.ident].iter()
            if field.tag.endswith("}qtimetadatafield")
        }
        assert fields["cc_weighting" if cartridge else "qmd_maximumscore"] == str(item.points)
        category = fields.get("cc_question_category" if cartridge else "qmd_topic")
        assert category == (item.category if shape == "bank" else None)


@each_case
def test_nothing_a_student_can_see_gives_the_key_away(
    form: WordedForm, pictures: Pictures, standard: str, shape: str
) -> None:
    entries = written(form, pictures, standard=standard, shape=shape)
    whole = b"\n".join(e.data for e in entries if e.path.endswith(".xml")).decode()
    for choice in (c for item in form.items for c in item.choices if not c.key):
        assert choice.misreading not in whole
        assert choice.why not in whole
    loud = re.compile("correct|key|wrong|right|answer|true|false|distract", re.IGNORECASE)
    made = Package(zipped(entries))
    idents = [label for ident in made.items for label in made.choices(ident)]
    assert idents == ["c1", "c2", "c3"] * 2 + ["c1", "c2", "c3", "c4"]
    assert [p for p in made.entries if loud.search(p)] == []
    names = re.findall(r'(?:identifier|identifierref|ident|href|src)=(?:"|&quot;)([^"&]*)', whole)
    assert [n for n in names if loud.search(n)] == [n for n in names if n in ("correct_fb", "general_incorrect_fb")]


@each_standard
def test_language_is_told(form: WordedForm, pictures: Pictures, standard: str) -> None:
    lang = "{http://www.w3.org/XML/1998/namespace}lang"
    for shape, tags in (("quiz", {"assessment", "presentation"}), ("bank", {"presentation", "material"})):
        made = package(replace(form, language="es"), pictures, standard, shape)
        told = [e for e in made.root.iter() if e.get(lang) == "es"]
        assert {e.tag.rpartition("}")[2] for e in told} == tags
        assert b'language="es"' in made.entries["imsmanifest.xml"]


def xml_entries(entries: tuple[ZipEntry, ...]) -> list[ZipEntry]:
    return [e for e in entries if e.path.endswith(".xml")]


@pytest.mark.parametrize(("standard", "shape"), [c for c in CASES if c[0] in ("cc13", "qti12")])
def test_documents_are_the_reviewed_ones(
    form: WordedForm, pictures: Pictures, golden: Callable[[Path, bytes], None], standard: str, shape: str
) -> None:
    for entry in xml_entries(written(form, pictures, standard=standard, shape=shape)):
        golden(GOLDEN / f"{standard}-{shape}" / entry.path, entry.data)


@pytest.mark.parametrize("minor", [1, 2])
@pytest.mark.parametrize("shape", ["quiz", "bank"])
def test_older_cartridges_differ_in_version_only(form: WordedForm, pictures: Pictures, minor: int, shape: str) -> None:
    newest = xml_entries(written(form, pictures, standard="cc13", shape=shape))
    older = xml_entries(written(form, pictures, standard=f"cc1{minor}", shape=shape))
    for new, old in zip(newest, older, strict=True):
        renamed = re.sub(rb"(cc(?:_xml)?v1p)3", rb"\g<1>%d" % minor, new.data).replace(b">1.3.0<", b">1.%d.0<" % minor)
        assert (old.path, old.data) == (new.path, renamed)
