"""Every sentence that a language can make, walked through: whole, of its own language, and in agreement."""

import re
from collections.abc import Iterator

import pytest

from barwright.asks import ASKS
from barwright.misreadings import MISREADINGS
from barwright.templates_folder import languages
from barwright.wording.every_sentence import every_sentence
from barwright.wording.language import language
from barwright.wording.reading_ease_spanish import perspicuity, syllables
from barwright.wording.reading_level import reading_grade

# Entries of these files are sentences; where none is told there is none.
SENTENCES = ("claims", "counting", "misreadings")
ASKED = ("stem", "note", "key", "general", "intro")
# Words that English and Spanish share as they stand here: numbers' labels, commands, options, names of files, signs.
_SHARED = """
... another bank barwright csv diagnosis error items json kr la let li measures most names no once plan
ple prior question reteach review sh show slips students ta ti toml tri trip usual where wilson zigzag
"""
SHARED = frozenset(_SHARED.split())
NOUNS = {
    "m": "compás pulso silencio hueco número guion puntillo signo tresillo corchete ritmo conteo valor zigzag final "
    "tiempo orden patrón lugar error grupo estudiante recuadro rectángulo",
    "f": "redonda blanca negra corchea semicorchea figura nota cuenta ligadura línea plica cabeza barra marca mitad "
    "indicación parte duración forma sílaba opción respuesta pregunta pareja imagen lista tira letra clave página "
    "versión fila",
}
ARTICLES = {
    ("m", 1): "el un este del al ningún otro mismo primer todo", ("m", 2): "los unos estos otros mismos",
    ("f", 1): "la una esta ninguna otra misma primera toda", ("f", 2): "las unas estas ningunas otras mismas",
}  # fmt: skip


def plural(noun: str) -> str:
    """Real Academia Española, Nueva gramática, on plurals in -s and -es."""
    if noun[-1] in "aeo":
        return f"{noun}s"
    return {"compás": "compases", "guion": "guiones"}.get(noun) or re.sub("ón$", "on", noun) + "es"


def of(code: str) -> Iterator[tuple[str, str, str]]:
    for file, ident, texts in every_sentence(language(code)):
        for text in texts:
            yield file, ident, text


def is_sentence(file: str, ident: str) -> bool:
    return (file in SENTENCES and ident != "") or (
        file in ("asks", "paper") and ident.rpartition(".")[2] in ASKED and "." in ident
    )


@pytest.mark.parametrize("code", languages())
def test_every_ask_misreading_and_convention_is_walked(code: str) -> None:
    seen = {(file, ident) for file, ident, _ in of(code)}
    assert {("misreadings", f"{m}.{part}") for m in MISREADINGS for part in ("feedback", "why")} <= seen
    assert {("asks", f"{ask}.{part}") for ask in ASKS for part in ("student", "stem", "key")} <= seen
    assert {("counting", f"held.{each}") for each in ("beats", "subdivisions", "onset_only")} <= seen


@pytest.mark.parametrize("code", languages())
def test_sentences_are_whole(code: str) -> None:
    for file, ident, text in of(code):
        where = f"{file}.toml, {ident}: {text!r}"
        assert not re.search(r"[{}%]\s*[a-z]|Undefined", text.replace("95 %", "")), where
        assert not re.search(r"\s[.,;:?!](?!\d)|,\.|\(\s|\s\)|  ", text.replace("...", "x").replace(" .41", "")), where
        assert not re.search(r"(?<!\.)\.\.(?!\.)", text.replace("....", "...")), where
        if is_sentence(file, ident) and text not in ("1-2 (3)", "1 2 3"):
            assert re.search(r"[.?]$", text), where
            assert text[0].isupper() or text[0] in "¿.", where


@pytest.mark.parametrize("code", languages())
def test_no_word_stands_twice(code: str) -> None:
    for file, ident, text in of(code):
        doubled = re.findall(r"\b([^\W\d]+) \1\b", text)
        assert not doubled, f"{file}.toml, {ident}: {text!r}"


