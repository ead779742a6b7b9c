"""The class's own sentences: the folder beside the blueprint, what the record keeps of it, and what a form makes of it.

A folder has one file a language, `en-US.toml`. `wording = "wording"` in the blueprint names it; a department shares it.
"""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.bounds import bounds_faults
from barwright.blueprint.toml_lines import source_of, toml_faults
from barwright.check.rules.giveaways import tells_aloud
from barwright.errors import BarwrightError, BlueprintError
from barwright.items.form import Changes, Form, FormItem
from barwright.items.own_words import OwnWords
from barwright.misreadings import JOINT
from barwright.rhythm.conventions import Conventions
from barwright.showing import in_quotes, shown
from barwright.tasks.files import read_text, shown_path, write_new
from barwright.tasks.question.giveaways import own_faults
from barwright.templates_folder import languages
from barwright.wording.every_sentence import filled
from barwright.wording.items_in_words import worded_item
from barwright.wording.language import FILES, SYLLABLES, language, words_for
from barwright.wording.own_counts import REST, own_examples, rest_misfit, syllable_fault
from barwright.wording.own_sentences import entries, own_changes, sound_marks, starter_text

USUAL_FOLDER = "wording"
START = "barwright wording start writes one"

Place = tuple[str, str, str]
"""Language, file and id of one of our texts."""


@dataclass(frozen=True, slots=True)
class OwnWording:
    """What a folder changes, and where each of its sentences stands, as `FILE, line N`."""

    changes: Changes = ()
    places: Mapping[Place, str] = field(default_factory=dict)


def start_wording(folder: Path, code: str, *, replace: bool) -> Path:
    """Writes LANGUAGE.toml with every text that may be changed into a folder; OutputError if it exists."""
    path = folder / f"{code}.toml"
    text = starter_text(code)
    write_new(path, text.encode(), replace=replace)
    return path


def own_wording(blueprint: Blueprint, path: Path) -> OwnWording:
    """What the folder says that a blueprint names; nothing where it names none.

    Raises BlueprintError with every fault, each with file, line and mend.
    """
    if blueprint.wording is None:
        return OwnWording()
    files = _files(path.parent / blueprint.wording, blueprint.languages)
    if not files:
        wanted = " or ".join(f"{code}.toml" for code in blueprint.languages)
        raise BlueprintError([f"{path}: wording = {shown(blueprint.wording)}: there is no {wanted} in it: {START}"])
    return _own(files, blueprint.all_conventions)


def bank_wording(bank: Path, code: str) -> Changes:
    """What the folder `wording` beside a bank says in a language; nothing where there is none.

    Raises BlueprintError as `own_wording` does.
    """
    return _own(_files(bank.parent / USUAL_FOLDER, (code,)), None).changes


def _files(folder: Path, codes: Iterable[str]) -> dict[str, Path]:
    return {code: file for code in codes if (file := folder / f"{code}.toml").is_file()}


def _own(files: Mapping[str, Path], conventions: Conventions | None) -> OwnWording:
    """What the files say, by their languages; `conventions`: of the class, where there is one."""
    changes: list[tuple[str, str, str, tuple[str, ...]]] = []
    places: dict[Place, str] = {}
    faults: list[str] = []
    for code, file in files.items():
        name, text = shown_path(file), read_text(file, kind="file of sentences").replace("\r\n", "\n")
        mine, told = _read(text, name, code)
        faults += told
        known = {(entry.file, entry.ident): (entry.table, entry.key) for entry in entries(language(code))}
        source = source_of(text, name)
        changes += mine
        places |= {(code, f, ident): f"{name}, line {source.line(known[f, ident])}" for _, f, ident, _ in mine}
    own = OwnWording(tuple(changes), places)
    told_faults = (*_telling(own.changes), *(_misfits(own.changes, conventions) if conventions is not None else ()))
    faults += [f"{places[place]}: {fault}" for place, fault in told_faults]
    if faults:
        raise BlueprintError(faults)
    return own


def _read(text: str, name: str, code: str) -> tuple[Changes, list[str]]:
    """The changes of one file, and every fault with its line."""
    if beyond := next(bounds_faults(text), None):
        return (), [f"{name}, line {beyond[0]}: {beyond[1]}"]
    try:
        raw: dict[str, Any] = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        source, found = toml_faults(str(error), text, name)
        return (), [source.fault(place, fault) for place, fault in found]
    changes, faults = own_changes(raw, code)
    source = source_of(text, name)
    return changes, [source.fault(place, fault) for place, fault in sorted(faults, key=lambda f: source.line(f[0]))]


