"""Small pictures for pages: a rhythm, or a few symbols on their own, as `draw` engraves them."""

from dataclasses import dataclass
from functools import lru_cache
from threading import Lock

from barwright.counting.counts import count_labels
from barwright.engrave.draw import drawn
from barwright.engrave.font import DEFAULT, load_font
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure, fragment
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt, parse_symbols
from barwright.tasks.counts import conventions_of
from barwright.wording.alt_text import spoken
from barwright.wording.language import language

KEPT = 1 << 10
MOST_LETTERS = 200
_DRAWING = Lock()  # a font of FreeType serves one at a time


@dataclass(frozen=True, slots=True)
class PictureWish:
    """A rhythm text, or symbols without a meter; whether with counts; and conventions as `key=value`."""

    text: str
    counts: bool = False
    settings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ShownPicture:
    """A picture at twice its size, and the size to show it at in pixels."""

    png: bytes
    width_px: int
    height_px: int


@lru_cache(KEPT)
def shown_picture(wish: PictureWish) -> ShownPicture:
    """The picture; RhythmError or BarwrightError for a text that is no rhythm, or no convention."""
    figure, conventions = _figure(wish)
    with _DRAWING:
        return ShownPicture(*drawn(figure, load_font(DEFAULT), conventions))


@lru_cache(KEPT)
def alt_of(wish: PictureWish, code: str) -> str:
    """What a picture shows, in the words of a language; errors as `shown_picture`."""
    return spoken(*_figure(wish), language(code))


def _figure(wish: PictureWish) -> tuple[Figure, Conventions]:
    conventions = conventions_of(wish.settings)
    if "/" in wish.text:
        excerpt = parse_excerpt(wish.text[:MOST_LETTERS])
        return Figure(excerpt, counts=count_labels(excerpt, conventions) if wish.counts else ()), conventions
    return fragment(parse_symbols(wish.text[:MOST_LETTERS]), parse_meter("4/4")), conventions
