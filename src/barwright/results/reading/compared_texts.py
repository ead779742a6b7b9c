"""Texts as they are compared: no markup, no matter of case, spaces, kinds of dashes or quotation marks."""

import html
import re
import unicodedata
from fractions import Fraction

_TAG = re.compile(r"<[^<>]{0,2000}>")
_INLINE = re.compile(r"</?(?:b|i|u|em|strong|span|sub|sup|small|a|font)\b[^<>]{0,2000}>", re.IGNORECASE)
_ALT = re.compile(r"""\balt\s*=\s*(?:"([^"]*)"|'([^']*)')""", re.IGNORECASE)
_SOURCE = re.compile(r"""\b(?:src|data)\s*=\s*(?:"([^"]*)"|'([^']*)')""", re.IGNORECASE)
_SPACE = re.compile(r"\s+")
_SAME = str.maketrans(
    {"‐": "-", "‑": "-", "‒": "-", "–": "-", "—": "-", "−": "-", "“": '"', "”": '"', "‘": "'", "’": "'", "\ufeff": ""}
)
# Unicode's fractions, as far as lengths in beats need them.
_BROKEN = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = re.compile(r"(\d{1,6})(?:[.,](\d{1,6}))?|(?:(\d{1,4})\s+)?(\d{1,4})\s*/\s*(\d{1,4})")
_FILE = re.compile(r"([\w-]+\.(?:png|gif|jpe?g|svg|webp))\b", re.IGNORECASE)


def plain(text: str) -> str:
    """The text for comparing: no markup, no full stop, in one spacing, case, kind of dash and of quotation mark.

    >>> plain(" <b>Half\\u00a0note</b>, 1\\u20132. ")
    'half note, 1-2'
    """
    return _SPACE.sub(" ", shown(text)).strip().removesuffix(".").rstrip().casefold()


def shown(text: str) -> str:
    """The text that a reader sees where a cell may hold HTML; signs that look alike made one."""
    if "<" in text:
        text = _TAG.sub(" ", _INLINE.sub("", text))
    if "&" in text:
        text = html.unescape(text)
    return unicodedata.normalize("NFC", text).translate(_SAME)


def described(text: str) -> tuple[str, ...]:
    """The alternative texts of pictures in a cell with HTML, as `plain` gives them; none for other cells.

    >>> described('<p><img src="a.png" alt="Half note"></p>')
    ('half note',)
    """
    if "<" not in text:
        return ()
    return tuple(plain(one or other) for one, other in _ALT.findall(text))


def files_named(text: str) -> tuple[str, ...]:
    """The names of picture files in a cell, without their folders, in lower case.

    >>> files_named("https://x.example/images/0a1b.png?w=2"), files_named("half note")
    (('0a1b.png',), ())
    """
    sources = [one or other for one, other in _SOURCE.findall(text)] if "<" in text else [text]
    return tuple(name.lower() for source in sources for name in _FILE.findall(source.rpartition("/")[2]))


def number(text: str) -> Fraction | None:
    """The number that a text says, decimal point or comma, whole, broken or mixed; None for anything else.

    >>> [str(number(each)) for each in ("2,0", "1 1/2", "2½", ".5", "two")]
    ['2', '3/2', '5/2', 'None', 'None']
    """
    cleaned = text.strip()
    for sign, broken in _BROKEN.items():
        cleaned = cleaned.replace(sign, f" {broken}")
    match = _NUMBER.fullmatch(cleaned.strip().removeprefix("+"))
    if match is None:
        return None
    whole, decimals, mixed, top, bottom = match.groups()
    if whole is not None:
        return Fraction(f"{whole}.{decimals}") if decimals else Fraction(int(whole))
    return None if int(bottom) == 0 else int(mixed or 0) + Fraction(int(top), int(bottom))
