"""The proof and the answer keys: whole, self-contained, escaped, and readable without colour or scripts."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from barwright.pages import (
    BankSheet,
    Note,
    bank_page,
    data_uri,
    key_page,
    proof_page,
)
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import parse_excerpt
from barwright.templates_folder import templates_folder
from barwright.wording.worded import (
    Picture,
    WordedAnswer,
    WordedChoice,
    WordedFigure,
    WordedForm,
    WordedItem,
    WordedSlot,
)

# The smallest greyscale PNG: one white pixel (PNG specification, W3C 2003).
PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c63f80f00010101001bb6ee560000000049454e44ae426082"
)
BLANK, QUARTER, HALF = (Figure(parse_excerpt(t, full=False)) for t in ("3/4 h _", "3/4 q", "3/4 h"))
PICTURES = {f: Picture(f"p{n}.png", PNG + bytes([n]), 100 + n, 50) for n, f in enumerate((BLANK, QUARTER, HALF))}
CSS = (templates_folder() / "pages" / "page.css").read_text(encoding="utf-8")
VOID = {"meta", "img", "br", "link", "hr"}
TYPED = ("2", "two", "2 beats", "two beats", "2 notes", "two notes", "2.0", "2,0")
ACCEPTED = "Accepted: 2 · two · 2 beats · two beats · 2 notes · two notes"


class Tree(HTMLParser):
    """Tags, attributes and text of a page; fails where tags are not closed in order."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(page.decode("utf-8"))
        self.close()
        assert not self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] != "style" and data.strip():
            self.words.append(" ".join(data.split()))

    def all(self, tag: str) -> list[dict[str, str | None]]:
        """Attributes of every tag of this name."""
        return [attributes for name, attributes in self.tags if name == tag]


def choice(ident: str, shown: str | Figure, *, key: bool = False, why: str = "", **more: object) -> WordedChoice:
    figure = WordedFigure(shown, f"alt of {ident}") if isinstance(shown, Figure) else None
    text = "" if isinstance(shown, Figure) else shown
    return WordedChoice(ident, text, figure, key, f"told {ident}", "some-id" if why else "", why, **more)


def item(number: int, interaction: str, figure: Figure | None, *choices: WordedChoice, **more: object) -> WordedItem:
    worded = WordedFigure(figure, "One measure: half note, blank.") if figure else None
    return WordedItem(f"q{number}", "0", f"Question {number}", interaction, ("Stem?",), worded, choices, 2, **more)


ITEMS = (
    item(1, "figures", BLANK, choice("c1", HALF, why="Reads <four> beats."), choice("c2", QUARTER, key=True)),
    item(2, "texts", BLANK, choice("c1", "1-2 (3)", key=True), choice("c2", "1 & 2", why="Numbers notes.")),
    item(3, "entry", BLANK, choice("c1", "2", key=True, spellings=TYPED),
         choice("c2", "5", why="Adds.", spellings=("5", "five")), note="Type a number.", general_feedback="Add up."),
    item(4, "several", None, choice("c1", HALF, key=True), choice("c2", QUARTER, key=True),
         choice("c3", BLANK, why="Fills it."), note="Pick all."),
)  # fmt: skip
FORMS = tuple(WordedForm(f"f{n}", "Rests & <rhythm>", f"Period {n}", "en-US", ("Read well.",), ITEMS) for n in (1, 3))

