"""All that comes of a Spanish plan, whatever file it stands in: nothing of it is English."""

import html
import json
import re
import zipfile
from pathlib import Path

import pytest
from lxml import etree

from barwright.counting.counts import normal_row, spellings
from barwright.items.accommodations import ACCOMMODATIONS
from barwright.qti import WRITERS
from barwright.results.reading.cell_answers import in_system_words
from barwright.rhythm.conventions import Conventions
from barwright.tasks.diagnose.asked import asked_quiz
from barwright.tasks.diagnose.diagnose import Wish, diagnose
from barwright.tasks.make import Made, make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from barwright.tasks.sheet import sheet
from barwright.wording.language import language
from barwright.wording.own_counts import in_system, said_spellings
from paper.printed import Pdf
from results.shapes import by_ident, csv_bytes, title, wide
from results.simulated_classes import sittings
from wording.english_words import ENGLISH

PLAN = """
title = "Prueba de ritmo"
language = "es"
sections = ["Grupo A"]
seed = 5
[quiz]
paper = "a4"
[elements]
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["half", "quarter"]
dots = ["half"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 2
[[part]]
family = "measure-completion"
ask = "beats-left"
items = 2
[[part]]
family = "measure-completion"
ask = "all-that-fit"
items = 2
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 2
[[part]]
family = "count-labeling"
ask = "counts-for-rhythm"
items = 2
[[part]]
family = "meter-identification"
ask = "what-the-numbers-say"
items = 2
[[part]]
family = "meter-identification"
ask = "time-signature-for-rhythm"
items = 2
"""
# Attributes that are read out or shown; all others are for programs.
SPOKEN = ("title", "alt", "label", "aria-label", "data-caption", "placeholder")
# What stands in a package for programs alone: names of the standard, keywords of banks, identifiers.
FOR_PROGRAMS = (
    "schema", "schemaversion", "keyword", "fieldlabel", "fieldentry", "identifier", "entry", "source", "value",
)  # fmt: skip


@pytest.fixture(scope="module")
def quiz(tmp_path_factory: pytest.TempPathFactory) -> Made:
    folder = tmp_path_factory.mktemp("spanish")
    (folder / "prueba.toml").write_text(PLAN, encoding="utf-8")
    order = Order(
        folder / "out", standards=tuple(WRITERS), paper=True, accommodations=ACCOMMODATIONS, allow_repeats=True
    )
    return make(folder / "prueba.toml", order, progress=silent)


def english(text: str) -> list[str]:
    return ENGLISH.findall(text)


def page_text(data: str) -> str:
    """What a page shows or has read out."""
    plain = re.sub(r"<(style|script)\b.*?</\1>", " ", data, flags=re.DOTALL)
    spoken = " ".join(m[1] for name in SPOKEN for m in re.finditer(rf'\s{name}="([^"]*)"', plain))
    return html.unescape(f"{re.sub(r'<[^>]*>', ' ', plain)} {spoken}")


def xml_text(data: bytes) -> str:
    """What a document of a package shows or has read out; HTML inside of texts is read as such."""
    root, told = etree.fromstring(data), []
    for element in root.iter(etree.Element):
        above = (element, *element.iterancestors())
        if not any(etree.QName(each).localname.lower() in FOR_PROGRAMS for each in above):
            spoken = (value for name, value in element.attrib.items() if name in SPOKEN)
            told += [page_text(element.text or ""), element.tail or "", *spoken]
    return " ".join(told)


def pdf_text(path: Path) -> str:
    found = Pdf(path.read_bytes())
    with found.file.open_metadata() as told:
        name = str(told["dc:title"])
    return " ".join([name, *found.texts(), *(tag.alt for tag in found.tags())])


def test_no_english_stands_in_any_package(quiz: Made) -> None:
    packages = sorted(path for path in quiz.folder.rglob("*") if path.suffix in (".zip", ".imscc"))
    assert len(packages) > 2 * len(WRITERS)
    words = 0
    for path in packages:
        with zipfile.ZipFile(path) as opened:
            for name in opened.namelist():
                if name.endswith(".xml"):
                    text = xml_text(opened.read(name))
                    words += len(text.split())
                    assert english(text) == [], (path.name, name)
    assert words > 50_000


def test_no_english_stands_on_any_page_or_paper_or_in_any_text(quiz: Made) -> None:
    kinds: dict[str, int] = {}
    for path in sorted(quiz.folder.rglob("*")):
        if path.suffix not in (".html", ".pdf", ".txt"):
            continue
        text = {
            ".html": lambda p: page_text(p.read_text("utf-8")),
            ".pdf": pdf_text,
            ".txt": lambda p: p.read_text("utf-8"),
        }[path.suffix](path)
        assert english(text) == [], path
        assert re.search(r"\b(el|la|una?|compás|cuenta)\b", text), path
        kinds[path.name] = kinds.get(path.name, 0) + 1
    assert {"proof.html", "key.html", "quiz.pdf", "key.pdf", "read-aloud.txt", "braille.txt"} <= set(kinds)


def test_no_english_stands_in_what_the_record_says_in_words(quiz: Made) -> None:
    """The record is for programs; what it keeps in words are titles and sections."""
    header, *lines = map(json.loads, (quiz.folder / "record.jsonl").read_text("utf-8").splitlines())
    assert english(str(header.get("title", ""))) == []
    assert all(english(f"{line.get('section', '')} {line.get('title', '')}") == [] for line in lines)


def test_no_english_stands_on_practice(quiz: Made) -> None:
    path = quiz.folder.parent.parent / "prueba.toml"
    done = sheet(path, Order(out=path.parent / "out"))
    for page in (done.page, done.key):
        assert english(pdf_text(page)) == [], page


def test_no_english_stands_in_what_answers_tell(quiz: Made, tmp_path: Path) -> None:
    asked = asked_quiz(quiz.folder)
    table = tmp_path / "grupo-a.csv"
    table.write_bytes(
        csv_bytes(wide(asked, 0, [s for s in sittings(asked, 6) if s.form == asked.forms[0]], by_ident, title))
    )
    diagnose(quiz.folder, [table], Wish(feedback=True), progress=silent)
    pages = sorted((quiz.folder / "results").rglob("*.html"))
    assert len(pages) >= 2
    for page in pages:
        assert english(page_text(page.read_text("utf-8"))) == [], page


def test_what_stands_between_beats_is_typed_as_it_is_said() -> None:
    """In Spanish & is read `y` (common practice); each spelling goes back to the one row."""
    spanish, row = language("es"), "1 & 2-3 (&)"
    typed = said_spellings(spellings(row, Conventions()), "numbers", spanish)
    assert {row, "1 y 2-3 (y)"} <= set(typed)
    assert not any("and" in each for each in typed)
    back = {in_system_words(each, in_system("numbers", spanish)) for each in typed}
    assert {normal_row(each, Conventions()) for each in back} == {row}
    assert "1 and 2-3 (and)" in said_spellings(spellings(row, Conventions()), "numbers", language("en-US"))
