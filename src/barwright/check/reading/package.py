"""A whole package read back, whatever standard it follows, in the order of its tests."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from lxml import etree

from barwright.check.reading.edition_names import attribute, children, descendants, named
from barwright.check.reading.items2 import item2
from barwright.check.reading.items12 import (
    Afford,
    is_quiz12,
    items12,
    pools12,
    title12,
)
from barwright.check.reading.link_targets import followed, target
from barwright.check.reading.manifests import Manifest, manifest_of
from barwright.check.reading.opening import opened
from barwright.check.reading.package_bounds import (
    MOST_DOCUMENTS,
    MOST_ITEMS,
    MOST_PACKAGE_MARKS,
)
from barwright.check.reading.package_files import MANIFEST, Files, is_system_file
from barwright.check.reading.package_model import (
    PackageShape,
    ReadItem,
    ReadPackage,
    ReadPicture,
    ReadPool,
)
from barwright.check.reading.standards import Standard, standard_of_document
from barwright.check.reading.texts import HtmlError, Pictured, local, number
from barwright.check.reading.xml_documents import Document, parsed
from barwright.errors import DocumentError, PackageError

MOST_STEPS = 12_500_000  # looks to take at a whole package, a quarter of a microsecond each
_DOCUMENTS = (".xml", ".qti")


def read_package(source: Path | bytes, *, name: str = "") -> ReadPackage:
    """Everything that a package says: a zip, its folder, its bytes, or one document on its own.

    Raises PackageError for what cannot or must not be read, for a manifest that is missing or of no standard known
    here; its text begins with the name of the package.
    """
    shown = name or (str(source) if isinstance(source, Path) else "package")
    try:
        with opened(source, name=name) as files:
            return read_files(files)
    except PackageError as error:
        raise PackageError(f"{shown}: {error}") from error


def read_files(files: Files) -> ReadPackage:
    """What stands in a package whose files are open; the text of a PackageError does not begin with the name."""
    afford = allowance(MOST_STEPS)
    if files.single:
        document, standard = single_document(files)
        items = tuple(items_of(document, standard, picturing(files)(document.path), afford=afford))
        return ReadPackage(standard.ident, title_of(document), "item" if len(items) == 1 else "bank", items)
    manifest = manifest_of(manifest_document(files))
    if manifest.standard is None:
        raise PackageError(f"{MANIFEST}: it is of no standard that is known here: Common Cartridge 1.1 to 1.3 or QTI")
    pictured_in = picturing(files)
    return gathered(
        manifest,
        _well_formed(files, manifest),
        lambda d: items_of(d, manifest_standard(manifest), pictured_in(d.path), afford=afford),
    )


def single_document(files: Files) -> tuple[Document, Standard]:
    """A document on its own, and its standard; PackageError if it is of none."""
    (path,) = files.sizes
    document = parsed(path, files.read(path))
    standard = standard_of_document(document.root)
    if standard is None:
        raise PackageError(f"it begins with <{local(document.root)}>, so it is no quiz, item or test of QTI")
    return document, standard


def manifest_document(files: Files) -> Document:
    """The manifest; PackageError if there is none at the top, which says which of the usual ways led to that."""
    if MANIFEST in files.sizes:
        return parsed(MANIFEST, files.read(MANIFEST))
    below = next((p for p in files.sizes if p.endswith(f"/{MANIFEST}")), "")
    inside = next((p for p in files.sizes if p.lower().endswith((".zip", ".imscc"))), "")
    if below:
        folder = below.removesuffix(f"/{MANIFEST}")[:60]
        raise PackageError(
            f"it has its {MANIFEST} in the folder {folder!r}, where no importer looks: zip what is in that folder"
        )
    if inside:
        raise PackageError(
            f"it holds another archive, {inside[:60]!r}, instead of a quiz: unpack it once and check what is inside"
        )
    raise PackageError(
        f"it has no {MANIFEST}, so no importer knows what is in it: export it as a package, not as single files"
    )


def manifest_standard(manifest: Manifest) -> Standard:
    """The standard of a manifest that has one."""
    assert manifest.standard is not None
    return manifest.standard


def allowance(steps: int) -> Afford:
    """A purse: asked for so many steps, says whether that many are left, and takes them."""
    left = [steps]

    def afford(wanted: int) -> bool:
        if wanted > left[0]:
            return False
        left[0] -= wanted
        return True

    return afford


def document_paths(files: Files, manifest: Manifest) -> tuple[str, ...]:
    """The XML files of a package in the order of the manifest, then those that it does not list."""
    listed = [p for r in manifest.resources for p in r.paths]
    every = [p for p in (*listed, *files.sizes) if p in files.sizes and p != MANIFEST]
    return tuple(dict.fromkeys(p for p in every if p.lower().endswith(_DOCUMENTS) and not is_system_file(p)))


def _well_formed(files: Files, manifest: Manifest) -> Iterator[Document]:
    for document in documents_of(files, manifest):
        if isinstance(document, DocumentError):
            raise document
        yield document


def documents_of(files: Files, manifest: Manifest) -> Iterator[Document | DocumentError]:
    """The XML files of a package one after the other, parsed; PackageError if they are too many or too full."""
    paths = document_paths(files, manifest)
    if len(paths) > MOST_DOCUMENTS:
        raise PackageError(f"it holds over {MOST_DOCUMENTS} XML files, which no quiz needs: export fewer items")
    afford, afford_items = allowance(MOST_PACKAGE_MARKS), allowance(MOST_ITEMS)
    for path in paths:
        try:
            document = parsed(path, files.read(path))
        except DocumentError as error:
            yield error
            continue
        if not afford(document.marks):
            raise PackageError(
                f"it holds over {MOST_PACKAGE_MARKS} elements and attributes, which no quiz needs: export fewer items"
            )
        if not afford_items(sum(1 for _ in document.root.iter("{*}item"))):
            raise PackageError(f"it holds over {MOST_ITEMS} items, which no quiz needs: export fewer items")
        yield document


def items_of(document: Document, standard: Standard, pictured: Pictured, *, afford: Afford) -> Iterator[ReadItem]:
    """The items in one document, none for a test or for what is no QTI document."""
    if local(document.root) == "questestinterop":
        try:
            yield from items12(document.path, document.root, pictured, afford=afford)
        except HtmlError as error:
            raise PackageError(f"{document.path}: {error}") from error
    elif standard.edition != "1.2" and named(document.root) == "assessmentItem":
        yield item2(document.path, document.root, pictured, afford=afford)


def title_of(document: Document) -> str:
    """The title of a document's assessment, test or item."""
    return title12(document.root) or " ".join(document.root.get("title", "").split())


