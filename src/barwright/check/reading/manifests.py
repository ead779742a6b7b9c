"""The manifest of a package: its resources, files and dependencies.

Sources: IMS Content Packaging 1.1.4 and the manifest schema of QTI 3.0, which is alike; XML Base.
"""

from dataclasses import dataclass

from lxml import etree

from barwright.check.reading.link_targets import target
from barwright.check.reading.standards import Standard, standard_of_manifest
from barwright.check.reading.texts import local
from barwright.check.reading.xml_documents import Document

_BASE = "{http://www.w3.org/XML/1998/namespace}base"


@dataclass(frozen=True, slots=True)
class ListedFile:
    """One `file` of a resource: path from the top of the package (empty if it leads out of it) and line."""

    path: str
    link: str
    line: int


@dataclass(frozen=True, slots=True)
class ListedResource:
    """One resource; `main` is the path of its `href` (empty for none), `needs` the resources it depends on."""

    ident: str
    kind: str
    main: str
    files: tuple[ListedFile, ...]
    needs: tuple[str, ...]
    line: int

    @property
    def paths(self) -> tuple[str, ...]:
        """The paths of its files, the main one first if it is not among them."""
        listed = tuple(f.path for f in self.files if f.path)
        return listed if not self.main or self.main in listed else (self.main, *listed)


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a manifest says; `standard` is None if it is none that is known here."""

    root: etree._Element
    standard: Standard | None
    title: str
    resources: tuple[ListedResource, ...]


def manifest_of(document: Document) -> Manifest:
    """The manifest in a document, as far as it can be read; whatever is missing is empty."""
    root = document.root
    top = root.get(_BASE, "") + "".join(e.get(_BASE, "") for e in root.iterchildren("{*}resources"))
    resources = tuple(_resource(e, top + (e.get(_BASE) or "")) for e in root.iter("{*}resource"))
    titles = (e for e in root.iterchildren("{*}metadata") for e in e.iter("{*}string", "{*}langstring"))
    title = next((" ".join((t.text or "").split()) for t in titles if local(parent(t)) == "title"), "")
    return Manifest(root, standard_of_manifest(root, (r.kind for r in resources)), title, resources)


def parent(element: etree._Element) -> etree._Element:
    """The element around an element, or itself at the top."""
    above = element.getparent()
    return element if above is None else above


def line_of(element: etree._Element) -> int:
    """The line an element begins in, from 1; 0 if there is no telling."""
    line = getattr(element, "sourceline", None)  # its type stub is empty
    return line if isinstance(line, int) else 0


def _resource(element: etree._Element, base: str) -> ListedResource:
    files = []
    for file in element.iterchildren("{*}file"):
        link = file.get("href", "")
        files.append(ListedFile(target(base, link), link, line_of(file)))
    needs = tuple(d.get("identifierref", "") for d in element.iterchildren("{*}dependency"))
    main = element.get("href")
    ident, kind = element.get("identifier", ""), element.get("type", "")
    return ListedResource(ident, kind, target(base, main) if main else "", tuple(files), needs, line_of(element))
