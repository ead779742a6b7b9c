"""A Spanish form and one in two languages: they pass every judge in every standard, with the keys of the English one.

The reader of `check` and the published schemas know nothing of how the forms were made.
"""

import re
import zipfile
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from barwright.check.reading import read_package, same_content
from barwright.check.reading.package_model import ReadPackage
from barwright.check.rules import checked
from barwright.items.form import Form
from barwright.qti import WRITERS, written, zipped
from barwright.rhythm.conventions import Conventions
from barwright.tasks.packing import drawn_pictures
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import WordedForm
from paper.printed import first_form
from published import complaints

UNITS = {"unit-1-half-notes-and-rests": tuple(WRITERS), "unit-4-drag-and-order": ("qti22", "qti30")}
TONGUES: dict[str, tuple[str, tuple[str, ...]]] = {
    "Spanish": ("es", ()),
    "English and Spanish": ("en-US", ("es",)),
}
CASES = [(unit, tongue, s) for unit, standards in UNITS.items() for tongue in TONGUES for s in standards]


@cache
def english(unit: str) -> Form:
    return first_form(unit)


@cache
def in_words(unit: str, tongue: str) -> WordedForm:
    code, also = TONGUES.get(tongue, ("en-US", ()))
    return worded_form(replace(english(unit), language=code, also=also))


def package(folder: Path, unit: str, tongue: str, standard: str, shape: str = "quiz") -> Path:
    form = in_words(unit, tongue)
    pictures = drawn_pictures([form], Conventions(), "Bravura", progress=lambda *_: None)
    path = folder / f"{standard}-{shape}-{re.sub('[^a-z]', '', tongue.lower())}.zip"
    path.write_bytes(zipped(written(form, pictures, standard=standard, shape=shape)))
    return path


def keys(package: ReadPackage) -> dict[str, tuple[frozenset[str], ...]]:
    return {item.ident: tuple(frozenset(r.keys) for r in item.responses) for item in package.items}


@pytest.mark.parametrize(("unit", "tongue", "standard"), CASES)
def test_the_keys_are_those_of_the_english_form(unit: str, tongue: str, standard: str, tmp_path: Path) -> None:
    plain = keys(read_package(package(tmp_path, unit, "English", standard)))
    other = keys(read_package(package(tmp_path, unit, tongue, standard)))
    assert plain.keys() == other.keys()
    for ident, responses in plain.items():
        for mine, theirs in zip(responses, other[ident], strict=True):
            typed = any(key.isdigit() for key in mine)
            assert {k for k in mine if k.isdigit()} <= theirs if typed else mine == theirs


@pytest.mark.parametrize(("unit", "tongue"), sorted({case[:2] for case in CASES}))
def test_all_standards_say_the_same_in_every_language(unit: str, tongue: str, tmp_path: Path) -> None:
    read = [read_package(package(tmp_path, unit, tongue, standard)) for standard in UNITS[unit]]
    for other in read[1:]:
        assert same_content(read[0], other) == ()


@pytest.mark.parametrize("shape", ["quiz", "bank"])
@pytest.mark.parametrize(("unit", "tongue", "standard"), CASES)
def test_every_judge_passes_them(
    unit: str, tongue: str, standard: str, shape: str, tmp_path: Path, standards: Path
) -> None:
    path = package(tmp_path, unit, tongue, standard, shape)
    assert complaints(standards, [path]) == []
    assert (checked(path).refused, checked(path).findings) == ("", ())


LANG = re.compile(r'(?:xml:)?lang(?:="|=&quot;)([\w-]+)')


@pytest.mark.parametrize(("unit", "tongue", "standard"), CASES)
def test_every_text_has_its_language(unit: str, tongue: str, standard: str, tmp_path: Path) -> None:
    path = package(tmp_path, unit, tongue, standard)
    code, also = TONGUES[tongue]
    with zipfile.ZipFile(path) as opened:
        texts = [opened.read(name).decode() for name in opened.namelist() if name.endswith(".xml")]
    found = {tag for text in texts for tag in LANG.findall(text)}
    assert found == {code, *also}


@pytest.mark.parametrize(("unit", "standard"), [(unit, s) for unit, standards in UNITS.items() for s in standards])
def test_both_languages_are_shown_paragraph_by_paragraph(unit: str, standard: str, tmp_path: Path) -> None:
    read = read_package(package(tmp_path, unit, "English and Spanish", standard))
    forms = [in_words(unit, tongue) for tongue in ("English", "Spanish")]
    for item, first, second in zip(read.items, *(form.items for form in forms), strict=True):
        said = item.stem.paragraphs
        assert said[:2] == (first.stem[0], second.stem[0])
        assert second.note == "" or second.note in said
        hints = {text for answered in item.answers for text in answered.feedback}
        assert any("¿" in p for p in said) or "Ordena" in said[1] or "Falta" in said[1]
        assert not hints or any(re.search(r"\b(el|la|los|un|una|Correcto)\b", hint) for hint in hints)


def test_what_can_be_typed_in_either_language_is_taken() -> None:
    both = in_words("unit-1-half-notes-and-rests", "English and Spanish")
    typed = [item for item in both.items if item.category == "beats-left"]
    assert typed
    for item in typed:
        (key,) = [choice for choice in item.choices if choice.key]
        assert any(s.endswith(("beat", "beats")) for s in key.spellings)
        assert any(s.endswith(("pulso", "pulsos")) for s in key.spellings)
        every = [s.casefold() for choice in item.choices for s in choice.spellings]
        assert len(set(every)) == len(every)
