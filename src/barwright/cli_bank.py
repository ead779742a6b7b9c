"""`barwright bank ...`: the department's shared items; each command calls its task and prints the answer."""

import re
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperCommand

from barwright.cli_output import answer, complain, say
from barwright.showing import in_quotes

bank_app = typer.Typer(
    rich_markup_mode=None,
    no_args_is_help=True,
    help="The department's shared items: add, merge, show, take, review, export, check.",
)


class PlainCommand(TyperCommand):
    """A command whose help and usage show no types of Python, and no braces around what must be given."""

    def get_help(self, ctx: Any) -> str:
        """The help: `BANK...  Bank files` where Typer says `{BANK}...` and `BANK <list[Path]>  Bank files`."""
        return _plain(super().get_help(ctx))

    def get_usage(self, ctx: Any) -> str:
        """The usage line, which stands above errors too."""
        return _plain(super().get_usage(ctx))


def _plain(text: str) -> str:
    return re.sub(r"(?<=\S) <[^<>\n]+>", "", re.sub(r"\{([A-Z_]+)\}", r"\1", text))


def whole_number(option: str) -> Callable[[object], int]:
    """Reads the value of an option as a whole number; wrong usage, with the mend, for anything else."""

    def read(value: object) -> int:
        text = str(value).strip()
        if re.fullmatch("[0-9]{1,18}", text) is None:
            raise typer.BadParameter(
                f"{in_quotes(text)} is no whole number of 0 or more: write it in digits, e.g. 2",
                param_hint=f"'{option}'",
            )
        return int(text)

    return read


Bank = Annotated[Path, typer.Argument(metavar="BANK", help="A bank file, e.g. department.jsonl.")]
Replace = Annotated[bool, typer.Option("--replace", help="Write anew what exists already.")]
Repeats = Annotated[
    bool, typer.Option("--allow-repeats", help="Make forms that are too poor to be fair, too: alike, or not parallel.")
]
For = Annotated[
    list[str] | None,
    typer.Option(
        "--for",
        metavar="NEED",
        help="Also write versions for accommodations: large_print high_contrast one_a_page fewer_choices fewer_items "
        "read_aloud braille_text; may be repeated.",
    ),
]
Paper = Annotated[bool, typer.Option("--paper", help="Also write each form to print: quiz.pdf and its key.pdf.")]
Out = Annotated[Path, typer.Option("--out", metavar="FOLDER", help="The folder to write into.")]
Seed = Annotated[
    int | None,
    typer.Option(
        "--seed",
        parser=whole_number("--seed"),
        metavar="NUMBER",
        help="Another number gives another quiz of the same kind.",
    ),
]
Font = Annotated[
    str,
    typer.Option(
        "--music-font", metavar="FONT", help="Bravura, Leland, Leipzig, Petaluma, Gootville, or a SMuFL font file."
    ),
]
Forget = Annotated[
    bool,
    typer.Option("--forget-retakes", help="With --replace: even if retakes and other forms that a class had get lost."),
]
As = Annotated[list[str] | None, typer.Option("--as", metavar="SHAPE", help="quiz (usual) or bank; may be repeated.")]
Language = Annotated[str, typer.Option(metavar="LANGUAGE", help="The language of the questions.")]
By = Annotated[str, typer.Option("--by", metavar="NAME", help="Who says so; initials will do.")]
Where = Annotated[
    list[str] | None,
    typer.Option(
        "--where",
        "-w",
        metavar="CONDITION",
        help="A condition, e.g. meter=3/4,4/4 or element!=rh or sounds>=4; may be repeated, and all must hold.",
    ),
]
Standard = Annotated[
    list[str] | None, typer.Option(metavar="STANDARD", help="A standard as for make, or all; may be repeated.")
]
Date = Annotated[str, typer.Option(metavar="DAY", help="The day, as 2025-03-14.")]


def _tell(faults: Iterable[str]) -> None:
    """Lines that could not be read go to the error stream; the rest of the bank was used."""
    for fault in faults:
        complain(fault)


