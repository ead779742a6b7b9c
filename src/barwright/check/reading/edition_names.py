"""Names of QTI 2 and QTI 3 made one: both are read by the camel-case names of QTI 2.

Source: QTI 3.0 schema: every QTI element is `qti-` and kebab-case, every attribute kebab-case; HTML keeps its names.
"""

import re
from collections.abc import Iterator
from functools import lru_cache

from lxml import etree

from barwright.check.reading.package_bounds import MOST_KEPT


def camel(tag: str) -> str:
    """The QTI 2 name of a tag.

    >>> camel("{http://x}qti-choice-interaction"), camel("{http://x}choiceInteraction"), camel("img")
    ('choiceInteraction', 'choiceInteraction', 'img')
    """
    return _camel(tag) if len(tag) <= MOST_KEPT else _plain_camel(tag)


def _camel(tag: str) -> str:
    return _plain_camel(tag)


def _plain_camel(tag: str) -> str:
    name = tag.rpartition("}")[2]
    return re.sub("-(.)", lambda m: m[1].upper(), name.removeprefix("qti-")) if name.startswith("qti-") else name


@lru_cache(maxsize=2048)
def kebab(name: str) -> str:
    """The QTI 3 name of an attribute.

    >>> kebab("responseIdentifier")
    'response-identifier'
    """
    return re.sub("(?<!^)([A-Z])", lambda m: "-" + m[1].lower(), name)


def named(element: etree._Element) -> str:
    """The QTI 2 name of an element."""
    return camel(str(element.tag))


def attribute(element: etree._Element, name: str, default: str = "") -> str:
    """An attribute by its QTI 2 name, trimmed."""
    value = element.get(name)
    if value is None:
        value = element.get(kebab(name))
    return default if value is None else value.strip()


@lru_cache(maxsize=512)
def tags(names: tuple[str, ...]) -> tuple[str, ...]:
    """How lxml is asked for elements of these QTI 2 names, whatever the edition.

    >>> tags(("simpleChoice",))
    ('{*}simpleChoice', '{*}qti-simple-choice')
    """
    return tuple(tag for name in names for tag in (f"{{*}}{name}", f"{{*}}qti-{kebab(name)}"))


def children(element: etree._Element, *names: str) -> Iterator[etree._Element]:
    """The children of these QTI 2 names, of any name if none is given."""
    return element.iterchildren(*(tags(names) or ("*",)))


def descendants(element: etree._Element, *names: str) -> Iterator[etree._Element]:
    """All elements of these QTI 2 names inside an element, in order."""
    return element.iterdescendants(*tags(names))


def text_of(element: etree._Element) -> str:
    """The text directly in an element."""
    return element.text or ""