# Answers that are put together: a gap, a list under each symbol, an order.
PLACED = (
    item(5, "gaps", None, choice("c1", HALF, why="Reads two."), choice("c2", QUARTER, key=True),
         pieces=(WordedFigure(BLANK, "alt before"), WordedSlot("s1", ("c2",)), WordedFigure(HALF, "alt after"))),
    item(6, "inline", BLANK, choice("c1", "1", key=True), choice("c2", "2", key=True), choice("c3", "3"),
         pieces=(WordedFigure(HALF, "alt given"), WordedFigure(QUARTER, "alt first"),
                 WordedSlot("s1", ("c1",), ("c1", "c3")), WordedSlot("s2", ("c2",), ("c2", "c3"))),
         foreseen=(WordedAnswer(("c1", "c2"), True, "told right", text="0 1 2"),
                   WordedAnswer(("c3", "c3"), False, "told wrong", "some-id", "Counts <on>.", "0 3 3")),
         general_feedback="Count again."),
    item(7, "order", None, choice("c1", HALF, key=True), choice("c2", QUARTER, key=True), choice("c3", BLANK, key=True),
         sequence=("c2", "c1", "c3"),
         foreseen=(WordedAnswer(("c1", "c2", "c3"), False, "told swapped", "some-id", "Swaps them."),
                   WordedAnswer(("c2", "c1", "c3"), True, "told ordered"))),
)  # fmt: skip
PLACED_FORM = WordedForm("f1", "Placed", "Period 1", "en-US", (), PLACED)


@pytest.fixture(params=[proof_page, key_page], ids=["proof", "key"])
def page(request: pytest.FixtureRequest) -> bytes:
    return request.param(FORMS, PICTURES)


def test_page_is_whole_and_says_its_language_and_title(page: bytes) -> None:
    tree = Tree(page)
    assert page.startswith(b'<!DOCTYPE html>\n<html lang="en-US">')
    assert page.endswith(b"</html>\n")
    assert len(tree.all("title")) == len(tree.all("h1")) == len(tree.all("main")) == 1
    assert "Rests & <rhythm>" in " ".join(tree.words)


def test_page_needs_nothing_but_itself(page: bytes) -> None:
    tree = Tree(page)
    assert not tree.all("script")
    assert not tree.all("link")
    assert all(img["src"].startswith("data:image/png;base64,") for img in tree.all("img"))
    assert all(a["href"].startswith("#") for a in tree.all("a"))
    assert b"url(" not in page
    assert b"@import" not in page
    assert b"http" not in page


def test_pictures_have_alternative_text_and_size(page: bytes) -> None:
    for img in Tree(page).all("img"):
        assert img["alt"]
        assert int(img["width"]) >= 100
        assert img["height"] == "50"


def test_identifiers_are_used_once_and_links_lead_somewhere(page: bytes) -> None:
    tree = Tree(page)
    idents = [a["id"] for _, a in tree.tags if "id" in a]
    assert len(idents) == len(set(idents))
    assert {a["href"][1:] for a in tree.all("a")} <= set(idents)
    assert {a["aria-labelledby"] for _, a in tree.tags if "aria-labelledby" in a} <= set(idents)


def test_same_forms_same_bytes(page: bytes) -> None:
    assert page in (proof_page(FORMS, PICTURES), key_page(FORMS, PICTURES))


def test_proof_shows_every_item_of_every_form() -> None:
    words = Tree(proof_page(FORMS, PICTURES)).words
    for text in ("Period 1", "Period 3"):
        assert text in words
    for question in ITEMS:
        assert words.count(question.title) == len(FORMS)
        for shown in question.choices:
            assert shown.why == "" or words.count(shown.why) == len(FORMS)
            assert sum(shown.feedback in w for w in words) >= len(FORMS)
    assert words.count("✓ Key") == 5 * len(FORMS)
    assert " ".join(words).count(f"{ACCEPTED} and 2 more") == len(FORMS)
    assert any("Add up." in w for w in words)


def test_proof_keeps_the_identifiers_of_misreadings_to_itself() -> None:
    assert b"some-id" not in proof_page(FORMS, PICTURES)


def test_proof_without_feedback_shows_none() -> None:
    silent = WordedForm("f1", "Quiz", "Period 1", "en-US", (), ITEMS, feedback=False)
    page = proof_page((silent,), PICTURES)
    assert b"told c1" not in page
    assert b"Add up." not in page
    assert b"Reads &lt;four&gt; beats." in page


def test_text_is_escaped() -> None:
    page = proof_page(FORMS, PICTURES)
    assert b"<rhythm>" not in page
    assert b"Rests &amp; &lt;rhythm&gt;" in page


