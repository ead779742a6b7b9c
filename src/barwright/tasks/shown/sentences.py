"""Every sentence of a language as lines, to be read through by who teaches in it."""

from collections.abc import Iterator

from barwright.errors import BarwrightError
from barwright.showing import meant, shown
from barwright.templates_folder import languages
from barwright.wording.every_sentence import every_sentence
from barwright.wording.language import language

OF_STUDENTS = ("asks", "claims", "counting", "misreadings", "paper")


def sentences(code: str, *, every: bool) -> Iterator[str]:
    """File and id of each text, then all that it can become; those that students read alone, or every one.

    Raises BarwrightError for a language that there is none of.
    """
    if code not in languages():
        raise BarwrightError(f"language {shown(code)} has no wording{meant(code, languages(), 'barwright help words')}")
    for file, ident, texts in every_sentence(language(code)):
        if every or (file in OF_STUDENTS and not ident.endswith((".why", ".student"))):
            yield from ("", f"{file}, {ident}", *(f"  {text}" for text in texts)) if texts else ()
