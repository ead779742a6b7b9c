"""Every link in a document, and what is wrong with it: pictures that are missing, without words, or elsewhere."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lxml import etree

from barwright.check.reading.link_targets import FILEBASE, followed, leads_away, target
from barwright.check.reading.texts import HtmlError, html_root, local
from barwright.check.rules.findings import Finding
from barwright.check.rules.package_part import PackagePart
from barwright.errors import PackageError

# Attributes that hold links, by element; HTML 4.01 and 5, QTI 1.2.1 (uri), QTI 2.2 and 3.0.
_PICTURES = {"img": "src", "matimage": "uri"}
_OTHERS = {
    "a": ("href",),
    "source": ("src",),
    "track": ("src",),
    "audio": ("src",),
    "video": ("src", "poster"),
    "object": ("data",),
    "link": ("href",),
    "stylesheet": ("href",),
    "qti-stylesheet": ("href",),
    "mataudio": ("uri",),
    "matvideo": ("uri",),
    "matapplet": ("uri",),
    "matapplication": ("uri",),
    "assessmentItemRef": ("href",),
    "qti-assessment-item-ref": ("href",),
    "assessmentSectionRef": ("href",),
    "qti-assessment-section-ref": ("href",),
    "assessmentStimulusRef": ("href",),
    "qti-assessment-stimulus-ref": ("href",),
    "responseProcessing": ("templateLocation",),
    "qti-response-processing": ("template-location",),
    "qti-file-href": (),
}
_LINKING = tuple(f"{{*}}{name}" for name in (*_PICTURES, *_OTHERS, "mattext", "matemtext"))


@dataclass(frozen=True, slots=True)
class Link:
    """One link: as written, the path in the package it means (empty: it leads away), and the element to blame.

    `beside` is another file, or the same if the top has none, where a path after FILEBASE begins at the document.
    """

    link: str
    path: str
    element: etree._Element
    picture: bool = False
    alt: str | None = None
    sized: bool = True
    beside: str = ""


def links_in(part: PackagePart) -> Iterator[Link]:
    """All links of a document, those in HTML texts of QTI 1.2 as well; PackageError for HTML of absurd size."""
    for element in part.root.iter(*_LINKING):
        name = local(element)
        if name in ("mattext", "matemtext"):
            if element.get("texttype", "text/plain").lower() == "text/html" and "<" in (element.text or ""):
                for inner in _html(part, element).iter("*"):
                    yield from _links_of(part, inner, element)
        else:
            yield from _links_of(part, element, element)


def _html(part: PackagePart, element: etree._Element) -> etree._Element:
    try:
        return html_root(element.text or "")
    except HtmlError as error:
        raise PackageError(f"{part.path}: {error}") from error


def _links_of(part: PackagePart, element: etree._Element, blamed: etree._Element) -> Iterator[Link]:
    name = local(element)
    if name in _PICTURES or (name == "object" and element.get("type", "").startswith("image/")):
        sized = bool(element.get("width") or element.get("height"))
        link = element.get(_PICTURES.get(name, "data"), "")
        path, beside = followed(part.path, link, part.files.sizes)
        yield Link(link, path, blamed, True, _alt(element, name), sized, beside)
        return
    for attribute in _OTHERS.get(name, ()):
        link = element.get(attribute, "")
        if link and not link.startswith("#"):
            path, beside = followed(part.path, link, part.files.sizes)
            yield Link(link, path, blamed, beside=beside)
    if name == "qti-file-href" and (element.text or "").strip():
        link = (element.text or "").strip()
        path, beside = followed(part.path, link, part.files.sizes)
        yield Link(link, path, blamed, beside=beside)


def _alt(element: etree._Element, name: str) -> str | None:
    if name == "object":
        return " ".join("".join(str(t) for t in element.itertext()).split()) or None
    return element.get("label") if name == "matimage" else element.get("alt")


def link_findings(part: PackagePart, links: tuple[Link, ...], listed: frozenset[str]) -> Iterator[Finding]:
    """What is wrong with links; `listed` are the paths that the manifest lists, whose absence is told there."""
    for link in links:
        yield from _where_to(part, link, listed)
        if link.picture:
            yield from _pictures(part, link)


def _where_to(part: PackagePart, link: Link, listed: frozenset[str]) -> Iterator[Finding]:
    what = "picture" if link.picture else "file"
    if link.link.strip().startswith(FILEBASE):
        if not part.profiled:
            yield part.found("filebase-in-plain", f"the link {link.link[:80]!r} begins with {FILEBASE}", link.element)
            return
        if not link.link.strip().startswith(f"{FILEBASE}/"):
            yield part.found("filebase-strange", f"the link {link.link[:80]!r} has no / after {FILEBASE}", link.element)
            return
        if link.beside:
            yield from _either_way(part, link, listed)
    elif leads_away(link.link):
        if link.picture:
            yield part.found("remote-picture", f"the picture {link.link[:80]!r} is not in the package", link.element)
        return
    elif part.profiled and local(link.element) in ("mattext", "matemtext"):
        yield part.found(
            "filebase-missing", f"the link {link.link[:80]!r} does not begin with {FILEBASE}/", link.element
        )
        return
    if part.files.single or link.path in part.files.sizes or link.path in listed:
        return
    rule = "picture-missing" if link.picture else "link-broken"
    yield part.found(rule, f"the {what} {link.link[:80]!r} is not in the package", link.element)


def _either_way(part: PackagePart, link: Link, listed: frozenset[str]) -> Iterator[Finding]:
    """Links after FILEBASE that do not lead to the same bytes from the top and from the document."""
    if link.beside == link.path:
        if target(part.path, link.link) in listed:
            return
        folder = f"the folder of {part.path[-60:]!r}; the top has no such file"
        yield part.found("filebase-from-file", f"the link {link.link[:80]!r} is read from {folder}", link.element)
    elif part.files.digest(link.path) != part.files.digest(link.beside):
        both = f"{link.path[-60:]!r} from the top and {link.beside[-60:]!r} from the quiz, which differ"
        yield part.found("filebase-two-files", f"the link {link.link[:80]!r} is {both}", link.element)


def read_from(part: PackagePart, links: Iterable[Link]) -> frozenset[str]:
    """From where the links of a document that begin with FILEBASE are read, empty where it makes no difference."""
    if "/" not in part.path or not part.profiled:
        return frozenset()
    digest = part.files.digest
    based = (k for k in links if k.path in part.files.sizes and k.link.strip().startswith(FILEBASE))
    return frozenset(
        "the file that holds them" if k.beside == k.path else "the top"
        for k in based
        if k.beside in ("", k.path) or digest(k.beside) != digest(k.path)
    )


def _pictures(part: PackagePart, link: Link) -> Iterator[Finding]:
    shown = link.link[-60:]
    if link.alt is None:
        yield part.found("alt-missing", f"the picture {shown!r} has no alternative text", link.element)
    elif not link.alt.strip():
        yield part.found("alt-empty", f"the picture {shown!r} has an empty alternative text", link.element)
    if not link.sized:
        yield part.found("size-missing", f"the picture {shown!r} has neither width nor height", link.element)
