"""On a phone: every figure is seen whole, keeps its shape, and stays large enough to be read.

320 CSS pixels: the width at which content must still be read without scrolling sideways (WCAG 2.1, 1.4.10 Reflow).
"""

from pathlib import Path

import pytest
from browser import Renderer
from shown_forms import BLUEPRINTS, demo_form, drawn_pictures, unpack

from barwright.pages import key_page, proof_page
from barwright.qti.package_content import content, html
from barwright.wording.worded import Pictures, WordedForm

PHONE = 320
LEAST_HIGH = 40  # pixels: a staff space is then about 5, 1.3 mm at 96 pixels an inch, as in printed parts
# What many platforms say of pictures in the texts that they import, and no more.
PLATFORM = "<!doctype html><meta name=viewport content='width=device-width'><style>img { max-width: 100% }</style>"

FORMS = [path for path in BLUEPRINTS if "six-sections" not in path.stem]  # that one has the questions of another


def not_whole(pictures: list[dict[str, float]]) -> list[dict[str, float]]:
    """Those that are cut off, squeezed, or too small."""
    return [
        p
        for p in pictures
        if not p["loaded"]
        or p["left"] < 0
        or p["right"] > PHONE
        or p["height"] < LEAST_HIGH
        or abs(p["shape"] * p["height"] / p["width"] - 1) > 0.05
    ]


def write_stems(form: WordedForm, pictures: Pictures, path: Path) -> None:
    """Writes the stems as QTI 1.2 and cartridges hold them, one after another, beside the unpacked pictures."""
    shown = (html(question.stem, base="", language="en-US") for question in content(form, pictures).questions)
    path.write_text(PLATFORM + "".join(shown), "utf-8")


@pytest.mark.parametrize("path", FORMS, ids=lambda p: p.stem)
def test_a_phone_shows_whole_measures(renderer: Renderer, tmp_path: Path, path: Path) -> None:
    """In items of QTI 3.0, on our own pages, and in stems on a platform that narrows pictures but says no more."""
    form = demo_form(path)
    pictures = drawn_pictures(form)
    unpack(form, pictures, tmp_path)
    (tmp_path / "proof.html").write_bytes(proof_page([form], pictures))
    (tmp_path / "key.html").write_bytes(key_page([form], pictures))
    write_stems(form, pictures, tmp_path / "stems.html")
    job = {
        "folder": str(tmp_path),
        "width": PHONE,
        "items": [{"path": f"items/{item.ident}.xml", "attempts": [[]]} for item in form.items],
        "pages": ["proof.html", "key.html", "stems.html"],
    }
    told = renderer(job)
    assert (told["faults"], told["missing"]) == ([], [])
    shown = [*told["items"], *told["pages"]]
    assert len(shown) == len(form.items) + 3
    assert {page["path"]: page["width"] for page in told["pages"]} == dict.fromkeys(job["pages"], PHONE)
    assert {page["path"]: bad for page in shown if (bad := not_whole(page["pictures"]))} == {}
