"""Which standard a package follows, and what each calls its manifest, its resources and its documents.

Sources: Common Cartridge 1.1 to 1.3 (resource types follow one pattern); IMS Content Packaging 1.1.4; QTI 2.2 and 3.0
package schemas and published examples. QTI 2.0 and 2.1 have the elements of 2.2 in another namespace.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from lxml import etree

from barwright.check.reading.texts import local

QTI12 = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2"
QTI20 = "http://www.imsglobal.org/xsd/imsqti_v2p0"
QTI21 = "http://www.imsglobal.org/xsd/imsqti_v2p1"
QTI22 = "http://www.imsglobal.org/xsd/imsqti_v2p2"
QTI30 = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
PACKAGING = "http://www.imsglobal.org/xsd/imscp_v1p1"
PACKAGING30 = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
_CARTRIDGE = re.compile(r"http://www\.imsglobal\.org/xsd/imsccv1p([123])/imscp_v1p1")


@dataclass(frozen=True, slots=True)
class Standard:
    """One standard: its name, the edition of QTI in its documents, and namespaces of manifest and documents.

    `kinds` are the resource types that are allowed (empty: any), `schema` what the manifest says of itself (empty:
    anything).
    """

    ident: str
    name: str
    edition: Literal["1.2", "2", "3"]
    packaging: str
    namespace: str
    schema: tuple[tuple[str, ...], str] = ((), "")
    kinds: frozenset[str] = frozenset()

    @property
    def cartridge(self) -> bool:
        """Whether it is a Common Cartridge, with its narrower rules."""
        return self.ident.startswith("cc")


def _cartridge(minor: int) -> Standard:
    version = f"1.{minor}"
    kinds = {
        f"imsqti_xmlv1p2/imscc_xmlv1p{minor}/assessment",
        f"imsqti_xmlv1p2/imscc_xmlv1p{minor}/question-bank",
        f"associatedcontent/imscc_xmlv1p{minor}/learning-application-resource",
        "webcontent",
        f"imswl_xmlv1p{minor}",
        f"imsdt_xmlv1p{minor}",
        "imsbasiclti_xmlv1p0",
    }
    packaging = f"http://www.imsglobal.org/xsd/imsccv1p{minor}/imscp_v1p1"
    schema = (("IMS Common Cartridge",), f"{version}.0")
    return Standard(f"cc1{minor}", f"Common Cartridge {version}", "1.2", packaging, QTI12, schema, frozenset(kinds))


_ROLES = ("item", "test", "section", "resprocessing", "outcomes", "stimulus", "fragment", "rptemplate")
_SHARED = (
    "webcontent",
    "controlfile",
    "associatedcontent/learning-application-resource",
    "resourcemetadata/xml",
    "resourceextmetadata/xml",
    "qtiusagedata/xml",
    "pls",
    "css2",
    "css3",
    "extension",
)
_NAMES30 = tuple(
    f"QTI {what}" for what in ("Package", "Test Bank", "Item Bank", "Object Bank", "Test", "Section", "Item")
)


def _kinds(version: str, *more: str) -> frozenset[str]:
    return frozenset((*(f"imsqti_{role}_xmlv{version}" for role in _ROLES), *_SHARED, *more))


STANDARDS = {
    s.ident: s
    for s in (
        *(_cartridge(minor) for minor in (1, 2, 3)),
        Standard("qti12", "plain QTI 1.2", "1.2", PACKAGING, QTI12),
        Standard("qti21", "QTI 2.1", "2", PACKAGING, QTI21),
        Standard("qti22", "QTI 2.2", "2", PACKAGING, QTI22, (("QTIv2.2 Package",), "1.0.0"), _kinds("2p2")),
        Standard(
            "qti30", "QTI 3.0", "3", PACKAGING30, QTI30, (_NAMES30, "3.0.0"), _kinds("3p0", "imsbasiclti_xmlv1p3")
        ),
    )
}
_BY_NAMESPACE = {QTI12: "qti12", QTI20: "qti21", QTI21: "qti21", QTI22: "qti22", QTI30: "qti30"}
# Sign in a resource type -> standard, for manifests whose namespace serves several.
_BY_KIND = {"xmlv3p0": "qti30", "xmlv2p2": "qti22", "xmlv2p1": "qti21", "xmlv2p0": "qti21", "imsqti_xmlv1p": "qti12"}


def namespace_of(element: etree._Element) -> str:
    """The namespace of an element, empty if it has none."""
    tag = str(element.tag)
    return tag[1:].partition("}")[0] if tag.startswith("{") else ""


def standard_of_manifest(root: etree._Element, kinds: Iterable[str]) -> Standard | None:
    """The standard of a package by its manifest and the types of its resources; None if it is none of ours."""
    namespace = namespace_of(root)
    cartridge = _CARTRIDGE.fullmatch(namespace)
    if cartridge:
        return STANDARDS[f"cc1{cartridge[1]}"]
    if namespace == PACKAGING30:
        return STANDARDS["qti30"]
    together = " ".join(kinds)
    return next((STANDARDS[ident] for sign, ident in _BY_KIND.items() if sign in together), None)


def standard_of_document(root: etree._Element) -> Standard | None:
    """The standard of one document by its root; None if it is no QTI document. QTI 1.2 often has no namespace."""
    if local(root) == "questestinterop":
        return STANDARDS["qti12"]
    ident = _BY_NAMESPACE.get(namespace_of(root))
    return STANDARDS[ident] if ident and ident != "qti12" else None
