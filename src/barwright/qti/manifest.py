"""The manifest of a package: what is in it, file by file, as each standard wants it said."""

from collections.abc import Sequence
from dataclasses import dataclass

from lxml import etree

from barwright.qti.package import MANIFEST, Entry
from barwright.qti.xml import CONTENT_PACKAGING, LOM, XSI, child, document, root_element

_CARTRIDGE_HOME = "http://www.imsglobal.org/profile/cc"


@dataclass(frozen=True, slots=True)
class Dialect:
    """How one standard writes its manifest: namespaces, what it calls itself, and where its schemas are published."""

    namespace: str
    lom: str
    schema: str
    version: str
    locations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Resource:
    """One resource: its type, its files (paths from the top of the package) and the resources it needs.

    `main` names the file that is the resource itself; empty where the standard allows no `href`.
    """

    ident: str
    kind: str
    files: tuple[str, ...]
    main: str = ""
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class About:
    """What a manifest says of the package as a whole."""

    ident: str
    title: str
    language: str


def _cartridge(minor: int) -> Dialect:
    """Common Cartridge 1.`minor`: the names of all three versions follow one pattern."""
    version = f"ccv1p{minor}"
    namespace = f"http://www.imsglobal.org/xsd/ims{version}/imscp_v1p1"
    lom = f"http://ltsc.ieee.org/xsd/ims{version}/LOM/manifest"
    locations = (
        f"{namespace} {_CARTRIDGE_HOME}/{version}/{version}_imscp_v1p2_v1p0.xsd",
        f"{lom} {_CARTRIDGE_HOME}/{version}/LOM/{version}_lommanifest_v1p0.xsd",
    )
    return Dialect(namespace, lom, "IMS Common Cartridge", f"1.{minor}.0", locations)


# Common Cartridge 1.1, 1.2, 1.3, manifest; IMS Content Packaging 1.1.4 for plain QTI.
CARTRIDGES = {minor: _cartridge(minor) for minor in (1, 2, 3)}
PLAIN = Dialect(
    CONTENT_PACKAGING,
    LOM,
    "IMS Content",
    "1.1.4",
    (f"{CONTENT_PACKAGING} {CONTENT_PACKAGING}.xsd", f"{LOM} http://www.imsglobal.org/xsd/imsmd_loose_v1p3p2.xsd"),
)


def manifest(dialect: Dialect, resources: Sequence[Resource], *, about: About, launch: str = "") -> Entry:
    """The manifest entry; `launch` is the resource that a course's contents show, empty for none (a bank)."""
    ns = f"{{{dialect.namespace}}}"
    root = root_element(
        dialect.namespace,
        "manifest",
        attributes={"identifier": f"manifest_{about.ident}", f"{{{XSI}}}schemaLocation": " ".join(dialect.locations)},
        prefixes={"lom": dialect.lom},
    )
    _metadata(root, dialect, about=about)
    organizations = child(root, f"{ns}organizations")
    if launch:
        tree = {"identifier": "contents", "structure": "rooted-hierarchy"}
        organization = child(organizations, f"{ns}organization", attributes=tree)
        top = child(organization, f"{ns}item", attributes={"identifier": "top"})
        shown = child(top, f"{ns}item", attributes={"identifier": "entry", "identifierref": launch})
        child(shown, f"{ns}title", text=about.title)
    holder = child(root, f"{ns}resources")
    for resource in resources:
        _resource(holder, resource, ns=ns)
    return Entry(MANIFEST, document(root))


def _metadata(root: etree._Element, dialect: Dialect, *, about: About) -> None:
    ns, lom = f"{{{dialect.namespace}}}", f"{{{dialect.lom}}}"
    metadata = child(root, f"{ns}metadata")
    child(metadata, f"{ns}schema", text=dialect.schema)
    child(metadata, f"{ns}schemaversion", text=dialect.version)
    general = child(child(metadata, f"{lom}lom"), f"{lom}general")
    title = child(general, f"{lom}title")
    child(title, f"{lom}string", text=about.title, attributes={"language": about.language})
    child(general, f"{lom}language", text=about.language)


def _resource(holder: etree._Element, resource: Resource, *, ns: str) -> None:
    attributes = {"identifier": resource.ident, "type": resource.kind}
    if resource.main:
        attributes["href"] = resource.main
    made = child(holder, f"{ns}resource", attributes=attributes)
    for path in resource.files:
        child(made, f"{ns}file", attributes={"href": path})
    for ident in resource.needs:
        child(made, f"{ns}dependency", attributes={"identifierref": ident})
