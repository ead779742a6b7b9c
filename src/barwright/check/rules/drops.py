"""What importers commonly drop or refuse although the standard allows it.

Source: common practice of importers: items before tests, one interaction an item, PNG pictures, no scripts, no SVG or
MathML that the task needs, UTF-8 without DOCTYPE, no extensions. Gap match, inline choice and order are told nothing
of: who uses them has chosen a standard for them. A style sheet is told of where a text cannot do without it.
"""

import re
from collections.abc import Iterator

from lxml import etree

from barwright.check.reading.edition_names import attribute, named, tags
from barwright.check.reading.items2 import interactions_of
from barwright.check.reading.link_targets import target
from barwright.check.reading.standards import namespace_of
from barwright.check.reading.texts import html_root, local
from barwright.check.rules.findings import Finding
from barwright.check.rules.package_part import PackagePart
from barwright.errors import PackageError

_RARE = frozenset(
    (
        "associateInteraction",
        "customInteraction",
        "drawingInteraction",
        "endAttemptInteraction",
        "graphicAssociateInteraction",
        "graphicOrderInteraction",
        "hotspotInteraction",
        "hottextInteraction",
        "matchInteraction",
        "mediaInteraction",
        "portableCustomInteraction",
        "positionObjectInteraction",
        "selectPointInteraction",
        "sliderInteraction",
        "uploadInteraction",
        "response_xy",
        "response_grp",
        "render_hotspot",
        "render_slider",
    )
)
_ACTIVE = frozenset(("script", "iframe", "frame", "form", "embed", "applet", "meta", "base"))
_SPECIAL = frozenset(("svg", "math", "speak"))
_MEDIA = frozenset(("audio", "video", "mataudio", "matvideo", "matapplet", "matapplication"))
_STYLES = frozenset(("style", "link", "stylesheet"))
_BRANCHES = frozenset(("preCondition", "branchRule"))
# Element -> rule and what it is called, for those that need no closer look.
_TOLD = (
    dict.fromkeys(_RARE, ("rare-interaction", "the students answer by <{}>"))
    | dict.fromkeys(_ACTIVE, ("active-content", "the text holds <{}>"))
    | dict.fromkeys(_SPECIAL, ("special-markup", "the text holds <{}>"))
    | dict.fromkeys(_MEDIA, ("media-dropped", "the text holds <{}>"))
    | dict.fromkeys(_STYLES, ("style-dropped", "the look depends on <{}>"))
    | dict.fromkeys(_BRANCHES, ("branching", "the test goes on by <{}>"))
    | dict.fromkeys(("templateProcessing",), ("random-values", "<{}> makes up values"))
    | dict.fromkeys(("include", "matref", "material_ref"), ("included-parts", "<{}> takes a part from elsewhere"))
)

_EXTENSIONS = (
    "customOperator",
    "mat_extension",
    "response_extension",
    "render_extension",
    "var_extension",
    "respcond_extension",
    "itemproc_extension",
    "sectionproc_extension",
    "assessproc_extension",
    "selection_extension",
    "order_extension",
)
_LOOKED_AT = tags((*_TOLD, *_EXTENSIONS, "assessmentItem", "mattext", "matemtext"))


def drops(part: PackagePart) -> Iterator[Finding]:
    """Cautions for a document, each construction once an item."""
    seen: set[tuple[str, str, str]] = set()
    for rule, what, element in _raw(part):
        finding = part.found(rule, what, element)
        sign = (rule, finding.place.item, what)
        if sign not in seen:
            seen.add(sign)
            yield finding


def _raw(part: PackagePart) -> Iterator[tuple[str, str, etree._Element]]:
    for element in part.root.iter(*_LOOKED_AT):
        name = named(element)
        if name == "stylesheet" and dispensable(part, element):
            continue
        if name in _TOLD:
            rule, what = _TOLD[name]
            yield rule, what.format(name), element
        elif name in _EXTENSIONS:
            yield "extension", f"<{name}> is an extension", element
        elif name == "assessmentItem" and attribute(element, "adaptive") == "true":
            yield "adaptive", "the item is adaptive", element
        elif name in ("mattext", "matemtext") and "<" in (element.text or "") and _is_html(element):
            yield from _in_html(element)
    if named(part.root) == "assessmentItem":
        kinds = {named(i) for i in interactions_of(part.root)}
        if len(kinds) > 1:
            yield "mixed-interactions", f"one item is answered by {' and '.join(sorted(kinds))}", part.root


def _is_html(element: etree._Element) -> bool:
    return element.get("texttype", "text/plain").lower() == "text/html"


def _in_html(element: etree._Element) -> Iterator[tuple[str, str, etree._Element]]:
    for inner in html_root(element.text or "").iter("*"):
        name = local(inner).lower()
        if name in _TOLD and namespace_of(inner) == "":
            rule, what = _TOLD[name]
            yield rule, what.format(name), element
        for attribute_name, value in inner.attrib.items():
            plain = str(attribute_name).lower()
            if plain.startswith("on") or str(value).strip().lower().startswith("javascript:"):
                yield "active-content", f"<{name}> has a script in {plain!r}", element


MOST_BYTES = 4096  # a sheet that only lets things shrink is short
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE = re.compile(r"[^{}@]+\{([^{}]*)\}")
# CSS 2.1, CSS Flexible Box 1
_SHRINKING = (
    *("max-width", "min-width:0", "height:auto", "padding:0"),
    *("display:block", "display:flex", "display:inline-flex", "flex-wrap", "flex-direction", "align-items"),
)


def dispensable(part: PackagePart, element: etree._Element) -> bool:
    """Whether nothing is lost on a wide screen when the sheet that this element links to is dropped."""
    path = target(part.path, element.get("href", ""))
    if not 0 < part.files.sizes.get(path, 0) <= MOST_BYTES:
        return False
    try:
        return _only_shrinks(part.files.sheet(path))
    except (PackageError, UnicodeDecodeError):
        return False


def _only_shrinks(sheet: bytes) -> bool:
    text = _COMMENT.sub("", sheet.decode("utf-8"))
    declared = "".join(f"{rule};" for rule in _RULE.findall(text))
    whole = not _RULE.sub("", text).strip()
    told = ["".join(each.split()) for each in declared.split(";") if each.strip()]
    return whole and all(each.startswith(_SHRINKING) for each in told)
