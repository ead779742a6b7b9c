"""Contact sheets of drawn measures, to be looked at as a band director would: is there one that nobody would print?

    python -m levels.contact_sheets FOLDER [MEASURES]        (in tests/, with the package installed)

Writes four PNG files for each of six levels, grade 4 to 9, of 200 measures a level in lines of two.
"""

import sys
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw

from barwright.engrave.draw import drawn
from barwright.engrave.font import load_font
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt, Figure
from barwright.rhythm.text import format_excerpt
from levels.classes import ELEMENTS, lines

WIDTH_PX, HEIGHT_PX, COLUMNS, ROWS = 620, 150, 2, 13
SP_PX = 14


def sheet(excerpts: tuple[Excerpt, ...], first: int) -> Image.Image:
    """One page of numbered lines, the rhythm text under each."""
    page = Image.new("RGB", (COLUMNS * WIDTH_PX, ROWS * HEIGHT_PX), "white")
    pen = ImageDraw.Draw(page)
    for place, excerpt in enumerate(excerpts):
        left, top = place % COLUMNS * WIDTH_PX, place // COLUMNS * HEIGHT_PX
        png, _, _ = drawn(Figure(excerpt), load_font("Bravura"), Conventions(), sp_px=SP_PX)
        image = Image.open(BytesIO(png)).convert("RGB")
        image.thumbnail((WIDTH_PX - 20, HEIGHT_PX - 26))
        page.paste(image, (left + 10, top + 4))
        pen.text((left + 10, top + HEIGHT_PX - 18), f"{first + place}: {format_excerpt(excerpt)}", fill="black")
    return page


def main(folder: Path, measures: int) -> None:
    """Writes the sheets of all levels."""
    folder.mkdir(parents=True, exist_ok=True)
    for level in ELEMENTS:
        every, size = lines(level, measures // 2), COLUMNS * ROWS
        for number, start in enumerate(range(0, len(every), size), start=1):
            page = sheet(tuple(every[start : start + size]), start + 1)
            page.save(folder / f"{level.replace(' ', '-')}-{number}.png")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 200)
