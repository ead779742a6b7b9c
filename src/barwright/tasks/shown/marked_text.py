"""Texts in Markdown for a page, and for a terminal, whose lines have a width."""

from collections.abc import Iterator, Sequence
from textwrap import wrap

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markdown_it.tree import SyntaxTreeNode

LEAST_WIDTH = 20  # letters, however far a text is indented
MOST_TOGETHER = 40  # letters of code that stay on one line
LEAST_COLUMN = 24  # letters of the last column of a table
STEP, GAP = "    ", "  "
KEPT_SPACE = "\xa0"  # where a line is not to end, until it is wrapped
HELP = "barwright help "
_RULES = {1: "=", 2: "-"}
_MARKDOWN = MarkdownIt("commonmark", {"html": False}).enable("table")


def as_html(text: str) -> str:
    """The text as HTML; markup that stands in it is shown, and does nothing."""
    return str(_MARKDOWN.render(text))


def as_lines(text: str, width: int) -> Iterator[str]:
    """The text as lines of at most `width` letters, but for code and tables of wide cells."""
    yield from _blocks(SyntaxTreeNode(_parsed(text)).children, width)


def _parsed(text: str) -> list[Token]:
    tokens: list[Token] = _MARKDOWN.parse(text)
    return tokens


def _blocks(nodes: Sequence[SyntaxTreeNode], width: int) -> Iterator[str]:
    """The lines of blocks that stand under each other, an empty one between two."""
    for number, node in enumerate(nodes):
        if number:
            yield ""
        yield from _block(node, width)


def _block(node: SyntaxTreeNode, width: int) -> Iterator[str]:
    if node.type == "heading":
        title = _bare(node).replace(KEPT_SPACE, " ")
        yield title
        rule = _RULES.get(int(node.tag[1:]))
        if rule:
            yield rule * len(title)
    elif node.type in ("fence", "code_block"):
        yield from (f"{STEP}{line}" for line in node.content.splitlines())
    elif node.type == "bullet_list":
        for item in node.children:
            lines = list(_blocks(item.children, width - 2))
            yield from (f"{'  ' if number else '- '}{line}".rstrip() for number, line in enumerate(lines))
    elif node.type == "table":
        yield from _table(node, width)
    else:
        yield from _wrapped(_inline(node), width)


def _table(node: SyntaxTreeNode, width: int) -> Iterator[str]:
    """Columns, the last of them wrapped, where that leaves it room; else each first cell, and the others below it."""
    head, *rows = ([_bare(cell) for cell in row.children] for part in node.children for row in part.children)
    widths = [max(map(len, column)) for column in zip(head, *rows, strict=True)]
    room = width - sum(widths[:-1]) - len(GAP) * (len(widths) - 1)
    if min(widths[-1], LEAST_COLUMN) <= room:
        widths[-1] = min(widths[-1], room)
        for row in (head, ["-" * each for each in widths], *rows):
            yield from _row(row, widths)
        return
    for number, (first, *others) in enumerate(rows):
        if number:
            yield ""
        yield from _wrapped(first, width)
        for name, cell in zip(head[1:], others, strict=True):
            if cell:
                yield from (f"{STEP}{line}" for line in _wrapped(f"{name}: {cell}", width - len(STEP)))


def _row(cells: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    """One row of a table in columns of these widths; only its last cell may need several lines."""
    first, *more = _wrapped(cells[-1], widths[-1]) or [""]
    columns = [cell.ljust(each) for cell, each in zip(cells[:-1], widths, strict=False)]
    yield GAP.join([*columns, first]).replace(KEPT_SPACE, " ").rstrip()
    indent = GAP.join(" " * len(column) for column in [*columns, ""])
    yield from (f"{indent}{line}" for line in more)


def _wrapped(text: str, width: int) -> list[str]:
    """Lines of a paragraph; neither words nor short pieces of code are broken, whose spaces cannot be told from others
    once they are out.
    """
    lines = wrap(text, max(width, LEAST_WIDTH), break_long_words=False, break_on_hyphens=False)
    return [line.replace(KEPT_SPACE, " ") for line in lines]


def _bare(node: SyntaxTreeNode) -> str:
    """A title or a cell; code that stands there alone has no marks around it."""
    inline = node.children[0].children if node.children else []
    while len(inline) == 1 and inline[0].type == "strong":
        inline = inline[0].children
    if len(inline) == 1 and inline[0].type == "code_inline":
        return str(inline[0].content)
    return _inline(node)


def _inline(node: SyntaxTreeNode) -> str:
    """The words of a node; code stands between its marks, and a link to a topic says how to read it."""
    if node.type in ("text", "html_inline"):
        return str(node.content)
    if node.type == "code_inline":
        code = f"`{node.content}`"
        return code.replace(" ", KEPT_SPACE) if len(code) <= MOST_TOGETHER else code
    if node.type in ("softbreak", "hardbreak"):
        return " "
    words = "".join(_inline(child) for child in node.children)
    return f"{words} ({HELP.replace(' ', KEPT_SPACE)}{node.attrs['href']})" if node.type == "link" else words
