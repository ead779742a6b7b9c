"""What a check finds: where, what, why it matters on import, how to mend."""

from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "caution"]


@dataclass(frozen=True, slots=True)
class Rule:
    """What is the same of all findings of a kind: how bad, why it matters on import, how to mend.

    An error makes an import fail, or shows or scores something wrong; a caution depends on the importer.
    """

    severity: Severity
    why: str
    mend: str


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a finding is: file in the package (empty: the whole package), line from 1 (0: unknown), item."""

    file: str = ""
    line: int = 0
    item: str = ""

    def __str__(self) -> str:
        parts = (self.file, f"line {self.line}" if self.line else "", f"item {self.item}" if self.item else "")
        return ", ".join(p for p in parts if p) or "the package"


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault: the id of its rule, its place, and what it is, in one sentence without a full stop."""

    rule: str
    place: Place
    what: str


@dataclass(frozen=True, slots=True)
class Report:
    """All findings of one package; `standard` is its name in full, empty if it could not be told.

    `refused` says in one line why a package was not read at all; then there are no findings. `links` says from where
    links that begin with $IMS-CC-FILEBASE$ were read, empty where it makes no difference.
    """

    name: str
    standard: str = ""
    items: int = 0
    pictures: int = 0
    findings: tuple[Finding, ...] = ()
    refused: str = ""
    links: str = ""
