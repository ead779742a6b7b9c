"""An independent reader of QTI 1.2.1 packages: no writer is imported, and response processing is carried out."""

import io
import posixpath
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from lxml import html

NS = {"q": "http://www.imsglobal.org/xsd/ims_qtiasiv1p2"}


@dataclass
class Shown:
    """Text by paragraph, and each picture as (bytes, alt, width, height)."""

    texts: list[str]
    pictures: list[tuple[bytes, str, str, str]]


class Package:
    """The entries of a zip, and the items of its one QTI document."""

    def __init__(self, data: bytes) -> None:
        archive = zipfile.ZipFile(io.BytesIO(data))
        self.entries = {name: archive.read(name) for name in archive.namelist()}
        self.path = next(n for n in self.entries if n.endswith(".xml") and n != "imsmanifest.xml")
        self.root = ET.fromstring(self.entries[self.path])
        self.items = {item.get("ident"): item for item in self.root.iter(f"{{{NS['q']}}}item")}

    def shown(self, material: ET.Element) -> Shown:
        text = material.find("q:mattext", NS)
        if text.get("texttype") == "text/plain":
            return Shown([text.text], [])
        root = html.fragment_fromstring(text.text, create_parent="main")
        pictures = [
            (self.picture(i.get("src")), i.get("alt"), i.get("width"), i.get("height")) for i in root.iter("img")
        ]
        return Shown([p.text_content() for p in root.iter("p") if p.find("img") is None], pictures)

    def picture(self, link: str) -> bytes:
        top = "$IMS-CC-FILEBASE$/"
        path = link.removeprefix(top) if link.startswith(top) else posixpath.join(posixpath.dirname(self.path), link)
        return self.entries[posixpath.normpath(path)]

    def stem(self, ident: str) -> Shown:
        return self.shown(self.items[ident].find("q:presentation/q:material", NS))

    def choices(self, ident: str) -> dict[str, Shown]:
        labels = self.items[ident].iterfind(".//q:response_label", NS)
        return {label.get("ident"): self.shown(label.find("q:material", NS)) for label in labels}

    def answered(self, ident: str, *answer: str, other_is_rest: bool = False) -> tuple[int, list[str]]:
        """Score and feedback texts; `other` holds always, or with `other_is_rest` only if nothing held before."""
        item, score, said, held = self.items[ident], 0, [], False
        for condition in item.iterfind("q:resprocessing/q:respcondition", NS):
            tests = condition.find("q:conditionvar", NS)
            if all(holds(t, answer, not (other_is_rest and held)) for t in tests):
                held = True
                score = next((int(s.text) for s in condition.iterfind("q:setvar", NS)), score)
                said += [d.get("linkrefid") for d in condition.iterfind("q:displayfeedback", NS)]
                if condition.get("continue") == "No":
                    break
        texts = {f.get("ident"): f.find("q:material", NS) for f in item.iterfind("q:itemfeedback", NS)}
        return score, [self.shown(texts[name]).texts[0] for name in said]


def holds(test: ET.Element, answer: tuple[str, ...], other: bool) -> bool:
    """Whether one test holds; `other` is what the element of that name comes to."""
    inner: Iterator[bool] = (holds(t, answer, other) for t in test)
    name = test.tag.rpartition("}")[2]
    if name == "varequal":
        same = str.casefold if test.get("case") == "No" else str
        return same(test.text) in map(same, answer)
    return {"and": all, "or": any, "not": lambda i: not next(i), "other": lambda _: other}[name](inner)
