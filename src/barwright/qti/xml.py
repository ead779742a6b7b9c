"""XML for every standard: namespaces, one way to make an element, one way to write a document."""

import re
from collections.abc import Mapping
from typing import cast

from lxml import etree

from barwright.errors import StandardError

LANG = "{http://www.w3.org/XML/1998/namespace}lang"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
LOM = "http://ltsc.ieee.org/xsd/LOM"
CONTENT_PACKAGING = "http://www.imsglobal.org/xsd/imscp_v1p1"
QTI12 = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2"
QTI22 = "http://www.imsglobal.org/xsd/imsqti_v2p2"
QTI30 = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
CONTENT_PACKAGING_30 = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
METADATA_22 = "http://www.imsglobal.org/xsd/imsqti_metadata_v2p2"
METADATA_30 = "http://www.imsglobal.org/xsd/imsqti_metadata_v3p0"

# XML 1.0, section 2.2, production Char: what it leaves out.
_NOT_CHAR = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NONE: Mapping[str, str] = {}


def root_element(
    namespace: str, name: str, *, attributes: Mapping[str, str], prefixes: Mapping[str, str] = _NONE
) -> etree._Element:
    """A new root in `namespace`, which needs no prefix; `prefixes` are declared beside it, and `xsi` always.

    Raises StandardError as `child` does.
    """
    declared: dict[str | None, str] = {None: namespace, "xsi": XSI}
    declared.update(prefixes)
    try:
        # lxml wants None for "no prefix"; its type stubs do not know that.
        return etree.Element(f"{{{namespace}}}{name}", dict(attributes), cast(Mapping[str, str], declared))
    except ValueError as error:
        raise _refusal(error, *attributes.values()) from error


def child(
    parent: etree._Element, tag: str, *, text: str = "", attributes: dict[str, str] | None = None
) -> etree._Element:
    """A new last child of `parent`; `tag` is `{namespace}name`.

    Raises StandardError for text with a character that XML cannot carry, such as most control characters.
    """
    try:
        made = etree.SubElement(parent, tag, attributes)
    except ValueError as error:
        raise _refusal(error, *(attributes or {}).values()) from error
    if text:
        set_text(made, text)
    return made


def set_text(element: etree._Element, text: str) -> None:
    """Gives an element its text, escaped when written; StandardError as for `child`."""
    try:
        element.text = text
    except ValueError as error:
        raise _refusal(error, text) from error


def _refusal(error: ValueError, *texts: str) -> ValueError | StandardError:
    """The error to raise for one of lxml's: ours if a text is at fault, else the same, for then our code is."""
    refused = [t for t in texts if _NOT_CHAR.search(t)]
    return StandardError(f"{refused[0]!r} holds a character that XML cannot carry: take it out") if refused else error


def document(root: etree._Element) -> bytes:
    """The document as UTF-8 with an XML declaration, indented, with a newline at the end."""
    body = etree.tostring(root, encoding="UTF-8", xml_declaration=False, pretty_print=True)
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + body
