"""Files spoilt at random: whatever comes, each is read or refused in one line."""

import io
from random import Random

import pytest
from openpyxl import Workbook

from barwright.results.reading.final_answers import settled
from barwright.results.reading.sources import gathered
from barwright.tasks.diagnose.asked import AskedQuiz
from results.shapes import by_alt, by_label, csv_bytes, long, title, wide
from results.simulated_classes import RR22, report, sittings, zipped

ROUNDS = 25


def spoilt(data: bytes, rng: Random) -> bytes:
    """The file with some bytes changed, taken out, doubled, or cut off."""
    made = bytearray(data)
    for _ in range(rng.randrange(1, 12)):
        place = rng.randrange(len(made) or 1)
        what = rng.randrange(4)
        if what == 0:
            made[place : place + 1] = bytes([rng.randrange(256)])
        elif what == 1:
            del made[place : place + rng.randrange(1, 40)]
        elif what == 2:
            made[place:place] = made[place : place + rng.randrange(1, 200)]
        elif rng.random() < 0.2:
            del made[place:]
    return bytes(made)


def sources(quiz: AskedQuiz) -> dict[str, bytes]:
    sat = [each for each in sittings(quiz, 5) if each.form is quiz.forms[0]]
    rows = wide(quiz, 0, sat, by_label, title)
    book, target = Workbook(), io.BytesIO()
    for row in rows:
        book.active.append(row)
    book.save(target)
    reports = {f"{n}.xml": report(quiz, each, RR22) for n, each in enumerate(sat)}
    return {
        "wide.csv": csv_bytes(rows),
        "long.tsv": csv_bytes(long(quiz, 0, sat, by_alt, lambda _q, i: i.title), by="\t", code="utf-16"),
        "book.xlsx": target.getvalue(),
        "one.xml": reports["0.xml"],
        "all.zip": zipped(reports),
    }


@pytest.mark.parametrize("name", ["wide.csv", "long.tsv", "book.xlsx", "one.xml", "all.zip"])
def test_spoilt_files_are_read_or_refused(unit_1: AskedQuiz, name: str) -> None:
    data, rng = sources(unit_1)[name], Random(name)
    for _ in range(ROUNDS):
        found = gathered([(name, spoilt(data, rng))], unit_1.sheets, {})
        assert found.givens or found.refused or found.faults
        assert all("\n" not in line and len(line) < 500 for line in (*found.refused, *found.faults))
        settled(found.givens, unit_1.sheets, attempt="last", salt="")
