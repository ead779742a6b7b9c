"""An independent reader of QTI 2.2 and 3.0 packages: no writer is imported, and response processing is carried out.

Names are read as in 2.2, whichever version a package is in. NULL is None; containers are tuples.
"""

import io
import posixpath
import re
import zipfile
from collections import Counter
from dataclasses import dataclass
from xml.etree import ElementTree as ET

LANG = "{http://www.w3.org/XML/1998/namespace}lang"
Value = str | float | tuple[str, ...] | bool | None


def camel(name: str) -> str:
    head, *rest = name.rpartition("}")[2].removeprefix("qti-").split("-")
    return head + "".join(word.capitalize() for word in rest)


def camel_tree(element: ET.Element) -> ET.Element:
    """A copy without namespaces and with the names of 2.2; `data-` attributes keep theirs."""
    attributes = {n if n.startswith(("{", "data-")) else camel(n): v for n, v in element.attrib.items()}
    made = ET.Element(camel(element.tag), attributes)
    made.text, made.tail = element.text, element.tail
    made.extend(camel_tree(e) for e in element)
    return made


@dataclass
class Shown:
    """Text by paragraph, and each picture as (bytes, alt, width, height)."""

    texts: list[str]
    pictures: list[tuple[bytes, str, str, str]]


class Package:
    """The entries of a zip, its items by identifier, and its test or None."""

    def __init__(self, data: bytes) -> None:
        archive = zipfile.ZipFile(io.BytesIO(data))
        self.entries = {name: archive.read(name) for name in archive.namelist()}
        self.manifest = camel_tree(ET.fromstring(self.entries["imsmanifest.xml"]))
        resources = self.manifest.findall("resources/resource")
        parsed = {
            r.get("href"): camel_tree(ET.fromstring(self.entries[r.get("href")]))
            for r in resources
            if r.get("type").startswith("imsqti_")
        }
        self.resources = {r.get("href"): r for r in resources}
        self.paths = {root.get("identifier"): path for path, root in parsed.items() if root.tag == "assessmentItem"}
        self.items = {ident: parsed[path] for ident, path in self.paths.items()}
        self.test = next((root for root in parsed.values() if root.tag == "assessmentTest"), None)

    def shown(self, ident: str, holder: ET.Element) -> Shown:
        """What stands in an element, without what is in an interaction within it."""
        texts, pictures = [], []
        for element in [holder, *outside(holder)]:
            if element.tag in ("img", "object"):
                link, alt = element.get("src") or element.get("data"), element.get("alt") or element.text
                path = posixpath.normpath(posixpath.join(posixpath.dirname(self.paths[ident]), link))
                pictures.append((self.entries[path], alt, element.get("width"), element.get("height")))
            elif (element.text or "").strip():
                texts.append(element.text)
        return Shown(texts, pictures)

    def stem(self, ident: str) -> Shown:
        return self.shown(ident, self.items[ident].find("itemBody"))

    def interactions(self, ident: str) -> list[ET.Element]:
        return [e for e in self.items[ident].find("itemBody").iter() if e.tag.endswith("Interaction")]

    def choices(self, ident: str) -> dict[str, Shown]:
        return {
            c.get("identifier"): self.shown(ident, c)
            for i in self.interactions(ident)
            for c in i.iter()
            if c.tag in ("simpleChoice", "gapText", "gapImg", "inlineChoice")
        }

    def answered(self, ident: str, responses: dict[str, Value]) -> tuple[float, list[str]]:
        """Score and feedback texts for these responses; a response that is left out is NULL."""
        run = Run(self.items[ident], responses)
        told = [self.shown(ident, f).texts[0] for f in self.items[ident].findall("modalFeedback") if run.shows(f)]
        return run.values["SCORE"], told


def outside(holder: ET.Element) -> list[ET.Element]:
    """All elements below, but for interactions."""
    inner = [e for e in holder if not e.tag.endswith("Interaction")]
    return [each for e in inner for each in (e, *outside(e))]


