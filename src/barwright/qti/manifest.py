"""The manifest of a package: what is in it, file by file, as each standard wants it said."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lxml import etree

from barwright.qti.xml import (
    CONTENT_PACKAGING,
    CONTENT_PACKAGING_30,
    LOM,
    METADATA_22,
    METADATA_30,
    XSI,
    child,
    document,
    root_element,
    set_text,
)
from barwright.qti.zip_entries import MANIFEST, ZipEntry

_CARTRIDGE_HOME = "http://www.imsglobal.org/profile/cc"
_LOM_LOCATION = "http://www.imsglobal.org/xsd/imsmd_loose_v1p3p2.xsd"


@dataclass(frozen=True, slots=True)
class Packaging:
    """How one standard writes its manifest: namespaces, what it calls itself, and where its schemas are published.

    `qti` is the namespace of what is told of each item; empty where there is no such thing. `lom_first` says whether
    that stands after the general description or before it.
    """

    namespace: str
    lom: str
    schema: str
    version: str
    locations: tuple[str, ...]
    qti: str = ""
    lom_first: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """What a manifest says of one item, for searching: `interactions` as 2.2 names them, one for each in the item."""

    ident: str
    title: str
    keywords: tuple[str, ...]
    interactions: tuple[str, ...]
    feedback: bool


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
    facts: Facts | None = None


@dataclass(frozen=True, slots=True)
class About:
    """What a manifest says of the package as a whole."""

    ident: str
    title: str
    language: str


def _cartridge(minor: int) -> Packaging:
    """Common Cartridge 1.`minor`: the names of all three versions follow one pattern."""
    version = f"ccv1p{minor}"
    namespace = f"http://www.imsglobal.org/xsd/ims{version}/imscp_v1p1"
    lom = f"http://ltsc.ieee.org/xsd/ims{version}/LOM/manifest"
    locations = (
        f"{namespace} {_CARTRIDGE_HOME}/{version}/{version}_imscp_v1p2_v1p0.xsd",
        f"{lom} {_CARTRIDGE_HOME}/{version}/LOM/{version}_lommanifest_v1p0.xsd",
    )
    return Packaging(namespace, lom, "IMS Common Cartridge", f"1.{minor}.0", locations)


# Common Cartridge 1.1, 1.2, 1.3, manifest; IMS Content Packaging 1.1.4 for plain QTI.
CARTRIDGES = {minor: _cartridge(minor) for minor in (1, 2, 3)}
PLAIN = Packaging(
    CONTENT_PACKAGING,
    LOM,
    "IMS Content",
    "1.1.4",
    (f"{CONTENT_PACKAGING} {CONTENT_PACKAGING}.xsd", f"{LOM} {_LOM_LOCATION}"),
)
# QTI 2.2 names of a package of any kind; QTI 3.0 tells tests and banks apart.
QTI22_PACKAGE = Packaging(
    CONTENT_PACKAGING,
    LOM,
    "QTIv2.2 Package",
    "1.0.0",
    (f"{CONTENT_PACKAGING} {CONTENT_PACKAGING}.xsd", f"{LOM} {_LOM_LOCATION}"),
    qti=METADATA_22,
    lom_first=True,
)
QTI30_PACKAGE = Packaging(
    CONTENT_PACKAGING_30,
    LOM,
    "QTI Package",
    "3.0.0",
    (
        f"{CONTENT_PACKAGING_30} https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
        f"{LOM} {_LOM_LOCATION}",
    ),
    qti=METADATA_30,
)
QTI30_BANK = replace(QTI30_PACKAGE, schema="QTI Item Bank")


def manifest(packaging: Packaging, resources: Sequence[Resource], *, about: About, launch: str = "") -> ZipEntry:
    """The manifest entry; `launch` is the resource that a course's contents show, empty for none (a bank)."""
    ns = f"{{{packaging.namespace}}}"
    root = root_element(
        packaging.namespace,
        "manifest",
        attributes={"identifier": f"manifest_{about.ident}", f"{{{XSI}}}schemaLocation": " ".join(packaging.locations)},
        prefixes={"lom": packaging.lom} | ({"qti": packaging.qti} if packaging.qti else {}),
    )
    _metadata(root, packaging, about=about)
    organizations = child(root, f"{ns}organizations")
    if launch:
        tree = {"identifier": "contents", "structure": "rooted-hierarchy"}
        organization = child(organizations, f"{ns}organization", attributes=tree)
        top = child(organization, f"{ns}item", attributes={"identifier": "top"})
        shown = child(top, f"{ns}item", attributes={"identifier": "entry", "identifierref": launch})
        child(shown, f"{ns}title", text=about.title)
    holder = child(root, f"{ns}resources")
    for resource in resources:
        _resource(holder, resource, packaging, language=about.language)
    return ZipEntry(MANIFEST, document(root))


