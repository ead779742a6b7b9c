"""The style sheet of our QTI 2.2 and 3.0 items: on a phone figures shrink until a whole measure can be seen.

No attribute of these standards can say that, so it is a file that each item with figures links to. Where a platform
drops it, figures keep their size. Its classes are our own, so that it changes nothing else on a platform's page.
"""

from barwright.qti.manifest import Resource
from barwright.qti.package_content import Image, ShownItem
from barwright.qti.zip_entries import ZipEntry

FIGURE = "rhythm-figure"
CHOICE = "rhythm-choice"  # a picture to drag
OPTION = "rhythm-option"  # a picture to pick
LINE = "rhythm-line"  # figures and the gap between them
ROW = "rhythm-row"
SHEET = ZipEntry(
    "style/figures.css",
    f"""/* A figure is never wider than what it stands in, and keeps its shape. */
.{FIGURE} {{ max-width: 100%; height: auto; }}
/* What a picture to pick stands in is often as wide as the picture: room is left for the button before it. */
.{OPTION} {{ max-width: min(100%, 100vw - 6rem); }}
/* Pictures to drag have a margin of their own and their label above: so they stay larger where room is little. */
.{CHOICE} {{ padding: 0; display: inline-flex; flex-direction: column; align-items: center; }}
/* The two parts of a measure and its gap stand in one line: both parts shrink alike, so that the staff lines meet. */
.{LINE} {{ display: flex; align-items: center; }}
.{LINE} .{FIGURE} {{ min-width: 0; }}
/* A row of symbols with a list under each goes on in the next line. */
.{ROW}, .{ROW} tbody {{ display: block; }}
.{ROW} tr {{ display: flex; flex-wrap: wrap; }}
""".encode(),
)
RESOURCE = Resource("style_figures.css", "webcontent", (SHEET.path,), main=SHEET.path)


def figures_shown(question: ShownItem) -> tuple[Image, ...]:
    """Each different picture that a question shows, stem first."""
    shown = (*question.stem, *question.pieces, *(o.image for o in question.options))
    return tuple(dict.fromkeys(each for each in shown if isinstance(each, Image)))
