"""What is read aloud or stands on a braille display gives nothing away; large pages are large, dark lines dark."""

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, ImageDraw

from barwright.check.reading import read_package
from barwright.engrave.draw import drawn_look
from barwright.engrave.font import DEFAULT, load_font
from barwright.engrave.look import look
from barwright.items.form import Form
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import parse_excerpt
from barwright.tasks.make import Made
from barwright.tasks.record import read_record, read_record_text
from barwright.wording.aloud import braille_lines, script_lines, spoken_row
from barwright.wording.items_in_words import worded_form
from barwright.wording.language import language
from barwright.wording.on_paper import paper_form
from barwright.wording.worded import WordedForm
from paper.printed import Pdf, first_form

LANGUAGES = ("en-US", "en-GB", "es")
UNITS = ("unit-1-half-notes-and-rests", "unit-3-first-six-eight", "unit-4-drag-and-order")


def on_paper(form: Form) -> WordedForm:
    return paper_form(form, worded_form(form))


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("code", LANGUAGES)
def test_texts_hold_what_a_student_sees_and_nothing_of_keys_or_hints(unit: str, code: str) -> None:
    form = replace(first_form(unit), language=code)
    words = on_paper(form)
    seen = {text for item in words.items for text in (*item.stem, item.note)}
    seen |= {choice.figure.alt if choice.figure else choice.text for item in words.items for choice in item.choices}
    told = {text for item in words.items for text in (item.general_feedback, *(c.feedback for c in item.choices))}
    told |= {text for item in words.items for c in item.choices for text in (c.why, c.misreading) if text} - {""}
    script, braille = "\n".join(script_lines(words)), " ".join(" ".join(braille_lines(words)).split())
    for item in words.items:
        if item.figure is not None:
            assert item.figure.alt in script
            assert item.figure.alt in braille
        for choice in item.choices if item.interaction in ("figures", "texts", "several", "gaps", "order") else ():
            text = choice.figure.alt if choice.figure else choice.text
            assert f"{choice.letter}. {text}" in braille
    for text in told - seen - {""}:
        assert text not in script
        assert text not in braille
    assert script.count("\n\n") >= len(words.items)


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("code", LANGUAGES)
def test_braille_lines_have_at_most_forty_cells(unit: str, code: str) -> None:
    lines = braille_lines(on_paper(replace(first_form(unit), language=code)))
    assert max(map(len, lines)) in range(30, 41)
    assert all(sign.isprintable() and sign != "\u0336" for line in lines for sign in line)


@pytest.mark.parametrize(
    ("code", "row", "said"),
    [
        ("en-US", "1-2 & (3) | 1", "1 hyphen 2, and, 3 in parentheses, barline, 1"),
        ("en-GB", "(&-3) 4", "and hyphen 3 in brackets, 4"),
        ("es", "1 & (2-3)", "1, y, 2 guion 3 entre paréntesis"),
        ("en-US", "ta ti-ti", "ta, ti-ti"),
        ("en-US", "1 2\u0336 &\u0336", "1, 2 crossed out, and crossed out"),
    ],
)
def test_rows_are_said_sign_by_sign(code: str, row: str, said: str) -> None:
    assert spoken_row(row, language(code)) == said


def test_a_form_in_two_languages_is_said_in_both() -> None:
    form = replace(first_form(UNITS[0]), also=("es",))
    script, braille = "\n".join(script_lines(on_paper(form))), "\n".join(braille_lines(on_paper(form)))
    assert "What are the counts of this rhythm?" in script or "Which counts go with this rhythm?" in script
    assert "¿" in script
    assert "¿" in braille


