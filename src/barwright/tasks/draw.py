"""`draw`: one rhythm as a picture or as MusicXML, for a worksheet or the board."""

from pathlib import Path

from barwright.counting.counts import count_labels
from barwright.engrave.draw import drawn
from barwright.engrave.font import load_font
from barwright.engrave.musicxml import musicxml
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import parse_excerpt
from barwright.tasks.files import with_ending, write_new


def draw(
    text: str, path: Path, *, conventions: Conventions, music_font: str, counts: bool, numbers: bool, replace: bool
) -> tuple[Path, int, int]:
    """Writes the PNG of a rhythm text; gives back the path and the size to show it at, in pixels.

    A name without an ending gets `.png`; OutputError if the name of the file ends in that of another kind of picture.
    """
    path = with_ending(path, (".png",), "the picture is a PNG")
    excerpt = parse_excerpt(text)
    labels = count_labels(excerpt, conventions) if counts else ()
    png, width_px, height_px = drawn(
        Figure(excerpt, counts=labels, numbers=numbers), load_font(music_font), conventions
    )
    write_new(path, png, replace=replace)
    return path, width_px, height_px


def draw_musicxml(text: str, path: Path, *, replace: bool) -> Path:
    """Writes the MusicXML of a rhythm text and gives back its path; OutputError for another kind of file's name."""
    path = with_ending(path, (".musicxml", ".xml"), "it is MusicXML")
    write_new(path, musicxml(parse_excerpt(text)), replace=replace)
    return path
