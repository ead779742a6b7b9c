"""Sections from a school's list of classes; columns as in OneRoster CSV 1.1 and 1.2, classes.csv (1EdTech)."""

from pathlib import Path

import pytest

from barwright.errors import BarwrightError
from barwright.tasks.sections import section_names

V1P1 = (
    "sourcedId,status,dateLastModified,title,grades,courseSourcedId,classCode,classType,location,schoolSourcedId,"
    "termSourcedIds,subjects,subjectCodes,periods\n"
    'c1,active,2026-08-01T00:00:00Z,Band 6 Period 1,06,k1,B6-1,scheduled,Room 12,s1,t1,Music,5,1\n'
    'c2,active,2026-08-01T00:00:00Z,Band 6 Period 3,"06,07",k1,B6-3,scheduled,Room 12,s1,t1,"Music,Band",5,3\n'
    'c3,tobedeleted,2026-08-01T00:00:00Z,Band 6 Period 5,06,k1,B6-5,scheduled,Room 12,s1,t1,Music,5,5\n'
    'c4,active,2026-08-01T00:00:00Z,Math 6 Period 1,06,k2,M6-1,scheduled,Room 3,s1,t1,Math,2,1\n'
)  # fmt: skip
V1P2 = "sourcedId,title,classType,subjects\nc1,Band 7 A,scheduled,Music\nc2,Band 7 B,scheduled,Music\n"


def test_classes_of_both_editions_are_read_and_deleted_ones_left_out() -> None:
    assert section_names(V1P1, "c.csv", "title", {}) == ("Band 6 Period 1", "Band 6 Period 3", "Math 6 Period 1")
    assert section_names(V1P2, "c.csv", "title", {}) == ("Band 7 A", "Band 7 B")


def test_a_filter_looks_into_columns_of_several_values() -> None:
    assert section_names(V1P1, "c.csv", "title", {"subjects": "music"}) == ("Band 6 Period 1", "Band 6 Period 3")
    assert section_names(V1P1, "c.csv", "title", {"subjects": "Band", "grades": "07"}) == ("Band 6 Period 3",)


def test_a_plain_file_with_a_named_column() -> None:
    assert section_names("Class , Room\nBlue,1\nGreen,2\nBlue,3\n", "my.csv", "Class", {}) == ("Blue", "Green")


def test_semicolons_part_columns_as_commas_do() -> None:
    """A spreadsheet where the comma is in decimals: only what holds a semicolon or a quotation mark is in quotes."""
    text = 'id;title;subjects\r\n1;"Band; ""A""";Music,Band\r\n2;Größe 3;"Music, Choir"\r\n3;Math;Math\r\n;;\r\n'
    assert section_names(text, "c.csv", "title", {}) == ('Band; "A"', "Größe 3", "Math")
    assert section_names(text, "c.csv", "title", {"subjects": "music"}) == ('Band; "A"', "Größe 3")
    assert section_names("Class;Teacher, room\nA;x\n", "c.csv", "Class", {}) == ("A",)
    assert section_names('title,"a;b;c;d"\nA;B,1\n', "c.csv", "title", {}) == ("A;B",)
    assert section_names("title\nA;B\n", "c.csv", "title", {}) == ("A;B",)


def test_blank_lines_and_columns_are_none() -> None:
    assert section_names("\ntitle,room,,\n\nA,1,,\n,,,\nB\n", "c.csv", "title", {}) == ("A", "B")


@pytest.mark.parametrize(
    ("text", "column", "where", "message"),
    [
        (
            V1P2,
            "name",
            {},
            "c.csv, line 1: there is no column 'name': use sourcedId, title, classType, subjects",
        ),
        ("", "title", {}, "c.csv: the file is empty: export the list of classes again"),
        (" \n\n", "title", {}, "c.csv: the file is empty: export the list of classes again"),
        ("title\n", "title", {}, "c.csv: the list has no class: write one on each line below the names of the columns"),
        (
            "title,status\nA,tobedeleted\n",
            "title",
            {},
            "c.csv: the list has no class but those marked tobedeleted: write one on each line below the names of the "
            "columns",
        ),
        (
            "title\n" + "".join(f"A {n}\n" for n in range(61)),
            "title",
            {},
            "c.csv: 61 classes, and 1 to 60 can have a form: choose some by sections_where",
        ),
        (
            "id,title\n1,A\n2, \n3,B\n",
            "title",
            {},
            "c.csv, line 3: title is empty: write the class's name, or delete the line",
        ),
        (
            V1P2,
            "title",
            {"room": "1"},
            "c.csv, line 1: there is no column 'room': use sourcedId, title, classType, subjects",
        ),
        (
            V1P2,
            "title",
            {"subjects": "Art"},
            "c.csv: 0 classes are left, and 1 to 60 can have a form: change sections_where",
        ),
        ("title\nA 1\na-1\n", "title", {}, "c.csv, line 3: 'a-1' and 'A 1' would share the folder 'a-1': rename one"),
        (
            V1P2.replace(",", "\t"),
            "title",
            {},
            "c.csv, line 1: the columns are parted by tabs: save the list as CSV with commas",
        ),
        (
            V1P2.replace(",", ";"),
            "name",
            {},
            "c.csv, line 1: there is no column 'name': use sourcedId, title, classType, subjects",
        ),
        (
            "title;room\nA;1;2\n",
            "title",
            {},
            "c.csv, line 2: more values than columns: put a value with semicolons in quotes",
        ),
        ("title,title\nA,B\n", "title", {}, "c.csv, line 1: there are two columns 'title': rename one"),
        ("title\nA\nB,C\n", "title", {}, "c.csv, line 3: more values than columns: put a value with commas in quotes"),
        (
            'title\n"A\n',
            "title",
            {},
            "c.csv, line 2: this is not CSV, which spreadsheets write: save the list as CSV in UTF-8",
        ),
        (
            "title\n?\n",
            "title",
            {},
            "c.csv, line 2: title = '?' has no letter a-z or digit to name its folder by: give it a name such as "
            "'Period 1'",
        ),
        ("title\n" + "A\n" * 20_001, "title", {}, "c.csv: has over 20000 rows: is this the list of classes?"),
    ],
)
def test_a_list_that_will_not_do_is_told_with_the_mend(
    text: str, column: str, where: dict[str, str], message: str
) -> None:
    with pytest.raises(BarwrightError) as caught:
        section_names(text, "c.csv", column, where)
    assert str(caught.value) == message


def test_the_demo_list_gives_its_band_classes() -> None:
    path = Path(__file__).parents[2] / "shared" / "blueprints" / "classes.csv"
    names = section_names(path.read_text("utf-8"), path.name, "title", {"subjects": "Music"})
    assert names == tuple(f"Band 6 Period {n}" for n in (1, 2, 3, 4, 6, 7))
