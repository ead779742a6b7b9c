"""A class's own sentences and names in place of ours: what may be changed, and what is wrong with a change.

A teacher's file has tables with names of its own; each entry stands for one of a language's files. Texts are sentences
as ours are, or plain. Nothing is read or written here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from jinja2 import Environment, nodes
from jinja2 import TemplateError as JinjaError
from jinja2.meta import find_undeclared_variables

from barwright.asks import ASKS
from barwright.errors import TemplateError
from barwright.items.form import Changes
from barwright.items.own_words import own_text_fault
from barwright.misreadings import MISREADINGS
from barwright.showing import in_quotes, meant, shown
from barwright.wording.every_sentence import filled
from barwright.wording.language import SYLLABLES, Language, language, words_for
from barwright.wording.own_counts import HOLD, REST, clash, own_examples, syllable_fault
from barwright.wording.scene import NAMES_OF_CLASS

Fault = tuple[tuple[str, ...], str]
"""Where in the file (table, key), and what is wrong with the mend."""

_READER = Environment()
SYMBOLS = ("note", "rest", "dotted")
OF_QUESTIONS = ("stem", "note", "key", "general")
# Names that every question, hint and rule has.
ALWAYS = frozenset(("meter", "top", "bottom", "holds", "one_unit", "unit", "units", "beats", "measures", "one"))
# What a student could not do without, where our sentence says it.
NEEDED = frozenset(("meter", "row", "rules", "target", "unit", "units", "amount", "lasts", "holds_number", "number",
                    "split", "beat_words", "name"))  # fmt: skip


# What a sentence may be made of: names put in, and parts said where something is true. Files come from elsewhere, and
# nothing else of the template language may run.
_MARKS = (
    nodes.Template, nodes.Output, nodes.TemplateData, nodes.Name, nodes.If, nodes.Compare, nodes.Operand, nodes.Const,
    nodes.Not, nodes.And, nodes.Or,
)  # fmt: skip
MOST_WRITTEN = 1000  # letters of a sentence as it is written, with all its parts


def sound_marks(text: str) -> bool:
    """Whether a text is a sentence of plain words, names and conditions, and nothing else of a template.

    >>> sound_marks("{% if rests %}Count {{ holds }}.{% endif %}"), sound_marks("{{ 'a' * 9 }}")
    (True, False)
    """
    if len(text) > MOST_WRITTEN:
        return False
    try:
        written = _READER.parse(text)
    except JinjaError:
        return False
    return all(isinstance(node, _MARKS) for node in (written, *written.find_all(nodes.Node)))


@dataclass(frozen=True, slots=True)
class Entry:
    """One text that may be changed: its table and key in a teacher's file, its place among ours, and our texts.

    `first` is true where only the first of our paragraphs is a sentence, and what follows stays below it.
    """

    table: str
    key: str
    file: str
    ident: str
    ours: tuple[str, ...]
    first: bool = False


def entries(words: Language) -> Iterator[Entry]:
    """All that may be changed of a language, in the order of a teacher's file."""

    def entry(table: str, key: str, file: str, ident: str) -> Iterator[Entry]:
        if words.has(file, ident):
            texts = words.sources(file, ident)
            if any(texts):
                first = file == "asks" and key == "stem" and len(texts) > 1
                yield Entry(table, key, file, ident, texts, first)

    for counting, examples in own_examples().items():
        for place, word in examples.items():
            yield Entry(f"{SYLLABLES}.{counting}", place, SYLLABLES, f"{counting}.{place}", (word,))
    for kind in SYMBOLS:
        for name in words.tables["words"][kind]:
            yield from entry(f"symbols.{kind}", name, "words", f"{kind}.{name}")
    for ask in ASKS:
        for key in OF_QUESTIONS:
            yield from entry(f"questions.{ask}", key, "asks", f"{ask}.{key}")
    for claim in words.ids("claims"):
        yield from entry("statements", claim, "claims", claim)
    for rule, texts in words.tables["counting"].items():
        for name in texts:
            yield from entry(f"rules.{rule}", name, "counting", f"{rule}.{name}")
    for misreading in words.ids("misreadings"):
        yield from entry("hints", misreading, "misreadings", f"{misreading}.feedback")
    for ask in ASKS:
        for key in OF_QUESTIONS:
            yield from entry(f"paper.{ask}", key, "paper", f"{ask}.{key}")


