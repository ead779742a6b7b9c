"""Whether two packages say the same, in whatever standards they are written."""

from collections.abc import Iterator
from fractions import Fraction

from barwright.check.reading.package_model import (
    ReadItem,
    ReadPackage,
    ReadResponse,
    Shown,
)
from barwright.check.reading.texts import said


def same_content(one: ReadPackage, other: ReadPackage) -> tuple[str, ...]:
    """Every difference in items, stems, choices, keys, scores, feedback, points, pools and picture bytes, a line each.

    Scores are compared as parts of the full score, since standards count differently; identifiers of responses and of
    feedback, file names, titles of the package and what a text is marked up with are not compared. Points are compared
    only where both tell them.
    """
    idents, others = [i.ident for i in one.items], [i.ident for i in other.items]
    if idents != others:
        return (f"items {' '.join(idents)!r} against {' '.join(others)!r}",)
    differences = [line for a, b in zip(one.items, other.items, strict=True) for line in _items(a, b)]
    if one.pools != other.pools:
        drawn = [[(p.draws, p.items) for p in package.pools] for package in (one, other)]
        if drawn[0] != drawn[1]:
            differences.append(f"pools {drawn[0]!r} against {drawn[1]!r}")
    return tuple(differences)


def _items(one: ReadItem, other: ReadItem) -> Iterator[str]:
    where = f"item {one.ident}"
    yield from _shown(f"{where}, stem", one.stem, other.stem)
    if one.title != other.title:
        yield f"{where}: title {one.title!r} against {other.title!r}"
    kinds, others = [r.kind for r in one.responses], [r.kind for r in other.responses]
    if kinds != others:
        yield f"{where}: answered by {kinds!r} against {others!r}"
        return
    for a, b in zip(one.responses, other.responses, strict=True):
        yield from _responses(where, a, b)
    if one.points is not None and other.points is not None and one.points != other.points:
        yield f"{where}: points {said(one.points)} against {said(other.points)}"
    yield from _answers(where, one, other)


def _shown(where: str, one: Shown, other: Shown) -> Iterator[str]:
    if one.paragraphs != other.paragraphs:
        yield f"{where}: text {one.paragraphs!r} against {other.paragraphs!r}"
    pictures, others = ([(p.digest, p.alt) for p in shown.pictures] for shown in (one, other))
    if pictures != others:
        yield f"{where}: pictures {pictures!r} against {others!r}"


def _responses(where: str, one: ReadResponse, other: ReadResponse) -> Iterator[str]:
    idents, others = [c.ident for c in one.choices], [c.ident for c in other.choices]
    if idents != others:
        yield f"{where}: choices {idents!r} against {others!r}"
    else:
        for a, b in zip(one.choices, other.choices, strict=True):
            yield from _shown(f"{where}, choice {a.ident}", a.shown, b.shown)
    if set(one.keys) != set(other.keys) or (one.kind == "order" and one.keys != other.keys):
        yield f"{where}: keys {one.keys!r} against {other.keys!r}"
    if one.slots != other.slots:
        yield f"{where}: places {one.slots!r} against {other.slots!r}"
    if one.shuffled != other.shuffled:
        yield f"{where}: shuffled {one.shuffled} against {other.shuffled}"


def _answers(where: str, one: ReadItem, other: ReadItem) -> Iterator[str]:
    if one.untried or other.untried:
        if one.untried != other.untried:
            yield f"{where}: untried for {one.untried!r} against {other.untried!r}"
        return
    answers, others = one.scored, other.scored
    for given in dict.fromkeys((*answers, *others)):
        if given not in answers or given not in others:
            yield f"{where}: answer {given!r} is known to one only"
            continue
        a, b = answers[given], others[given]
        parts = (_part(a.score, one), _part(b.score, other))
        if parts[0] != parts[1]:
            yield f"{where}: answer {given!r} scores {said(parts[0])} against {said(parts[1])} of the full score"
        if tuple(dict.fromkeys(a.feedback)) != tuple(dict.fromkeys(b.feedback)):  # two keys may say one thing
            yield f"{where}: answer {given!r} is told {a.feedback!r} against {b.feedback!r}"


def _part(score: Fraction, item: ReadItem) -> Fraction:
    return score / item.best if item.best else Fraction(0)
