"""What Common Cartridge asks of a manifest beyond content packaging.

Source: Common Cartridge profile, section on learning application objects, associated content and web content; its
organization rules; one question bank a cartridge.
"""

import posixpath
from collections import Counter
from collections.abc import Iterator

from lxml import etree

from barwright.check.reading.manifests import ListedResource, Manifest, line_of
from barwright.check.reading.package_bounds import MOST_PATH_LENGTH
from barwright.check.reading.package_files import MANIFEST
from barwright.check.rules.findings import Finding, Place


def cartridge_findings(manifest: Manifest) -> Iterator[Finding]:
    """What is wrong with the manifest of a cartridge."""
    yield from _organizations(manifest.root)
    banks = [r for r in manifest.resources if r.kind.endswith("/question-bank")]
    if len(banks) > 1:
        yield _found(banks[1].line, "several-banks", f"the cartridge holds {len(banks)} question banks")
    shown = {i.get("identifierref") for i in manifest.root.iter("{*}item")}
    for bank in (b for b in banks if b.ident in shown):
        yield _found(bank.line, "bank-in-contents", f"the contents open the question bank {bank.ident[:40]!r}")
    for resource in manifest.resources:
        if resource.kind.startswith("imsqti"):
            yield from _descriptor(resource)
    yield from _folders(manifest)
    listed = Counter(f.path for r in manifest.resources for f in r.files if f.path)
    for path in (p for p, count in listed.items() if count > 1):
        yield _found(0, "file-listed-twice", f"{path[-80:]!r} is listed {listed[path]} times")


def _found(line: int, rule: str, what: str) -> Finding:
    return Finding(rule, Place(MANIFEST, line), what)


def _organizations(root: etree._Element) -> Iterator[Finding]:
    organizations = root.findall("{*}organizations/{*}organization")
    if len(organizations) > 1:
        yield _found(line_of(organizations[1]), "contents-shape", f"there are {len(organizations)} organizations")
    for organization in organizations:
        top = list(organization.iterchildren("{*}item"))
        if organization.get("structure") != "rooted-hierarchy":
            what = f"the structure of the organization is {organization.get('structure', '')[:40]!r}"
            yield _found(line_of(organization), "contents-shape", what)
        elif len(top) != 1:
            yield _found(line_of(organization), "contents-shape", f"the organization has {len(top)} root items")
        elif top[0].get("identifierref") or top[0].find("{*}title") is not None:
            yield _found(line_of(top[0]), "contents-shape", "the root item has a title or opens something")


def _descriptor(resource: ListedResource) -> Iterator[Finding]:
    """A quiz or bank lists one file, in a folder of its own, and has no href."""
    if len(resource.files) > 1:
        what = f"{resource.ident[:40]!r} lists {len(resource.files)} files, but a quiz lists itself only"
        yield _found(resource.line, "descriptor-files", what)
    if resource.main:
        yield _found(resource.line, "descriptor-href", f"{resource.ident[:40]!r} has an href")
    if any(f.path and "/" not in f.path for f in resource.files):
        yield _found(
            resource.line, "descriptor-at-top", f"the file of {resource.ident[:40]!r} is at the top of the package"
        )


def _folders(manifest: Manifest) -> Iterator[Finding]:
    """Web content in the folder of a quiz."""
    folders = {
        posixpath.dirname(f.path)
        for r in manifest.resources
        if r.kind.startswith("imsqti")
        for f in r.files
        if "/" in f.path and f.path.lower().endswith((".xml", ".qti"))
    }
    for resource in manifest.resources:
        for file in resource.files if resource.kind == "webcontent" else ():
            path = file.path if len(file.path) <= MOST_PATH_LENGTH else ""  # no file has a longer one
            above = [path[:n] for n, sign in enumerate(path) if sign == "/"]
            if not folders.isdisjoint(above):
                what = f"the web content {file.path[-80:]!r} lies in the folder of a quiz"
                yield _found(file.line, "webcontent-inside", what)
