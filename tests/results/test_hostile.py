"""Files that are broken, huge, or made to do harm: each gets one clear line, and the rest is read on."""

import io
import zipfile

import pytest
from openpyxl import Workbook

from barwright.results.reading.sources import Gathered, gathered
from barwright.tasks.diagnose.asked import AskedQuiz
from barwright.tasks.diagnose.spreadsheets import csv_text, harmless
from results.shapes import by_label, csv_bytes, title, wide
from results.simulated_classes import RR22, report, sittings, zipped

ENTITIES = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 12))
BOMB = f'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY e0 "ha">{ENTITIES}]><a>&e11;</a>'.encode()
OUTSIDE = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><assessmentResult>&x;</assessmentResult>'


def read(quiz: AskedQuiz, name: str, data: bytes) -> Gathered:
    return gathered([(name, data)], quiz.sheets, {})


def refused(quiz: AskedQuiz, name: str, data: bytes) -> str:
    found = read(quiz, name, data)
    assert found.givens == ()
    (line,) = found.refused
    assert "\n" not in line
    assert len(line) < 400
    return line


def workbook(rows: list[list[object]]) -> bytes:
    book, target = Workbook(), io.BytesIO()
    for row in rows:
        book.active.append(row)
    book.save(target)
    return target.getvalue()


def deflated(content: bytes, name: str) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, content)
    return target.getvalue()


def test_files_that_are_no_answers(unit_1: AskedQuiz) -> None:
    for data, line in {
        b"%PDF-1.7": "a.x: it is a PDF: export the answers as CSV or .xlsx",
        b"\xd0\xcf\x11\xe0old": "a.x: it is an old Excel workbook (.xls): save it as .xlsx or CSV",
        b"\x89PNG\r\n": "a.x: it is a picture: export the answers as CSV or .xlsx",
        b"\n \n": "a.x: it is empty: export the answers again",
        b"a,b\0c\n1,2": "a.x: it holds bytes that are no text: export the answers as CSV or .xlsx",
        b"<html><body/></html>": "a.x: it is XML, but no results of QTI 2.2 or 3.0 (its root is 'html'): export "
        "the answers as CSV, .xlsx, or QTI Results Reporting",
        b"Student,Question 1\n": "a.x: it has headings and nothing below them: export the answers again",
        zipped(
            {"imsmanifest.xml": b"<a/>"}
        ): "a.x: it is a package of questions, not of answers: give what the platform exports as results",
        zipped({"content.xml": b"<a/>", "mimetype": b"x"}): "a.x: it is an OpenDocument table: save it as .xlsx or CSV",
    }.items():
        assert refused(unit_1, "a.x", data) == line


def test_a_table_of_another_quiz_is_refused_with_the_reason(unit_1: AskedQuiz) -> None:
    table = csv_bytes([["Student", "Q1", "Q2"], ["s1", "Paris", "London"], ["s2", "Rome", "Oslo"]])
    assert refused(unit_1, "geography.csv", table) == (
        "geography.csv: none of its columns (headings 'Student', 'Q1', 'Q2' and others) can be read as answers to this "
        "quiz: is it of another quiz?"
    )


def test_results_of_another_quiz_are_refused_with_the_reason(unit_1: AskedQuiz) -> None:
    data = report(unit_1, sittings(unit_1, 1)[0], RR22)
    for question in unit_1.sheets[0].questions:
        data = data.replace(question.ident.encode(), b"q0123456789abcdef")
    assert refused(unit_1, "a.xml", data) == (
        "a.xml: asks 'q0123456789abcdef' and others, and no form of this quiz's record has them: it is of another "
        "quiz, or the form was made anew since"
    )


def test_entities_are_never_expanded(unit_1: AskedQuiz) -> None:
    for data in (BOMB, OUTSIDE, BOMB.decode().encode("utf-16")):
        line = refused(unit_1, "a.xml", data)
        assert line.startswith(("a.xml: it is not well-formed XML (", "a.xml: it declares a document type"))
        assert "root:" not in line
    declared = report(unit_1, sittings(unit_1, 1)[0], RR22).replace(b"?>", b"?><!DOCTYPE assessmentResult>", 1)
    assert refused(unit_1, "a.xml", declared) == (
        "a.xml: it declares a document type, which no results report has: it is not read"
    )


