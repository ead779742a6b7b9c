"""One fault, one finding: what follows from a fault that is told already is not told again."""

from collections.abc import Iterable, Mapping

from barwright.check.rules.findings import Finding

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
