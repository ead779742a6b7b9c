"""What `make` tells of guessing: what the best rule of thumb wins of each form, and what keeps it from winning less."""

from collections.abc import Iterator, Sequence
from random import Random

from barwright.forms.assembly import MadeForm
from barwright.forms.seeing import BY_LENGTH, seen_form
from barwright.guesser import STRATEGIES, SeenItem, Winnings, luck, winnings
from barwright.tasks.saying import counted

# Points that the best rule may win of a form beside what luck gives the best of so many rules.
AIM = 5
# Under so many items of an ask in a form nothing can be balanced; with so few lengths, or wrong answers to choose from
# in an item, no set of choices is without a giveaway.
FEW_ITEMS, FEW_LENGTHS, FEW_WRONG = 6, 3, 6


def points(won: Winnings, strategy: str) -> int:
    """What a strategy wins over chance, in whole points of a hundred."""
    return round(100 * won.over(strategy))


def lucky_points(items: Sequence[SeenItem]) -> int:
    """What the best rule wins of such items by luck alone, in whole points of a hundred."""
    return round(100 * luck(items, Random("luck")))


def guess_lines(names: Sequence[str], forms: Sequence[MadeForm]) -> Iterator[str]:
    """A line on each form: the rule of thumb that wins most of it, of who reads neither question nor figure.

    What luck gives is worked out on the first form, and again where a form has another number of items: forms of a quiz
    have as many items of each kind, and of these it depends.
    """
    lucky: dict[int, int] = {}
    for name, made in zip(names, forms, strict=True):
        items = seen_form(made.form)
        if not items:
            continue
        if len(items) not in lucky:
            lucky[len(items)] = lucky_points(items)
        whole, by_luck = winnings(items).whole, lucky[len(items)]
        won = points(whole, whole.best)
        line = (
            f"{name}: who reads neither question nor figure wins {counted(won, 'point')} over chance at best "
            f"({whole.best}). Luck alone gives the best of {len(STRATEGIES)} such rules about {by_luck} in "
            f"{counted(len(items), 'item')}; aim: at most {AIM} more."
        )
        yield line if won <= by_luck + AIM else f"{line} --verbose tells by ask what binds."


def guess_details(names: Sequence[str], forms: Sequence[MadeForm]) -> Iterator[str]:
    """For --verbose: by form and ask the three rules that win most, and which want binds where that is too much."""
    for name, made in zip(names, forms, strict=True):
        items = seen_form(made.form)
        for ask, won in sorted(winnings(items).asks.items()):
            best = sorted(STRATEGIES, key=lambda each: -points(won, each))[:3]
            told = ", ".join(f"{each} {points(won, each):+}" for each in best)
            asked = [item for item in items if item.ask == ask]
            by_luck = lucky_points(asked)
            why = f": {_binds(ask, asked, made)}" if points(won, best[0]) > by_luck + AIM else ""
            yield f"guessing, {name}, {ask}, points over chance: {told} (luck alone: about {by_luck}){why}"


def _binds(ask: str, items: Sequence[SeenItem], made: MadeForm) -> str:
    """Which want of excerpts keeps rules of thumb above the aim, as measured in the form."""
    lengths = len({item.choices[key].size for item in items for key in item.keys})
    wrong, kept = made.tally.led[ask], made.tally.kept[ask]
    if ask in BY_LENGTH and lengths <= FEW_LENGTHS:
        choices = max(len(item.choices) for item in items)
        return (
            f"only {counted(lengths, 'length')} can be right here, with {choices} choices at most: dotted or shorter "
            "notes help, or blanks of two symbols"
        )
    if kept and wrong < FEW_WRONG * kept:
        return (
            f"misreadings lead to {counted(wrong // kept, 'wrong answer')} an item, too few to choose from: longer "
            "excerpts with `measures`, or more elements help"
        )
    if len(items) < FEW_ITEMS:
        return f"{counted(len(items), 'item')} of this ask are too few to balance"
    return "no want of excerpts: another seed may do better"
