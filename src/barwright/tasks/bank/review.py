"""`bank review`: colleagues approve, retire, remark on and tag items."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel

from barwright.bank.entries import Entry, united
from barwright.bank.records import pairs_of, record_of
from barwright.bank.states import state_of
from barwright.errors import BankError
from barwright.showing import shown
from barwright.tasks.bank.files import update
from barwright.tasks.bank.show import checked_filter
from barwright.tasks.saying import counted

LEAST_OF_ID = 4


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said of items: `verdict` is approve, retire or comment, or empty if they only get `tags`."""

    verdict: str = ""
    text: str = ""
    tags: tuple[str, ...] = ()
    by: str = ""
    date: str = ""


@dataclass(slots=True)
class Reviewed:
    """How many items were reviewed, how many approved ones stay retired, and faults of the bank's other lines."""

    items: int
    faults: tuple[str, ...]
    retired: int = 0

    @property
    def line(self) -> str:
        """What was done, as a line to print."""
        told = f"{counted(self.items, 'item')} reviewed"
        if not self.retired:
            return f"{told}."
        stay = "it stays" if self.items == 1 else f"{self.retired} of them stay{'s' * (self.retired == 1)}"
        return f"{told}; {stay} retired, since that cannot be undone."


def verdict_of(*, approve: bool, retire: bool, comment: str, tags: Sequence[str], by: str, date: str) -> Verdict:
    """The verdict of the command line; BankError if nothing is said, or too much."""
    if approve and retire:
        raise BankError("give --approve or --retire, not both")
    if not (approve or retire or comment or tags):
        raise BankError("say what to do: --approve, --retire, --comment TEXT or --tag TAG")
    name = "approve" if approve else "retire" if retire else "comment" if comment else ""
    return Verdict(name, " ".join(comment.split()), tuple(tags), by, date)


def review(bank: Path, verdict: Verdict, *, items: Sequence[str] = (), where: Sequence[str] = ()) -> Reviewed:
    """Records a verdict on the items of these ids (their first letters will do) that meet all conditions.

    BankError if no item is named and no condition given, if an id is of no item or of several, or as `files.update`;
    then nothing was recorded.
    """
    if not items and not where:
        raise BankError("say which items: --item ID, or --where CONDITION")
    for ident in items:
        if len(ident) < LEAST_OF_ID:
            raise BankError(f"--item {shown(ident)} is too short: give {LEAST_OF_ID} letters of the id or more")
    holds, records = checked_filter(bank, where), _records(verdict)
    hits: dict[str, list[str]] = defaultdict(list)
    reviewed = Reviewed(0, ())

    def changed(entries: Iterator[Entry]) -> Iterator[Entry]:
        for entry in entries:
            named = [ident for ident in items if entry.id.startswith(ident)]
            for ident in named:
                hits[ident].append(entry.id)
            if (named or not items) and holds(entry):
                reviewed.items += 1
                reviewed.retired += verdict.verdict == "approve" and state_of(entry.records) == "retired"
                yield united([entry, Entry(entry.id, entry.content, pairs_of(records))])
            else:
                yield entry
        for ident in items:
            _check_hit(ident, hits[ident])

    reviewed.faults = update(bank, changed).told
    return reviewed


def _records(verdict: Verdict) -> list[BaseModel]:
    found: list[BaseModel] = [record_of("tag", tag=tag) for tag in verdict.tags]
    if verdict.verdict:
        fields = {"by": verdict.by, "date": verdict.date, "text": verdict.text, "verdict": verdict.verdict}
        found.append(record_of("review", **fields))
    return found


def _check_hit(ident: str, hits: Sequence[str]) -> None:
    if not hits:
        raise BankError(f"--item {shown(ident)}: no item has this id: see barwright bank show")
    if len(hits) > 1:
        raise BankError(
            f"--item {shown(ident)} begins the ids of {len(hits)} items, such as {hits[0]} and {hits[1]}: give more"
        )
