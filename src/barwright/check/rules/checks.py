"""The check of a whole package: every rule on every part, one document in memory at a time."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import chain, islice
from pathlib import Path

from barwright.check.reading.edition_names import named
from barwright.check.reading.items12 import Afford
from barwright.check.reading.manifests import Manifest, manifest_of
from barwright.check.reading.opening import opened
from barwright.check.reading.package import (
    MOST_STEPS,
    allowance,
    document_paths,
    documents_of,
    items_of,
    manifest_document,
    picturing,
    single_document,
)
from barwright.check.reading.package_bounds import MOST_PICTURE_BYTES
from barwright.check.reading.package_files import MANIFEST, Files
from barwright.check.reading.package_model import ReadItem
from barwright.check.reading.standards import Standard, standard_of_document
from barwright.check.reading.texts import Pictured, local
from barwright.check.reading.xml_documents import Document
from barwright.check.rules.cartridge import cartridge_findings
from barwright.check.rules.cartridge_items import cartridge_items
from barwright.check.rules.drops import drops
from barwright.check.rules.findings import Finding, Place, Report, causes_only
from barwright.check.rules.giveaways import always_same_key, giveaways
from barwright.check.rules.item_rules import item_findings
from barwright.check.rules.link_rules import link_findings, links_in, read_from
from barwright.check.rules.manifest_rules import (
    dependency_findings,
    file_findings,
    listed_paths,
    manifest_findings,
)
from barwright.check.rules.package_part import MOST_SHOWN, PackagePart, quoted
from barwright.check.rules.picture_files import differing, is_picture, picture_findings
from barwright.check.rules.references2 import references2
from barwright.check.rules.references12 import references12
from barwright.check.rules.rule_table import RULES
from barwright.check.rules.structure import schema_findings
from barwright.errors import DocumentError, PackageError

_ORDER = ("error", "caution")
MOST_FINDINGS = 1_000  # whoever has mended so many checks again


@dataclass
class _Gathered:
    """What is collected from document to document, for the rules on the package as a whole."""

    findings: list[Finding] = field(default_factory=list)
    cut: bool = False  # whether there were more
    items: list[ReadItem] = field(default_factory=list)
    uses: dict[str, list[str]] = field(default_factory=dict)  # file -> files it links to
    tested: set[str] = field(default_factory=set)  # item files that a test refers to
    kinds: dict[str, str] = field(default_factory=dict)  # file -> what its root is
    unread: bool = False
    readings: set[str] = field(default_factory=set)  # from where links with FILEBASE in documents in folders are read

    def add(self, findings: Iterable[Finding]) -> None:
        """Takes findings as long as there is room; the others are not even looked for."""
        for finding in findings:
            if len(self.findings) >= MOST_FINDINGS:
                self.cut = True
                return
            self.findings.append(finding)


def checked(source: Path | bytes, *, name: str = "") -> Report:
    """All that is wrong with a package; never raises for what is in it.

    A package that must not be read, or that is none, gives a report with `refused` and nothing else.
    """
    shown = name or (str(source) if isinstance(source, Path) else "package")
    try:
        with opened(source, name=name) as files:
            return _single(files, shown) if files.single else _package(files, shown)
    except PackageError as error:
        return Report(shown, refused=str(error))


def _single(files: Files, shown: str) -> Report:
    document, standard = single_document(files)
    gathered = _Gathered()
    part = PackagePart(files, document, standard)
    _document(part, frozenset(), gathered, afford=allowance(MOST_STEPS), pictured=picturing(files)(document.path))
    return _report(shown, standard.name, gathered, pictures=0)


def _package(files: Files, shown: str) -> Report:
    document = manifest_document(files)
    manifest = manifest_of(document)
    gathered = _Gathered()
    if manifest.standard is None:
        gathered.add([Finding("unknown-standard", Place(MANIFEST), _no_standard(manifest))])
        return _report(shown, "", gathered, pictures=0)
    standard, listed = manifest.standard, listed_paths(manifest)
    gathered.add(_encoding(document))
    gathered.add(schema_findings(PackagePart(files, document, standard)))
    gathered.add(manifest_findings(manifest, files, standard))
    if standard.cartridge:
        gathered.add(cartridge_findings(manifest))
    _documents(files, manifest, standard, gathered)
    used = frozenset(p for paths in gathered.uses.values() for p in paths)
    gathered.add(_with_items(file_findings(files, listed, used), gathered.items))
    gathered.add(dependency_findings(manifest, gathered.uses))
    gathered.add(_across(manifest, standard, gathered))
    pictures = [p for p in files.sizes if is_picture(p)]
    different = differing(files, pictures)
    gathered.add(_with_items(picture_findings(files, different), gathered.items))
    _unpack_others(files, frozenset((*pictures, *document_paths(files, manifest))))
    return _report(shown, standard.name, gathered, pictures=len(different))


def _with_items(findings: Iterable[Finding], items: Iterable[ReadItem]) -> Iterator[Finding]:
    """Findings about files, each with the first item that shows the file."""
    shown_in: dict[str, str] = {}
    for item in items:
        for picture in item.pictures:
            shown_in.setdefault(picture.path, item.ident[:MOST_SHOWN])
    for finding in findings:
        place = finding.place
        yield replace(finding, place=replace(place, item=shown_in.get(place.file, "")))


def _unpack_others(files: Files, looked_at: frozenset[str]) -> None:
    """PackageError if a file that no rule looks into cannot be unpacked."""
    for path, size in files.sizes.items():
        if path not in looked_at and size <= MOST_PICTURE_BYTES:
            files.read(path)


def _no_standard(manifest: Manifest) -> str:
    kinds = list(dict.fromkeys(r.kind for r in manifest.resources))
    return f"the manifest lists resources of the types {quoted(kinds, 4) or 'none'}, no quiz that is known here"


def _documents(files: Files, manifest: Manifest, standard: Standard, gathered: _Gathered) -> None:
    """Checks every document, one at a time."""
    listed = listed_paths(manifest)
    afford, pictured_in = allowance(MOST_STEPS), picturing(files)
    for document in documents_of(files, manifest):
        if gathered.cut:
            gathered.unread = True
            return
        if isinstance(document, DocumentError):
            what = f"the file is not well-formed XML: {document.why}"
            gathered.add([Finding("not-well-formed", Place(document.path, document.line), what)])
            gathered.unread = True
            continue
        gathered.kinds[document.path] = named(document.root)
        if standard_of_document(document.root) is not None:
            part = PackagePart(files, document, standard)
            _document(part, listed, gathered, afford=afford, pictured=pictured_in(document.path))


def _document(
    part: PackagePart, listed: frozenset[str], gathered: _Gathered, *, afford: Afford, pictured: Pictured
) -> None:
    """Checks one document by all rules that need nothing else."""
    links = tuple(links_in(part))
    used = chain.from_iterable((link.path, link.beside) for link in links)
    gathered.uses[part.path] = [path for path in dict.fromkeys(used) if path in part.files.sizes]
    gathered.readings |= read_from(part, links)
    if named(part.root) in ("assessmentTest", "assessmentSection"):
        gathered.tested.update(link.path for link in links)
    items = tuple(items_of(part.document, part.standard, pictured, afford=afford))
    rules = chain(
        _encoding(part.document),
        schema_findings(part),
        link_findings(part, links, listed),
        _references(part),
        drops(part),
        chain.from_iterable(chain(item_findings(i), giveaways(i)) for i in items),
    )
    findings = tuple(islice(rules, MOST_FINDINGS + 1))
    gathered.items += [replace(i, answers=()) for i in items]  # what was tried is judged by now
    gathered.add(causes_only(findings))


def _references(part: PackagePart) -> Iterator[Finding]:
    if local(part.root) != "questestinterop":
        return references2(part)
    return chain(references12(part), cartridge_items(part)) if part.profiled else references12(part)


def _encoding(document: Document) -> Iterator[Finding]:
    if document.doctype:
        yield Finding("doctype", Place(document.path, 1), "the file begins with a DOCTYPE")
    if document.encoding not in ("utf-8", "ascii"):
        yield Finding("encoding", Place(document.path, 1), f"the file is in {document.encoding}, not in UTF-8")


def _across(manifest: Manifest, standard: Standard, gathered: _Gathered) -> Iterator[Finding]:
    """What shows only when all documents are read."""
    seen: dict[str, ReadItem] = {}
    for item in gathered.items:
        other = seen.setdefault(item.ident, item)
        if other is not item:
            where = f"{other.file}, line {other.line}" if other.line else other.file
            what = f"the identifier {item.ident[:40]!r} is taken by the item in {where}"
            yield Finding("item-twice", Place(item.file, item.line, item.ident[:MOST_SHOWN]), what)
    if not gathered.items and not gathered.unread:
        yield Finding("no-items", Place(MANIFEST), "the package holds no item")
    yield from always_same_key(gathered.items)
    if gathered.tested and not any(f.rule == "link-broken" for f in gathered.findings):
        for item in gathered.items:
            if item.file not in gathered.tested:
                what = f"the item {item.ident[:40]!r} is in no test of the package"
                yield Finding("not-in-test", Place(item.file, item.line, item.ident[:MOST_SHOWN]), what)
    yield from _kinds(manifest, standard, gathered)


# Role in a resource type -> root of its document.
_ROOTS = {
    "imsqti_item_": "assessmentItem",
    "imsqti_test_": "assessmentTest",
    "imsqti_section_": "assessmentSection",
    "imsqti_stimulus_": "assessmentStimulus",
    "imsqti_xmlv1p": "questestinterop",
}


def _kinds(manifest: Manifest, standard: Standard, gathered: _Gathered) -> Iterator[Finding]:
    for resource in manifest.resources:
        wanted = next((root for sign, root in _ROOTS.items() if resource.kind.startswith(sign)), "")
        main = resource.main or next((p for p in resource.paths), "")
        root = gathered.kinds.get(main, "")
        if wanted and root and root != wanted:
            what = f"{main[-60:]!r} is listed as {resource.kind[:60]!r} but begins with <{root[:40]}>"
            yield Finding("resource-wrong-document", Place(MANIFEST, resource.line), f"{what} ({standard.name})")


def _report(shown: str, standard: str, gathered: _Gathered, *, pictures: int) -> Report:
    if gathered.cut:
        what = f"there are over {MOST_FINDINGS} findings; these are the first"
        gathered.findings.append(Finding("more-findings", Place(), what))
    ordered = sorted(
        set(gathered.findings), key=lambda f: (_ORDER.index(RULES[f.rule].severity), f.place, f.rule, f.what)
    )
    read_from = " and ".join(sorted(gathered.readings))
    return Report(shown, standard, len(gathered.items), pictures, tuple(ordered), links=read_from)
