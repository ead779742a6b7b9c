"""A table file as rows of texts: any common encoding, any of four separators, or a workbook's sheets."""

import csv
import io
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from barwright.errors import ResultsError
from barwright.results.reading.bounds import (
    MOST_CELL,
    MOST_COLUMNS,
    MOST_ROWS,
    cut,
)

SEPARATORS = {"\t": "tabs", ";": "semicolons", ",": "commas", "|": "upright strokes"}
USUAL_CODE = "cp1252"
_AS_SOUND = 0.05
_SAMPLE = 80
_CODES = ["cp1252", "cp1250", "cp1251", "cp1253", "cp1254", "mac_roman", "shift_jis", "gb18030", "euc_kr", "big5"]


@dataclass(frozen=True, slots=True)
class Grid:
    """The rows of one table, ragged as they are; `name` for messages, `remark` on how the text was read, or nothing."""

    name: str
    rows: list[list[str]]
    remark: str = ""


def grid_of(data: bytes, name: str) -> Grid:
    """The table of a text file; ResultsError for what is no table, or too large."""
    text, remark = decoded(data)
    if "\0" in text:
        raise ResultsError(f"{name}: it holds bytes that are no text: export the answers as CSV or .xlsx")
    return Grid(name, bounded(_rows(text, name), name), remark)


def bounded(rows: Iterator[list[str]], name: str) -> list[list[str]]:
    """The rows, those that are blank left out at the end; ResultsError for too many, too wide, or too long a cell."""
    kept: list[list[str]] = []
    for number, row in enumerate(rows, start=1):
        if number > MOST_ROWS:
            raise ResultsError(f"{name}: has over {MOST_ROWS:,} rows: split the file")
        if len(row) > MOST_COLUMNS:
            raise ResultsError(
                f"{name}, row {number}: has {len(row):,} columns, and {MOST_COLUMNS:,} are read at most: is it a table "
                "of answers?"
            )
        if any(len(cell) > MOST_CELL for cell in row):
            raise ResultsError(
                f"{name}, row {number}: a cell has over {MOST_CELL:,} letters: is it a table of answers?"
            )
        kept.append(row)
    while kept and not any(map(str.strip, kept[-1])):
        kept.pop()
    if not kept:
        raise ResultsError(f"{name}: it is empty: export the answers again")
    return kept


def decoded(data: bytes) -> tuple[str, str]:
    """The text of a file, and a remark where its encoding had to be guessed.

    >>> decoded("Zoë;1".encode("utf-16"))
    ('Zoë;1', '')
    """
    for mark, code in ((BOM_UTF8, "utf-8"), (BOM_UTF16_LE, "utf-16-le"), (BOM_UTF16_BE, "utf-16-be")):
        if data.startswith(mark):
            return data.removeprefix(mark).decode(code, "replace"), ""
    nulls = Counter(index % 2 for index, byte in enumerate(data[:4000]) if byte == 0)
    if nulls and max(nulls.values()) > len(data[:4000]) // 4:
        return data.decode("utf-16-le" if nulls[1] > nulls[0] else "utf-16-be", "replace"), ""
    try:
        return data.decode(), ""
    except UnicodeDecodeError:
        return _guessed(data)


def _guessed(data: bytes) -> tuple[str, str]:
    """A text of an older encoding, or of several: lines in UTF-8 as such, all others in the likeliest other one."""
    lines = data.split(b"\n")
    odd = [line for line in lines if not line.isascii()]
    foreign = [line for line in odd if not _is_utf8(line)]
    code = _likeliest(b"\n".join(foreign[:2000]))
    if len(foreign) == len(odd):
        return data.decode(code, "replace"), f"read as {code}, since it is not UTF-8"
    text = "\n".join(line.decode("utf-8" if _is_utf8(line) else code, "replace") for line in lines)
    return text, f"lines of two encodings (UTF-8 and {code}): each was read in its own"


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode()
    except UnicodeDecodeError:
        return False
    return True


def _likeliest(data: bytes) -> str:
    from charset_normalizer import from_bytes  # takes long to load, and few files need it

    matches = from_bytes(data[:40_000], cp_isolation=_CODES)
    chaos = {code: match.chaos for match in matches for code in (*match.could_be_from_charset, match.encoding)}
    best = min(chaos, key=lambda code: chaos[code], default=USUAL_CODE)
    # A few letters with accents look sound in several encodings: then it is the most common one.
    return USUAL_CODE if chaos.get(USUAL_CODE, 1.0) <= chaos.get(best, 1.0) + _AS_SOUND else best


def _rows(text: str, name: str) -> Iterator[list[str]]:
    separator = separator_of(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        yield from reader
    except csv.Error as error:
        raise ResultsError(
            f"{name}, line {reader.line_num}: the table cannot be read ({cut(str(error))}): export it again"
        ) from error


def separator_of(text: str) -> str:
    """What parts the columns: the sign with which most of the first rows have one number of columns, and many.

    >>> separator_of("Name;Q1, first\\nA;1,5\\nB;2,0\\n")
    ';'
    """
    head = "\n".join(text.splitlines()[: 4 * _SAMPLE])[:400_000]
    best, most = ",", (0.0, 0)
    for separator in SEPARATORS:
        widths: Counter[int] = Counter()
        try:
            for number, row in enumerate(csv.reader(io.StringIO(head, newline=""), delimiter=separator)):
                if number >= _SAMPLE:
                    break
                widths[len(row)] += bool(row)
        except csv.Error:
            continue
        wide = {width: count for width, count in widths.items() if width > 1}
        if wide:
            width, count = max(wide.items(), key=lambda pair: (pair[1], pair[0]))
            score = (round(count / max(1, sum(widths.values())), 1), width)
            if score > most:
                best, most = separator, score
    return best
