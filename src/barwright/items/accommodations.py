"""Accommodations: versions of a form that ask the same items in another way. Nothing says which student gets which.

Source of what each must be: common practice of plans for single students (large print: 18 points and more, one column,
larger staff; fewer choices: never without the key, two wrong ones at least).
"""

from typing import Literal, get_args

Accommodation = Literal[
    "large_print", "high_contrast", "one_a_page", "fewer_choices", "fewer_items", "read_aloud", "braille_text"
]
ACCOMMODATIONS: tuple[Accommodation, ...] = get_args(Accommodation)


def accommodation_folder(name: str) -> str:
    """The folder of an accommodation inside that of a form.

    >>> accommodation_folder("large_print")
    'large-print'
    """
    return name.replace("_", "-")
