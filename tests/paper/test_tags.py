"""The tags of printed pages, walked by a reader of its own: what a screen reader is told, in order, and nothing beside.

ISO 14289-1:2014 (PDF/UA-1): 5 (identification), 7.1 (everything is tagged or an artifact; title; MarkInfo), 7.2
(language), 7.3 (figures), 7.4.2 (headings in order), 7.21.4.1 (fonts embedded). ISO 32000-1, 14.7.4.4: each piece of
marked content belongs to one element.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pikepdf
import pytest

from barwright.items.form import Form
from barwright.tasks.packing import Order
from barwright.tasks.sheet import sheet
from barwright.wording.worded import WordedItem
from paper.printed import BLUEPRINTS, UNITS, Pdf, first_form, on_paper

# ISO 32000-1, table 340 and 14.8.4: what holds content itself; all else only groups.
HOLDING = {"H1", "H2", "H3", "P", "Span", "Strong", "Em", "Figure", "TD", "TH", "Lbl", "LBody"}
GROUPING = {"Document", "Div", "Table", "THead", "TBody", "TR", "L", "LI", "Part", "Sect"}
# Operators that paint: ISO 32000-1, annex A.
PAINTING = {"Tj", "TJ", "'", '"', "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Do", "sh", "EI"}


@dataclass(frozen=True)
class Told:
    """A piece of marked content as the tags tell it: the element that holds it, its language, and its text."""

    kind: str
    language: str
    text: str


@dataclass(frozen=True)
class Marked:
    """What a page paints, by the number of its marked content; what is painted outside of any, and is no artifact."""

    texts: dict[int, str]
    loose: list[str]


def marked(page: pikepdf.Page, maps: dict[str, dict[bytes, str]]) -> Marked:
    texts: dict[int, str] = {}
    loose: list[str] = []
    inside: list[int | None] = []  # the number of each open sequence; None: an artifact
    table: dict[bytes, str] = {}
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        if name in ("BDC", "BMC"):
            artifact = str(operands[0]) == "/Artifact"
            inside.append(None if artifact else int(operands[1].MCID))
        elif name == "EMC":
            inside.pop()
        elif name == "Tf":
            table = maps[str(operands[0])]
        elif name in PAINTING:
            if not inside:
                loose.append(name)
            elif (number := inside[-1]) is not None:
                parts = operands[0] if name == "TJ" else operands if name == "Tj" else []
                data = b"".join(bytes(part) for part in parts if isinstance(part, pikepdf.String))
                text = "".join(table.get(data[n : n + 2], "\ufffd") for n in range(0, len(data), 2))
                texts[number] = texts.get(number, "") + text
    return Marked(texts, loose)


class Tags:
    """The structure tree of a file in reading order."""

    def __init__(self, found: Pdf) -> None:
        self.root = found.root
        self.pages = {page.objgen: marked(page, found.maps(page)) for page in found.file.pages}
        self.used: list[tuple[object, int]] = []
        self.figures: list[str] = []
        self.headings: list[str] = []
        self.kinds: set[str] = set()
        self.told = list(self._below(self.root.StructTreeRoot, "", str(self.root.Lang), None))

    def _below(self, parent: pikepdf.Object, kind: str, language: str, page: object) -> Iterator[Told]:
        kids = parent.get("/K", [])
        for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                inner = str(kid.S)[1:]
                self.kinds.add(inner)
                if inner == "Figure":
                    self.figures.append(str(kid.Alt))
                if inner in ("H1", "H2", "H3"):
                    self.headings.append(inner)
                own = kid.Pg.objgen if "/Pg" in kid else page
                yield from self._below(kid, inner, str(kid.get("/Lang", language)), own)
            else:
                number = int(kid.MCID) if isinstance(kid, pikepdf.Dictionary) else int(kid)
                at = kid.Pg.objgen if isinstance(kid, pikepdf.Dictionary) and "/Pg" in kid else page
                self.used.append((at, number))
                assert kind in HOLDING, kind
                yield Told(kind, language, self.pages[at].texts.get(number, ""))

    def text(self, language: str = "") -> str:
        """All that is told, or all of one language, with one space for any."""
        return plain(" ".join(each.text for each in self.told if each.language == language or not language))


def plain(text: str) -> str:
    return " ".join(text.split())


def spanish(form: Form) -> Form:
    return replace(form, language="es")


def in_both(form: Form) -> Form:
    return replace(form, also=("es",))


FORMS = {
    **{f"{unit} {code}": (unit, turned, code) for unit in UNITS[:2] for turned, code in ((spanish, "es"),)},
    f"{UNITS[0]} in both": (UNITS[0], in_both, "en-US"),
    **{unit: (unit, replace, "en-US") for unit in UNITS},
}


@cache
def printed(name: str, which: str) -> tuple[Form, tuple[WordedItem, ...], Pdf]:
    unit, turned, _ = FORMS[name]
    made = on_paper(turned(first_form(unit)))
    return made.form, made.worded.items, Pdf(getattr(made, which))


def check(found: Pdf, title: str, language: str) -> Tags:
    """All that holds of every printed page; gives back its tags."""
    tags = Tags(found)
    assert (bool(found.root.MarkInfo.Marked), str(found.root.Lang)) == (True, language)
    assert bool(found.root.ViewerPreferences.DisplayDocTitle)
    with found.file.open_metadata() as told:
        assert (told["dc:title"], told["pdfuaid:part"], told["dc:language"]) == (title, "1", {language})
    assert tags.kinds <= HOLDING | GROUPING
    assert tags.headings[0] == "H1"
    assert set(tags.headings[1:]) <= {"H2"}
    assert all(tags.figures)
    # Nothing is painted that is neither tagged nor an artifact, and each tagged piece stands in the tree once.
    assert [loose for page in tags.pages.values() for loose in page.loose] == []
    assert len(tags.used) == len(set(tags.used))
    painted = {
        (page, number) for page, each in tags.pages.items() for number, text in each.texts.items() if text.strip()
    }
    assert painted <= set(tags.used)
    assert all(found.fonts().values())
    assert "\ufffd" not in tags.text()
    return tags


def in_order(parts: list[str], text: str) -> None:
    """That the parts stand in the text one after another."""
    at = 0
    for part in parts:
        assert part in text[at:], part
        at = text.index(part, at) + len(part)


def said_of(item: WordedItem) -> list[str]:
    """The question, and the choices that paper shows as texts, in their order."""
    letters = item.interaction not in ("entry", "inline", "order", "gaps")
    return [plain(item.stem[0]), *(plain(c.text).replace(" | ", " | ") for c in item.choices if c.text and letters)]


@pytest.mark.parametrize("name", FORMS)
def test_every_tag_of_a_quiz_and_of_its_key(name: str) -> None:
    _, _, language = FORMS[name]
    form, items, quiz = printed(name, "quiz")
    tags = check(quiz, form.title, language)
    assert tags.headings == ["H1", *["H2"] * len(items)]
    in_order([part for item in items for part in said_of(item)], tags.text())
    figures = [c.alt for i in items for c in (i.figure, *(choice.figure for choice in i.choices)) if c is not None]
    assert tags.figures == figures
    _, _, key = printed(name, "key")
    with key.file.open_metadata() as told:
        title = str(told["dc:title"])
    keyed = check(key, title, language)
    whys = [plain(choice.why) for item in items for choice in item.choices if choice.why and not item.foreseen]
    assert whys
    assert all(why in keyed.text() for why in whys)


def test_the_second_language_is_marked_as_such() -> None:
    form, items, quiz = printed(f"{UNITS[0]} in both", "quiz")
    assert form.also == ("es",)
    tags = Tags(quiz)
    assert {each.language for each in tags.told} == {"en-US", "es"}
    for item in items:
        ((code, other),) = item.also
        assert code == "es"
        assert plain(other.stem[0]) in tags.text("es")
        assert plain(other.stem[0]) not in tags.text("en-US")
        assert plain(item.stem[0]) in tags.text("en-US")


@pytest.mark.parametrize("language", ["en-US", "es"])
def test_every_tag_of_a_page_of_practice_and_of_its_key(language: str, tmp_path: Path) -> None:
    text = (BLUEPRINTS / f"{UNITS[1]}.toml").read_text("utf-8")
    path = tmp_path / "unit.toml"
    path.write_text(text.replace('language = "en-US"', f'language = "{language}"'), encoding="utf-8")
    done = sheet(path, Order(out=tmp_path))
    for page in (done.page, done.key):
        found = Pdf(page.read_bytes())
        with found.file.open_metadata() as told:
            title = str(told["dc:title"])
        tags = check(found, title, language)
        assert len(tags.figures) >= 6
