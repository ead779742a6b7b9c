"""XML that others wrote, parsed so that it can do no harm: no DTD, no entities, nothing fetched, bounded in every way.

Source: XML 1.0, sections 2.8 (prolog), 4.3.3 and appendix F (encodings). Encodings that packages use are few; the
others are refused, since the bounds are counted in decoded text.
"""

import codecs
import re
from dataclasses import dataclass

from lxml import etree

from barwright.check.reading.package_bounds import (
    MOST_ATTRIBUTES,
    MOST_LEVELS,
    MOST_LISTED,
    MOST_MARKS,
    MOST_SIBLINGS,
    MOST_XML_BYTES,
)
from barwright.check.reading.package_files import MANIFEST
from barwright.errors import DocumentError, PackageError

_ENCODINGS = frozenset(("utf-8", "utf-16", "ascii", "iso8859-1", "cp1252"))
_DECLARED = re.compile(rb"""<\?xml[^>]{0,80}?encoding\s*=\s*["']([A-Za-z0-9._-]{1,30})["']""")
_BOMS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
_MARKS = (b"<", b"=", b"&lt;", b"&#")  # of elements and attributes, and of those in texts that hold HTML
# A DOCTYPE up to its end, or up to the "[" of declarations of its own.
_DOCTYPE = re.compile(rb"""<!DOCTYPE(?:[^"'\[>]|"[^"]*"|'[^']*')*([\[>]|$)""")
# What else may stand before the root, by its first two bytes, and what ends it: declarations, instructions, comments.
_PROLOG = {b"<?": b"?>", b"<!": b"-->"}
# A tag with more attributes than are read: the parser compares each with those before it. Values have no "<" in them.
_MANY_ATTRIBUTES = re.compile(
    rb"""<[^<>"'!?/][^<>"']*+(?:(?:"[^"<]*+"|'[^'<]*+')[^<>"']*+){%d}""" % (MOST_ATTRIBUTES + 1)
)
_TOO_WIDE = {
    most: etree.XPath(f"boolean(/*/self::*[*[{most + 1}]] | /descendant::*/*[{most + 1}])")
    for most in (MOST_SIBLINGS, MOST_LISTED)
}
_FREE = (b"data-", b"aria-")
_TOO_DEEP = etree.XPath("boolean(" + "/*" * (MOST_LEVELS + 1) + ")")


@dataclass(frozen=True, slots=True)
class Document:
    """One XML file: its root, its encoding, whether it has a DOCTYPE (which was not followed), how much is in it.

    `free` says whether it may have attributes that begin with `data-` or `aria-`.
    """

    path: str
    root: etree._Element
    encoding: str
    doctype: bool
    marks: int
    free: bool = True


def parsed(path: str, data: bytes) -> Document:
    """The document; comments and processing instructions are left out.

    Raises DocumentError if it is not well-formed, and PackageError if it is too large or deep, in a strange encoding,
    or declares entities.
    """
    if len(data) > MOST_XML_BYTES:
        raise PackageError(
            f"{path}: it has over {MOST_XML_BYTES // 1_000_000} MB, which no quiz needs: export fewer items"
        )
    encoding, text = _decoded(path, data)
    doctype = _has_doctype(path, text)
    marks = sum(map(text.count, _MARKS))
    if marks > MOST_MARKS:
        raise PackageError(
            f"{path}: it holds over {MOST_MARKS} elements and attributes, which no quiz needs: export fewer items"
        )
    if _MANY_ATTRIBUTES.search(text):
        raise PackageError(
            f"{path}: an element has over {MOST_ATTRIBUTES} attributes, which no quiz needs: do not import it"
        )
    parser = etree.XMLParser(
        encoding="utf-8",
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        attribute_defaults=False,
        huge_tree=False,
        remove_comments=True,
        remove_pis=True,
        collect_ids=False,
    )
    try:
        root = etree.fromstring(text, parser)
    except etree.XMLSyntaxError as error:
        raise _ill_formed(path, error) from error
    _refuse_shape(path, root, doctype=doctype)
    return Document(path, root, encoding, doctype, marks, any(map(text.__contains__, _FREE)))


def _decoded(path: str, data: bytes) -> tuple[str, bytes]:
    """Name of the encoding, by byte order mark or XML declaration, and the text as UTF-8 without a mark."""
    declared = _DECLARED.match(data[:200])
    called = next((e for bom, e in _BOMS if data.startswith(bom)), "") or (
        declared[1].decode() if declared else "utf-8"
    )
    try:
        known = codecs.lookup(called).name
    except LookupError:
        known = ""
    if known.removesuffix("-sig") not in _ENCODINGS:
        raise PackageError(f"{path}: it is in the encoding {called!r}, which importers do not read: save it as UTF-8")
    text = data.removeprefix(codecs.BOM_UTF8)
    if known not in ("utf-8", "utf-8-sig"):
        try:
            text = data.decode(known).encode("utf-8")
        except UnicodeError as error:
            raise DocumentError(path, f"it says that it is {called} text, but it is not", line=1) from error
    if not text.lstrip().startswith(b"<"):
        raise DocumentError(path, "it does not begin with <", line=1)
    return known.removesuffix("-sig"), text


def _has_doctype(path: str, text: bytes) -> bool:
    """Whether a DOCTYPE stands before the root; PackageError if it declares anything of its own."""
    at = text.find(b"<")
    while at >= 0:
        if text.startswith(b"<!DOCTYPE", at):
            found = _DOCTYPE.match(text, at)
            if found is None or found[1] != b">":
                raise PackageError(
                    f"{path}: it declares entities or elements of its own in a DOCTYPE, by which files can do harm: "
                    "take the DOCTYPE out"
                )
            return True
        end = _PROLOG.get(text[at : at + 2])
        if end is None:
            return False
        past = text.find(end, at)
        at = text.find(b"<", past) if past >= 0 else -1
    return False


def _refuse_shape(path: str, root: etree._Element, *, doctype: bool) -> None:
    if _TOO_DEEP(root):
        raise PackageError(
            f"{path}: it has over {MOST_LEVELS} elements inside one another, which no quiz needs: do not import it"
        )
    most = MOST_LISTED if path == MANIFEST else MOST_SIBLINGS
    if _TOO_WIDE[most](root):
        raise PackageError(f"{path}: an element holds over {most} others, which no quiz needs: do not import it")
    if doctype and next(root.iter(etree.Entity), None) is not None:
        raise PackageError(f"{path}: it uses an entity that only its DOCTYPE explains: write the character itself")


def _ill_formed(path: str, error: etree.XMLSyntaxError) -> PackageError:
    """Ours for the parser's error; too long texts and too many levels are refused like other excesses."""
    line, said = error.lineno or 0, " ".join((error.msg or "").split())[:160]
    if any(sign in said for sign in ("too long", "huge", "xcessive", "limit exceeded", "too big")):
        raise PackageError(
            f"{path}: it holds a text or a nesting of absurd size, which no quiz needs: do not import it"
        )
    return DocumentError(path, said.rpartition(", line ")[0] or said, line=line)
