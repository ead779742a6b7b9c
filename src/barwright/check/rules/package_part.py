"""One document of a package under check, and how findings in it are placed."""

from collections.abc import Sequence
from dataclasses import dataclass

from lxml import etree

from barwright.check.reading.manifests import line_of
from barwright.check.reading.package_files import Files
from barwright.check.reading.standards import Standard
from barwright.check.reading.texts import local
from barwright.check.reading.xml_documents import Document
from barwright.check.rules.findings import Finding, Place

MOST_SHOWN = 60  # characters of an identifier in a message


@dataclass(frozen=True, slots=True)
class PackagePart:
    """A document, the files beside it, and the standard by whose rules it goes."""

    files: Files
    document: Document
    standard: Standard

    @property
    def root(self) -> etree._Element:
        """The root of the document."""
        return self.document.root

    @property
    def path(self) -> str:
        """Where the document is in the package."""
        return self.document.path

    @property
    def profiled(self) -> bool:
        """Whether the rules of a Common Cartridge hold: it is in one, or alone and says so."""
        if self.standard.cartridge:
            return True
        return self.files.single and any(f.text == "cc_profile" for f in self.root.iter("{*}fieldlabel"))

    def found(self, rule: str, what: str, element: etree._Element) -> Finding:
        """A finding at an element."""
        return Finding(rule, Place(self.path, line_of(element), item_around(element)), what)


def item_around(element: etree._Element) -> str:
    """The identifier of the item an element is in, empty for none."""
    for each in (element, *element.iterancestors()):
        if local(each) == "item" and each.get("ident"):
            return each.get("ident", "")[:MOST_SHOWN]
        if local(each) in ("assessmentItem", "qti-assessment-item"):
            return each.get("identifier", "")[:MOST_SHOWN]
    return ""


def quoted(values: Sequence[str], most: int = 8) -> str:
    """Some values as a list for a message, cut to a length that can be read.

    >>> quoted(["a", "b"])
    "'a', 'b'"
    """
    shown = ", ".join(repr(v[:40]) for v in values[:most])
    return shown + (" ..." if len(values) > most else "")