def test_key_gives_number_letter_and_answer() -> None:
    page = key_page(FORMS[:1], PICTURES).decode()
    rows = re.findall(r"<tr>(.*?)</tr>", page, re.DOTALL)[1:]
    cells = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL) for row in rows]
    assert [c[0] for c in cells[:4]] == ["1", "2", "3", "4"]
    assert [c[1] for c in cells[:4]] == ["B", "A", "", "A"]
    assert cells[4][0] == "B"
    assert 'alt="alt of c2"' in cells[0][2]
    assert "1-2 (3)" in re.sub(r"<.*?>", "", cells[1][2])
    assert ACCEPTED in re.sub(r"<.*?>", "", cells[2][2])
    assert "Fills it" not in page
    assert "told c" not in page


def test_accepted_spellings_are_all_shown_where_one_would_be_left() -> None:
    seven = replace(ITEMS[2], choices=(replace(ITEMS[2].choices[0], spellings=TYPED[:7]), *ITEMS[2].choices[1:]))
    for write in (proof_page, key_page):
        words = " ".join(Tree(write((replace(FORMS[0], items=(seven,)),), PICTURES)).words)
        assert f"{ACCEPTED} · 2.0" in words
        assert "more" not in words
        assert " and 2 more" in " ".join(Tree(write(FORMS, PICTURES)).words)
        assert b"2,0" not in write(FORMS, PICTURES)


def test_counts_that_hyphens_join_stay_on_one_line() -> None:
    form = replace(FORMS[0], items=(item(1, "texts", None, choice("c1", "(1-2) 3 & 4-5", key=True)),))
    row = '<span class="row"><span class="whole">(1-2)</span> 3 &amp; <span class="whole">4-5</span></span>'
    for write in (proof_page, key_page):
        assert row in write((form,), PICTURES).decode()


def test_tables_that_a_narrow_screen_takes_apart_keep_their_meaning() -> None:
    """HTML-AAM: elements whose display is changed may lose the roles of a table, unless they are written down."""
    form = replace(PLACED_FORM, items=(*ITEMS, *PLACED))
    tags = Tree(proof_page((form,), PICTURES)).tags
    wanted = {"table": "table", "thead": "rowgroup", "tbody": "rowgroup", "tr": "row", "td": "cell"}
    scopes = {"col": "columnheader", "row": "rowheader"}
    parts = [(tag, attributes) for tag, attributes in tags if tag in wanted or tag == "th"]
    assert len(parts) > 100
    for tag, attributes in parts:
        assert attributes["role"] == (scopes[attributes["scope"] or ""] if tag == "th" else wanted[tag])
        assert attributes.get("colspan") == attributes.get("aria-colspan")


def test_each_form_begins_a_printed_page() -> None:
    assert re.search(r"@media print \{.*section \{ break-before: page; \}", CSS, re.DOTALL)
    assert key_page(FORMS, PICTURES).count(b"<section") == len(FORMS)


