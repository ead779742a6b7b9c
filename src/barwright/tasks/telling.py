"""How well a quiz can tell misreadings apart, from its items alone: one line, without simulating anybody."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from barwright.items.form import Form
from barwright.results.answers import administered
from barwright.results.chances import (
    LEAST_CHANCES,
    WANTED_APART,
    WANTED_CHANCES,
    FormActs,
    Wanted,
    acted_forms,
    wanted_chances,
)
from barwright.tasks.saying import counted, listed, quoted

Groups = tuple[tuple[str, ...], ...]


def telling_line(forms: Sequence[Form], folder: Path) -> str:
    """What each form of a quiz can tell at least, and what it cannot tell apart."""
    acts = acted_forms(administered(forms))
    least = min(sum(is_told(form, name) for name in form.names) for form in acts)
    every = "" if len(acts) == 1 else " in every form"
    line = f"Told apart{every}: {counted(least, 'misreading')}, each by {LEAST_CHANCES} items or more"
    untold = [f"{listed(group)}{where}" for group, where in untold_groups(acts)]
    cannot = f"; no item tells apart {'; '.join(untold)}" if untold else ""
    return f"{line}{cannot}. More: barwright rehearse {quoted(folder)}"


def wanted_line(forms: Sequence[Form], wanted: Sequence[str]) -> str:
    """Which of the misreadings that the blueprint names have too few chances, or are hardly told apart; empty if none.

    Of several forms the one that gives a misreading least is told.
    """
    rows: dict[str, tuple[Wanted, str]] = {}
    given = administered(forms)
    for form in acted_forms(given):
        for row in wanted_chances(form.items, wanted):
            if row.lacks and (row.misreading not in rows or row.lacks > rows[row.misreading][0].lacks):
                rows[row.misreading] = row, form.section if len(given) > 1 else ""
    if not rows:
        return ""
    told = "; ".join(_lacking(row, section) for row, section in rows.values())
    return (
        f"Of the misreadings that you named these have fewer than {WANTED_CHANCES} chances, or than {WANTED_APART} "
        f"apart from another one: {told}. More items, longer excerpts or a typed ask give more."
    )


def _lacking(row: Wanted, section: str) -> str:
    figures = counted(row.chances, "chance")
    if row.rival and row.apart < WANTED_APART:
        figures += f", {row.apart} apart from {row.rival}"
    return f"{row.misreading} ({figures}{f'; {section}' if section else ''})"


def is_told(form: FormActs, name: str) -> bool:
    """Whether a misreading has chances enough, and each of its rivals is set apart from it by as many items."""
    return form.chances(name) >= LEAST_CHANCES and form.nearest(name)[0] >= LEAST_CHANCES


def untold_groups(forms: Sequence[FormActs]) -> Iterator[tuple[tuple[str, ...], str]]:
    """Each group of misreadings that no item of a form tells apart, and the forms in parentheses if not all.

    Only those that could be found at all: with one chance a student is named for none of them.
    """
    where: dict[tuple[str, ...], list[str]] = {}
    for form in forms:
        for group in form.untold:
            if form.chances(group[0]) >= LEAST_CHANCES:
                where.setdefault(group, []).append(form.section)
    for group, sections in where.items():
        yield group, "" if len(sections) == len(forms) else f" ({', '.join(dict.fromkeys(sections))})"
