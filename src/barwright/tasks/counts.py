"""`counts`: the counts under a rhythm, in any counting system."""

from dataclasses import replace
from typing import Any

from barwright.counting.counts import count_labels
from barwright.errors import BarwrightError
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.rhythm.text import format_symbol, parse_excerpt
from barwright.showing import meant, shown


def conventions_of(settings: tuple[str, ...]) -> Conventions:
    """Conventions from `key=value` texts; BarwrightError for an unknown key or value, with what is allowed."""
    known = convention_values()
    chosen: dict[str, Any] = {}
    for setting in settings:
        key, _, value = setting.partition("=")
        if key not in known:
            raise BarwrightError(
                f"convention {shown(key)} is not known{meant(key, known, 'barwright help conventions lists them all')}"
            )
        allowed = {str(v).lower() if isinstance(v, bool) else str(v): v for v in known[key]}
        if value not in allowed:
            raise BarwrightError(f"{key} = {shown(value)} is not allowed: use {', '.join(allowed)}")
        chosen[key] = allowed[value]
    return replace(Conventions(), **chosen)


def counts(text: str, *, conventions: Conventions) -> tuple[str, str]:
    """Two lines that stand under each other: the symbols of a rhythm text, and the label under each."""
    excerpt = parse_excerpt(text)
    labels = count_labels(excerpt, conventions)
    above, below = [], []
    for symbols, row in zip(excerpt.measures, labels, strict=True):
        left = list(row)
        pairs = []
        for index, symbol in enumerate(symbols):
            held = index > 0 and symbols[index - 1].tied
            pairs.append((format_symbol(symbol), "" if held or not left else left.pop(0)))
        widths = [max(len(a), len(b)) for a, b in pairs]
        above.append(" ".join(a.ljust(w) for (a, _), w in zip(pairs, widths, strict=True)))
        below.append(" ".join(b.ljust(w) for (_, b), w in zip(pairs, widths, strict=True)))
    return f"{excerpt.meter} {' | '.join(above)}".rstrip(), (
        " " * (len(str(excerpt.meter)) + 1) + " | ".join(below)
    ).rstrip()
