"""Forms of the demo units as PDF files, and a reader of them that knows nothing of how they were made."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from io import BytesIO
from pathlib import Path

import pikepdf

from barwright.blueprint.parsing import read_blueprint
from barwright.engrave.font import load_font
from barwright.items.form import Form
from barwright.paper.drawing import ItemDrawings
from barwright.paper.forms import PaperSize, key_data, quiz_data
from barwright.paper.typesetting import typeset
from barwright.tasks.paper_drawings import form_drawings
from barwright.wording.items_in_words import worded_form
from barwright.wording.on_paper import paper_form
from barwright.wording.worded import WordedForm
from made_once import forms_once

BLUEPRINTS = Path(__file__).parents[2] / "shared" / "blueprints"
UNITS = (
    "unit-1-half-notes-and-rests",
    "unit-2-eighths-and-dotted-quarters",
    "unit-3-first-six-eight",
    "unit-4-drag-and-order",
)


def first_form(unit: str) -> Form:
    """The form of a demo unit's first section."""
    blueprint, _ = read_blueprint((BLUEPRINTS / f"{unit}.toml").read_text("utf-8"), unit)
    alone = blueprint.model_copy(update={"sections": blueprint.sections[:1]})
    return forms_once(alone)[0].form


def all_units_in_one() -> Form:
    """A form with the items of every demo unit: every ask that they have, and more rows than one strip holds."""
    forms = [first_form(unit) for unit in UNITS]
    items = tuple(placed for form in forms for placed in form.items)
    return replace(forms[0], items=tuple(replace(placed, number=n) for n, placed in enumerate(items, start=1)))


@dataclass(frozen=True)
class OnPaper:
    """A form in the words of paper with its drawings, and its two files."""

    form: Form
    worded: WordedForm
    drawings: dict[str, ItemDrawings]
    paper: PaperSize = "letter"

    @property
    def quiz(self) -> bytes:
        return typeset(quiz_data(self.worded, self.drawings, self.paper))

    @property
    def key(self) -> bytes:
        return typeset(key_data(self.worded, self.drawings, self.paper))


def on_paper(form: Form, paper: PaperSize = "letter", *, font: str = "Bravura") -> OnPaper:
    """The form made ready to be typeset."""
    worded = paper_form(form, worded_form(form))
    return OnPaper(form, worded, form_drawings(worded, load_font(font), form.items[0].item.conventions), paper)


@dataclass(frozen=True)
class Tag:
    """An element of the structure tree: its kind, its alternative text, and its page (0: that of what is in it)."""

    kind: str
    alt: str
    page: int


@dataclass(frozen=True)
class Run:
    """A piece of text, and where it begins, in points from the lower left corner."""

    text: str
    x: float
    y: float


class Pdf:
    """What can be read of a PDF file: pages, tags, alternative texts, fonts, and the text in the order of the tags."""

    def __init__(self, data: bytes) -> None:
        self.file = pikepdf.open(BytesIO(data))
        self.root = self.file.Root

    @property
    def pages(self) -> int:
        return len(self.file.pages)

    def tags(self) -> list[Tag]:
        """Every element of the structure tree in reading order."""
        pages = {page.objgen: number for number, page in enumerate(self.file.pages, start=1)}
        found = []
        for each in self._elements(self.root.StructTreeRoot):
            page = pages[each.Pg.objgen] if "/Pg" in each else 0
            found.append(Tag(str(each.S)[1:], str(each.get("/Alt", "")), page))
        return found

    def _elements(self, parent: pikepdf.Object) -> Iterator[pikepdf.Object]:
        kids = parent.get("/K", [])
        for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                yield kid
                yield from self._elements(kid)

    def fonts(self) -> dict[str, bool]:
        """The fonts of all pages by name: whether each is embedded."""
        found = {}
        for page in self.file.pages:
            for font in page.Resources.get("/Font", {}).values():
                (inner,) = font.DescendantFonts
                descriptor = inner.FontDescriptor
                embedded = any(name in descriptor for name in ("/FontFile", "/FontFile2", "/FontFile3"))
                found[str(font.BaseFont).split("+")[-1]] = embedded
        return found

    def images(self) -> int:
        """How many pictures of pixels there are."""
        forms = (each for each in self.file.objects if isinstance(each, pikepdf.Stream))
        return sum(each.get("/Subtype") == "/Image" for each in forms)

    def texts(self) -> list[str]:
        """The text of each page, in the order in which it stands in the file, with one space for any."""
        return [" ".join(" ".join(run.text for run in _runs(page)).split()) for page in self.file.pages]

    def runs(self, page: int) -> list[Run]:
        """The texts of a page (from 1), each with its place."""
        return list(_runs(self.file.pages[page - 1]))

    def maps(self, page: pikepdf.Page) -> dict[str, dict[bytes, str]]:
        """What the glyphs of each font of a page stand for."""
        return {name: _to_unicode(font) for name, font in page.Resources.get("/Font", {}).items()}

    def white_letters(self, page: int) -> list[str]:
        """The single letters of a page that are filled with white, in order."""
        found, white, table = [], False, {}
        maps = {name: _to_unicode(font) for name, font in self.file.pages[page - 1].Resources.Font.items()}
        for operands, operator in pikepdf.parse_content_stream(self.file.pages[page - 1]):
            if str(operator) == "Tf":
                table = maps[str(operands[0])]
            elif str(operator) in ("g", "sc", "scn", "rg"):
                white = all(float(each) == 1 for each in operands)
            elif str(operator) == "Tj" and white:
                found.append(table[bytes(operands[0])])
        return found

    def dots_per_inch(self, page: int) -> list[float]:
        """How fine each picture of pixels of a page is printed."""
        found = []
        for form in self._forms(self.file.pages[page - 1]):
            for image, width in form:
                found.append(int(image.Width) / (width / 72))
        return found

    def _forms(self, page: pikepdf.Page) -> Iterator[list[tuple[pikepdf.Object, float]]]:
        yield list(_drawn(page, 1.0))


