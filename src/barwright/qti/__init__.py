"""Packages for learning platforms: one worded form into any standard, from one table of writers.

`WRITERS` says for each standard what it is called, how its files are named, which interactions it can express, and the
function that writes it.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Literal, get_args

from barwright.errors import StandardError
from barwright.items.item import Interaction
from barwright.qti.manifest import (
    CARTRIDGES,
    PLAIN,
    About,
    Resource,
    manifest,
)
from barwright.qti.package_content import IMAGES, PLACING, PackageContent, content
from barwright.qti.v2and3.package2 import (
    EDITION_22,
    EDITION_30,
    PackageEdition,
    package_entries,
)
from barwright.qti.v12 import documents as v12
from barwright.qti.zip_entries import ZipEntry, zipped
from barwright.wording.worded import Pictures, WordedForm, WordedItem

__all__ = ["MOST_ITEMS", "WRITERS", "PackageShape", "Writer", "ZipEntry", "check_expressible", "written", "zipped"]

MOST_ITEMS = 1_000  # of one package; the reader's bounds fit so many of the largest
PackageShape = Literal["quiz", "bank"]
Credit = Literal["all-or-nothing", "per-choice"]
Entries = Callable[[PackageContent, PackageShape], tuple[ZipEntry, ...]]


@dataclass(frozen=True, slots=True)
class Writer:
    """One standard: its name in full, the file name of each shape, what it can express, and how it is written.

    `draws` says whether a quiz can draw an item for each student, `credits` what a partly right answer can earn.
    """

    name: str
    files: Mapping[PackageShape, str]
    interactions: frozenset[Interaction]
    entries: Entries
    draws: bool
    credits: frozenset[Credit]


def written(form: WordedForm, pictures: Pictures, *, standard: str, shape: PackageShape) -> tuple[ZipEntry, ...]:
    """All files of the package, the manifest first; `zipped` makes the file that a platform imports.

    Raises StandardError as `check_expressible` does.
    """
    check_expressible(form, standard=standard, shape=shape)
    return WRITERS[standard].entries(content(form, pictures), shape)


def check_expressible(form: WordedForm, *, standard: str, shape: PackageShape) -> None:
    """StandardError for a standard or shape that is not in the table, a form of no or too many items, and what cannot
    be expressed.

    That is an interaction, a draw for each student, or points for parts of an answer. No picture is needed to tell.
    """
    if standard not in WRITERS:
        raise StandardError(f"standard {standard!r} is not known: use one of {', '.join(WRITERS)}")
    writer = WRITERS[standard]
    if shape not in writer.files:
        raise StandardError(f"{writer.name} has no shape {shape!r}: use one of {', '.join(writer.files)}")
    if not form.items:
        raise StandardError(f"form {form.title!r} has no items: {writer.name} needs at least one")
    if len(form.items) > MOST_ITEMS:
        raise StandardError(
            f"form {form.title!r} has {len(form.items):,} items, and a package holds at most {MOST_ITEMS:,}: make "
            "fewer, or several quizzes or banks"
        )
    for item in form.items:
        _check_item(item, form, writer, shape)


def _check_item(item: WordedItem, form: WordedForm, writer: Writer, shape: PackageShape) -> None:
    """Refuses what the standard cannot express; in a bank there is nothing to draw."""
    if item.interaction not in writer.interactions:
        able = _either(s for s, w in WRITERS.items() if item.interaction in w.interactions)
        raise StandardError(
            f"item {item.ident!r} ({item.category}) is answered by {item.interaction!r}, which {writer.name} cannot "
            f"express: take {able}, or another ask"
        )
    if item.pool and shape == "quiz" and not writer.draws:
        able = _either(s for s, w in WRITERS.items() if w.draws)
        raise StandardError(
            f"form {form.title!r} draws a question for each student, and {writer.name} cannot draw one: "
            f"take {able}, or switch draw off"
        )
    if item.interaction == "several" and form.credit not in writer.credits:
        able = _either(s for s, w in WRITERS.items() if form.credit in w.credits)
        raise StandardError(
            f"item {item.ident!r} has several keys with credit {form.credit!r}, which {writer.name} cannot express: "
            f"take {able}, or set credit to 'all-or-nothing'"
        )


def _either(standards: Iterable[str]) -> str:
    *others, last = standards
    return f"{', '.join(others)} or {last}"


def _cartridge(made: PackageContent, shape: PackageShape, *, minor: int) -> tuple[ZipEntry, ...]:
    """Common Cartridge 1.`minor`: the document in a folder of its own, every picture twice.

    Readers of the standard disagree whether a path after the token of links begins at the top of the package or at the
    file that holds the link. The same path leads to the same picture either way: from the top to a `webcontent`
    resource, and below the document's folder to `associatedcontent`, which alone may lie there (profile, section 1.4).
    """
    edition = v12.CARTRIDGE_EDITIONS[minor]
    data = v12.assessment_document(made, edition) if shape == "quiz" else v12.bank_document(made, edition)
    kind = "assessment" if shape == "quiz" else "question-bank"
    paths = [image.path for image in made.images]
    pictures = [Resource(_ident(path), "webcontent", (path,), main=path) for path in paths]
    copies = tuple(ZipEntry(f"{shape}/{image.path}", image.data) for image in made.images)
    if copies:
        beside = f"associatedcontent/imscc_xmlv1p{minor}/learning-application-resource"
        pictures.append(Resource(f"{shape}_{IMAGES}", beside, tuple(c.path for c in copies)))
    body = ZipEntry(f"{shape}/{shape}.xml", data)
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
        *copies,
    )


def _plain12(made: PackageContent, shape: PackageShape) -> tuple[ZipEntry, ...]:
    """QTI 1.2 in a content package: document at the top, so that links from it and from the top are the same."""
    edition = v12.PLAIN_EDITION
    data = v12.assessment_document(made, edition) if shape == "quiz" else v12.bank_document(made, edition)
    body = ZipEntry(f"{shape}.xml", data)
    files = (body.path, *(image.path for image in made.images))
    main = Resource(f"resource_{shape}", "imsqti_xmlv1p2", files, main=body.path)
    return (manifest(PLAIN, [main], about=_about(made)), body, *made.images)


def _modern(made: PackageContent, shape: PackageShape, *, edition: PackageEdition) -> tuple[ZipEntry, ...]:
    """QTI 2.2 or 3.0: an item a file; a bank is a package of items without a test."""
    return package_entries(made, edition, bank=shape == "bank")


def _about(made: PackageContent) -> About:
    return About(made.form.ident, made.form.called, made.form.language)


def _ident(path: str) -> str:
    """The identifier of a picture's resource: an XML name."""
    return path.replace("/", "_")