def _metadata(root: etree._Element, packaging: Packaging, *, about: About) -> None:
    ns, lom = f"{{{packaging.namespace}}}", f"{{{packaging.lom}}}"
    metadata = child(root, f"{ns}metadata")
    child(metadata, f"{ns}schema", text=packaging.schema)
    child(metadata, f"{ns}schemaversion", text=packaging.version)
    general = child(child(metadata, f"{lom}lom"), f"{lom}general")
    _add_text(general, f"{lom}title", about.title, lom=lom, language=about.language)
    child(general, f"{lom}language", text=about.language)


def _resource(holder: etree._Element, resource: Resource, packaging: Packaging, *, language: str) -> None:
    ns = f"{{{packaging.namespace}}}"
    attributes = {"identifier": resource.ident, "type": resource.kind}
    if resource.main:
        attributes["href"] = resource.main
    made = child(holder, f"{ns}resource", attributes=attributes)
    if resource.facts:
        _add_facts(made, resource.facts, packaging, language=language)
    for path in resource.files:
        child(made, f"{ns}file", attributes={"href": path})
    for ident in resource.needs:
        child(made, f"{ns}dependency", attributes={"identifierref": ident})


def _add_facts(resource: etree._Element, facts: Facts, packaging: Packaging, *, language: str) -> None:
    metadata = _empty_facts(resource, facts, packaging, language=language)
    general = metadata[0 if packaging.lom_first else 1][0]
    set_text(general[0][0], facts.ident)
    set_text(general[1][0], facts.title)
    lom = f"{{{packaging.lom}}}"
    for keyword in facts.keywords:
        _add_text(general, f"{lom}keyword", keyword, lom=lom, language=language)


def _empty_facts(resource: etree._Element, facts: Facts, packaging: Packaging, *, language: str) -> etree._Element:
    """Adds all that is told of an item but its ident, title and keywords."""
    interactions = facts.interactions
    metadata = child(resource, f"{{{packaging.namespace}}}metadata")
    qti, lom = f"{{{packaging.qti}}}", f"{{{packaging.lom}}}"
    told = child(metadata, f"{qti}qtiMetadata")
    child(told, f"{qti}timeDependent", text="false")
    child(told, f"{qti}composite", text="true" if len(interactions) > 1 else "false")
    for interaction in dict.fromkeys(interactions):
        child(told, f"{qti}interactionType", text=interaction)
    child(told, f"{qti}feedbackType", text="nonadaptive" if facts.feedback else "none")
    child(told, f"{qti}solutionAvailable", text="true")
    child(told, f"{qti}scoringMode", text="responseprocessing")
    child(told, f"{qti}toolName", text="Barwright")
    general = child(child(metadata, f"{lom}lom"), f"{lom}general")
    child(child(general, f"{lom}identifier"), f"{lom}entry")
    _add_text(general, f"{lom}title", "", lom=lom, language=language)
    child(general, f"{lom}language", text=language)
    if packaging.lom_first:
        metadata.append(told)
    return metadata


def _add_text(parent: etree._Element, tag: str, text: str, *, lom: str, language: str) -> None:
    child(child(parent, tag), f"{lom}string", text=text, attributes={"language": language})
