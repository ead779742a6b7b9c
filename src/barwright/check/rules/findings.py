"""What the check of a package finds: a rule that is broken, where, and what stands there.

One fault, one finding: what follows from a fault that is told already is not told again."""

from collections.abc import Iterable, Mapping
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


_SCORES = (
    "no-key no-scoring several-keys full-unreachable key-scores-too-little wrong-scores-full wrong-scores "
    "nothing-scores score-too-high score-below untried worth-nothing"
)
_FOLLOW = frozenset(_SCORES.split())
_STRUCTURE = ("unknown-element", "missing-attribute", "wrong-value", "wrong-children", "misplaced-text")
# Cause -> what follows from it in the same item.
CONSEQUENCES: Mapping[str, frozenset[str]] = {
    **dict.fromkeys(_STRUCTURE, _FOLLOW | {"response-unknown", "feedback-unused", "empty-stem", "no-response"}),
    "key-no-choice": _FOLLOW | {"answer-no-choice"},
    "choice-twice": _FOLLOW | {"answer-no-choice", "choices-alike", "key-alike"},
    "response-unknown": _FOLLOW,
    "variable-unknown": _FOLLOW | {"feedback-unused"},
    "implied-and": _FOLLOW,
    "template-unknown": _FOLLOW | {"feedback-unused"},
    "template-names": _FOLLOW,
    "wrong-declaration": _FOLLOW | {"few-picks"},
    "several-keys": _FOLLOW,
    "few-picks": _FOLLOW,
    "profile-type": _FOLLOW | {"profile-scoring", "wrong-structure"},
    "profile-scoring": _FOLLOW,
    "key-scores-too-little": frozenset(("wrong-scores-full", "wrong-scores")),
    "answer-no-choice": frozenset(("wrong-scores-full", "full-unreachable", "score-below")),
    "no-scoring": (_FOLLOW - {"no-scoring"}) | {"feedback-unused"},
    "worth-nothing": frozenset(("no-key",)),
    "key-alike": frozenset(("choices-alike",)),
    "no-response": _FOLLOW | {"response-unknown", "empty-stem"},
    "feedback-unknown": frozenset(("feedback-unused",)),
    "empty-choice": frozenset(("choices-alike", "key-alike")),
    "alt-missing": frozenset(("alt-empty",)),
}
_GENERAL = "wrong-structure"  # told only if nothing else in the item, or else in the file, says more


def causes_only(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings of one document without those that follow from others of the same item."""
    findings = tuple(findings)
    by_item: dict[str, set[str]] = {}
    for finding in findings:
        by_item.setdefault(finding.place.item, set()).add(finding.rule)
    follow = {i: frozenset(f for r in rules for f in CONSEQUENCES.get(r, ()) if f != r) for i, rules in by_item.items()}
    kept = tuple(f for f in findings if not f.place.item or f.rule not in follow[f.place.item])
    told = {f.place.item for f in kept if f.rule != _GENERAL}
    return tuple(f for f in kept if f.rule != _GENERAL or not (f.place.item in told or (told and not f.place.item)))