def _files(suffix: str, extension: str) -> dict[PackageShape, str]:
    return {"quiz": f"quiz{suffix}.{extension}", "bank": f"bank{suffix}.{extension}"}


def _older(name: str, suffix: str, extension: str, entries: Entries, *, draws: bool) -> Writer:
    """A row for one of the family of QTI 1.2: the four plain interactions, no points for parts of an answer.

    Adding up points is outside the patterns of the Common Cartridge profile, and importers of QTI 1.2 follow those.
    """
    return Writer(name, _files(suffix, extension), _PLAIN_FOUR, entries, draws, frozenset(("all-or-nothing",)))


def _newer(name: str, suffix: str, edition: PackageEdition) -> Writer:
    """A row for QTI 2.2 or 3.0, which can say all we have to say."""
    entries = partial(_modern, edition=edition)
    return Writer(name, _files(suffix, "zip"), _PLAIN_FOUR | PLACING, entries, True, frozenset(get_args(Credit)))


_PLAIN_FOUR: frozenset[Interaction] = frozenset(("figures", "texts", "several", "entry"))

WRITERS: dict[str, Writer] = {
    "cc11": _older("Common Cartridge 1.1", "-cc11", "imscc", partial(_cartridge, minor=1), draws=False),
    "cc12": _older("Common Cartridge 1.2", "-cc12", "imscc", partial(_cartridge, minor=2), draws=False),
    "cc13": _older("Common Cartridge 1.3", "", "imscc", partial(_cartridge, minor=3), draws=False),
    "qti12": _older("plain QTI 1.2", "-qti12", "zip", _plain12, draws=True),
    "qti22": _newer("QTI 2.2", "-qti22", EDITION_22),
    "qti30": _newer("QTI 3.0", "-qti30", EDITION_30),
}