def _telling(changes: Changes) -> Iterator[tuple[Place, str]]:
    """Texts that say aloud of something that it is right or wrong; what is said after a right answer may."""
    for code, file, ident, _ in changes:
        if ident.endswith(".key") or file == SYLLABLES:
            continue
        for text in filled(words_for(code, changes), file, ident):
            if told := tells_aloud(text):
                yield (code, file, ident), f"{in_quotes(told)} tells what is right or wrong: leave it out"
                break


def _misfits(changes: Changes, conventions: Conventions) -> Iterator[tuple[Place, str]]:
    """Rests that cannot be written so in a class of these conventions."""
    for code, file, ident, (text, *_) in changes:
        counted = file == SYLLABLES and ident == f"{conventions.counting}.{REST}"
        if counted and (fault := rest_misfit(text, conventions)):
            yield (code, file, ident), f"{REST} {fault}"


def check_own_wording(forms: Iterable[Form], own: OwnWording, blueprint: Blueprint) -> None:
    """BlueprintError for own sentences that give a question of the forms away, or leave out what must be said: one line
    for each sentence, with the first question where it shows."""
    if not own.changes:
        return
    found: dict[str, str] = {}
    for form in forms:
        for placed in form.items:
            for code in (form.language, *form.also):
                one = replace(form, language=code, also=())
                for place, fault in _item_faults(placed, one, own.changes, blueprint):
                    where = own.places.get(place, "")
                    found.setdefault(
                        where, f"{where}: in question {placed.number} of {in_quotes(form.section)}, {fault}"
                    )
    if found:
        raise BlueprintError(list(found.values()))


def _item_faults(placed: FormItem, form: Form, changes: Changes, blueprint: Blueprint) -> Iterator[tuple[Place, str]]:
    """What each changed sentence gives away of one question, held to what a text for this question alone is held to."""
    code, ask = form.language, placed.item.ask
    plain = replace(form, wording=tuple(change for change in changes if change[1] == "words"))
    ours, mine = (worded_item(placed.in_our_words, code, each) for each in (plain.wording, changes))
    texts: list[tuple[Place, OwnWords]] = []
    if mine.stem[0] != ours.stem[0]:
        texts.append(((code, "asks", f"{ask}.stem"), OwnWords(stem=mine.stem[0])))
    told = {(code, "asks", f"{ask}.note"): (ours.note, mine.note)}
    told[code, "asks", f"{ask}.general"] = (ours.general_feedback, mine.general_feedback)
    for index, (old, new) in enumerate(zip(ours.choices, mine.choices, strict=True)):
        misreadings = placed.item.choices[placed.order[index]].misreadings if index < len(placed.order) else ()
        for name in {held for each in misreadings for held in each.split(JOINT)}:
            told.setdefault((code, "misreadings", f"{name}.feedback"), (old.feedback, new.feedback))
    texts += [(place, OwnWords(hint=new)) for place, (old, new) in told.items() if new and new != old]
    changed = {change[:3] for change in changes}
    for place, words in texts:
        if place in changed:
            for fault in own_faults(replace(placed, words=words, made=None), plain, blueprint):
                yield place, fault.partition(": ")[2]


def wording_header(changes: Changes) -> dict[str, object]:
    """What the header of a record keeps of the class's own sentences; nothing where there are none."""
    return {"wording": [[*place, list(texts)] for *place, texts in changes]} if changes else {}


def recorded_wording(header: Mapping[str, Any], name: str) -> Changes:
    """The class's own sentences as a record keeps them; BarwrightError for what is none."""
    rows = header.get("wording", [])
    if not isinstance(rows, list) or not all(map(_is_change, rows)):
        raise BarwrightError(f"{name}, line 1: the wording cannot be read: make the quiz again")
    return tuple((code, file, ident, tuple(texts)) for code, file, ident, texts in rows)


def _is_change(row: object) -> bool:
    """Whether a value is language, file and id of a text that may be changed, and as many sound texts as ours."""
    if not isinstance(row, list) or len(row) != 4 or not all(isinstance(each, str) for each in row[:3]):
        return False
    code, file, ident, texts = row
    if code not in languages() or not isinstance(texts, list) or not all(isinstance(text, str) for text in texts):
        return False
    if file == SYLLABLES:
        known = {f"{counting}.{key}" for counting, examples in own_examples().items() for key in examples}
        return ident in known and len(texts) == 1 and not syllable_fault(ident, texts[0])
    if file not in FILES or not language(code).has(file, ident):
        return False
    ours = language(code).sources(file, ident)
    return len(texts) == len(ours) and all(text in ours or sound_marks(text) for text in texts)
