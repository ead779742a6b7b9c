"""The file of changes to single questions: TOML text to Changes, or every fault of it at once, by its line."""

import json
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.asks.item_content import parsed_item
from barwright.bank.checking import content_faults
from barwright.blueprint.bounds import bounds_faults
from barwright.blueprint.names import section_fault
from barwright.blueprint.toml_lines import Fault, Source, source_of, toml_faults
from barwright.edits.changes import Changes, Place, Put, Spot, Whose
from barwright.edits.tables import TABLES, Exchange, File, Kept, Never, Wording
from barwright.errors import BlueprintError, RhythmError
from barwright.forms.ready_items import question_name
from barwright.items.own_words import OwnWords, own_text_fault
from barwright.rhythm.text import format_excerpt, parse_excerpt
from barwright.showing import is_many, meant, shown

MOST_BYTES = 1_000_000
MOST_TOLD = 40
SEE = "barwright help formats lists them all"
UNREAD = "this cannot be read: write [[points]] and the like, and below it key = value"
TWICE = "stands twice: take one of them out"


def read_changes(text: str, name: str) -> Changes:
    """The changes of a TOML text; BlueprintError with all faults, a line each: file, line, value and mend."""
    text = text.replace("\r\n", "\n")
    if (beyond := next(bounds_faults(text), None)) is not None:
        raise BlueprintError([f"{name}, line {beyond[0]}: {beyond[1].replace('a blueprint', 'a file of changes')}"])
    source = source_of(text, name)
    try:
        raw = tomllib.loads(text, parse_float=str)
    except tomllib.TOMLDecodeError as error:
        lines, faults = toml_faults(str(error), text, name)
        _stop(lines, [(path, UNREAD if "blueprint" in fault else fault) for path, fault in faults])
        raise
    try:
        file = File.model_validate_json(json.dumps(raw, default=str))
    except ValidationError as error:
        _stop(source, [(tuple(each["loc"])[:3], _shape_text(each)) for each in error.errors()])
        raise
    _stop(source, [*_content_faults(file), *_form_faults(file), *_text_faults(file), *_twice_faults(file)])
    return _changes(file, source)


def _stop(source: Source, faults: Sequence[Fault]) -> None:
    """BlueprintError if there are faults; of very many the first."""
    if faults:
        told = [source.fault(path, fault) for path, fault in sorted(faults, key=lambda each: source.line(each[0]))]
        more = [f"{source.name}: {len(told) - MOST_TOLD:,} more faults: mend these first"] if told[MOST_TOLD:] else []
        raise BlueprintError([*told[:MOST_TOLD], *more])


_KINDS = {
    "int_type": "write a whole number, without quotes",
    "string_type": "write text in quotes",
    "bool_type": "write true or false, without quotes",
    "list_type": "write a list in square brackets",
    "tuple_type": "write a list in square brackets",
    "dict_type": "write a table in braces",
    "model_type": "write a table, its name in two pairs of square brackets",
    "string_pattern_mismatch": "copy it from the page of the quiz",
}


def _shape_text(fault: Any) -> str:
    """What pydantic finds, in our words."""
    path, kind, value, context = fault["loc"], fault["type"], fault["input"], fault.get("ctx", {})
    key = next((str(each) for each in reversed(path) if isinstance(each, str) and each != "str"), "the file")
    if kind == "missing":
        return f"{shown(key)} is missing: add it"
    if kind == "extra_forbidden":
        known = list(TABLES[path[0]].model_fields) if len(path) > 1 else list(TABLES)
        return f"{shown(key)} is not a key here{meant(key, known, SEE)}"
    if kind == "list_type" and len(path) == 1 and isinstance(value, dict):
        return f"[{key}] has one pair of brackets: write [[{key}]], with two"
    if kind in ("greater_than_equal", "less_than_equal"):
        bound = "at least" if kind.startswith("greater") else "at most"
        return f"{key} = {shown(value)} is out of range: use {bound} {context.get('ge', context.get('le'))}"
    if kind.endswith(("too_short", "too_long")):
        return f"{key} is too {'short' if kind.endswith('short') else 'long'}: is this the right file?"
    said = f"is {shown(value)}" if is_many(value) else f"= {shown(value)}"
    return f"{key} {said}, which is not of the right kind: {_KINDS.get(kind, 'copy it from the page of the quiz')}"


