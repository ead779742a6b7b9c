"""Accommodations: versions of a form that ask the same items in another way. Nothing says which student gets which.

Source of what each must be: common practice of plans for single students (large print: 18 points and more, one column,
larger staff; fewer choices: never without the key, two wrong ones at least).
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, get_args

Accommodation = Literal[
    "large_print", "high_contrast", "one_a_page", "fewer_choices", "fewer_items", "read_aloud", "braille_text"
]
ACCOMMODATIONS: tuple[Accommodation, ...] = get_args(Accommodation)

CODES: Mapping[Accommodation, str] = MappingProxyType(
    {"large_print": "L", "high_contrast": "H", "one_a_page": "P", "fewer_choices": "C", "fewer_items": "I"}
)
"""What stands for a version in titles and identifiers; the others are texts."""


def version_ident(ident: str, name: Accommodation) -> str:
    """The identifier of a version's test, from that of the form.

    >>> version_ident("f0123", "fewer_choices")
    'f0123-C'
    """
    return f"{ident}-{CODES[name]}"


def accommodation_folder(name: str) -> str:
    """The folder of an accommodation inside that of a form.

    >>> accommodation_folder("large_print")
    'large-print'
    """
    return name.replace("_", "-")
