"""Items of QTI 1.2 documents, of a cartridge or not, as the frozen model. Nothing is assumed of how they were written.

Sources: QTI 1.2.1 content models; Common Cartridge profile (metadata fields, scores of 0 to 100, weighting).
"""

from collections.abc import Callable, Hashable, Iterator
from dataclasses import replace
from fractions import Fraction

from lxml import etree

from barwright.check.reading.answers_to_try import MOST_RESPONSES, most_answers, tried
from barwright.check.reading.manifests import line_of
from barwright.check.reading.package_model import (
    Answered,
    CannotCarryOut,
    Kind,
    ReadChoice,
    ReadItem,
    ReadPool,
    ReadResponse,
    Shown,
)
from barwright.check.reading.processing12 import (
    TESTS,
    processed,
    program12,
    score_name,
    scoring_sets,
    typed_values,
)
from barwright.check.reading.texts import (
    Pictured,
    joined,
    local,
    number,
    shown_html,
    shown_plain,
)

RESPONSES = ("response_lid", "response_str", "response_num", "response_xy", "response_grp", "response_extension")
_RENDERS = ("render_choice", "render_fib", "render_hotspot", "render_slider", "render_extension")
_BY_CARDINALITY: dict[str, Kind] = {"Single": "choice", "Multiple": "several", "Ordered": "order"}
_BY_RENDER: dict[str, Kind] = {"render_hotspot": "hotspot", "render_slider": "slider"}
_ESSAY_ROWS = 2  # a box of so many rows is meant for more than a count
MOST_STEPS = 500_000  # looks to take at one item, a quarter of a microsecond each
STEPS_AN_ANSWER = 20  # what an answer costs however few conditions there are

Afford = Callable[[int], bool]  # whether so many steps may still be taken for this package


def items12(path: str, root: etree._Element, pictured: Pictured, *, afford: Afford) -> Iterator[ReadItem]:
    """The items of a document in order; `pictured` makes a picture of a link in it."""
    for item in root.iter("{*}item"):
        yield _item(path, item, pictured, afford)


def title12(root: etree._Element) -> str:
    """The title of the assessment in a document, empty for none."""
    return next((" ".join(a.get("title", "").split()) for a in root.iter("{*}assessment")), "")


def is_quiz12(root: etree._Element) -> bool:
    """Whether a document holds an assessment; else it is a bank or loose items."""
    return next(root.iter("{*}assessment"), None) is not None


def pools12(root: etree._Element) -> Iterator[ReadPool]:
    """Sections of which each student gets a number of items."""
    for section in root.iter("{*}section"):
        drawn = number(section.findtext("{*}selection_ordering/{*}selection/{*}selection_number"))
        if drawn is not None:
            inside = tuple(i.get("ident", "") for i in section.iterchildren("{*}item"))
            yield ReadPool(section.get("ident", ""), int(drawn), inside)


def fields12(item: etree._Element) -> dict[str, str]:
    """The metadata fields of an item by label, and the older `qmd_` elements of `itemmetadata`."""
    fields: dict[str, str] = {}
    for data in item.iterchildren("{*}itemmetadata"):
        for field in data.iter("{*}qtimetadatafield"):
            label, entry = field.findtext("{*}fieldlabel"), field.findtext("{*}fieldentry")
            fields.setdefault((label or "").strip(), (entry or "").strip())
        for old in data.iterchildren("*"):
            if local(old).startswith("qmd_"):
                fields.setdefault(local(old), (old.text or "").strip())
    return fields


def _item(path: str, item: etree._Element, pictured: Pictured, afford: Afford) -> ReadItem:
    fields = fields12(item)
    stem = joined(_shown(m, pictured) for p in item.iterchildren("{*}presentation") for m in _stem_parts(p))
    places = [r for p in item.iterchildren("{*}presentation") for r in p.iter(*(f"{{*}}{n}" for n in RESPONSES))]
    full = _full(item)
    compared = {t.get("respident") for t in item.iter(*(f"{{*}}{n}" for n in TESTS))}
    responses = tuple(_response(p, fields, pictured, compared=p.get("ident") in compared) for p in places)
    answers: tuple[Answered, ...] = ()
    try:
        responses, answers = _carried_out(item, responses, full, pictured, afford)
        untried = ""
    except (CannotCarryOut, OverflowError) as error:
        untried = str(error)
    points = (number(fields.get("cc_weighting")) or Fraction(1)) if "cc_profile" in fields else full
    title = " ".join(item.get("title", "").split())
    return ReadItem(item.get("ident", ""), title, path, line_of(item), stem, responses, answers, full, points, untried)


