"""One way to make an element: everything is escaped, and what XML cannot carry is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from barwright.errors import StandardError
from barwright.qti.package_content import Image, html, html_image
from barwright.qti.xml import child, document, root_element


def test_document_is_declared_indented_and_escaped() -> None:
    root = root_element("urn:x", "top", attributes={"n": 'a < b & "c"'})
    child(root, "{urn:x}line", text="é < &", attributes={"n": "1"})
    assert document(root).decode() == (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<top xmlns="urn:x" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" n="a &lt; b &amp; &quot;c&quot;">\n'
        '  <line n="1">é &lt; &amp;</line>\n'
        "</top>\n"
    )


@pytest.mark.parametrize("bad", ["a\0b", "\x0b", "\x1f", "\ud800", "\uffff"])
@pytest.mark.parametrize("place", ["text", "attribute"])
def test_characters_that_xml_cannot_carry_are_refused(bad: str, place: str) -> None:
    root = root_element("urn:x", "top", attributes={})
    text, attribute = (bad, "1") if place == "text" else ("good", bad)
    with pytest.raises(StandardError) as caught:
        child(root, "{urn:x}line", text=text, attributes={"n": attribute})
    assert str(caught.value) == f"{bad!r} holds a character that XML cannot carry: take it out"


def test_a_bad_element_name_stays_our_own_fault() -> None:
    with pytest.raises(ValueError, match="Invalid tag name") as caught:
        child(root_element("urn:x", "top", attributes={}), "{urn:x}a b", text="good")
    assert type(caught.value) is ValueError


@given(st.text(st.characters(exclude_categories=["Cc", "Cs", "Cn"])))
def test_every_text_comes_back_from_html(text: str) -> None:
    root = etree.fromstring(html((text, Image("images/a.png", text, 3, 2)), base="", language="en-US"))
    assert "".join(root[0].itertext()) == text
    assert root[1][0].attrib == {"src": "images/a.png", "alt": text, "width": "3"}


def test_language_of_a_picture_of_its_own() -> None:
    image = Image("images/a.png", "<negra>", 3, 2)
    assert html_image(image, base="$IMS-CC-FILEBASE$/", language="es") == (
        '<img src="$IMS-CC-FILEBASE$/images/a.png" alt="&lt;negra&gt;" width="3" lang="es"/>'
    )
