"""Which grammar judges which document, and how its faults are told as findings."""

from collections.abc import Iterator, Mapping

from barwright.check.reading.edition_names import named
from barwright.check.reading.package_files import MANIFEST
from barwright.check.reading.standards import QTI12, namespace_of
from barwright.check.reading.texts import local
from barwright.check.rules.findings import Finding
from barwright.check.rules.part import Part
from barwright.check.rules.structure import Fault, structure_faults

_METADATA = ("http://www.imsglobal.org/xsd/imsqti_metadata_v2p2", "http://www.imsglobal.org/xsd/imsqti_metadata_v3p0")
_BY_EDITION: Mapping[str, str] = {"2": "qti2", "3": "qti3"}
# A missing alt is told with the pictures, and the metadata fields of a cartridge by name: each in better words.
_TOLD_ELSEWHERE = (
    ("missing-attribute", "img", "'alt'"),
    ("wrong-value", "fieldlabel", ""),
    ("wrong-value", "fieldentry", ""),
)


def schema_findings(part: Part) -> Iterator[Finding]:
    """The faults of structure of a document or manifest."""
    if part.path == MANIFEST and not part.files.single:
        yield from _told(
            part, structure_faults(part.root, "manifest", namespace_of(part.root), free=part.document.free)
        )
        for metadata in part.root.iter("{*}qtiMetadata"):
            if namespace_of(metadata) in _METADATA:
                yield from _told(part, structure_faults(metadata, "qti-metadata", namespace_of(metadata)))
        return
    namespace = namespace_of(part.root)
    if local(part.root) == "questestinterop":
        name = "cartridge-qti12" if part.profiled else "qti12"
        if part.profiled and namespace != QTI12:
            what = f"the namespace of the quiz is {namespace[:80]!r}; a cartridge wants {QTI12!r}"
            yield part.found("wrong-value", what, part.root)
    elif namespace == part.standard.namespace or part.standard.ident == "qti21":
        name = _BY_EDITION[part.standard.edition]
    else:
        what = f"<{named(part.root)}> is in the namespace {namespace[:80]!r}, not that of {part.standard.name}"
        yield part.found("wrong-value", what, part.root)
        return
    yield from _told(part, structure_faults(part.root, name, namespace, free=part.document.free))


def _told(part: Part, faults: tuple[Fault, ...]) -> Iterator[Finding]:
    for fault in faults:
        name = local(fault.element)
        if any(f == fault.kind and name == e and a in fault.words for f, e, a in _TOLD_ELSEWHERE):
            continue
        # QTI 2 lets any attribute through, so a strange one is no error there.
        open_ended = part.standard.edition == "2" and part.path != MANIFEST
        rule = "passed-over-attribute" if fault.kind == "unknown-attribute" and open_ended else fault.kind
        yield part.found(rule, fault.words, fault.element)
