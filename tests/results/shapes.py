"""One set of answers as differently shaped tables: none of them is any product's layout."""

import csv
import io
from collections.abc import Callable, Sequence
from random import Random

from openpyxl import Workbook

from barwright.results.reading.asked import AskedQuestion
from barwright.tasks.diagnose.asked import AskedQuiz
from barwright.wording.worded import WordedItem
from results.simulated_classes import Sitting

Told = Callable[[tuple[int, ...], AskedQuestion, WordedItem], str]
Rows = list[list[str]]


def by_ident(picks: tuple[int, ...], question: AskedQuestion, item: WordedItem) -> str:
    return _told(picks, question, item, lambda place: item.choices[place].ident)


def by_letter(picks: tuple[int, ...], question: AskedQuestion, item: WordedItem) -> str:
    return _told(picks, question, item, lambda place: "ABCDEFGHIJKLMNOP"[place])


def by_label(picks: tuple[int, ...], question: AskedQuestion, item: WordedItem) -> str:
    return _told(picks, question, item, lambda place: item.choices[place].label or item.choices[place].text)


def by_alt(picks: tuple[int, ...], question: AskedQuestion, item: WordedItem) -> str:
    def told(place: int) -> str:
        figure = item.choices[place].figure
        return figure.alt if figure else item.choices[place].text

    return _told(picks, question, item, told)


def by_file(picks: tuple[int, ...], question: AskedQuestion, item: WordedItem) -> str:
    def told(place: int) -> str:
        name = question.options[place].names.get("file")
        return f'<img src="https://platform.example/a/images/{name}">' if name else f"<p>{item.choices[place].text}</p>"

    return _told(picks, question, item, told)


def _told(picks: tuple[int, ...], question: AskedQuestion, item: WordedItem, part: Callable[[int], str]) -> str:
    if not picks:
        return ""
    if question.interaction == "entry":
        return item.choices[picks[0]].spellings[0]
    if item.foreseen:
        places = [int(ident[1:]) - 1 for ident in item.foreseen[picks[0]].filled]
        return "; ".join(map(part, places))
    return "; ".join(map(part, picks))


def stem(item: WordedItem) -> str:
    return " ".join(item.stem)


def wide(
    quiz: AskedQuiz,
    place: int,
    sat: Sequence[Sitting],
    told: Told,
    heading: Callable[[int, AskedQuestion, WordedItem], str],
) -> Rows:
    sheet, worded = quiz.sheets[place], quiz.worded[place]
    pairs = list(zip(sheet.questions, worded.items, strict=True))
    rows = [["Student ID", "Name", *(heading(n, q, i) for n, (q, i) in enumerate(pairs, 1))]]
    for each in sat:
        cells = [told(picks, q, i) for picks, (q, i) in zip(each.picks, pairs, strict=True)]
        rows.append([each.student, each.name, *cells])
    return rows


def long(
    quiz: AskedQuiz, place: int, sat: Sequence[Sitting], told: Told, named: Callable[[AskedQuestion, WordedItem], str]
) -> Rows:
    sheet, worded = quiz.sheets[place], quiz.worded[place]
    rows = [["Student ID", "Name", "Question", "Answer", "Points"]]
    for each in sat:
        for picks, q, i in zip(each.picks, sheet.questions, worded.items, strict=True):
            rows.append([each.student, each.name, named(q, i), told(picks, q, i), "1"])
    return rows


def csv_bytes(rows: Rows, *, by: str = ",", code: str = "utf-8") -> bytes:
    target = io.StringIO()
    csv.writer(target, delimiter=by).writerows(rows)
    return target.getvalue().encode(code)


def workbook_bytes(rows: Rows) -> bytes:
    book, target = Workbook(), io.BytesIO()
    book.active.title = "About"
    book.active.append(["Exported answers"])
    sheet = book.create_sheet("Answers")
    for row in rows:
        sheet.append(row)
    book.save(target)
    return target.getvalue()


def with_foreign(rows: Rows, rng: Random) -> Rows:
    """Columns in another order, between them others that are about something else, behind each question its points."""
    columns = list(map(list, zip(*rows, strict=True)))
    asked = columns[2:]
    rng.shuffle(asked)
    made = [["Group work", *("x" for _ in rows[1:])], columns[0], ["Started", *("2026-03-05 10:00" for _ in rows[1:])]]
    for column in asked:
        made += [column, [f"{column[0]} (points)", *("1.0" for _ in rows[1:])]]
    made += [["Total score", *("7" for _ in rows[1:])], columns[1]]
    return list(map(list, zip(*made, strict=True)))