@bank_app.command(cls=PlainCommand)
def add(
    record: Annotated[Path, typer.Argument(metavar="RECORD", help="The record.jsonl that make wrote.")],
    bank: Bank,
    date: Date = "",
    source: Annotated[str, typer.Option(metavar="NAME", help="Who adds it, or where it comes from.")] = "",
    results: Annotated[bool, typer.Option("--results", help="Also add how often each choice was picked.")] = False,
    section: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME", help="Only what this section got; may be repeated; usual: all sections."),
    ] = None,
    retake: Annotated[
        int | None,
        typer.Option(
            parser=whole_number("--retake"),
            metavar="NUMBER",
            help="Only this retake, 0 for the quiz itself; usual: the quiz and all its retakes.",
        ),
    ] = None,
) -> None:
    """Adds a quiz's items, and who got them. Example: barwright bank add out/unit-1/record.jsonl our.jsonl"""
    from barwright.tasks.bank.add import add as task
    from barwright.tasks.saying import counted, quoted

    added = task(record, bank, date=date, source=source, results=results, sections=section or (), retake=retake)
    _tell(added.faults)
    say(f"{bank}: {counted(added.items, 'item')} of the record, {added.new} of them new to the bank.")
    say(f"Next: look at them with  barwright bank show {quoted(bank)} --where review=new --html bank.html")


@bank_app.command(cls=PlainCommand)
def difficulty(bank: Bank) -> None:
    """Tells how hard kinds of items proved, and weights to take. Example: barwright bank difficulty our.jsonl"""
    from barwright.tasks.bank.difficulty import difficulty as task

    lines, faults = task(bank)
    _tell(faults)
    for line in lines:
        say(line)


@bank_app.command(cls=PlainCommand)
def merge(
    banks: Annotated[
        list[Path],
        typer.Argument(metavar="BANK", help="Bank files, one or more."),
    ],
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="BANK", help="The bank to write; may be one of them.")
    ],
    preview: Annotated[
        bool, typer.Option("--preview", help="Only tell what the others would bring to the first, and write nothing.")
    ] = False,
    replace: Replace = False,
) -> None:
    """Joins banks; nothing of any is lost. Example: barwright bank merge ours.jsonl theirs.jsonl -o all.jsonl"""
    from barwright.tasks.bank.merge import merge as task
    from barwright.tasks.bank.news import news
    from barwright.tasks.saying import counted

    if preview:
        brought = news(banks[0], banks[1:])
        _tell(brought.faults)
        for line in brought.lines:
            say(line)
        return
    merged = task(banks, output, replace=replace)
    _tell(merged.faults)
    say(f"Wrote {output}: {counted(merged.items, 'different item')} of {counted(len(banks), 'bank')}.")


@bank_app.command(cls=PlainCommand)
def show(
    bank: Bank,
    where: Where = None,
    most: Annotated[
        int, typer.Option(parser=whole_number("--most"), metavar="NUMBER", help="Show at most so many items.")
    ] = 40,
    html: Annotated[
        Path | None, typer.Option("--html", metavar="PAGE", help="Write a page with figures instead, e.g. bank.html.")
    ] = None,
    language: Language = "en-US",
    music_font: Font = "Bravura",
    replace: Replace = False,
) -> None:
    """Lists items. Example: barwright bank show our.jsonl --where ask=beats-left --where review=approved"""
    from barwright.tasks.bank.show import show as task
    from barwright.tasks.bank.show import show_page, table_lines
    from barwright.tasks.files import with_ending
    from barwright.tasks.saying import counted

    if html is not None:
        html = with_ending(html, (".html", ".htm"), "the page is HTML")
    listing, faults = task(bank, where=where or (), most=most)
    _tell(faults)
    if html is not None:
        looks = {"language": language, "music_font": music_font}
        page = show_page(bank, html, listing, **looks, replace=replace, progress=_progress())
        say(f"Wrote {page}: {len(listing.views)} of {counted(listing.total, 'item')}.")
        return
    for line in table_lines(listing):
        say(line)


@bank_app.command(cls=PlainCommand)
def take(
    bank: Bank,
    blueprint: Annotated[Path, typer.Option("--blueprint", "-b", metavar="BLUEPRINT", help="The blueprint to fill.")],
    where: Where = None,
    since: Annotated[str, typer.Option(metavar="DAY", help="Uses before this day do not count, as 2025-08-15.")] = "",
    out: Out = Path("out"),
    seed: Seed = None,
    standard: Standard = None,
    as_: As = None,
    paper: Paper = False,
    for_: For = None,
    music_font: Font = "Bravura",
    replace: Replace = False,
    forget_retakes: Forget = False,
    allow_repeats: Repeats = False,
    verbose: Annotated[bool, typer.Option("--verbose", help="Also tell what is not parallel or was refused.")] = False,
) -> None:
    """Makes a quiz of approved items first. Example: barwright bank take our.jsonl --blueprint quiz.toml"""
    from barwright.tasks.bank.take import take as task
    from barwright.tasks.bank.take import taken_lines
    from barwright.tasks.packing import Order, accommodations_of, shapes_of, standards_of
    from barwright.tasks.saying import quoted

    kinds, wanted = (standards_of(standard), shapes_of(as_)), (paper, accommodations_of(for_))
    order = Order(out, seed, *kinds, (), replace, music_font, 0, forget_retakes, allow_repeats, *wanted)
    taken = task(bank, blueprint, order, where=where or (), since=since, progress=_progress())
    _tell(taken.faults)
    for line in taken_lines(taken, verbose=verbose):
        say(line)
    folder = taken.made.folder
    proof, record = quoted(folder / "proof.html"), quoted(folder / "record.jsonl")
    say(f"Wrote {folder}. Next: look through {proof}, import a package, and")
    say(f"when the class has had it:  barwright bank add {record} {quoted(bank)} --date YYYY-MM-DD")