def test_a_report_without_a_student_and_half_a_report(unit_1: AskedQuiz) -> None:
    data = report(unit_1, sittings(unit_1, 1)[0], RR22)
    assert refused(unit_1, "a.xml", data.replace(b"sourcedId", b"other")) == (
        "a.xml: it does not say whose answers these are (no sourcedId, no sessionIdentifier): export it with one"
    )
    assert refused(unit_1, "a.xml", data[: len(data) // 2]).startswith("a.xml: it is not well-formed XML (")


def test_a_million_columns_and_very_deep_xml(unit_1: AskedQuiz) -> None:
    wide_table = b"Student" + b",x" * 1_000_000 + b"\n"
    assert refused(unit_1, "a.csv", wide_table) == (
        "a.csv, row 1: has 1,000,001 columns, and 2,000 are read at most: is it a table of answers?"
    )
    start = b'<assessmentResult xmlns="http://www.imsglobal.org/xsd/imsqti_result_v2p2">'
    deep = start + b"<a>" * 200 + b"</a>" * 200 + b"</assessmentResult>"
    assert refused(unit_1, "a.xml", deep) == "a.xml: its elements lie over 60 deep: it is no results report"
    deepest = start + b"<a>" * 5000 + b"</a>" * 5000 + b"</assessmentResult>"
    assert refused(unit_1, "a.xml", deepest).startswith("a.xml: it is not well-formed XML (")


def test_a_long_cell_and_a_quotation_mark_that_never_ends(unit_1: AskedQuiz) -> None:
    long_cell = b"Student,Question 1\ns1," + b"x" * 30_000 + b"\n"
    assert refused(unit_1, "a.csv", long_cell) == (
        "a.csv, row 2: a cell has over 20,000 letters: is it a table of answers?"
    )
    open_quote = b'Student,Question 1\ns1,"' + b"x\n" * 100_000
    assert refused(unit_1, "a.csv", open_quote) == (
        "a.csv, line 65538: the table cannot be read (field larger than field limit (131072)): export it again"
    )


def test_zip_bombs_broken_zips_and_zips_in_zips(unit_1: AskedQuiz) -> None:
    big = b"\0" * 210_000_000
    assert refused(unit_1, "a.zip", deflated(big, "a.csv")) == (
        "a.zip: unpacks to 210,000,000 bytes in 1 files, which is more than is read"
    )
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", "<a/>")
        archive.writestr("xl/worksheets/sheet1.xml", big)
    assert refused(unit_1, "a.xlsx", target.getvalue()) == (
        "a.xlsx: unpacks to 210,000,004 bytes, over 200,000,000: is it a table of answers?"
    )
    assert refused(unit_1, "a.zip", b"PK\x03\x04broken").startswith("a.zip: the zip is damaged (")
    inner = zipped({"b.csv": b"x"})
    assert (
        refused(unit_1, "a.zip", zipped({"b.zip": inner})) == "a.zip: b.zip: it is a zip inside a zip: unpack it first"
    )


def test_workbooks_that_are_damaged_or_declare_entities(unit_1: AskedQuiz) -> None:
    whole = workbook([["Student", "Question 1"], ["s1", "c1"]])
    bombed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(whole)) as source, zipfile.ZipFile(bombed, "w") as archive:
        for member in source.infolist():
            content = source.read(member)
            archive.writestr(member, BOMB if member.filename.endswith("sheet1.xml") else content)
    assert refused(unit_1, "a.xlsx", bombed.getvalue()) == (
        "a.xlsx: the workbook declares entities, which no table needs: save it anew"
    )
    cut = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(whole)) as source, zipfile.ZipFile(cut, "w") as archive:
        for member in source.infolist():
            content = source.read(member)
            archive.writestr(member, content[:200] if member.filename.endswith("sheet1.xml") else content)
    assert refused(unit_1, "a.xlsx", cut.getvalue()).startswith("a.xlsx: the workbook is damaged (")


