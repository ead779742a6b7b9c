"""Sentences for Jinja, kept once filled in; those that only name things and leave parts out are put together here.

Nearly all are of that sort, and for them Jinja's compiler and its context for every text cost more than all the rest.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from jinja2 import Environment, StrictUndefined, nodes
from jinja2.meta import find_undeclared_variables

# Filled-in texts that are kept for one id: few names have many values, and then only the last ones matter.
MOST_KEPT = 4096

Context = Mapping[str, object]
Fill = Callable[[Context], str]
Texts = tuple[str, ...]

_JINJA = Environment(undefined=StrictUndefined, autoescape=False)
_JINJA.globals.clear()


@dataclass(frozen=True, slots=True, eq=False)
class Sentences:
    """What stands under one id: plain texts and sentences, the names these use, and what they gave so far."""

    parts: tuple[Fill | str, ...]
    names: tuple[str, ...]
    kept: dict[tuple[object, ...], tuple[Texts, str]] = field(default_factory=dict)

    def filled(self, context: Context) -> tuple[Texts, str]:
        """The texts with the names filled in and the spaces evened, empty ones left out; and all of them as one text.

        Raises JinjaError.
        """
        values = tuple(map(context.get, self.names))
        found = self.kept.get(values)
        if found is None:
            filled = [part if isinstance(part, str) else part(context) for part in self.parts]
            texts = tuple([text for text in [" ".join(each.split()) for each in filled] if text])
            found = texts, " ".join(texts)
            if len(self.kept) >= MOST_KEPT:
                self.kept.clear()
            if None not in values:  # None may be a name that the context lacks: that must be told every time
                self.kept[values] = found
        return found


def sentences(sources: Iterable[str]) -> Sentences:
    """These texts, ready to be filled in; raises JinjaError for a broken sentence."""
    parts: list[Fill | str] = []
    names: set[str] = set()
    for source in sources:
        if "{" not in source:
            parts.append(source)
            continue
        tree = _JINJA.parse(source)
        simple = _simple(tree.body)
        if simple is None:
            names |= find_undeclared_variables(tree)
            parts.append(_JINJA.from_string(tree).render)
        else:
            names.update(name.name for name in tree.find_all(nodes.Name))
            parts.append(_or_refused(simple, source))
    return Sentences(tuple(parts), tuple(sorted(names)))


def _or_refused(simple: Fill, source: str) -> Fill:
    def fill(context: Context) -> str:
        try:
            return simple(context)
        except KeyError:  # an unknown name: Jinja tells which
            return _JINJA.from_string(source).render(context)

    return fill


def _simple(body: Iterable[nodes.Node]) -> Fill | None:
    """Fills in names and the parts that depend on whether a name is true; None if there is anything else."""
    parts: list[str | Fill] = []
    for node in body:
        found = list(map(_value, node.nodes)) if isinstance(node, nodes.Output) else [_choice(node)]
        known = [part for part in found if part is not None]
        if len(known) < len(found):
            return None
        parts += known
    return lambda context: "".join([part if isinstance(part, str) else part(context) for part in parts])


def _value(node: nodes.Node) -> str | Fill | None:
    if isinstance(node, nodes.TemplateData):
        return node.data
    if not isinstance(node, nodes.Name):
        return None
    name = node.name
    return lambda context: str(context[name])


def _choice(node: nodes.Node) -> Fill | None:
    if not isinstance(node, nodes.If) or not isinstance(node.test, nodes.Name) or node.elif_:
        return None
    name, shown, other = node.test.name, _simple(node.body), _simple(node.else_)
    if shown is None or other is None:
        return None
    return lambda context: shown(context) if context[name] else other(context)
