"""Texts as a student sees them, out of plain text, HTML in a text, or marked-up elements: paragraphs and pictures.

Numbers among them are exact fractions, bounded, since "1e999999999" is a number too. Source: XML Schema part 2, 3.2.3
(decimal) and 3.2.5 (double).
"""

import re
from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from functools import lru_cache

from lxml import etree

from barwright.check.reading.package_bounds import MOST_HTML_MARKS, MOST_KEPT, MOST_LEVELS
from barwright.check.reading.package_model import ReadPicture, Shown
from barwright.errors import PackageError

_NUMBER = re.compile(r"[+-]?(?:\d{1,15}(?:\.\d{0,15})?|\.\d{1,15})(?:[eE][+-]?\d{1,2})?")
LARGEST = 10**40


def number(text: str | None) -> Fraction | None:
    """The number that a text holds, None for no number or one of absurd length.

    >>> number(" 0.5 "), number("five")
    (Fraction(1, 2), None)
    """
    if text is None:
        return None
    if len(text) > MOST_KEPT:
        text = text.strip()
    return _number(text) if len(text) <= MOST_KEPT else None


@lru_cache(maxsize=2048)
def _number(text: str) -> Fraction | None:
    plain = text.strip()
    return Fraction(plain) if _NUMBER.fullmatch(plain) else None


def bounded(value: Fraction) -> Fraction:
    """The number itself; OverflowError if it has grown so long that reckoning with it would take for ever."""
    if not -LARGEST <= value.numerator <= LARGEST or value.denominator > LARGEST:
        raise OverflowError("number of absurd size")
    return value


def said(value: Fraction) -> str:
    """A number as people write it.

    >>> said(Fraction(1, 2)), said(Fraction(100)), said(Fraction(1, 3))
    ('0.5', '100', '1/3')
    """
    if value.denominator == 1:
        return str(value.numerator)
    ten = value.denominator
    for prime in (2, 5):
        while ten % prime == 0:
            ten //= prime
    return str(value) if ten > 1 or value.denominator > 10**6 else f"{float(value):.6f}".rstrip("0")


Pictured = Callable[[str, str | None, bool], ReadPicture]  # link, alternative text, whether a size is given
Token = str | ReadPicture | None  # None: a new paragraph begins
# What a subtree gives instead of what is in it; None: read it as usual.
Instead = Callable[[etree._Element], Iterable[Token] | None]

# HTML 4.01, section 7.5.3: elements that begin a new line; and those of later editions.
_BLOCK_NAMES = (
    "address article aside blockquote br caption center dd div dl dt figcaption figure footer form h1 h2 h3 h4 h5 h6 "
    "header hr li nav ol p pre section table tbody td tfoot th thead tr ul"
)
_BLOCKS = frozenset(_BLOCK_NAMES.split())
_NOTHING = Shown()
_UNSEEN = frozenset(("script", "style", "head", "title", "template"))
_TOO_DEEP = etree.XPath("boolean(" + "/*" * (MOST_LEVELS + 1) + ")")


class HtmlError(PackageError):
    """HTML in a text of absurd size; its text does not say in what file."""


def local(element: etree._Element) -> str:
    """The name of an element without its namespace."""
    tag = str(element.tag)
    return _local(tag) if len(tag) <= MOST_KEPT else tag.rpartition("}")[2]


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]


def shown_plain(text: str) -> Shown:
    """Plain text as one paragraph.

    >>> shown_plain("Which one fits? ").paragraphs
    ('Which one fits?',)
    """
    line = " ".join(text.split())
    return Shown((line,)) if line else _NOTHING


def shown_html(html: str, pictured: Pictured) -> Shown:
    """HTML written in a text; HtmlError if it holds an absurd number of elements or levels."""
    if "<" not in html and "&" not in html:
        return shown_plain(html)
    return _folded(_tokens(html_root(html), pictured, lambda _element: None))


def shown_markup(element: etree._Element, pictured: Pictured, instead: Instead = lambda _element: None) -> Shown:
    """What is in an element of marked-up content."""
    return _folded(_inner(element, pictured, instead))


def html_root(html: str) -> etree._Element:
    """HTML written in a text, parsed as browsers do, in one element; HtmlError as `shown_html`."""
    if html.count("<") + html.count("=") > MOST_HTML_MARKS:
        raise HtmlError(f"a text holds over {MOST_HTML_MARKS} HTML elements, which no question needs: do not import it")
    parser = etree.HTMLParser(no_network=True, remove_comments=True, remove_pis=True, huge_tree=False)
    try:
        root = etree.fromstring(f"<html><body><div>{html}</div></body></html>", parser)
    except etree.XMLSyntaxError as error:
        raise HtmlError(f"a text begins with HTML that cannot be read: {html[:40]!r}") from error
    if root is None or _TOO_DEEP(root):
        raise HtmlError(f"a text nests HTML over {MOST_LEVELS} deep, which no question needs: do not import it")
    return root


def _tokens(element: etree._Element, pictured: Pictured, instead: Instead) -> Iterator[Token]:
    name = local(element).lower()
    given = instead(element)
    if given is not None:
        yield from given
    elif name == "img":
        sized = bool(element.get("width") or element.get("height"))
        yield pictured(element.get("src", ""), element.get("alt"), sized)
    elif name == "object":
        alt = " ".join("".join(_strings(element)).split())
        yield pictured(element.get("data", ""), alt or None, bool(element.get("width") or element.get("height")))
    elif name not in _UNSEEN:
        edge = name in _BLOCKS
        if edge:
            yield None
        yield from _inner(element, pictured, instead)
        if edge:
            yield None


def _inner(element: etree._Element, pictured: Pictured, instead: Instead) -> Iterator[Token]:
    yield element.text or ""
    for child in element.iterchildren("*"):
        yield from _tokens(child, pictured, instead)
        yield child.tail or ""


def _strings(element: etree._Element) -> Iterator[str]:
    for each in element.iter("*"):
        yield each.text or ""
        if each is not element:
            yield each.tail or ""


def _folded(tokens: Iterable[Token]) -> Shown:
    """Tokens as paragraphs, with single blanks and without empty ones."""
    lines: list[list[str]] = [[]]
    pictures = []
    for token in tokens:
        if token is None:
            lines.append([])
        elif isinstance(token, str):
            lines[-1].append(token)
        else:
            pictures.append(token)
    joined = (" ".join("".join(line).split()) for line in lines)
    return Shown(tuple(line for line in joined if line), tuple(pictures))


def joined(parts: Iterable[Shown]) -> Shown:
    """Texts one after the other as one."""
    parts = tuple(parts)
    if len(parts) == 1:
        return parts[0]
    return Shown(tuple(p for s in parts for p in s.paragraphs), tuple(p for s in parts for p in s.pictures))