def luminance(colour: str) -> float:
    """Relative luminance of #rrggbb or #rgb (WCAG 2.2, definition of relative luminance)."""
    digits = colour.lstrip("#")
    parts = [int(d * 2, 16) for d in digits] if len(digits) == 3 else [int(digits[i : i + 2], 16) for i in (0, 2, 4)]
    linear = [c / 255 / 12.92 if c / 255 <= 0.04045 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_colours_have_contrast_enough() -> None:
    """WCAG 2.2, SC 1.4.3: 4.5 to 1 for text, on white and on the ground of a key; SC 1.4.11: 3 to 1 for lines."""
    grounds = [luminance(c) for c in re.findall(r"background: (#\w+)", CSS)]
    texts = [luminance(c) for c in re.findall(r"(?<![-\w])color: (#\w+)", CSS)]
    lines = [luminance(c) for c in re.findall(r"solid (#\w+)", CSS)]
    assert len(grounds) == 2
    assert len(texts) >= 3
    assert lines
    assert all((g + 0.05) / (t + 0.05) >= 4.5 for g in grounds for t in texts)
    assert all((1.05) / (line + 0.05) >= 3 for line in lines)


def test_data_uri() -> None:
    assert data_uri(Picture("p.png", b"\x89P", 1, 1)) == "data:image/png;base64,iVA="


@pytest.mark.parametrize(("name", "write"), [("proof.html", proof_page), ("key.html", key_page)])
def test_no_forms_is_an_error(name: str, write: type) -> None:
    with pytest.raises(ValueError, match=rf"^{name} needs at least one form$"):
        write((), PICTURES)


def test_proof_shows_what_is_put_into_places_and_every_answer_to_expect() -> None:
    page = proof_page((PLACED_FORM,), PICTURES)
    tree = Tree(page)
    words = " ".join(tree.words)
    for figure in ("alt before", "alt after", "alt given", "alt first"):
        assert [img["alt"] for img in tree.all("img")].count(figure) == 1
    assert re.search(r"dragged into the gap\. Item id: \w+ Stem\? gap Letter", words)
    assert "1 · 3 2 · 3 Answers to expect" in words
    assert "In every list" not in words  # these lists differ
    for text in ("0 1 2 ✓ Key", "0 3 3 Counts <on>.", "told wrong", "Swaps them.", "Any other answer", "Count again."):
        assert text in words
    assert tree.words.count("✓ Key") == 3
    assert b"some-id" not in page
    silent = proof_page((WordedForm("f1", "Q", "P", "en-US", (), PLACED, feedback=False),), PICTURES)
    assert not any(text in silent for text in (b"told right", b"told wrong", b"told swapped", b"Count again."))


def test_proof_gives_a_list_that_all_symbols_share_once() -> None:
    alike = tuple(replace(p, options=("c1", "c3")) if isinstance(p, WordedSlot) else p for p in PLACED[1].pieces)
    form = replace(PLACED_FORM, items=(replace(PLACED[1], pieces=alike),))
    words = " ".join(Tree(proof_page((form,), PICTURES)).words)
    assert words.count("1 · 3") == 1
    assert "▾ ▾ In every list (▾): 1 · 3 Answers to expect" in words


def test_proof_gives_the_letters_of_an_order() -> None:
    answers = re.findall(r'<ol class="sequence">(.*?)</ol>', proof_page((PLACED_FORM,), PICTURES).decode(), re.DOTALL)
    assert [re.findall(r"<b>(\w)</b> <img[^>]*alt=\"alt of (c\d)\"", a) for a in answers] == [
        [("A", "c1"), ("B", "c2"), ("C", "c3")], [("B", "c2"), ("A", "c1"), ("C", "c3")],
    ]  # fmt: skip


def test_key_gives_the_row_and_the_order_that_are_right() -> None:
    page = key_page((PLACED_FORM,), PICTURES).decode()
    rows = re.findall(r"<tr>(.*?)</tr>", page, re.DOTALL)[1:]
    cells = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL) for row in rows]
    assert [c[:2] for c in cells] == [["1", "B"], ["2", ""], ["3", ""]]
    assert "0 1 2" in cells[1][2]
    assert re.findall(r"<b>(\w)</b>", cells[2][2]) == ["B", "A", "C"]
    assert "told" not in page.replace(".told", "")


def test_page_of_a_bank_says_in_its_own_words_that_items_are_left_out() -> None:
    sheet = BankSheet(FORMS[0], PICTURES, tuple(Note(str(n), "new") for n in range(len(ITEMS))))
    whole, cut = (" ".join(Tree(bank_page([sheet], s)).words) for s in (("4 items.",), ("9 items.", "5 are hidden.")))
    assert "4 items. Period 1" in whole
    assert "9 items. Not all of them are on this page." in cut
    assert "hidden" not in cut


def test_proof_shows_the_id_of_every_item_and_a_key_to_print_none() -> None:
    """By which a bank's items are reviewed; a bank's page has it in its notes."""
    words = " ".join(Tree(proof_page((PLACED_FORM,), PICTURES)).words)
    assert re.findall(r"Item id: (\w+)", words) == [item.item_id for item in PLACED_FORM.items]
    assert "Item id" not in " ".join(Tree(key_page((PLACED_FORM,), PICTURES)).words)