def _drawn(holder: pikepdf.Object, scale: float) -> Iterator[tuple[pikepdf.Object, float]]:
    """Every picture of pixels that a page or form draws, and how wide, in points."""
    resources = holder.Resources
    kept = [scale]
    for operands, operator in pikepdf.parse_content_stream(holder):
        name = str(operator)
        if name == "q":
            kept.append(kept[-1])
        elif name == "Q":
            kept.pop()
        elif name == "cm":
            kept[-1] *= abs(float(operands[0]))
        elif name == "Do":
            inner = resources.XObject[str(operands[0])]
            if inner.get("/Subtype") == "/Image":
                yield inner, kept[-1]
            else:
                matrix = inner.get("/Matrix", [1])
                yield from _drawn(inner, kept[-1] * abs(float(matrix[0])))


def _runs(page: pikepdf.Page) -> Iterator[Run]:
    """What the glyphs of a page stand for, by the fonts' own tables (ToUnicode), as a reader copies it."""
    maps = {name: _to_unicode(font) for name, font in page.Resources.Font.items()}
    x = y = 0.0
    table: dict[bytes, str] = {}
    for operands, operator in pikepdf.parse_content_stream(page):
        if str(operator) == "cm":
            x, y = float(operands[4]), float(operands[5])
        elif str(operator) == "Tf":
            table = maps[str(operands[0])]
        elif str(operator) in ("Tj", "TJ"):
            parts = operands[0] if str(operator) == "TJ" else [operands[0]]
            data = b"".join(bytes(part) for part in parts if isinstance(part, pikepdf.String))
            yield Run("".join(table.get(data[n : n + 2], "\ufffd") for n in range(0, len(data), 2)), x, y)


def _to_unicode(font: pikepdf.Object) -> dict[bytes, str]:
    """The font's table of glyphs and text (ISO 32000-1, 9.10.3): single entries and ranges."""
    lines = font.ToUnicode.read_bytes().decode("ascii").splitlines()
    table: dict[bytes, str] = {}
    inside = ""
    for line in lines:
        words = line.split()
        if words[1:] in (["beginbfchar"], ["beginbfrange"]):
            inside = words[1]
        elif words[:1] in (["endbfchar"], ["endbfrange"]):
            inside = ""
        elif inside == "beginbfchar":
            code, text = (bytes.fromhex(word.strip("<>")) for word in words)
            table[code] = text.decode("utf-16-be")
        elif inside == "beginbfrange":
            first, last, text = (bytes.fromhex(word.strip("<>")) for word in words)
            for n in range(int.from_bytes(last) - int.from_bytes(first) + 1):
                code = (int.from_bytes(first) + n).to_bytes(2)
                table[code] = (int.from_bytes(text) + n).to_bytes(len(text)).decode("utf-16-be")
    return table
