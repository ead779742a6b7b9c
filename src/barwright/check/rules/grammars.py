"""Our RELAX NG grammars: read from the templates folder, fitted to a standard, and compiled once.

Source of the notation: RELAX NG (ISO/IEC 19757-2). The grammars themselves say where their facts are from.
"""

from copy import deepcopy
from functools import cache

from lxml import etree

from barwright.check.reading.edition_names import kebab
from barwright.templates_folder import templates_folder

RNG = "{http://relaxng.org/ns/structure/1.0}"
# Elements of QTI 3 that keep their HTML names.
_HTML_NAMES = (
    "a abbr acronym address article aside audio b bdi bdo big blockquote br caption cite code col colgroup dd details "
    "dfn div dl dt em figcaption figure footer h1 h2 h3 h4 h5 h6 header hr i img kbd label li nav object ol p param "
    "picture pre q rb rp rt rtc ruby samp section small source span strong sub summary sup table tbody td tfoot th "
    "thead tr track tt ul var video"
)
HTML = frozenset(_HTML_NAMES.split())


@cache
def grammar(name: str, namespace: str) -> etree._Element:
    """The grammar of that file name, its elements in `namespace`; `qti3` is `qti2` renamed, with its own defines."""
    if name != "qti3":
        root = _file(name)
    else:
        root = _renamed(_file("qti2"))
        own = {d.get("name"): d for d in root.iterchildren(f"{RNG}define")}
        for define in _file("qti3").iterchildren(f"{RNG}define"):
            replaced = own.get(define.get("name"))
            if replaced is None or define.get("combine"):
                root.append(define)
            else:
                root.replace(replaced, define)
    root.set("ns", namespace)
    return root


@cache
def judge(name: str, namespace: str) -> etree.RelaxNG:
    """The compiled grammar."""
    return etree.RelaxNG(grammar(name, namespace))


@cache
def judge_of_one(name: str, namespace: str, element: str) -> etree.RelaxNG | None:
    """The grammar of one element by itself: what is in its children does not matter; None if it has no such element.

    Only the defines that it needs are compiled, which takes a millisecond instead of fifty.
    """
    root = grammar(name, namespace)
    whole = [deepcopy(e) for e in root.iter(f"{RNG}element") if e.get("name") == element]
    if not whole:
        return None
    defines: dict[str, list[etree._Element]] = {}
    for define in root.iterchildren(f"{RNG}define"):
        defines.setdefault(define.get("name", ""), []).append(define)
    one = etree.Element(root.tag, {str(k): str(v) for k, v in root.attrib.items()})
    choice = etree.SubElement(etree.SubElement(one, f"{RNG}start"), f"{RNG}choice")
    for pattern in whole:
        for inner in pattern.iterdescendants(f"{RNG}element"):
            _emptied(inner)
        choice.append(pattern)
    waiting, taken = list(whole), {"anything"}
    while waiting:
        for ref in waiting.pop().iter(f"{RNG}ref"):
            if ref.get("name", "") not in taken:
                taken.add(ref.get("name", ""))
                for define in map(deepcopy, defines.get(ref.get("name", ""), ())):
                    for inner in define.iter(f"{RNG}element"):
                        _emptied(inner)
                    one.append(define)
                    waiting.append(define)
    one.append(etree.fromstring(_ANYTHING))
    return etree.RelaxNG(one)


_ANYTHING = (
    '<define name="anything" xmlns="http://relaxng.org/ns/structure/1.0"><zeroOrMore><choice><text/>'
    "<attribute><anyName/></attribute>"
    '<element><anyName/><ref name="anything"/></element></choice></zeroOrMore></define>'
)


def _file(name: str) -> etree._Element:
    """One grammar file; its comments are left out."""
    data = (templates_folder() / "grammars" / f"{name}.rng").read_bytes()
    return etree.fromstring(data, etree.XMLParser(remove_comments=True, remove_blank_text=True))


def _renamed(root: etree._Element) -> etree._Element:
    for element in root.iter(f"{RNG}element"):
        name = element.get("name")
        if name and name not in HTML:
            element.set("name", f"qti-{kebab(name)}")
    for element in root.iter(f"{RNG}attribute"):
        name = element.get("name")
        if name:
            element.set("name", kebab(name))
    return root


def _emptied(pattern: etree._Element) -> None:
    """Lets an element pattern allow anything inside."""
    name_class = [c for c in pattern if c.tag == f"{RNG}anyName"]
    for child in list(pattern):
        if child not in name_class:
            pattern.remove(child)
    etree.SubElement(pattern, f"{RNG}ref", {"name": "anything"})