def _carried_out(
    item: etree._Element, bare: tuple[ReadResponse, ...], full: Fraction | None, pictured: Pictured, afford: Afford
) -> tuple[tuple[ReadResponse, ...], tuple[Answered, ...]]:
    """The responses with their keys, and every answer tried; CannotCarryOut where that cannot be done."""
    if len(bare) > MOST_RESPONSES:
        raise CannotCarryOut("too many places to answer")
    typed = tuple(typed_values(item, r.ident) if r.kind in ("entry", "essay") else () for r in bare)
    program = program12(item)
    steps = most_answers(bare, typed) * (program.looks + STEPS_AN_ANSWER)
    if steps > MOST_STEPS or not afford(steps):
        raise CannotCarryOut("too many answers and conditions")
    outcomes: dict[Hashable, tuple[Fraction, tuple[str, ...]]] = {}

    def outcome(*given: tuple[str, tuple[str, ...]]) -> tuple[Fraction, tuple[str, ...]]:
        alike = program.alike(given)
        scored = outcomes.get(alike)
        if scored is None:
            scored = outcomes[alike] = processed(program, dict(given))
        return scored

    alone = full if len(bare) == 1 else None
    responses = tuple(_keyed(item, r, t, alone, outcome) for r, t in zip(bare, typed, strict=True))
    texts = {f.get("ident", ""): _shown(f, pictured).text for f in item.iterchildren("{*}itemfeedback")}
    texts = {ident: text for ident, text in texts.items() if text}
    idents = [r.ident for r in responses]
    answers = []
    for given in tried(responses, typed):
        score, shown = outcome(*zip(idents, given, strict=True))
        answers.append(Answered(given, score, tuple([texts[i] for i in shown if i in texts])))
    return responses, tuple(answers)


def _full(item: etree._Element) -> Fraction | None:
    """The declared highest score."""
    wanted = score_name(item)
    for declared in item.iterfind("{*}resprocessing/{*}outcomes/{*}decvar"):
        if declared.get("varname", "SCORE") == wanted and declared.get("maxvalue") is not None:
            return number(declared.get("maxvalue"))
    return None


def _stem_parts(element: etree._Element) -> Iterator[etree._Element]:
    """The materials of a presentation in order, without those of the choices."""
    for child in element.iterchildren("*"):
        name = local(child)
        if name == "material":
            yield child
        elif name not in ("response_label", "flow_label"):
            yield from _stem_parts(child)


def _shown(element: etree._Element, pictured: Pictured) -> Shown:
    """The texts and pictures in a `material`, `flow_mat`, label or feedback."""
    parts = []
    for each in element.iter("{*}mattext", "{*}matemtext", "{*}matimage"):
        text = each.text or ""
        if local(each) == "matimage":
            sized = bool(each.get("width") or each.get("height"))
            parts.append(Shown((), (pictured(each.get("uri", ""), each.get("label") or None, sized),)))
        elif each.get("texttype", "text/plain").lower() == "text/html":
            parts.append(shown_html(text, pictured))
        else:
            parts.append(shown_plain(text))
    return joined(parts)


def _response(place: etree._Element, fields: dict[str, str], pictured: Pictured, *, compared: bool) -> ReadResponse:
    render = next((r for r in place.iterchildren(*(f"{{*}}{n}" for n in _RENDERS))), None)
    labels = [] if render is None else list(render.iter("{*}response_label"))
    kind = _kind(place, render, fields, compared=compared)
    choices = tuple(
        ReadChoice(label.get("ident", ""), _shown(label, pictured), label.get("rshuffle", "Yes") == "No")
        for label in labels
        if kind not in ("entry", "essay")
    )
    shuffled = render is not None and render.get("shuffle", "No") == "Yes"
    return ReadResponse(place.get("ident", ""), kind, choices, (), shuffled=shuffled)


def declared_essay(render: etree._Element, fields: dict[str, str]) -> bool:
    """Whether an item says that a person scores it: by its type, a field, or a box of several rows."""
    by_hand = fields.get("cc_profile") == "cc.essay.v0p1" or fields.get("qmd_computerscored") == "No"
    return by_hand or (number(render.get("rows")) or 1) >= _ESSAY_ROWS


def _kind(place: etree._Element, render: etree._Element | None, fields: dict[str, str], *, compared: bool) -> Kind:
    """`compared`: whether any condition looks at the answer."""
    name, shown = local(place), "" if render is None else local(render)
    if name == "response_lid" and shown == "render_choice":
        return _BY_CARDINALITY.get(place.get("rcardinality", "Single"), "other")
    if name in ("response_str", "response_num") and shown == "render_fib" and render is not None:
        return "essay" if declared_essay(render, fields) or not compared else "entry"
    return "match" if name == "response_grp" else _BY_RENDER.get(shown, "other")


def _keyed(
    item: etree._Element,
    response: ReadResponse,
    typed: tuple[str, ...],
    full: Fraction | None,
    outcome: Callable[[tuple[str, tuple[str, ...]]], tuple[Fraction, tuple[str, ...]]],
) -> ReadResponse:
    """The response with its keys: the answers that score in full by themselves, or the most if none does."""
    idents = tuple(c.ident for c in response.choices)
    candidates: tuple[tuple[str, ...], ...] = ()
    if response.kind == "choice":
        candidates = tuple((i,) for i in idents)
    elif response.kind == "entry":
        candidates = tuple((t,) for t in typed)
    elif response.kind == "several":
        wanted_sets = scoring_sets(item, response.ident)
        candidates = tuple(tuple(i for i in idents if i in wanted) for wanted in wanted_sets)
    elif response.kind == "order":
        candidates = scoring_sets(item, response.ident)
    scores = {c: outcome((response.ident, c))[0] for c in dict.fromkeys(candidates) if c}
    different = {id(score): score for score in scores.values()}  # the same few numbers, slow to compare
    highest = max(different.values(), default=Fraction(0))
    wanted = highest if full is None else min(full, highest)
    enough = {place for place, score in different.items() if score >= wanted > 0}
    right = tuple(c for c, score in scores.items() if id(score) in enough)
    if response.kind in ("several", "order"):
        return replace(response, keys=right[0] if right else ())
    return replace(response, keys=tuple(c[0] for c in right))
