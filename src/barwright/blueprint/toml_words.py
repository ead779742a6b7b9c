"""What a TOML reader stumbles over, in a teacher's words: what stands there, and what is likely meant."""

import re
from collections.abc import Callable

from barwright.showing import cut, in_quotes

# Where the file is none of ours nothing of it is shown: it may be anything, and private.
_OURS = re.compile(
    r"^\s*(?:\[+\s*(?:elements|part|quiz|conventions|symbols|questions|statements|rules|hints|paper)\b|title\b|(?:family|ask|meters|notes)\s*=)",
    re.MULTILINE,
)
_TOKEN = re.compile(r"\"(?:[^\\\"\n]|\\.)*\"|'[^'\n]*'|#[^\n]*|[\[\]{}\n]|[^\[\]{}\n\"'#]+|.")
_WORD = re.compile(r"[^\W\d_][^\s,\]}=]*")
_TWO_TEXTS = re.compile(r"\"\s+\"|'\s+'|\"\"(?=\w)")
_SWITCHES = {"true": "true", "yes": "true", "on": "true", "false": "false", "no": "false", "off": "false"}
_QUOTES = 'put it in straight quotation marks, as in "half"'


def toml_words(text: str, line: int, what: str) -> tuple[int, str]:
    """The line to look at and what is wrong with it, where the reader stopped in a line (from 1) and said `what`.

    >>> toml_words("title = ", 1, "Invalid value")
    (1, "'title =' cannot be read: nothing stands after the = sign: write a value there")
    """
    if _OURS.search(text) is None:
        return line, "this is not a blueprint: check the name, or begin one with barwright start"
    rows = text.split("\n")
    row = _bare(rows[line - 1]) if line <= len(rows) else ""
    open_line, bracket = _opened(text, line)
    in_list = open_line > 0 and not _is_header(rows[open_line - 1])
    why = _why(row, what, in_list=in_list)
    if not why and in_list:
        close = "]" if bracket == "[" else "}"
        row, why = _bare(rows[open_line - 1]), f"it is not ended, or a comma is missing in it: write {close} at its end"
        line = open_line
    why = why or "check its quotation marks, brackets and = sign"
    return line, f"{in_quotes(row)} cannot be read: {why}" if row else f"the text cannot be read here: {why}"


def _why(row: str, what: str, *, in_list: bool) -> str:
    """What is wrong with a row, by what the reader said and by its looks; empty if nothing can be seen."""
    if any(sign in what or (what.startswith("Unterminated") and sign in row) for sign in ('"""', "'''")):
        return "a text in three quotation marks is not ended: write one in one line, in two quotation marks"
    if _unpaired(row):
        return 'a quotation mark is missing: text stands between two, as in "half"'
    if what.startswith(("Unescaped", "Invalid hex", "Escaped")):
        return "\\ has a meaning of its own in a text: write / or \\\\ for it"
    if what.startswith(("Illegal character", "Found invalid character")):
        return "it has a sign that is not seen: write the line anew"
    for is_so, why in _LOOKS:
        if culprit := is_so(row, in_list):
            return why.format(culprit)
    if what.startswith(("Cannot", "Duplicate")):
        return "it was said before: take one of them out"
    return ""


def _unpaired(row: str) -> bool:
    """Whether a text is begun and not ended, in double or in single quotation marks."""
    rest = re.sub(r"\"(?:[^\\\"]|\\.)*\"|'[^']*'", "", row)
    return '"' in rest or re.search(r"(?:[=\[,]\s*'|'\s*(?:[,\]]|$))", rest) is not None


def _header_end(row: str, in_list: bool) -> str:
    if in_list or not _is_header(row):
        return ""
    name = row.strip("[] ")
    twice = row.startswith("[[") or name == "part"
    sound = re.fullmatch(r"\[\s*[\w-]+\s*\]|\[\[\s*[\w-]+\s*\]\]", row)
    if sound or not name:
        return ""
    return f"[[{cut(name)}]]" if twice else f"[{cut(name)}]"


