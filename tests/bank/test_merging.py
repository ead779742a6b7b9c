"""Banks as a union: any order, any grouping, as often as one likes, and nothing is lost."""

from collections.abc import Callable, Iterable
from itertools import permutations
from pathlib import Path
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from bank.demo_bank import demo_items, review, usage
from barwright.bank.entries import HEADER, Entry
from barwright.bank.merging import bank_lines, merged
from barwright.bank.reading import Block, Faults, ordered_entries
from barwright.bank.records import entry_of, record_of
from barwright.tasks.bank.aside import aside_for
from whole import whole_or_part

RECORDS = (
    usage("Period 1"),
    usage("Period 2"),
    usage("Period 1", date="2026-01-15"),
    review("approve"),
    review("retire", by="Ms. Alder"),
    review("comment", text='why "which"?'),
    record_of("tag", tag="fun"),
    record_of("source", by="Ms. Alder", date="", made_by="barwright 0.1.0", title="Check 1"),
)
# A bank: some of twelve items, each with some of eight records.
BANKS = st.dictionaries(
    st.sampled_from(demo_items()[:12]), st.frozensets(st.sampled_from(RECORDS), max_size=4), max_size=12
).map(lambda chosen: tuple(sorted(entry_of(item, records) for item, records in chosen.items())))
Bank = tuple[Entry, ...]


def union(*banks: Iterable[Entry]) -> Bank:
    return tuple(merged(banks))


def facts(*banks: Bank) -> set[tuple[str, str]]:
    """Every item, and every record of every item."""
    return {(e.id, text) for bank in banks for e in bank for text in ("", *(text for _, text in e.records))}


@settings(max_examples=whole_or_part(1_000, 70), deadline=None)
@given(BANKS, BANKS, BANKS)
def test_merging_is_a_union_that_loses_nothing(one: Bank, two: Bank, three: Bank) -> None:
    whole = union(one, two, three)
    assert all(union(*order) == whole for order in permutations((one, two, three)))
    assert union(union(one, two), three) == union(one, union(two, three)) == whole
    assert union(one, one) == union(one) == one
    assert union(whole, two) == whole
    assert union(one, ()) == one
    assert facts(whole) == facts(one, two, three)
    assert [e.id for e in whole] == sorted({e.id for e in whole})


@settings(max_examples=whole_or_part(500, 50), deadline=None)
@given(BANKS, st.randoms(use_true_random=False))
def test_a_file_in_any_order_is_read_as_the_sorted_bank(bank: Bank, rng: Random) -> None:
    header, *lines = bank_lines(bank)
    twice = [*lines, *lines[::2]]
    rng.shuffle(twice)
    faults = Faults("b.jsonl")
    assert tuple(ordered_entries(blocks_of(header, b"".join(twice)), faults)) == bank
    assert faults.found == []


def test_lines_out_of_order_are_sorted_in_runs_that_lie_in_a_file(tmp_path: Path) -> None:
    """No more of them are in memory than a run: each is put aside when the next begins, and comes back as it was."""
    entries = [entry_of(item, RECORDS[: n % 8]) for n, item in enumerate(demo_items()[:60])]
    header, *lines = bank_lines(sorted(entries, reverse=True))
    longest = max(map(len, lines))
    runs: list[int] = []
    faults = Faults("b.jsonl")
    with aside_for(tmp_path / "b.jsonl") as keep:

        def aside(run: list[Entry]) -> Iterable[Entry]:
            runs.append(len(run))
            return keep(run)

        broken = b"{broken\n"
        blocks = blocks_of(header, b"".join([*lines, broken, *lines[::3]]))
        read = tuple(ordered_entries(blocks, faults, aside, run_bytes=4 * longest))
    assert read == tuple(sorted(entries))
    assert len(runs) > 5
    assert all(run >= 4 for run in runs[:-1])
    assert [(fault.line, fault.raw) for fault in faults.found] == [(62, b"{broken")]
    assert list(tmp_path.iterdir()) == [], "what was put aside has no name, and is gone"


def test_a_bank_is_sorted_where_its_folder_may_not_be_written(tmp_path: Path) -> None:
    entry = entry_of(demo_items()[0])
    with aside_for(tmp_path / "gone" / "b.jsonl") as keep:
        assert list(keep([entry])) == [entry]


def blocks_of(header: bytes, rest: bytes) -> Callable[[], Iterable[Block]]:
    return lambda: [Block(1, header), *([Block(2, rest)] if rest else [])]


def test_kept_lines_stand_at_the_end_once_each() -> None:
    entry = entry_of(demo_items()[0])
    lines = list(bank_lines([entry], lambda: [b"{b", b"{a", b"{b"]))
    assert lines[0] == HEADER.encode() + b"\n"
    assert lines[2:] == [b"{a\n", b"{b\n"]
