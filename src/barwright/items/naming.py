"""Names that a teacher gives to quizzes and sections: what they may hold, and the folders that they make."""

import unicodedata

MOST_LETTERS = 80
# Names that no file or folder may have on Windows (published file-naming rules of that system), whatever their case.
RESERVED = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))})


# Letters that Unicode does not take apart into a plain one and an accent.
_PLAIN = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ı": "i"})


def folder_name(name: str) -> str:
    """A folder name of plain letters, digits and hyphens; empty where the name has none of them.

    Accents fall away, and ß becomes ss (Unicode, normalization form KD): ö becomes o, not oe, in whatever language.

    >>> folder_name("Größe 3: Ms. Ávila"), folder_name("Con")
    ('grosse-3-ms-avila', 'con-')
    """
    apart = unicodedata.normalize("NFKD", name.lower().translate(_PLAIN)).lower()
    bare = "".join(c for c in apart if not unicodedata.combining(c))
    kept = "".join(c if c.isascii() and c.isalnum() else " " for c in bare)
    folder = "-".join(kept.split())
    return f"{folder}-" if folder in RESERVED else folder


def text_fault(name: str) -> str | None:
    """What is wrong with a text that packages, pages and banks must carry, and the mend; None if nothing is.

    >>> text_fault("Period 1"), text_fault("a\\tb")
    (None, "has a control character ('\\\\t'): write it in one line of plain text")
    """
    strange = next((c for c in name if not c.isprintable()), None)
    if strange is not None:
        return f"has a control character ({strange!r}): write it in one line of plain text"
    if not name.strip():
        return "is empty: write a name"
    return None


def section_fault(name: str) -> str | None:
    """What is wrong with the name of a section, and the mend; None if nothing is.

    >>> section_fault("***")
    "has no letter a-z or digit to name its folder by: give it a name such as 'Period 1'"
    """
    if len(name) > MOST_LETTERS:
        return f"has over {MOST_LETTERS} letters: shorten it"
    if text_fault(name) is not None:
        return text_fault(name)
    if not folder_name(name):
        return "has no letter a-z or digit to name its folder by: give it a name such as 'Period 1'"
    return None