def picturing(files: Files) -> Callable[[str], Pictured]:
    """What makes, for a file, what makes a picture of a link in it."""

    def pictured_in(base: str) -> Pictured:
        def pictured(link: str, alt: str | None, sized: bool) -> ReadPicture:
            path = followed(base, link, files.sizes).path
            return ReadPicture(path, alt, files.digest(path), link, sized)

        return pictured

    return pictured_in


@dataclass(frozen=True, slots=True)
class Reference:
    """One item in a test: the file it is in, and its weight (1 if none is told)."""

    ident: str
    path: str
    weight: Fraction


@dataclass(frozen=True, slots=True)
class Draw:
    """A section of which each student gets `draws` of the items in these files."""

    ident: str
    draws: int
    paths: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Assessment:
    """One test: title, references in order, draws."""

    title: str
    references: tuple[Reference, ...]
    draws: tuple[Draw, ...]


def assessment2(path: str, root: etree._Element) -> Assessment:
    """The test that is a document, or the section that is one."""
    references = tuple(_reference(path, r) for r in descendants(root, "assessmentItemRef"))
    draws = []
    for section in descendants(root, "assessmentSection"):
        selection = next(children(section, "selection"), None)
        drawn = None if selection is None else number(attribute(selection, "select"))
        if drawn is not None:
            inside = tuple(_reference(path, r).path for r in descendants(section, "assessmentItemRef"))
            draws.append(Draw(attribute(section, "identifier"), int(drawn), inside))
    return Assessment(" ".join(attribute(root, "title").split()), references, tuple(draws))


def _reference(path: str, reference: etree._Element) -> Reference:
    weights = (number(attribute(w, "value")) for w in children(reference, "weight"))
    weight = next((w for w in weights if w is not None), Fraction(1))
    return Reference(attribute(reference, "identifier"), target(path, attribute(reference, "href")), weight)


def gathered(
    manifest: Manifest, documents: Iterator[Document], read: Callable[[Document], Iterator[ReadItem]]
) -> ReadPackage:
    """The package made of its documents, which are taken one by one: none is kept."""
    by_path: dict[str, tuple[ReadItem, ...]] = {}
    pools: list[ReadPool] = []
    tests: list[Assessment] = []
    quiz, title = False, ""
    for document in documents:
        root = document.root
        by_path[document.path] = tuple(read(document))
        if local(root) == "questestinterop":
            pools += pools12(root)
            quiz, title = quiz or is_quiz12(root), title or title12(root)
        elif named(root) in ("assessmentTest", "assessmentSection"):
            tests.append(assessment2(document.path, root))
            quiz, title = quiz or named(root) == "assessmentTest", title or tests[-1].title
    items = _ordered(by_path, tests)
    for draw in (d for t in tests for d in t.draws):
        pools.append(ReadPool(draw.ident, draw.draws, tuple(i.ident for p in draw.paths for i in by_path.get(p, ()))))
    shape: PackageShape = "quiz" if quiz else "bank"
    return ReadPackage(manifest_standard(manifest).ident, title or manifest.title, shape, items, tuple(pools))


def _ordered(by_path: Mapping[str, tuple[ReadItem, ...]], tests: list[Assessment]) -> tuple[ReadItem, ...]:
    """Items in the order of the tests, with the weight they have there; then all others in the order read."""
    ordered: dict[str, tuple[ReadItem, ...]] = {}
    for reference in (r for t in tests for r in t.references):
        if reference.path in by_path:
            weighed = (
                replace(i, points=i.points * reference.weight if i.points else i.points)
                for i in by_path[reference.path]
            )
            ordered.setdefault(reference.path, tuple(weighed))
    for path, items in by_path.items():
        ordered.setdefault(path, items)
    return tuple(i for items in ordered.values() for i in items)