def _content_faults(file: File) -> Iterator[Fault]:
    """Questions that are none, or not as their id says, or that the judge refuses."""
    for table, puts in (("exchange", file.exchange), ("keep", file.keep)):
        for number, put in enumerate(puts):
            if faults := content_faults(put.content):
                yield (table, number, "item"), f"the question {shown(put.item)} cannot be used: {faults[0]}"
            elif parsed_item(put.content).id != put.item:
                text = f"item = {shown(put.item)} is not the id of what stands below: copy the whole table again"
                yield (table, number, "item"), text
    for number, never in enumerate(file.never):
        if never.ask not in ASKS:
            yield ("never", number, "ask"), f"ask = {shown(never.ask)} is not known{meant(never.ask, ASKS, SEE)}"
        try:
            plain = format_excerpt(parse_excerpt(never.excerpt, full=False))
        except RhythmError as error:
            yield ("never", number, "excerpt"), f"excerpt = {shown(never.excerpt)} cannot be read: {error}"
        else:
            if plain != never.excerpt:
                yield ("never", number, "excerpt"), f"excerpt = {shown(never.excerpt)}: write it as {shown(plain)}"


def _form_faults(file: File) -> Iterator[Fault]:
    """Names that no section can have, and orders that leave a question out."""
    for table in ("exchange", "keep", "points", "order"):
        for number, each in enumerate(getattr(file, table)):
            if (fault := section_fault(each.section)) is not None:
                yield (table, number, "section"), f"section = {shown(each.section)} {fault}"
    for number, order in enumerate(file.order):
        missing = next((n for n in range(1, len(order.places) + 1) if n not in order.places), 0)
        if missing:
            yield ("order", number, "places"), f"places leaves out {missing}: name each place once"


def _text_faults(file: File) -> Iterator[Fault]:
    for number, own in enumerate(file.wording):
        if not (own.stem or own.hint or own.hints):
            yield ("wording", number, "item"), "no stem, hint or hints stand here: add one, or take the table out"
        for key, text in (("stem", own.stem), ("hint", own.hint), *(("hints", text) for text in own.hints.values())):
            if (text or key == "hints") and (fault := own_text_fault(text)):
                yield ("wording", number, key), f"{key} {fault}"


def _twice_faults(file: File) -> Iterator[Fault]:
    """What is said twice of one question."""
    spots: dict[str, list[tuple[object, ...]]] = {
        "keep": [(each.section, each.retake, each.place, each.variant) for each in file.keep],
        "points": [(each.section, each.retake, each.place) for each in file.points],
        "order": [(each.section, each.retake) for each in file.order],
        "wording": [(each.item,) for each in file.wording],
    }
    for table, places in spots.items():
        seen: Counter[tuple[object, ...]] = Counter()
        for number, spot in enumerate(places):
            seen[spot] += 1
            if seen[spot] == 2:
                named = "the wording of this question" if table == "wording" else f"[[{table}]] of this place"
                yield (table, number), f"{named} {TWICE}"


def _changes(file: File, source: Source) -> Changes:
    places: Mapping[Place, int] = {(each.section, each.retake, each.place): each.points for each in file.points}
    orders: Mapping[Whose, tuple[int, ...]] = {(each.section, each.retake): tuple(each.places) for each in file.order}
    keeps = [_put(each, source.line(("keep", number))) for number, each in enumerate(file.keep)]
    return Changes(
        name=source.name,
        exchanges=tuple(_put(each, source.line(("exchange", n))) for n, each in enumerate(file.exchange)),
        keeps={put.spot: put for put in keeps},
        points=places,
        orders=orders,
        words={each.item: own_words(each) for each in file.wording},
        never=frozenset(map(never_name, file.never)),
        refused=tuple(each.item for each in file.never),
        lines={each.item: source.line(("wording", number)) for number, each in enumerate(file.wording)},
    )


def _put(kept: Kept, line: int) -> Put:
    made = kept.made if isinstance(kept, Exchange) else ""
    return Put(Spot(kept.section, kept.retake, kept.place, kept.variant), parsed_item(kept.content), made, line)


def own_words(own: Wording) -> OwnWords:
    """The words of a table."""
    return OwnWords(own.stem, own.hint, tuple(own.hints.items()))


def never_name(never: Never) -> str:
    """The name of the question that a table bans (see `question_name`)."""
    return question_name(never.ask, Question(parse_excerpt(never.excerpt, full=False), (), never.target))