class Run:
    """One run of an item's response processing."""

    def __init__(self, item: ET.Element, responses: dict[str, Value]) -> None:
        self.declared = {d.get("identifier"): d for d in item if d.tag.endswith("Declaration")}
        outcomes = {i for i, d in self.declared.items() if d.tag == "outcomeDeclaration"}
        assert set(responses) <= set(self.declared) - outcomes
        self.values: dict[str, Value] = dict.fromkeys(self.declared)
        self.values.update(responses)
        for ident in outcomes:
            default = self.declared[ident].find("defaultValue/value")
            self.values[ident] = None if default is None else float(default.text)
        for rule in item.find("responseProcessing"):
            self.carry_out(rule)

    def shows(self, feedback: ET.Element) -> bool:
        value = self.values[feedback.get("outcomeIdentifier")]
        assert feedback.get("showHide") == "show"
        return feedback.get("identifier") in (value if isinstance(value, tuple) else (value,))

    def carry_out(self, rule: ET.Element) -> None:
        if rule.tag == "setOutcomeValue":
            (expression,) = rule
            value = self.value(expression)
            outcome = self.declared[rule.get("identifier")]
            assert outcome.tag == "outcomeDeclaration"
            assert value is None or isinstance(value, tuple) == (outcome.get("cardinality") == "multiple")
            self.values[rule.get("identifier")] = value
            return
        assert rule.tag == "responseCondition"
        for branch in rule:
            assert branch.tag in ("responseIf", "responseElseIf", "responseElse")
            test, rules = (None, list(branch)) if branch.tag == "responseElse" else (branch[0], list(branch)[1:])
            if test is None or self.value(test) is True:
                for each in rules:
                    self.carry_out(each)
                return

    def value(self, e: ET.Element) -> Value:
        inner = [self.value(child) for child in e]
        match e.tag:
            case "variable":
                return self.values[e.get("identifier")]
            case "correct":
                right = tuple(v.text for v in self.declared[e.get("identifier")].findall("correctResponse/value"))
                return right[0] if self.declared[e.get("identifier")].get("cardinality") == "single" else right
            case "baseValue":
                return float(e.text) if e.get("baseType") == "float" else e.text
            case "isNull":
                return inner[0] in (None, (), "")
            case "not":
                return None if inner[0] is None else not inner[0]
            case "and":
                return False if False in inner else None if None in inner else True
            case "or":
                return True if True in inner else None if None in inner else False
            case "mapResponse":
                return self.mapped(self.declared[e.get("identifier")], self.values[e.get("identifier")])
        if None in inner:
            return None
        one, *more = inner
        match e.tag:
            case "match":
                response = self.declared[e[0][0].get("identifier") if len(e[0]) else e[0].get("identifier")]
                loose = response.get("cardinality") == "multiple"
                return Counter(one) == Counter(more[0]) if loose else one == more[0]
            case "member":
                return one in more[0]
            case "stringMatch":
                assert e.get("caseSensitive") == "false"
                return one.casefold() == more[0].casefold()
            case "gt":
                return one > more[0]
            case "sum":
                return sum(inner)
            case "index":
                place = int(e.get("n"))
                return one[place - 1] if place <= len(one) else None
        raise AssertionError(f"expression {e.tag} is not known here")

    def mapped(self, declaration: ET.Element, value: Value) -> float:
        mapping = declaration.find("mapping")
        total = 0.0
        for each in () if value is None else dict.fromkeys(value if isinstance(value, tuple) else (value,)):
            total += next(
                (float(m.get("mappedValue")) for m in mapping if same_key(m, each)), float(mapping.get("defaultValue"))
            )
        return min(max(total, float(mapping.get("lowerBound"))), float(mapping.get("upperBound")))


def same_key(entry: ET.Element, value: str) -> bool:
    """Whether a map entry is for that value; case does not matter unless it says so."""
    if entry.get("caseSensitive") == "true":
        return entry.get("mapKey") == value
    return entry.get("mapKey").casefold() == re.sub(r"\s", " ", value).casefold()