def test_formulas_are_never_worked_out_and_never_written(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 5) if each.form is unit_1.forms[0]]
    rows = wide(unit_1, 0, sat, by_label, title)
    rows[1][0] = '=HYPERLINK("http://evil.example","x")'
    found = read(unit_1, "period-1.csv", csv_bytes(rows))
    assert {given.student for given in found.givens} >= {rows[1][0]}
    assert csv_text([[rows[1][0], "-1+2", -0.5, None]]).decode("utf-8-sig") == (
        '"\'=HYPERLINK(""http://evil.example"",""x"")",\'-1+2,-0.500,\r\n'
    )
    for start in "=+-@\t\r":
        assert harmless(f"{start}x") == f"'{start}x"


def test_mixed_encodings_are_read_line_by_line(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 6) if each.form is unit_1.forms[0]]
    lines = csv_bytes(wide(unit_1, 0, sat, by_label, title)).decode().splitlines()
    mixed = b"\n".join(line.encode("utf-8" if n % 2 else "cp1252") for n, line in enumerate(lines))
    found = read(unit_1, "period-1.csv", mixed)
    assert found.told[0] == "period-1.csv: lines of two encodings (UTF-8 and cp1252): each was read in its own"
    assert {given.shown for given in found.givens} == {each.name for each in sat}


def test_duplicate_students_blank_rows_and_totals(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 5) if each.form is unit_1.forms[0]]
    rows = wide(unit_1, 0, sat, by_label, title)
    width = len(rows[0])
    rows += [
        ["s9", "Absent", *[""] * (width - 2)],
        ["", "", *rows[1][2:]],
        ["Points possible", "", *["1.0"] * (width - 2)],
    ]
    found = read(unit_1, "period-1.csv", csv_bytes(rows))
    assert found.faults == (
        "period-1.csv, row 9: 'Points possible' has no answers that can be read: left out",
        "period-1.csv: 1 row(s) without any answer were left out",
        "period-1.csv: 1 row(s) do not say whose they are, and were left out",
    )
    assert {given.student for given in found.givens} == {each.student for each in sat}


def test_cells_that_cannot_be_read_are_told_with_their_place(unit_1: AskedQuiz) -> None:
    sat = [each for each in sittings(unit_1, 5) if each.form is unit_1.forms[0]]
    rows = wide(unit_1, 0, sat, by_label, title)
    rows[2][2] = "quarter potato"
    found = read(unit_1, "period-1.csv", csv_bytes(rows))
    assert found.faults == ("period-1.csv, row 3: question 1: 'quarter potato' is none of its answers",)
    for row in rows[1:]:
        row[3] = row[4] = "?"
    assert read(unit_1, "period-1.csv", csv_bytes(rows)).faults == (
        "period-1.csv: column D ('Question 2') holds no answers to question 2: left out",
        "period-1.csv: column E ('Question 3') holds no answers to question 3: left out",
        "period-1.csv, row 3: question 1: 'quarter potato' is none of its answers",
    )


def test_what_a_spreadsheet_made_of_answers_is_undone(unit_1: AskedQuiz) -> None:
    """3/4 becomes the third of April or the fourth of March, and (2) minus two, when a table is opened and saved."""
    sat = [each for each in sittings(unit_1, 6) if each.form is unit_1.forms[0]]
    rows = wide(unit_1, 0, sat, by_label, title)
    spoilt = [
        [{"2/4": "4-Feb", "3/4": "4-Mar", "4/4": "2026-04-04 00:00:00"}.get(cell, cell) for cell in row] for row in rows
    ]
    assert spoilt != rows
    want, got = (read(unit_1, "period-1.csv", csv_bytes(each)).givens for each in (rows, spoilt))
    assert [(g.student, g.item, g.answer) for g in got] == [(g.student, g.item, g.answer) for g in want]


@pytest.mark.parametrize("heading", ["Student", "E-mail", "Last name"])
def test_a_table_without_anybody_is_refused(unit_1: AskedQuiz, heading: str) -> None:
    sat = [each for each in sittings(unit_1, 5) if each.form is unit_1.forms[0]]
    rows = [row[1:] for row in wide(unit_1, 0, sat, by_label, title)]
    rows[0][0] = heading
    assert read(unit_1, "period-1.csv", csv_bytes(rows)).refused == ()
    rows[0][0] = "Beverage"
    assert refused(unit_1, "period-1.csv", csv_bytes(rows)) == (
        "period-1.csv: no column says who answered: give one the heading Student"
    )
