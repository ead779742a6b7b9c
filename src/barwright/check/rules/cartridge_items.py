"""The six item types of Common Cartridge: what each wants of response, choices and scoring.

Source: Common Cartridge profile of QTI 1.2.1: `cc_profile` values, required metadata, patterns of response processing.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from lxml import etree

from barwright.check.reading.items12 import RESPONSES, fields12
from barwright.check.reading.texts import local
from barwright.check.rules.findings import Finding
from barwright.check.rules.package_part import PackagePart, quoted

# cc_profile -> response element, cardinality, what renders it.
_TYPES: Mapping[str, tuple[str, str, str]] = {
    "cc.multiple_choice.v0p1": ("response_lid", "Single", "render_choice"),
    "cc.true_false.v0p1": ("response_lid", "Single", "render_choice"),
    "cc.multiple_response.v0p1": ("response_lid", "Multiple", "render_choice"),
    "cc.fib.v0p1": ("response_str", "Single", "render_fib"),
    "cc.pattern_match.v0p1": ("response_str", "Single", "render_fib"),
    "cc.essay.v0p1": ("response_str", "Single", "render_fib"),
}
# Metadata fields that a cartridge knows -> what their entries look like, and what that is called.
_YES_NO = ("Yes|No", "Yes or No")
_WHOLE = (r"\d+", "a whole number")
_ASSESSMENT: Mapping[str, tuple[str, str]] = {
    "cc_profile": (r"cc\.exam\.v0p1", "cc.exam.v0p1"),
    "qmd_assessmenttype": ("Examination", "Examination"),
    "qmd_scoretype": ("Percentage", "Percentage"),
    "qmd_feedbackpermitted": _YES_NO,
    "qmd_hintspermitted": _YES_NO,
    "qmd_solutionspermitted": _YES_NO,
    "cc_allow_late_submission": _YES_NO,
    "qmd_timelimit": _WHOLE,
    "cc_maxattempts": (r"unlimited|\d+", "unlimited or a whole number"),
}
_ITEM: Mapping[str, tuple[str, str]] = {
    "cc_profile": ("|".join(map(re.escape, _TYPES)), "one of the six item types"),
    "cc_question_category": (".*", "a text"),
    "cc_weighting": _WHOLE,
    "qmd_scoringpermitted": _YES_NO,
    "qmd_computerscored": _YES_NO,
}
_ONE_KEY = ("cc.multiple_choice.v0p1", "cc.true_false.v0p1")
_ASSESSMENT_FIELDS = ("cc_profile", "qmd_assessmenttype", "qmd_scoretype")


def cartridge_items(part: PackagePart) -> Iterator[Finding]:
    """What a cartridge does not allow in the assessment and the items of a document."""
    for assessment in part.root.iter("{*}assessment"):
        fields = Counter(
            (f.text or "").strip() for f in assessment.iterfind("{*}qtimetadata/{*}qtimetadatafield/{*}fieldlabel")
        )
        for missing in (f for f in _ASSESSMENT_FIELDS if f not in fields):
            yield part.found("profile-field", f"the metadata of the assessment lacks {missing}", assessment)
        yield from _fields(part, assessment.iterfind("{*}qtimetadata/{*}qtimetadatafield"), _ASSESSMENT)
        for twice in (f for f, count in fields.items() if count > 1):
            yield part.found("profile-field", f"the metadata of the assessment has {twice[:40]} twice", assessment)
    for item in part.root.iter("{*}item"):
        yield from _item(part, item)


def _item(part: PackagePart, item: etree._Element) -> Iterator[Finding]:
    listed = list(item.iterfind("{*}itemmetadata/{*}qtimetadata/{*}qtimetadatafield"))
    yield from _fields(part, iter(listed), _ITEM)
    named = Counter((f.findtext("{*}fieldlabel") or "").strip() for f in listed)
    if listed and named["cc_profile"] != 1:
        yield part.found("profile-field", f"the metadata of the item has cc_profile {named['cc_profile']} times", item)
    fields = fields12(item)
    profile = fields.get("cc_profile", "")
    responses = [r for p in item.iterchildren("{*}presentation") for r in p.iter(*(f"{{*}}{n}" for n in RESPONSES))]
    if profile not in _TYPES or len(responses) != 1:
        return  # told already
    name, cardinality, render = _TYPES[profile]
    response = responses[0]
    if local(response) != name or response.find(f"{{*}}{render}") is None:
        yield part.found("profile-type", f"{profile} wants <{name}> with <{render}>", response)
        return
    if response.get("rcardinality", "Single") != cardinality:
        yield part.found("profile-type", f"{profile} wants rcardinality {cardinality!r}", response)
        return
    choices = [x.get("ident", "") for x in response.iter("{*}response_label")]
    if profile == "cc.true_false.v0p1" and len(choices) != 2:
        yield part.found("profile-type", f"a true/false item has two choices, not {len(choices)}", response)
    yield from _scoring(part, item, profile, choices)


def _fields(
    part: PackagePart, fields: Iterator[etree._Element], known: Mapping[str, tuple[str, str]]
) -> Iterator[Finding]:
    for field in fields:
        label, entry = ((field.findtext(f"{{*}}field{n}") or "").strip() for n in ("label", "entry"))
        if label not in known:
            yield part.found("profile-field", f"a cartridge has no metadata field {label[:40]!r} here", field)
        elif not re.fullmatch(known[label][0], entry, re.DOTALL):
            yield part.found("profile-field", f"{label} is {entry[:40]!r}; it must be {known[label][1]}", field)


def _scoring(part: PackagePart, item: etree._Element, profile: str, choices: list[str]) -> Iterator[Finding]:
    conditions = [c for c in item.iter("{*}respcondition") if c.find("{*}setvar") is not None]
    if profile == "cc.essay.v0p1":
        if conditions:
            yield part.found("profile-scoring", "an essay is scored by a person, but a condition sets a score", item)
    elif not conditions:
        yield part.found("no-scoring", "no condition sets a score", item)
    elif profile in _ONE_KEY:
        best = [c for c in conditions if any((s.text or "").strip() == "100" for s in c.iterchildren("{*}setvar"))]
        tests = [t for c in best for t in c.iter("{*}varequal")]
        if len(best) > 1 or (best and len(tests) != 1):
            wanted = quoted([t.text or "" for t in tests])
            yield part.found("profile-scoring", f"one condition with one answer sets 100; here {wanted} do", item)
    elif profile == "cc.multiple_response.v0p1":
        named = [{(t.text or "").strip() for t in c.iter("{*}varequal")} for c in conditions]
        if set(choices) not in named:
            what = "the condition that scores names every choice, the wrong ones inside <not>"
            yield part.found("profile-scoring", what, item)
