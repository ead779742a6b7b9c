"""Packages read back, of whatever standard: one frozen model of what a student sees, answers, scores and is told.

Shares no code with the writers, so that it can prove them; and reads what others wrote, so nothing is trusted.
"""

from barwright.check.reading.comparing import same_content
from barwright.check.reading.package import read_package
from barwright.check.reading.package_model import (
    Answered,
    ReadChoice,
    ReadItem,
    ReadPackage,
    ReadPicture,
    ReadPool,
    ReadResponse,
    Shown,
)

__all__ = [
    "Answered",
    "ReadChoice",
    "ReadItem",
    "ReadPackage",
    "ReadPicture",
    "ReadPool",
    "ReadResponse",
    "Shown",
    "read_package",
    "same_content",
]