def test_files_are_written_and_say_the_same(versions: Made, period: Path) -> None:
    page = (period / "read-aloud" / "read-aloud.html").read_text("utf-8")
    text = (period / "read-aloud" / "read-aloud.txt").read_text("utf-8")
    stripped = re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.S)
    plain = " ".join(stripped.replace("&amp;", "&").replace("&#39;", "'").split())
    for line in text.splitlines():
        said = re.sub(r"^([A-F])\. ", r"\1 ", line)
        assert " ".join(said.split()) in plain, line
    assert page.startswith("<!DOCTYPE html>")
    assert '<html lang="en-US">' in page
    (form,) = read_record(read_record_text(versions.folder / "record.jsonl"), "record")
    package = read_package(period / "quiz.imscc")
    braille = " ".join((period / "braille-text" / "braille.txt").read_text("utf-8").split())
    for item in package.items:
        for picture in (*item.stem.pictures, *(p for r in item.responses for c in r.choices for p in c.shown.pictures)):
            assert str(picture.alt) in braille
    assert braille.count("?") >= len(form.items)


def font_sizes(data: bytes) -> list[float]:
    """The sizes of all texts of a PDF file in points, as its content streams set them; typst turns no text."""
    sizes = []
    for page in pikepdf.open(BytesIO(data)).pages:
        scale = 1.0
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) == "Tm":
                scale = abs(float(operands[3]))
            elif str(operator) == "Tf":
                sizes.append(float(operands[1]) * scale)
    return sizes


def test_large_print_has_no_text_under_18_points_and_an_answer_sheet(period: Path) -> None:
    usual, large = ((period / path).read_bytes() for path in ("quiz.pdf", "large-print/quiz.pdf"))
    assert min(font_sizes(usual)) < 11
    assert min(font_sizes(large)) >= 17.99
    texts = Pdf(large).texts()
    assert "Answers" in texts[-1]
    assert not any("Answers" in text for text in texts[:-1])
    assert "Then answer on the strip that stands on a sheet of its own at the end." in texts[0]


def test_one_a_page_has_a_page_for_each_question_and_an_answer_sheet(period: Path) -> None:
    pdf = Pdf((period / "one-a-page" / "quiz.pdf").read_bytes())
    assert pdf.pages == 15
    headings = [tag for tag in pdf.tags() if tag.kind == "H2"]
    assert len(headings) == 14


def test_fewer_items_and_choices_keep_numbers_and_letters_on_paper(versions: Made, period: Path) -> None:
    record = (versions.folder / "record.jsonl").read_text("utf-8").splitlines()[1:]
    kept = [n for n, line in enumerate(record, start=1) if '"fewer_items": true' in line]
    assert kept != list(range(1, len(kept) + 1))
    text = " ".join(Pdf((period / "fewer-items" / "quiz.pdf").read_bytes()).texts())
    assert [int(number) for number in re.findall(r"(?<![\w.])(\d+)\. (?=[A-Z])", text)] == kept
    strips = " ".join(Pdf((period / "fewer-choices" / "quiz.pdf").read_bytes()).texts())
    assert re.search(r"\b\d+ (A C D|A B D|B C D)\b", strips)


def test_heavy_lines_leave_the_hole_of_a_half_note_open() -> None:
    seen, font = look(Figure(parse_excerpt("4/4 h h")), Conventions()), load_font(DEFAULT)
    usual, heavy = (Image.open(BytesIO(drawn_look(seen, font, heavy=each)[0])).convert("L") for each in (False, True))
    assert usual.size == heavy.size
    ink = [sum(value < 128 for value in image.tobytes()) for image in (usual, heavy)]
    assert ink[1] > 1.3 * ink[0]
    # Above the line, inside the notehead, stays as white as it was: glyphs are not made thicker.
    filled = look(Figure(parse_excerpt("4/4 q q q q")), Conventions())
    black = Image.open(BytesIO(drawn_look(filled, font, heavy=True)[0])).convert("L")
    assert holes(heavy) == holes(usual)
    assert holes(black) < holes(heavy)


def holes(image: Image.Image) -> int:
    """How many white areas are wholly enclosed by ink, by filling the ground from the edge."""
    sheet = Image.new("L", (image.width + 2, image.height + 2), 255)
    sheet.paste(image.point(lambda value: 0 if value < 128 else 255), (1, 1))
    count = 0
    ImageDraw.floodfill(sheet, (0, 0), 100)
    for y in range(sheet.height):
        for x in range(sheet.width):
            if sheet.getpixel((x, y)) == 255:
                ImageDraw.floodfill(sheet, (x, y), 100)
                count += 1
    return count
