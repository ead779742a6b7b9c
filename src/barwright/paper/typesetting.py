"""Data of a page as PDF: set by typst with the templates of `templates/paper` and with nothing of this computer.

PDF/UA-1 (ISO 14289-1): tagged, every picture with its alternative text, title and language; typst refuses to write a
file that is not. All fonts are those inside the typst package, and are embedded: Libertinus Serif (SIL Open Font
License 1.1). No time is written, so the same data give the same bytes with one release of typst.
"""

import json
import os
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import cache

import typst

from barwright.errors import TemplateError
from barwright.templates_folder import templates_folder

MOST_WORKERS = 8


@cache
def _fonts() -> typst.Fonts:
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True)


def typeset(data: Mapping[str, object]) -> bytes:
    """The PDF file of a page's data, by the template that `kind` names; TemplateError if the template is broken."""
    folder = templates_folder() / "paper"
    try:
        return typst.compile(
            folder / f"{data['kind']}.typ",
            root=folder,
            font_paths=_fonts(),
            format="pdf",
            sys_inputs={"data": json.dumps(data)},
            pdf_standards=["ua-1"],
        )
    except typst.TypstError as error:
        raise TemplateError(f"templates/paper/{data['kind']}.typ: {error.message}") from error


def typeset_all(pages: Iterable[Mapping[str, object]]) -> Iterator[bytes]:
    """The PDF files of many pages' data, in their order, on every processor: typst works outside of Python's lock."""
    with ThreadPoolExecutor(max_workers=min(MOST_WORKERS, os.cpu_count() or 1)) as pool:
        yield from pool.map(typeset, pages)