def words_of(code: str) -> dict[str, str]:
    return {word: text for _, _, text in of(code) for word in re.findall(r"[^\W\d_]+|\.\.\.", text.lower())}


def test_no_english_stands_in_the_spanish() -> None:
    english, spanish = words_of("en-US"), words_of("es")
    shared = {word: spanish[word] for word in english.keys() & spanish.keys() if len(word) > 1}
    assert {word: text for word, text in shared.items() if word not in SHARED} == {}
    assert not re.search(r"\b(the|is|of|note|beat|rest)\b", " ".join(spanish))


def test_spanish_questions_open_as_they_close() -> None:
    for file, ident, text in of("es"):
        assert text.count("¿") == text.count("?"), f"{file}.toml, {ident}: {text!r}"


def agreement_faults(text: str) -> Iterator[str]:
    """Each article before a noun of another gender or number."""
    nouns = {n: (g, 1) for g, some in NOUNS.items() for n in some.split()}
    nouns |= {plural(n): (g, 2) for n, (g, _) in list(nouns.items())}
    articles = {a: kind for kind, some in ARTICLES.items() for a in some.split()}
    for article, noun in re.findall(r"\b([^\W\d]+) (?=([^\W\d]+))", text.lower()):
        if article in articles and noun in nouns and articles[article] != nouns[noun] and noun != "estudiante":
            yield f"{article} {noun}"


def test_spanish_articles_agree_with_their_nouns() -> None:
    looked = 0
    for file, ident, text in of("es"):
        looked += bool(re.search(r"\b(el|la|los|las|un|una)\b", text.lower()))
        assert list(agreement_faults(text)) == [], f"{file}.toml, {ident}: {text!r}"
    assert looked > 200
    # The reader sees faults.
    assert list(agreement_faults("Mira el figura. Un línea divisoria, los compás del nota.")) == [
        "el figura", "un línea", "los compás", "del nota",
    ]  # fmt: skip


def test_british_english_has_no_american_word() -> None:
    american = (
        r"\b(measures?|barlines?|(whole|half|quarter|eighth|sixteenth) (note|rest)s?|parenthes[ei]s|flags?|meters?)\b"
    )
    for file, ident, text in of("en-GB"):
        assert not re.search(american, text.replace("`measures = 3`", "")), f"{file}.toml, {ident}: {text!r}"


# Worked by hand from the formula (Szigriszt-Pazos 1993): 4 words, 9 syllables, 1 sentence; 6 words, 12 syllables, 2.
WORKED = {
    "Cuenta cada silencio también.": 206.835 - 62.3 * 9 / 4 - 4,
    "Mira la música. Después responde tú.": 206.835 - 62.3 * 12 / 6 - 3,
}


@pytest.mark.parametrize(("text", "worked"), WORKED.items())
def test_perspicuity_as_worked_by_hand(text: str, worked: float) -> None:
    assert perspicuity([text]) == pytest.approx(worked)


# Real Academia Española, Diccionario and Ortografía (2010): syllables as they divide these words.
DIVIDED = {
    1: "y el muy que guion pon bien",
    2: "compás pulso negra cuenta después leer duran cuánto siempre también aunque",
    3: "silencio corchea música línea figura número ahora respuesta duración",
    4: "divisoria paréntesis ligadura indicación",
    5: "semicorchea",
}


@pytest.mark.parametrize(("count", "words"), DIVIDED.items())
def test_spanish_syllables(count: int, words: str) -> None:
    for word in words.split():
        assert syllables(word) == count, word


def told_to_students(code: str) -> list[str]:
    return [text for file, ident, text in of(code)
            if is_sentence(file, ident) and not ident.endswith(".why") and len(text.split()) > 1]  # fmt: skip


@pytest.mark.parametrize("code", [code for code in languages() if code.startswith("en")])
def test_english_is_at_most_grade_five(code: str) -> None:
    assert reading_grade(told_to_students(code)) <= 5


def test_spanish_is_very_easy() -> None:
    """INFLESZ: over 80."""
    assert perspicuity(told_to_students("es")) > 80
