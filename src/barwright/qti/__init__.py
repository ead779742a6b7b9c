"""Packages for learning platforms: one worded form into any standard, from one table of writers.

`WRITERS` says for each standard what it is called, how its files are named, which interactions it can express, and the
function that writes it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Literal

from barwright.errors import StandardError
from barwright.items.model import Interaction
from barwright.qti import v12
from barwright.qti.content import Content, content
from barwright.qti.manifest import CARTRIDGES, PLAIN, About, Resource, manifest
from barwright.qti.package import Entry, zipped
from barwright.wording.model import Pictures, WordedForm

__all__ = ["WRITERS", "Entry", "Shape", "Writer", "written", "zipped"]

Shape = Literal["quiz", "bank"]


@dataclass(frozen=True, slots=True)
class Writer:
    """One standard: its name in full, the file name of each shape, what it can express, and how it is written."""

    name: str
    files: Mapping[Shape, str]
    interactions: frozenset[Interaction]
    entries: Callable[[Content, Shape], tuple[Entry, ...]]


def written(form: WordedForm, pictures: Pictures, *, standard: str, shape: Shape) -> tuple[Entry, ...]:
    """All files of the package, the manifest first; `zipped` makes the file that a platform imports.

    Raises StandardError for a standard or shape that is not in the table, a form without items, and an item that the
    standard cannot express.
    """
    if standard not in WRITERS:
        raise StandardError(f"standard {standard!r} is not known: use one of {', '.join(WRITERS)}")
    writer = WRITERS[standard]
    if shape not in writer.files:
        raise StandardError(f"{writer.name} has no shape {shape!r}: use one of {', '.join(writer.files)}")
    if not form.items:
        raise StandardError(f"form {form.title!r} has no items: {writer.name} needs at least one")
    for item in form.items:
        if item.interaction not in writer.interactions:
            able = ", ".join(sorted(writer.interactions))
            raise StandardError(
                f"item {item.ident!r} is answered by {item.interaction!r}, which {writer.name} cannot express: "
                f"it has {able}"
            )
    return writer.entries(content(form, pictures), shape)


def _cartridge(made: Content, shape: Shape, *, minor: int) -> tuple[Entry, ...]:
    """Common Cartridge 1.`minor`: the document in a folder of its own, every picture a `webcontent` resource."""
    edition = v12.CARTRIDGE_EDITIONS[minor]
    data = v12.assessment_document(made, edition) if shape == "quiz" else v12.bank_document(made, edition)
    kind = "assessment" if shape == "quiz" else "question-bank"
    paths = [image.path for image in made.images]
    pictures = [Resource(_ident(path), "webcontent", (path,), main=path) for path in paths]
    body = Entry(f"{shape}/{shape}.xml", data)
    main = Resource(
        f"resource_{shape}",
        f"imsqti_xmlv1p2/imscc_xmlv1p{minor}/{kind}",
        (body.path,),
        needs=tuple(p.ident for p in pictures),
    )
    # A question bank is never shown in the course's contents.
    launch = main.ident if shape == "quiz" else ""
    return (
        manifest(CARTRIDGES[minor], [main, *pictures], about=_about(made), launch=launch),
        body,
        *made.images,
    )


def _plain12(made: Content, shape: Shape) -> tuple[Entry, ...]:
    """QTI 1.2 in a content package: document at the top, so that links from it and from the top are the same."""
    edition = v12.PLAIN_EDITION
    data = v12.assessment_document(made, edition) if shape == "quiz" else v12.bank_document(made, edition)
    body = Entry(f"{shape}.xml", data)
    files = (body.path, *(image.path for image in made.images))
    main = Resource(f"resource_{shape}", "imsqti_xmlv1p2", files, main=body.path)
    return (manifest(PLAIN, [main], about=_about(made)), body, *made.images)


def _about(made: Content) -> About:
    return About(made.form.ident, made.form.title, made.form.language)


def _ident(path: str) -> str:
    """The identifier of a picture's resource: an XML name."""
    return path.replace("/", "_")


def _files(suffix: str, extension: str) -> dict[Shape, str]:
    return {"quiz": f"quiz{suffix}.{extension}", "bank": f"bank{suffix}.{extension}"}


_ALL_FOUR: frozenset[Interaction] = frozenset(("figures", "texts", "several", "entry"))

WRITERS: dict[str, Writer] = {
    "cc11": Writer("Common Cartridge 1.1", _files("-cc11", "imscc"), _ALL_FOUR, partial(_cartridge, minor=1)),
    "cc12": Writer("Common Cartridge 1.2", _files("-cc12", "imscc"), _ALL_FOUR, partial(_cartridge, minor=2)),
    "cc13": Writer("Common Cartridge 1.3", _files("", "imscc"), _ALL_FOUR, partial(_cartridge, minor=3)),
    "qti12": Writer("plain QTI 1.2", _files("-qti12", "zip"), _ALL_FOUR, _plain12),
}
