"""`bank review`: colleagues approve, retire, remark on and tag items."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel

from barwright.bank.entries import Entry, united
from barwright.bank.grammar import Pairs
from barwright.bank.records import pairs_of, record_of
from barwright.bank.states import returned_records, standing_retirements, state_of
from barwright.errors import BankError
from barwright.showing import shown
from barwright.tasks.bank.files import update
from barwright.tasks.bank.show import checked_filter
from barwright.tasks.saying import counted

LEAST_OF_ID = 4
TAKE_BACK = "take-back"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said of items: `verdict` is approve, retire, take-back (a retirement) or comment, or empty if they only
    get `tags`."""

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
        return f"{told}; {stay} retired until that is taken back."


def verdict_of(
    *, approve: bool, retire: bool, comment: str, tags: Sequence[str], by: str, date: str, take_back: bool = False
) -> Verdict:
    """The verdict of the command line; BankError if nothing is said, or too much."""
    if approve + retire + take_back > 1:
        raise BankError("give one of --approve, --retire and --take-back")
    if not (approve or retire or take_back or comment or tags):
        raise BankError("say what to do: --approve, --retire, --take-back, --comment TEXT or --tag TAG")
    verdicts = {"approve": approve, "retire": retire, TAKE_BACK: take_back, "comment": bool(comment)}
    name = next((name for name, said in verdicts.items() if said), "")
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
                new = pairs_of([*records, *_returns(verdict, entry)])
                _check_new_retirement(verdict, entry, new)
                yield united([entry, Entry(entry.id, entry.content, new)])
            else:
                yield entry
        for ident in items:
            _check_hit(ident, hits[ident])

    reviewed.faults = update(bank, changed).told
    return reviewed


def _records(verdict: Verdict) -> list[BaseModel]:
    records: list[BaseModel] = [record_of("tag", tag=tag) for tag in verdict.tags]
    if verdict.verdict and verdict.verdict != TAKE_BACK:
        fields = {"by": verdict.by, "date": verdict.date, "text": verdict.text, "verdict": verdict.verdict}
        records.append(record_of("review", **fields))
    return records


def _returns(verdict: Verdict, entry: Entry) -> list[BaseModel]:
    """The record that takes the retirements of an item back; none where it is not retired."""
    standing = standing_retirements(entry.records) if verdict.verdict == TAKE_BACK else ()
    if not standing:
        return []
    return [record_of("return", by=verdict.by, date=verdict.date, of=list(standing), text=verdict.text)]


def _check_new_retirement(verdict: Verdict, entry: Entry, new: Pairs) -> None:
    """BankError for a retirement in the very words of one that was taken back: it would be that one again."""
    if verdict.verdict == "retire" and returned_records(entry.records).intersection(ident for ident, _ in new):
        raise BankError(
            f"item {entry.id} was retired in just these words before, and that was taken back: give another --date or "
            "--comment"
        )


def _check_hit(ident: str, hits: Sequence[str]) -> None:
    if not hits:
        raise BankError(f"--item {shown(ident)}: no item has this id: see barwright bank show")
    if len(hits) > 1:
        raise BankError(
            f"--item {shown(ident)} begins the ids of {len(hits)} items, such as {hits[0]} and {hits[1]}: give more"
        )
