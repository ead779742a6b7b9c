"""Reading ease of Spanish: the perspicuity of Szigriszt-Pazos, on the scale INFLESZ.

Sources: F. Szigriszt Pazos, Sistemas predictivos de legibilidad del mensaje escrito: fórmula de perspicuidad, thesis,
Universidad Complutense de Madrid (1993): 206.835 - 62.3 syllables per word - words per sentence. I. M. Barrio-Cantalejo
and others, Validación de la Escala INFLESZ, Anales del Sistema Sanitario de Navarra 31 (2008), 135-152: over 80 very
easy (first years of school), 65 to 80 quite easy, 55 to 65 normal, 40 to 55 somewhat difficult.
"""

import re
from collections.abc import Iterable

from barwright.wording.reading_level import sentences_of

STEPS = ((80, "very easy"), (65, "quite easy"), (55, "normal"), (40, "somewhat difficult"))
HARDEST = "very difficult"

_WORD = re.compile(r"[^\W\d_]+|\d+(?:/\d+)?|[½¼¾]")
# A syllable has one of: strong vowels each their own, a weak one with an accent beside them its own as well, weak ones
# with the strong beside them or with each other together (Real Academia Española, Ortografía, 2010, on diphthongs).
_NUCLEUS = re.compile(r"[íú]|[iuü]*[aeoáéó](?:[iuü](?![aeoáéóíú]))?|[iuü]+")


def syllables(word: str) -> int:
    """Syllables of a Spanish word, at least 1; a number is read as one.

    >>> [syllables(word) for word in ("compás", "silencio", "línea", "guion", "cuenta", "oído", "muy", "que", "leer")]
    [2, 3, 3, 1, 2, 3, 1, 1, 2]
    """
    plain = re.sub(r"y$", "i", word.lower())
    plain = re.sub(r"qu(?=[eiéí])|gu(?=[eiéí])", lambda found: found[0][0], plain)
    return max(1, len(_NUCLEUS.findall(plain)))


def perspicuity(texts: Iterable[str]) -> float:
    """The perspicuity of all texts together, about 0 to 100, easy texts high. Raises ValueError if there is no word."""
    sentences = [sentence for text in texts for sentence in sentences_of(text)]
    words = [word for sentence in sentences for word in _WORD.findall(sentence)]
    if not words:
        raise ValueError("no words to read: give at least one sentence")
    return 206.835 - 62.3 * sum(map(syllables, words)) / len(words) - len(words) / len(sentences)


def called(value: float) -> str:
    """What the scale INFLESZ calls a perspicuity.

    >>> called(82), called(60)
    ('very easy', 'normal')
    """
    return next((name for least, name in STEPS if value > least), HARDEST)