def own_changes(raw: Mapping[str, Any], code: str) -> tuple[Changes, list[Fault]]:
    """What a teacher's file changes in a language, and every fault of it; a faulty entry changes nothing."""
    words = language(code)
    known = {(entry.table, entry.key): entry for entry in entries(words)}
    tables = dict.fromkeys(table for table, _ in known)
    kept: list[tuple[str, str, str, tuple[str, ...]]] = []
    faults: list[Fault] = []
    for table, values in _tables(raw):
        if table not in tables:
            faults.append(((table,), f"[{table}] is no table of this file{_meant(table, tables)}"))
            continue
        for key, value in values.items():
            found = known.get((table, key))
            keys = [each for at, each in known if at == table]
            if found is None:
                faults.append(((table, key), f"{shown(key)} is no text of [{table}]{_meant(key, keys)}"))
                continue
            texts, fault = _texts(value, found)
            fault = fault or _fault(found, texts, words)
            if fault:
                faults.append(((table, key), f"{key} {fault}"))
            else:
                kept.append((code, found.file, found.ident, texts))
    changes = tuple(kept)
    return changes, [*faults, *_alike(changes, known, code), *_clashes(changes)]


def _clashes(changes: Changes) -> Iterator[Fault]:
    """Two places of a beat that would be said alike."""
    for counting in own_examples():
        own = {
            place: texts[0]
            for _, file, ident, texts in changes
            if file == SYLLABLES
            and ident.partition(".")[0] == counting
            and (place := ident.partition(".")[2]) != HOLD
            and not (place == REST and not texts[0].isalpha())
        }
        if own and (two := clash(counting, own)):
            yield (
                (f"{SYLLABLES}.{counting}", two[0]),
                f"{two[0]} is said as {two[1]} is: give each place of the beat a word of its own",
            )


def _meant(word: str, known: Mapping[str, None] | list[str]) -> str:
    return meant(word, known, "the file that barwright wording start writes has them all")