@bank_app.command(cls=PlainCommand)
def review(
    bank: Bank,
    item: Annotated[
        list[str] | None, typer.Option(metavar="ID", help="An item's id, or how it begins; may be repeated.")
    ] = None,
    where: Where = None,
    approve: Annotated[bool, typer.Option("--approve", help="Good to use.")] = False,
    retire: Annotated[bool, typer.Option("--retire", help="Not to be used again.")] = False,
    take_back: Annotated[
        bool, typer.Option("--take-back", help="Take a retirement back; the record of both stays.")
    ] = False,
    comment: Annotated[str, typer.Option(metavar="TEXT", help="A remark, alone or beside a verdict.")] = "",
    tag: Annotated[
        list[str] | None, typer.Option(metavar="TAG", help="A word to find the items by; may be repeated.")
    ] = None,
    by: By = "",
    date: Date = "",
) -> None:
    """Says what you think of items. Example: barwright bank review our.jsonl --item 9f2c --approve --by "Ms. Alder" """
    from barwright.tasks.bank.review import review as task
    from barwright.tasks.bank.review import verdict_of

    verdict = verdict_of(
        approve=approve, retire=retire, take_back=take_back, comment=comment, tags=tag or (), by=by, date=date
    )
    reviewed = task(bank, verdict, items=item or (), where=where or ())
    _tell(reviewed.faults)
    say(f"{bank}: {reviewed.line}")


@bank_app.command(cls=PlainCommand)
def export(
    bank: Bank,
    standard: Standard = None,
    where: Where = None,
    out: Out = Path("out"),
    language: Language = "en-US",
    music_font: Font = "Bravura",
    replace: Replace = False,
) -> None:
    """Writes question banks for a platform. Example: barwright bank export our.jsonl --standard cc13"""
    from barwright.tasks.bank.export import export as task
    from barwright.tasks.packing import Order, standards_of
    from barwright.tasks.saying import counted

    order = Order(out, standards=standards_of(standard), replace=replace, music_font=music_font)
    exported = task(bank, order, where=where or (), language=language, progress=_progress())
    _tell(exported.faults)
    for package in exported.removed:
        say(f"Removed {exported.folder / package}: it is of an earlier export, and not asked for now.")
    packages = ", ".join(exported.packages)
    say(f"Wrote {exported.folder}: {counted(exported.items, 'item')} in {packages}.")


@bank_app.command(cls=PlainCommand)
def check(bank: Bank) -> None:
    """Judges every item again and works out every id anew. Example: barwright bank check our.jsonl"""
    from barwright.tasks.bank.check import check as task
    from barwright.tasks.saying import counted

    checked = task(bank, progress=_count)
    _tell(checked.faults)
    are = "is" if checked.sound == 1 else "are"
    say(f"{bank}: {counted(checked.sound, 'item')} {are} sound; {counted(len(checked.faults), 'fault')}.")
    if checked.faults:
        raise typer.Exit(1)


@bank_app.command(cls=PlainCommand)
def schema() -> None:
    """Prints the JSON Schema of a bank's lines. Example: barwright bank schema > bank.schema.json"""
    from barwright.tasks.bank.schema import schema as task

    answer(task().removesuffix("\n"))


def _progress() -> Callable[[str, int, int], None]:
    """How far a long phase is, on the error stream of a terminal."""
    from barwright.tasks.progress import told_on

    return told_on(sys.stderr)


def _count(done: int) -> None:
    """A counter on the error stream, where nobody knows how many there are; where it is no terminal, a line at "
    "times."""
    if sys.stderr is None or done % 100:
        return
    if not sys.stderr.isatty():
        if done % 5_000 == 0:
            complain(f"Still working: {done:,} items")
    else:
        sys.stderr.write(f"\r{done:,} items")
        sys.stderr.flush()