def two_headings(rows: Rows) -> Rows:
    """Merged cells over two columns for each question: its answer and its points."""
    upper, lower = ["", ""], ["Student ID", "Name"]
    for heading in rows[0][2:]:
        upper += [heading, ""]
        lower += ["Response", "Points"]
    body = [[row[0], row[1], *(cell for text in row[2:] for cell in (text, "1"))] for row in rows[1:]]
    return [upper, lower, *body]


def a_column_a_place(rows: Rows, quiz: AskedQuiz, place: int, named: Callable[[AskedQuestion], str]) -> Rows:
    """Where an answer is put together, a column for each of its places, as its response variables are."""
    made = [[row[0], row[1]] for row in rows]
    for n, question in enumerate(quiz.sheets[place].questions, 2):
        idents = [each.ident for each in question.places]
        if question.interaction != "inline":
            for out, row in zip(made, rows, strict=True):
                out.append(row[n])
            continue
        made[0] += [f"{named(question)}RESPONSE_{ident}" for ident in idents]
        for out, row in zip(made[1:], rows[1:], strict=True):
            out += row[n].split("; ") if row[n] else [""] * len(idents)
    return made


def preamble(rows: Rows) -> Rows:
    """Some lines before the headings, as many exports have."""
    return [["Exported answers"], [], ["Course", "Rhythm"], [], *rows]


def decimal_commas(rows: Rows) -> Rows:
    """Numbers as a spreadsheet of many countries writes them: 2 becomes 2,0."""
    return [rows[0], *([cell if not cell.isdecimal() else f"{cell},0" for cell in row] for row in rows[1:])]


def title(_n: int, _q: AskedQuestion, i: WordedItem) -> str:
    return i.title


SHAPES: dict[str, Callable[[AskedQuiz, int, Sequence[Sitting]], tuple[str, bytes]]] = {
    "wide by identifier": lambda q, p, s: ("a.csv", csv_bytes(wide(q, p, s, by_ident, title))),
    "wide by label and text": lambda q, p, s: (
        "b.csv",
        csv_bytes(wide(q, p, s, by_label, lambda n, _q, i: f"{n}. {stem(i)}")),
    ),
    "wide by alternative text": lambda q, p, s: (
        "c.tsv",
        csv_bytes(wide(q, p, s, by_alt, lambda n, _q, _i: f"Q{n}"), by="\t"),
    ),
    "wide by picture file": lambda q, p, s: ("d.csv", csv_bytes(wide(q, p, s, by_file, lambda _n, x, _i: x.ident))),
    "reordered with foreign columns": lambda q, p, s: (
        "e.csv",
        csv_bytes(with_foreign(wide(q, p, s, by_label, lambda n, _q, i: f"{n}: {stem(i)}"), Random(5))),
    ),
    "two header rows": lambda q, p, s: ("f.csv", csv_bytes(two_headings(wide(q, p, s, by_label, title)))),
    "semicolons and decimal commas": lambda q, p, s: (
        "g.csv",
        csv_bytes(decimal_commas(preamble(wide(q, p, s, by_alt, title))), by=";", code="cp1252"),
    ),
    "workbook": lambda q, p, s: ("h.xlsx", workbook_bytes(wide(q, p, s, by_label, title))),
    "long by identifier": lambda q, p, s: ("i.csv", csv_bytes(long(q, p, s, by_ident, lambda x, _i: x.ident))),
    "long by stem in UTF-16": lambda q, p, s: (
        "j.txt",
        csv_bytes(long(q, p, s, by_alt, lambda _q, i: stem(i)), by="\t", code="utf-16"),
    ),
    "long by number": lambda q, p, s: ("k.csv", csv_bytes(long(q, p, s, by_label, lambda x, _i: str(x.number)))),
    "a column a place, by identifier": lambda q, p, s: (
        "m.csv",
        csv_bytes(a_column_a_place(wide(q, p, s, by_ident, lambda _n, x, _i: x.ident), q, p, lambda x: f"{x.ident} ")),
    ),
    "a column a place, by number": lambda q, p, s: (
        "n.csv",
        csv_bytes(
            a_column_a_place(
                wide(q, p, s, by_label, lambda n, _q, _i: f"Question {n}"), q, p, lambda x: f"Question {x.number}: "
            )
        ),
    ),
    "in order, without names of questions": lambda q, p, s: (
        "l.csv",
        csv_bytes(wide(q, p, s, by_label, lambda n, _q, _i: f"answer text {chr(96 + n)}")),
    ),
}