def _is_header(row: str) -> bool:
    return row.lstrip().startswith("[") and "=" not in row and "," not in row and '"' not in row


def _no_sign(row: str, in_list: bool) -> str:
    name = re.match(r"[\w-]+", row)
    return cut(name[0]) if name and not in_list and "=" not in row else ""


def _no_value(row: str, in_list: bool) -> str:
    return "=" if not in_list and re.search(r"=\s*$", row) else ""


def _switch(row: str, in_list: bool) -> str:
    value = row.partition("=")[2].strip()
    return _SWITCHES.get(value.lower(), "") if "=" in row and not in_list else ""


def _inner_quotes(row: str, _in_list: bool) -> str:
    return '"' if re.search(r'"[^"=\[\],]*"[^\W_]', row) else ""


def _second_sign(row: str, in_list: bool) -> str:
    bare = re.sub(r"\"[^\"]*\"|'[^']*'", "", row)
    return "more" if not in_list and bare.count("=") > 1 else ""


def _after_text(row: str, in_list: bool) -> str:
    return "more" if not in_list and re.search(r"=\s*(?:\"[^\"]*\"|'[^']*')\s*\S", row) else ""


def _no_comma(row: str, _in_list: bool) -> str:
    return "," if _TWO_TEXTS.search(row) else ""


def _unquoted(row: str, in_list: bool) -> str:
    """The first word of a value that stands in no quotation marks."""
    value = row if in_list and "=" not in row else row.partition("=")[2]
    bare = re.sub(r"\"[^\"]*\"|'[^']*'", "", value).strip("[]{}, \t")
    match = _WORD.search(bare)
    if match and match[0] not in ("true", "false"):
        return cut(match[0])
    signature = re.search(r"\d[\d+]*/\d+|\d+-\d+-\d+\S*|\d+[:.]\d+\S*|\S+", bare)
    return cut(signature[0]) if signature and not re.fullmatch(r"[+-]?\d+", signature[0]) else ""


def _more(row: str, in_list: bool) -> str:
    return "more" if not in_list and re.search(r"=\s*(?:\"[^\"]*\"|\S+)\s+\S", row) else ""


def _strange_key(row: str, in_list: bool) -> str:
    return "key" if not in_list and "=" in row and not re.match(r"(?:[\w-]+|\"[^\"]*\"|'[^']*')\s*[=.]", row) else ""


# How a row looks -> what is wrong with it; the first that holds is told.
_LOOKS: tuple[tuple[Callable[[str, bool], str], str], ...] = (
    (_header_end, "a bracket is missing: write {}"),
    (_no_value, "nothing stands after the {} sign: write a value there"),
    (_no_sign, "there is no = sign after {}: write it with one and a value, as in seed = 1"),
    (_strange_key, 'before the = sign stands no {}: write one word there, as in title = "Quiz 1"'),
    (_switch, "write {} in small letters, without quotation marks"),
    (_no_comma, "between two texts stands no comma: write {} there"),
    (_inner_quotes, "in a text stands another quotation mark {}: write ' for it"),
    (_second_sign, "{} stands in the line than one value: begin a new line for it"),
    (_after_text, "{} stands in the line than one value: begin a new line for it, or put # before a remark"),
    (_unquoted, "{} stands in no quotation marks: " + _QUOTES),
    (_more, "{} stands in the line than one value: begin a new line for it"),
)


def _bare(row: str) -> str:
    """The row without its comment."""
    parts = []
    for match in _TOKEN.finditer(row):
        if match[0].startswith("#"):
            break
        parts.append(match[0])
    return "".join(parts).strip()


def _opened(text: str, line: int) -> tuple[int, str]:
    """The line of the innermost bracket that is open at the end of a line, and the bracket; 0 if there is none."""
    number, stack = 1, list[tuple[int, str]]()
    for match in _TOKEN.finditer(text):
        token = match[0]
        if token == "\n":
            number += 1
            if number > line:
                break
        elif token in "[{":
            stack.append((number, token))
        elif token in "]}" and stack:
            stack.pop()
    return stack[-1] if stack else (0, "")