def _tables(raw: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The tables of a file by their dotted names; texts that stand outside of any are a table of that name."""
    for name, value in raw.items():
        if not isinstance(value, Mapping):
            yield name, {}
            continue
        plain = {key: inner for key, inner in value.items() if not isinstance(inner, Mapping)}
        if plain or not value:
            yield name, plain
        yield from ((f"{name}.{key}", inner) for key, inner in value.items() if isinstance(inner, Mapping))


def _texts(value: object, entry: Entry) -> tuple[tuple[str, ...], str]:
    """The texts of a value, and what is wrong with its kind."""
    several = len(entry.ours) > 1 and not entry.first
    if several:
        if isinstance(value, list) and len(value) == len(entry.ours) and all(isinstance(each, str) for each in value):
            return tuple(value), ""
        return (), f"needs {len(entry.ours)} texts in square brackets, as {_list(entry.ours)}"
    if not isinstance(value, str):
        return (), f"= {shown(value)} is no text: write one sentence in quotes"
    return (value, *entry.ours[1:]) if entry.first else (value,), ""


def _list(texts: tuple[str, ...]) -> str:
    return "[" + ", ".join(f'"{text}"' for text in texts) + "]"


def _fault(entry: Entry, texts: tuple[str, ...], words: Language) -> str:
    """What is wrong with the texts of an entry, and the mend; empty if nothing is."""
    own = texts[:1] if entry.first else texts
    if entry.file == SYLLABLES:
        return syllable_fault(entry.ident, own[0])
    if max(map(len, own)) > MOST_WRITTEN:
        return f"has {max(map(len, own)):,} letters, over {MOST_WRITTEN:,}: shorten it"
    if not all(map(sound_marks, own)):
        return "has marks that cannot be read: copy the {{ ... }} and {% ... %} of our sentence as they are, or none"
    asked = {name for text in own for name in find_undeclared_variables(_READER.parse(text))}
    ours = {name for text in entry.ours for name in find_undeclared_variables(_READER.parse(text))}
    always = ALWAYS | NAMES_OF_CLASS
    allowed = ours | (always if entry.file in ("asks", "misreadings", "counting", "paper") else set())
    if strange := sorted(asked - allowed):
        known = ", ".join(sorted(allowed - NAMES_OF_CLASS)) or "none"
        return f"has {{{{ {strange[0]} }}}}, which is not known here: use {known}"
    first = {name for text in entry.ours[:1] for name in find_undeclared_variables(_READER.parse(text))}
    lacking = sorted((NEEDED & (first if entry.first else ours)) - asked) if entry.file != "misreadings" else []
    if lacking:
        return f"leaves out {{{{ {lacking[0]} }}}}, without which nobody can answer: say it, too"
    return _said(entry, texts, words)


def _said(entry: Entry, texts: tuple[str, ...], words: Language) -> str:
    """What is wrong with what the texts become when they are filled in."""
    changed = words_for(words.code, ((words.code, entry.file, entry.ident, texts),))
    try:
        told = filled(changed, entry.file, entry.ident)
    except TemplateError:
        return "has marks that cannot be filled in: copy the {{ ... }} and {% ... %} of our sentence as they are"
    for text in told:
        if fault := own_text_fault(text):
            return fault
        if "{" in text or "}" in text:
            return f"shows a brace in {in_quotes(text)}: write {{{{ name }}}} with two braces on each side"
        if ident := next((each for each in MISREADINGS if each in text), ""):
            return f"has {in_quotes(ident)}, the name of a misreading, which students must not see: leave it out"
    if not told:
        return "is empty: write a sentence, or take the line out"
    return ""


def _alike(changes: Changes, known: Mapping[tuple[str, str], Entry], code: str) -> Iterator[Fault]:
    """Two symbols of one name, and two statements that say the same."""
    words = words_for(code, changes)
    mine = {(file, ident) for _, file, ident, _ in changes}
    said: dict[tuple[str, ...], Entry] = {}
    for entry in sorted(known.values(), key=lambda e: (e.file, e.ident) in mine):
        if entry.file not in ("words", "claims"):
            continue
        text = words.sources(entry.file, entry.ident)
        other = said.setdefault((entry.file, *text), entry)
        if other is not entry and (entry.file, entry.ident) in mine and not _alike_in_ours(entry, other):
            yield (
                (entry.table, entry.key),
                f"{entry.key} is called as {other.key} of [{other.table}] is: give one of them another text",
            )


def _alike_in_ours(entry: Entry, other: Entry) -> bool:
    return entry.ours == other.ours


ABOUT = {
    "syllables": (
        "What is said on each place of a beat, when counting with numbers, or with takadimi. Each place needs a word",
        "of its own. rest is how a rest on 2 is written: (2), [2], {2} or <2>; or a word in place of the count, as sh,",
        'where the plan says rest_counts = "R". held is how a note on 1 is written that lasts through 2: 1-2, 1~2',
        "or 1_2.",
    ),
    "symbols": ("Names of notes and rests, one and several.",),
    "questions": (
        "What is asked (stem), how to answer (note), what is said after a right answer (key)",
        "and after an answer that was not foreseen (general).",
    ),
    "statements": ("The statements to pick from about time signatures.",),
    "rules": ("How we count: printed with every question about counts.",),
    "hints": ("What a student is told after a wrong answer.",),
    "paper": ("Questions and notes that paper says otherwise.",),
}


HEAD = (
    "# The sentences of your classes, in place of the program's ({code}).",
    "# Take the # before a line away and change its words. A line that keeps its # stays as it is, and you may",
    "# delete it. The name in [brackets] above the lines must stay there.",
    "# What stands in {{{{ }}}} is filled in: {{{{ holds }}}} becomes 3 beats. What stands between {{% if %}} and",
    "# {{% endif %}} is said only where it is true. You may leave such parts out, and write a plain sentence.",
    '# Then say in the plan where this folder is:  wording = "wording"',
)


def starter_text(code: str) -> str:
    """A teacher's file of a language with every text that may be changed, each behind a #: nothing changes yet."""
    lines = [line.format(code=code) for line in HEAD]
    part = table = ""
    for entry in entries(language(code)):
        if entry.table.split(".")[0] != part:
            part = entry.table.split(".")[0]
            lines += ["", *(f"# --- {line}" for line in ABOUT[part])]
        if entry.table != table:
            table = entry.table
            lines += ["", f"[{table}]"]
        ours = entry.ours[:1] if entry.first else entry.ours
        quoted = [_quoted(text) for text in ours]
        value = quoted[0] if len(quoted) == 1 else f"[{', '.join(quoted)}]"
        lines.append(f"# {entry.key} = {value}")
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
