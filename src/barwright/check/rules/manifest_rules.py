"""What is wrong with a manifest: what it calls itself, its resources and files, and the links between them.

Sources: IMS Content Packaging 1.1.4; QTI 2.2 and 3.0 package schemas and examples (what each calls itself).
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from lxml import etree

from barwright.check.reading.manifests import (
    ListedFile,
    ListedResource,
    Manifest,
    line_of,
)
from barwright.check.reading.package_files import MANIFEST, Files, is_system_file
from barwright.check.reading.standards import Standard
from barwright.check.rules.findings import Finding, Place
from barwright.check.rules.package_part import quoted

MOST_STEPS = 500_000  # from resource to resource; the test of a quiz with 1,000 items takes 10,000


def listed_paths(manifest: Manifest) -> frozenset[str]:
    """Every path that a resource lists or names."""
    return frozenset((MANIFEST, *(p for r in manifest.resources for p in r.paths)))


def manifest_findings(manifest: Manifest, files: Files, standard: Standard) -> Iterator[Finding]:
    """What is wrong with the manifest of a package of that standard, but for the structure of its XML."""
    yield from _calls_itself(manifest, standard)
    idents = Counter(r.ident for r in manifest.resources)
    lines = {r.ident: r.line for r in reversed(manifest.resources)}
    for ident in (i for i, count in idents.items() if count > 1):
        yield _found(lines[ident], "resource-twice", f"two resources have the identifier {ident[:40]!r}")
    names = {p.lower(): p for p in files.sizes} | dict(zip(files.sizes, files.sizes, strict=True))
    known = frozenset(idents)
    for resource in manifest.resources:
        yield from _resource(resource, names, standard, known)
    yield from _contents(manifest.root, known)


def _found(line: int, rule: str, what: str) -> Finding:
    return Finding(rule, Place(MANIFEST, line), what)


def _calls_itself(manifest: Manifest, standard: Standard) -> Iterator[Finding]:
    root, (names, version) = manifest.root, standard.schema
    said = tuple(
        " ".join((root.findtext(f"{{*}}metadata/{{*}}{n}") or "").split()) for n in ("schema", "schemaversion")
    )
    line = next((line_of(e) for e in root.iterchildren("{*}metadata")), line_of(root))
    if names and (said[0] not in names or said[1] != version):
        what = (
            f"the manifest calls itself {said[0][:40]!r} {said[1][:20]!r}; {standard.name} is {names[0]!r} {version!r}"
        )
        yield _found(line, "schema-name", what)
    if standard.cartridge and not manifest.title:
        yield _found(line, "no-title", "the metadata of the cartridge has no title")
    if standard.ident == "qti21":
        yield _found(0, "older-standard", "the package is QTI 2.0 or 2.1")


def _resource(
    resource: ListedResource, names: Mapping[str, str], standard: Standard, idents: frozenset[str]
) -> Iterator[Finding]:
    """`names` are the paths of the package by themselves and by their lower case."""
    if standard.kinds and resource.kind not in standard.kinds:
        what = f"the type {resource.kind[:60]!r} of {resource.ident[:40]!r} is none of {standard.name}"
        yield _found(resource.line, "resource-type", what)
    if "qti" in resource.kind and not resource.paths:
        yield _found(resource.line, "resource-without-file", f"the resource {resource.ident[:40]!r} lists no file")
    for listed in resource.files:
        yield from _listed(listed, names)
    own = {f.path for f in resource.files}
    if resource.main and resource.main not in own and not standard.cartridge and resource.files:
        what = f"{resource.main[-60:]!r} is the href of {resource.ident[:40]!r}, but not among its files"
        yield _found(resource.line, "href-unlisted", what)
    for need in resource.needs:
        if need not in idents:
            what = f"{resource.ident[:40]!r} depends on {need[:40]!r}, which is not there"
            yield _found(resource.line, "dependency-unknown", what)


def _listed(listed: ListedFile, names: Mapping[str, str]) -> Iterator[Finding]:
    if not listed.path or listed.path == ".." or listed.path.startswith(("../", "/")):
        yield _found(listed.line, "file-outside", f"the file {listed.link[:80]!r} is not in the package")
    elif names.get(listed.path) != listed.path:
        like = names.get(listed.path.lower(), "")
        hint = f" ({like!r} is: upper and lower case count)" if like else ""
        yield _found(
            listed.line, "file-missing", f"the file {listed.path[-80:]!r} is listed but not in the package{hint}"
        )


def _contents(root: etree._Element, idents: frozenset[str]) -> Iterator[Finding]:
    for item in root.iter("{*}item"):
        ref = item.get("identifierref")
        if ref and ref not in idents:
            yield _found(line_of(item), "contents-link-unknown", f"an entry opens {ref[:40]!r}, which is not there")


def file_findings(files: Files, listed: frozenset[str], used: frozenset[str]) -> Iterator[Finding]:
    """What is wrong with the names of files, and which of them the manifest does not list; `used` are linked to."""
    for path in files.twice:
        yield Finding("file-twice", Place(path), f"the zip holds {path[-80:]!r} more than once")
    lower: dict[str, list[str]] = {}
    for path in files.sizes:
        lower.setdefault(path.lower(), []).append(path)
    for paths in (p for p in lower.values() if len(p) > 1):
        yield Finding("names-differ-in-case", Place(paths[0]), f"{quoted(paths)} differ in upper and lower case only")
    missing = {p.lower() for p in listed if p not in files.sizes}  # told there, with the name that is there
    system = dict.fromkeys(p for p in files.sizes if is_system_file(p))
    if system:
        first = next(iter(system))
        yield Finding("system-file", Place(first), f"the package holds {quoted(list(system), 3)}")
    for path in files.sizes:
        if path in system:
            continue
        if not path.isascii() or any(c in ' %#?&*:;"<>|+' for c in path):
            yield Finding("unsafe-name", Place(path), f"the name {path[-80:]!r} holds a blank or a special sign")
        if path.lower().endswith((".zip", ".imscc", ".rar", ".7z", ".gz")):
            yield Finding("nested-archive", Place(path), f"{path[-80:]!r} is an archive inside the package")
        if path not in listed and path.lower() not in missing:
            if path in used:
                yield Finding(
                    "picture-unlisted", Place(path), f"{path[-80:]!r} is shown but not listed in the manifest"
                )
            else:
                yield Finding("file-unlisted", Place(path), f"{path[-80:]!r} is not listed in the manifest")


def dependency_findings(manifest: Manifest, uses: Mapping[str, Sequence[str]]) -> Iterator[Finding]:
    """Resources whose files use what neither they nor those they depend on list; `uses` maps a path to paths."""
    by_ident = {r.ident: r for r in reversed(manifest.resources)}  # of two with one identifier the first
    everywhere = listed_paths(manifest)
    left = MOST_STEPS
    for resource in manifest.resources:
        wanted = {p for path in resource.paths for p in uses.get(path, ())}
        if not wanted or left <= 0:
            continue
        idents = _reachable(resource.ident, by_ident)
        left -= sum(1 + len(by_ident[i].needs) + len(by_ident[i].files) for i in idents)
        reached = {p for ident in idents for p in by_ident[ident].paths}
        for path in sorted((wanted - reached) & everywhere):
            what = f"{resource.ident[:40]!r} uses {path[-60:]!r} but does not depend on the resource that lists it"
            yield _found(resource.line, "dependency-missing", what)


def _reachable(ident: str, by_ident: Mapping[str, ListedResource]) -> set[str]:
    seen: set[str] = set()
    waiting = [ident]
    while waiting:
        each = waiting.pop()
        if each in by_ident and each not in seen:
            seen.add(each)
            waiting += by_ident[each].needs
    return seen
