"""Every command of the bank, run as a teacher runs it: good runs, and bad ones with their whole message."""

import json
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from bank.shared_banks import SHARED
from barwright.bank.entries import Entry, canonical, format_entry, ident_of
from barwright.bank.merging import bank_lines
from barwright.bank.reading import parse_entry
from barwright.bank.views import View
from barwright.tasks.bank.add import add
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from published import complaints
from test_pages import Tree

Command = Callable[..., tuple[int, str, str]]
BLUEPRINT = """
title = "Small check"
sections = ["Period 1", "Period 2"]
[elements]
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["whole", "half", "quarter"]
dots = ["half"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 2
[[part]]
family = "meter-identification"
ask = "time-signature-for-rhythm"
items = 1
[curriculum]
"measure-completion" = ["MU:Pr4.2.4b"]
"""
DEPARTMENT = "maple-hollow.jsonl"


def views(path: Path) -> list[View]:
    return [View(parse_entry(line)) for line in path.read_text("utf-8").splitlines()[1:]]


@pytest.fixture
def record(tmp_path: Path) -> Path:
    """The record of a small quiz that `make` wrote."""
    (tmp_path / "small.toml").write_text(BLUEPRINT, "utf-8")
    order = Order(tmp_path / "out", standards=("qti12",))
    return make(tmp_path / "small.toml", order, progress=lambda *_: None).folder / "record.jsonl"


def test_add_takes_only_what_was_given(bank_command: Command, tmp_path: Path, record: Path) -> None:
    order = Order(tmp_path / "out", standards=("qti12",), retake=1, sections=("Period 2",))
    make(tmp_path / "small.toml", order, progress=lambda *_: None)
    for bank, options, used in (
        ("all.jsonl", [], {("Period 1", 3), ("Period 2", 6)}),
        ("two.jsonl", ["--section", "period 2"], {("Period 2", 6)}),
        ("quiz.jsonl", ["--retake", "0"], {("Period 1", 3), ("Period 2", 3)}),
        ("retake.jsonl", ["--section", "Period 2", "--retake", "1"], {("Period 2", 3)}),
    ):
        code, _, err = bank_command("add", record, bank, *options)
        assert (code, err) == (0, "")
        got = [section for view in views(tmp_path / bank) for section in view.named("usage", "section")]
        assert {(section, got.count(section)) for section in got} == used, options


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (["--section", "Perod 1"], "section 'Perod 1' is not in {record}: did you mean 'Period 1'?"),
        (["--section", "x"], "section 'x' is not in {record}: use Period 1, Period 2"),
        (["--retake", "2"], "{record} tells of no retake 2: look at the proof of the quiz"),
        (["--section", "Period 1", "--retake", "1"],
         "{record} tells of no retake 1 of 'Period 1': look at the proof of the quiz"),
    ],
)  # fmt: skip
def test_add_refuses_what_the_record_does_not_tell_of(
    bank_command: Command, tmp_path: Path, record: Path, options: list[str], message: str
) -> None:
    assert bank_command("add", record, "new.jsonl", *options) == (1, "", message.format(record=record) + "\n")
    assert not (tmp_path / "new.jsonl").exists()


def test_names_are_found_whatever_their_capitals_and_unknown_ones_are_told(
    bank_command: Command, tmp_path: Path, record: Path
) -> None:
    bank_command("add", record, "b.jsonl", "--source", "Ms. Alder")
    for condition in (
        "section=period 1,PERIOD 2", "quiz=small CHECK", "source=ms. alder", "tag=mu:pr4.2.4B", "Ask=Finish-Measure",
        "review=NEW", "section!=period 1",
    ):  # fmt: skip
        code, out, err = bank_command("show", "b.jsonl", "--where", condition)
        assert (code, err) == (0, "")
        assert not out.startswith("0 items"), condition
    for condition, told in (
        ("section=Perod 1", "no item has the section 'Perod 1': did you mean 'Period 1'?"),
        ("section=Period 1,x", "no item has the section 'x': use Period 1, Period 2"),
        ("tag!=triplets", "no item has the tag 'triplets': use MU:Pr4.2.4b"),
        ("quiz=zzz", "no item has the quiz 'zzz': use Small check"),
        ("source=zzz", "no item has the source 'zzz': use Ms. Alder"),
    ):
        wanted = (1, "", f"b.jsonl: condition {condition!r}: {told}\n")
        assert bank_command("show", "b.jsonl", "--where", condition) == wanted
        assert bank_command("export", "b.jsonl", "--where", condition) == wanted
        assert bank_command("review", "b.jsonl", "--where", condition, "--approve") == wanted
        assert bank_command("take", "b.jsonl", "-b", tmp_path / "small.toml", "--where", condition) == wanted


def test_add_makes_a_bank_and_adding_again_changes_nothing(bank_command: Command, tmp_path: Path, record: Path) -> None:
    first = bank_command("add", record, "new.jsonl", "--date", "2025-09-12", "--source", "Ms. Alder")
    assert first == (
        0,
        "new.jsonl: 6 items of the record, 6 of them new to the bank.\n"
        "Next: look at them with  barwright bank show new.jsonl --where review=new --html bank.html\n",
        "",
    )
    before = (tmp_path / "new.jsonl").read_bytes()
    again = bank_command("add", record, "new.jsonl", "--date", "2025-09-12", "--source", "Ms. Alder")
    assert "6 items of the record, 0 of them new to the bank" in again[1]
    assert (tmp_path / "new.jsonl").read_bytes() == before
    for view in views(tmp_path / "new.jsonl"):
        assert len(view.named("usage", "section")) == 1
        assert view.named("usage", "date") == {"2025-09-12"}
        assert view.named("source", "title") == {"Small check"}
        assert bool(view.named("tag", "tag")) == (view.family == "measure-completion")


def test_a_use_without_a_date_is_not_told_beside_the_same_with_one(
    bank_command: Command, tmp_path: Path, record: Path
) -> None:
    bank_command("add", record, "new.jsonl")
    assert {tuple(use["date"] for use in view.usages) for view in views(tmp_path / "new.jsonl")} == {("",)}
    bank_command("add", record, "new.jsonl", "--date", "2025-09-12")
    for view in views(tmp_path / "new.jsonl"):
        assert len([r for r in view.records if r["kind"] == "usage"]) == 2
        assert [use["date"] for use in view.usages] == ["2025-09-12"]
    bank_command("show", "new.jsonl", "--html", "bank.html")
    words = " ".join(Tree((tmp_path / "bank.html").read_bytes()).words)
    assert len(re.findall(r"Period \d, Small check", words)) == 6
    assert len(re.findall(r"Period \d, Small check, 2025-09-12", words)) == 6
    bank_command("review", "new.jsonl", "--where", "review=new", "--approve")
    out = bank_command("take", "new.jsonl", "-b", "small.toml", "--since", "2025-10-01", "--out", "again")[1]
    assert "Period 1: 3 of 3 items are from the bank." in out


def test_retired_questions_are_told_where_they_make_items_few(bank_command: Command, tmp_path: Path) -> None:
    text = (
        'title = "T"\n[elements]\nmeters = ["2/4"]\nnotes = ["half", "quarter"]\nrests = ["quarter"]\n[[part]]\n'
        'family = "measure-completion"\nask = "beats-left"\nitems = 3\n'
    )
    (tmp_path / "few.toml").write_text(text, "utf-8")
    order = Order(tmp_path / "made", standards=("qti12",), allow_repeats=True)
    made = make(tmp_path / "few.toml", order, progress=lambda *_: None)
    add(made.folder / "record.jsonl", tmp_path / "b.jsonl")
    while True:
        bank_command("review", "b.jsonl", "--where", "ask=beats-left", "--retire")
        code, _, err = bank_command("take", "b.jsonl", "-b", "few.toml", "--standard", "qti12", "--replace")
        if code:
            break
        add(tmp_path / "out/few/record.jsonl", tmp_path / "b.jsonl")
    retired = len({view.excerpt for view in views(tmp_path / "b.jsonl")})
    assert err.startswith("few.toml, line 9: items = 3: only ")
    assert err.endswith(f" ({retired} questions of this ask are retired in the bank, and are not asked again)\n")


def test_add_refuses_what_is_no_record_and_writes_nothing(bank_command: Command, tmp_path: Path, record: Path) -> None:
    assert bank_command("add", "none.jsonl", "b.jsonl") == (
        1, "", "none.jsonl: cannot be read (No such file or directory): check the name and the folder\n",
    )  # fmt: skip
    assert bank_command("add", record, "b.jsonl", "--date", "12.9.2025") == (
        1, "", "date '12.9.2025' cannot be recorded: write it as 2025-03-14\n",
    )  # fmt: skip
    with (tmp_path / "huge.jsonl").open("wb") as file:
        file.truncate(50_000_001)
    assert bank_command("add", "huge.jsonl", "b.jsonl") == (
        1, "", "huge.jsonl: has over 50000000 bytes, so it is no record: check the name\n",
    )  # fmt: skip
    lines = record.read_text("utf-8").splitlines()
    data = json.loads(lines[2])
    data["item"] = "0" * 16
    record.write_text("\n".join([*lines[:2], json.dumps(data), *lines[3:]]), "utf-8")
    assert bank_command("add", record, "b.jsonl") == (
        1, "", f"{record}, line 3: item, order or section do not agree with the content: make it again\n",
    )  # fmt: skip
    assert not (tmp_path / "b.jsonl").exists()


def test_tags_that_are_none_are_left_out(tmp_path: Path, record: Path) -> None:
    header, *lines = record.read_text("utf-8").splitlines()
    changed = [{**json.loads(line), "tags": {"curriculum": ["fun", 7]} if n else "x"} for n, line in enumerate(lines)]
    record.write_text("\n".join([header, *map(json.dumps, changed)]), "utf-8")
    add(record, tmp_path / "b.jsonl")
    found = [view.named("tag", "tag") for view in views(tmp_path / "b.jsonl")]
    assert sorted(map(len, found)) == [0, 1, 1, 1, 1, 1]


@pytest.mark.parametrize("blank", [b"", b"\xef\xbb\xbf", b"\r\n \n"])
def test_add_begins_a_bank_in_an_empty_file(bank_command: Command, tmp_path: Path, record: Path, blank: bytes) -> None:
    bank_command("add", record, "new.jsonl")
    (tmp_path / "empty.jsonl").write_bytes(blank)
    assert bank_command("add", record, "empty.jsonl")[::2] == (0, "")
    assert (tmp_path / "empty.jsonl").read_bytes() == (tmp_path / "new.jsonl").read_bytes()
    (tmp_path / "empty.jsonl").write_bytes(blank)
    assert bank_command("review", "empty.jsonl", "--where", "measures=1", "--approve")[0] == 1
    assert (tmp_path / "empty.jsonl").read_bytes() == blank


def test_a_record_in_place_of_a_bank_is_told_and_a_bank_in_place_of_a_record(
    bank_command: Command, tmp_path: Path, record: Path
) -> None:
    before = record.read_bytes()
    told = f"{record}, line 1: this is the record of a quiz, not a bank: add it to a bank with barwright bank add\n"
    for arguments in (
        ("show", record),
        ("check", record),
        ("export", record),
        ("review", record, "--where", "measures=1", "--approve"),
        ("take", record, "-b", "small.toml"),
        ("add", record, record),
        ("merge", "birch.jsonl", record, "-o", "all.jsonl"),
    ):
        assert bank_command(*arguments) == (1, "", told), arguments
    assert record.read_bytes() == before
    assert not (tmp_path / "all.jsonl").exists()
    assert bank_command("add", "birch.jsonl", "new.jsonl") == (
        1, "", "birch.jsonl: this is a bank, not the record of a quiz: join banks with barwright bank merge\n",
    )  # fmt: skip
    assert not (tmp_path / "new.jsonl").exists()


def test_show_writes_no_page_under_the_name_of_another_kind_of_file(bank_command: Command, tmp_path: Path) -> None:
    assert bank_command("show", "birch.jsonl", "--html", "page.txt") == (
        1, "", "page.txt: the page is HTML: let the name end in .html, not in .txt\n",
    )  # fmt: skip
    assert not (tmp_path / "page.txt").exists()
    for name in ("page.htm", "PAGE.HTML", "page"):
        assert bank_command("show", "birch.jsonl", "--most", 1, "--html", name)[0] == 0


def test_approving_what_is_retired_says_that_it_stays_retired(bank_command: Command, tmp_path: Path) -> None:
    found = views(tmp_path / "birch.jsonl")[:3]
    one, *others = (word for view in found for word in ("--item", view.entry.id))
    stays = "retired until that is taken back.\n"
    bank_command("review", "birch.jsonl", one, others[0], "--retire")
    for last, told in (
        (others[:1], f"1 item reviewed; it stays {stays}"),
        (others, f"3 items reviewed; 1 of them stays {stays}"),
    ):
        assert bank_command("review", "birch.jsonl", one, *last, "--approve") == (0, f"birch.jsonl: {told}", "")
    bank_command("review", "birch.jsonl", *others[1:], "--retire")
    assert bank_command("review", "birch.jsonl", one, *others, "--approve")[1] == (
        f"birch.jsonl: 3 items reviewed; 3 of them stay {stays}"
    )
    for what in (("--comment", "no"), ("--tag", "old"), ("--retire",)):
        assert bank_command("review", "birch.jsonl", one, *others, *what)[1] == "birch.jsonl: 3 items reviewed.\n"
    assert [view.state for view in views(tmp_path / "birch.jsonl")[:3]] == ["retired"] * 3


def test_merge_joins_banks_and_leaves_what_exists_alone(bank_command: Command, tmp_path: Path) -> None:
    assert bank_command("merge", "birch.jsonl", "alder.jsonl", "-o", "all.jsonl") == (
        0, f"Wrote all.jsonl: {len(views(tmp_path / DEPARTMENT))} different items of 2 banks.\n", "",
    )  # fmt: skip
    one = bank_command("merge", "birch.jsonl", "-o", "one.jsonl")[1]
    assert one == f"Wrote one.jsonl: {len(views(tmp_path / 'birch.jsonl'))} different items of 1 bank.\n"
    assert (tmp_path / "all.jsonl").read_bytes() == (tmp_path / DEPARTMENT).read_bytes()
    assert bank_command("merge", "birch.jsonl", "alder.jsonl", "-o", "birch.jsonl") == (
        1, "", "birch.jsonl exists: give --replace to write it anew, or another name\n",
    )  # fmt: skip
    assert bank_command("merge", "birch.jsonl", "alder.jsonl", "-o", "birch.jsonl", "--replace")[0] == 0
    assert (tmp_path / "birch.jsonl").read_bytes() == (tmp_path / DEPARTMENT).read_bytes()


def test_merge_carries_unreadable_lines_over(bank_command: Command, tmp_path: Path) -> None:
    for name in ("alder", "birch"):
        path = tmp_path / f"{name}.jsonl"
        path.write_text(path.read_text("utf-8") + '{"same":\n' + f'{{"{name}":\n', "utf-8")
    last = [len((tmp_path / f"{name}.jsonl").read_text("utf-8").splitlines()) for name in ("alder", "birch")]
    code, _, err = bank_command("merge", "alder.jsonl", "birch.jsonl", "-o", "all.jsonl")
    assert code == 0
    assert [line.split(": ")[0] for line in err.splitlines()] == [
        f"{name}.jsonl, line {number}"
        for name, end in zip(("alder", "birch"), last, strict=True)
        for number in (end - 1, end)
    ]
    text = (tmp_path / "all.jsonl").read_text("utf-8")
    assert text == (tmp_path / DEPARTMENT).read_text("utf-8") + '{"alder":\n{"birch":\n{"same":\n'


def test_show_lists_what_meets_all_conditions(bank_command: Command, tmp_path: Path) -> None:
    code, out, err = bank_command("show", DEPARTMENT, "--where", "ask=finish-measure", "-w", "meter=4/4", "--most", 500)
    assert (code, err) == (0, "")
    wanted = [v for v in views(tmp_path / DEPARTMENT) if v.ask == "finish-measure" and v.meter == "4/4"]
    assert sorted(line.split()[0] for line in out.splitlines()[1:-1]) == [v.entry.id for v in wanted]
    assert out.splitlines()[-1].startswith(f"{len(wanted)} items: ")
    assert bank_command("show", DEPARTMENT, "-w", "metre=3/4") == (
        1, "", "condition 'metre=3/4': 'metre' is not known: did you mean 'meter'?\n",
    )  # fmt: skip


def test_show_tells_of_lines_changed_by_hand_and_goes_on(bank_command: Command, tmp_path: Path) -> None:
    path = tmp_path / "alder.jsonl"
    lines = path.read_text("utf-8").splitlines()
    lines[4] = lines[4][:-1]
    path.write_text("\n".join(lines), "utf-8")
    code, out, err = bank_command("show", "alder.jsonl", "--most", 0)
    assert (code, err) == (
        0, "alder.jsonl, line 5: this is not JSON: take the line from another copy of the bank, or delete it\n",
    )  # fmt: skip
    assert out.startswith(f"{len(lines) - 2} items: ")


def test_show_joins_what_stands_twice(bank_command: Command, tmp_path: Path) -> None:
    path = tmp_path / DEPARTMENT
    whole = bank_command("show", DEPARTMENT, "--most", 500)
    header, *lines = path.read_text("utf-8").splitlines()
    bare = [format_entry(parse_entry(line)._replace(records=())) for line in lines]
    path.write_text("\n".join([header, *bare, *reversed(lines)]), "utf-8")
    assert bank_command("show", DEPARTMENT, "--most", 500) == whole


def test_show_writes_a_page_with_figures_and_what_was_said(bank_command: Command, tmp_path: Path) -> None:
    code, out, _ = bank_command("show", DEPARTMENT, "-w", "ask=does-it-fit", "--html", "bank.html")
    wanted = [v for v in views(tmp_path / DEPARTMENT) if v.ask == "does-it-fit"]
    assert (code, out) == (0, f"Wrote bank.html: {len(wanted)} of {len(wanted)} items.\n")
    tree = Tree((tmp_path / "bank.html").read_bytes())
    words = " ".join(tree.words)
    for view in wanted:
        assert words.count(view.entry.id) == 1
    assert all(img["src"].startswith("data:image/png;base64,") and img["alt"] for img in tree.all("img"))
    assert len(tree.all("img")) >= len(wanted)
    remarks = sum(any("fits" in text for text in view.named("review", "text")) for view in wanted)
    assert remarks > 0
    assert words.count('Remark, Mr. Birch, 2025-10-02: “two students asked what "fits" means”') == remarks
    idents = [a["id"] for _, a in tree.tags if "id" in a]
    assert len(idents) == len(set(idents))
    assert not tree.all("script")
    assert bank_command("show", DEPARTMENT, "--html", "bank.html") == (
        1, "", "bank.html exists: give --replace to write it anew, or another name\n",
    )  # fmt: skip
    assert bank_command("show", DEPARTMENT, "-w", "sounds>99", "--html", "none.html") == (
        1, "", f"{DEPARTMENT}: no item meets these conditions, so there is no page to write\n",
    )  # fmt: skip


def test_a_source_is_shown_with_its_date_where_any_colleague_gave_one(bank_command: Command, tmp_path: Path) -> None:
    """A quiz added twice, once without a date, is one source on the page; a source never dated stays."""
    path = tmp_path / DEPARTMENT
    header, line, *_ = path.read_text("utf-8").splitlines()
    given = [("Twice", "2026-01-05"), ("Twice", ""), ("Once", "")]
    texts = [canonical({"kind": "source", "title": t, "by": "Ms. Alder", "date": d, "made_by": ""}) for t, d in given]
    records = tuple(sorted((ident_of(text), text) for text in texts))
    path.write_text("\n".join([header, format_entry(parse_entry(line)._replace(records=records)), ""]), "utf-8")
    assert bank_command("show", DEPARTMENT, "--html", "page.html")[0] == 0
    words = " ".join(Tree((tmp_path / "page.html").read_bytes()).words)
    assert [words.count(text) for text in ("Twice", "Twice, Ms. Alder, 2026-01-05", "Once, Ms. Alder")] == [1, 1, 1]


def test_export_refuses_what_a_standard_cannot_say_before_it_draws(
    bank_command: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    order_only = BLUEPRINT.split("[[part]]")[0] + (
        '[[part]]\nfamily = "measure-completion"\nask = "shortest-first"\nitems = 1\n'
    )
    (tmp_path / "order.toml").write_text(order_only, "utf-8")
    made = make(tmp_path / "order.toml", Order(tmp_path / "quiz", standards=("qti22",)), progress=lambda *_: None)
    add(made.folder / "record.jsonl", tmp_path / DEPARTMENT)
    monkeypatch.setattr("barwright.tasks.bank.forms.drawn_pictures", lambda *_, **__: pytest.fail("it draws"))
    code, out, err = bank_command("export", DEPARTMENT, "-w", "ask=shortest-first", "--standard", "cc13")
    assert (code, out) == (1, "")
    assert "is answered by 'order', which Common Cartridge 1.3 cannot express: take qti22 or qti30" in err
    assert not (tmp_path / "out").exists()


def test_take_fills_a_quiz_from_approved_items(bank_command: Command, tmp_path: Path) -> None:
    (tmp_path / "small.toml").write_text(BLUEPRINT, "utf-8")
    since = ("--since", "2027-01-01")
    code, out, err = bank_command("take", DEPARTMENT, "-b", "small.toml", "--standard", "qti12", *since)
    assert (code, err) == (0, "")
    found = re.findall(r"^(Period \d): (\d) of 3 items are from the bank\.$", out, re.MULTILINE)
    assert [section for section, _ in found] == ["Period 1", "Period 2"]
    assert found[0][1] == "3"
    approved = {v.entry.id for v in views(tmp_path / DEPARTMENT) if v.state == "approved"}
    lines = [json.loads(line) for line in (tmp_path / "out/small/record.jsonl").read_text("utf-8").splitlines()[1:]]
    for section, count in found:
        assert len({line["item"] for line in lines if line["section"] == section} & approved) == int(count)
    assert {path.name for path in (tmp_path / "out/small").iterdir()} == {
        "period-1", "period-2", "proof.html", "key.html", "record.jsonl",
    }  # fmt: skip


def test_take_refuses_a_wrong_date_or_blueprint(bank_command: Command, tmp_path: Path) -> None:
    (tmp_path / "small.toml").write_text(BLUEPRINT, "utf-8")
    assert bank_command("take", DEPARTMENT, "-b", "small.toml", "--since", "August") == (
        1, "", "date 'August' cannot be recorded: write it as 2025-03-14\n",
    )  # fmt: skip
    assert bank_command("take", DEPARTMENT, "-b", "none.toml")[2] == (
        "none.toml: cannot be read (No such file or directory): check the name and the folder\n"
    )


def test_review_approves_retires_remarks_and_tags(bank_command: Command, tmp_path: Path) -> None:
    new = [v for v in views(tmp_path / DEPARTMENT) if v.state == "new"]
    one, other = new[0].entry.id, new[1].entry.id
    said = bank_command(
        "review", DEPARTMENT, "--item", one[:10], "--approve", "--comment", 'clear\n "as day"', "--by", "Ms. Alder"
    )
    assert said == (0, f"{DEPARTMENT}: 1 item reviewed.\n", "")
    assert bank_command("review", DEPARTMENT, "--item", other, "--retire", "--tag", "odd", "--tag", "hard")[0] == 0
    after = {v.entry.id: v for v in views(tmp_path / DEPARTMENT)}
    assert (after[one].state, after[other].state) == ("approved", "retired")
    assert 'clear "as day"' in after[one].named("review", "text")
    assert after[other].named("tag", "tag") >= {"odd", "hard"}
    assert bank_command("review", DEPARTMENT, "--where", "review=new", "--comment", "look at these")[1] == (
        f"{DEPARTMENT}: {len(new) - 2} items reviewed.\n"
    )
    assert {v.state for v in views(tmp_path / DEPARTMENT) if v.entry.id not in (one, other)} >= {"new"}


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--approve"], "say which items: --item ID, or --where CONDITION"),
        (["--where", "review=new"], "say what to do: --approve, --retire, --take-back, --comment TEXT or --tag TAG"),
        (["--item", "0000", "--approve", "--retire"], "give one of --approve, --retire and --take-back"),
        (["--item", "00", "--approve"], "--item '00' is too short: give 4 letters of the id or more"),
        (["--item", "zzzz", "--approve"], "--item 'zzzz': no item has this id: see barwright bank show"),
        (
            ["--item", "0000000000000000", "--retire", "--by", "\a"],
            "by '<U+0007>' cannot be recorded: use plain characters on one line, not too many, and where it names "
            "something at least one",
        ),
    ],
)
def test_review_refuses_what_is_not_clear(
    bank_command: Command, tmp_path: Path, arguments: list[str], message: str
) -> None:
    assert bank_command("review", DEPARTMENT, *arguments) == (1, "", f"{message}\n")
    assert (tmp_path / DEPARTMENT).read_bytes() == (SHARED / "banks" / DEPARTMENT).read_bytes()


def test_review_refuses_an_id_of_several_items(bank_command: Command, tmp_path: Path) -> None:
    """Of some hundred ids two begin with the same four digits (the birthday problem)."""
    found: dict[str, str] = {}
    first = views(tmp_path / DEPARTMENT)[0].content
    for number in range(2000):
        content = canonical({**first, "target": str(number)})
        twin = found.setdefault(ident_of(content)[:4], content)
        if twin != content:
            break
    entries = sorted(Entry(ident_of(text), text) for text in (twin, content))
    (tmp_path / "twins.jsonl").write_bytes(b"".join(bank_lines(entries)))
    one, other = (entry.id for entry in entries)
    assert bank_command("review", "twins.jsonl", "--item", one[:4], "--approve") == (
        1, "", f"--item {one[:4]!r} begins the ids of 2 items, such as {one} and {other}: give more\n",
    )  # fmt: skip
    assert bank_command("review", "twins.jsonl", "--item", other, "--approve")[0] == 0


def test_review_needs_a_bank(bank_command: Command) -> None:
    assert bank_command("review", "none.jsonl", "--item", "0000", "--approve") == (
        1, "", "none.jsonl: there is no such bank: check the name and the folder\n",
    )  # fmt: skip


def test_export_writes_valid_question_banks_without_retired_items(
    bank_command: Command, tmp_path: Path, standards: Path
) -> None:
    quiz = "Rhythm check 1: half notes and rests"
    where = ("--where", "family=measure-completion", "--where", f"quiz={quiz}")
    code, out, err = bank_command("export", DEPARTMENT, "--standard", "all", *where)
    wanted = [
        v
        for v in views(tmp_path / DEPARTMENT)
        if v.family == "measure-completion" and v.state != "retired" and quiz in v.named("source", "title")
    ]
    assert (code, err) == (0, "")
    assert out.startswith(f"Wrote out/maple-hollow: {len(wanted)} items in bank")
    packages = sorted(path for path in (tmp_path / "out/maple-hollow").iterdir())
    assert len(packages) >= 6
    assert complaints(standards, packages) == []
    with zipfile.ZipFile(tmp_path / "out/maple-hollow/bank-qti22.zip") as archive:
        assert sum(name.startswith("items/") for name in archive.namelist()) == len(wanted)
    assert bank_command("export", DEPARTMENT)[2] == (
        "out/maple-hollow exists: give --replace to write it anew, or another folder with --out\n"
    )
    (tmp_path / "out/maple-hollow/notes.txt").write_text("mine")
    left = "bank-qti12.zip"
    out = bank_command("export", DEPARTMENT, "--standard", "qti12", "--replace", *where)[1]
    assert [line.split()[1] for line in out.splitlines()[:-1]] == sorted(
        f"out/maple-hollow/{p.name}:" for p in packages if p.name != left
    )
    assert sorted(p.name for p in (tmp_path / "out/maple-hollow").iterdir()) == [left, "notes.txt"]


def test_export_keeps_other_conventions_apart(bank_command: Command, tmp_path: Path) -> None:
    (tmp_path / "gordon.toml").write_text(BLUEPRINT + '[conventions]\ncounting = "gordon"\n', "utf-8")
    order = Order(tmp_path / "made", standards=("qti12",))
    made = make(tmp_path / "gordon.toml", order, progress=lambda *_: None)
    add(made.folder / "record.jsonl", tmp_path / "alder.jsonl")
    code, out, _ = bank_command("export", "alder.jsonl", "--standard", "qti12")
    assert code == 0
    variants = ("usual-conventions", "counting-gordon", "strict-middle-true")
    assert out.endswith(f" items in {', '.join(f'{conventions}/bank-qti12.zip' for conventions in variants)}.\n")
    code, _, _ = bank_command("show", "alder.jsonl", "--most", 500, "--html", "bank.html")
    titles = [word for word in Tree((tmp_path / "bank.html").read_bytes()).words if "onventions" in word or "=" in word]
    assert titles[-3:] == ["Usual conventions", "counting = gordon", "strict_middle = true"]


def test_export_refuses_too_few_and_what_it_cannot_read(bank_command: Command) -> None:
    assert bank_command("export", DEPARTMENT, "--where", "sounds>99") == (
        1,
        "",
        f"{DEPARTMENT}: 0 items meet these conditions and are not retired: a package has 1 to 2,000; narrow or widen "
        "them by --where\n",
    )
    assert bank_command("export", DEPARTMENT, "--standard", "qti9")[2].startswith("standard 'qti9' is not known: use")


def test_check_finds_a_sound_bank_sound_and_a_changed_one_not(bank_command: Command, tmp_path: Path) -> None:
    count = len(views(tmp_path / "alder.jsonl"))
    assert bank_command("check", "alder.jsonl") == (0, f"alder.jsonl: {count} items are sound; 0 faults.\n", "")
    path = tmp_path / "alder.jsonl"
    header, *lines = path.read_text("utf-8").splitlines()
    wrong = next(n for n, line in enumerate(lines) if '"ask":"beats-left"' in line)
    view = View(parse_entry(lines[wrong]))
    key = view.keys[0]
    spoilt = lines[wrong].replace(f'["number","{key}",[]]', f'["number","{int(key) + 5}",[]]')
    path.write_text("\n".join([header, *lines[:wrong], spoilt, *lines[wrong + 1 :], lines[-1], lines[-2]]), "utf-8")
    code, out, err = bank_command("check", "alder.jsonl")
    assert code == 1
    assert out == f"alder.jsonl: {count - 1} items are sound; 3 faults.\n"
    first, *twice = err.splitlines()
    assert first.startswith(f"alder.jsonl, line {wrong + 2}: the judge refuses it (key-not-right: ")
    assert twice == [
        f"alder.jsonl, line {count + number}: item {ident_in(line)!r}: it stands twice: any command that writes joins "
        "its records"
        for number, line in ((2, lines[-1]), (3, lines[-2]))
    ]


def ident_in(line: str) -> str:
    return parse_entry(line).id


def test_check_tells_of_lines_out_of_order(bank_command: Command, tmp_path: Path) -> None:
    path = tmp_path / "birch.jsonl"
    header, first, second, *rest = path.read_text("utf-8").splitlines()
    path.write_text("\n".join([header, second, first, *rest]), "utf-8")
    assert bank_command("check", "birch.jsonl")[2] == (
        f"birch.jsonl, line 3: item {ident_in(first)!r}: it is out of order, since lines are sorted by id: any command "
        "that writes sorts them\n"
    )


def test_the_schema_is_printed(bank_command: Command) -> None:
    assert bank_command("schema") == (0, (SHARED / "banks" / "bank.schema.json").read_text("utf-8"), "")


def test_a_retirement_is_taken_back_whatever_the_order_of_merging(bank_command: Command, tmp_path: Path) -> None:
    one = next(view for view in views(tmp_path / "birch.jsonl") if view.state == "approved").entry.id
    by = ("--by", "Ms. Alder", "--date", "2026-01-15")
    (tmp_path / "old.jsonl").write_bytes((tmp_path / "birch.jsonl").read_bytes())

    def state(bank: str) -> str:
        return next(view.state for view in views(tmp_path / bank) if view.entry.id == one)

    for verdict, after in (("--retire", "retired"), ("--take-back", "approved")):
        assert (
            bank_command("review", "birch.jsonl", "--item", one, verdict, *by)[1] == "birch.jsonl: 1 item reviewed.\n"
        )
        assert state("birch.jsonl") == after
    assert bank_command("review", "birch.jsonl", "--item", one, "--retire", *by) == (
        1, "", f"item {one} was retired in just these words before, and that was taken back: give another --date or "
        "--comment\n",
    )  # fmt: skip
    bank_command("review", "old.jsonl", "--item", one, "--retire", "--by", "Mr. Birch", "--date", "2026-01-16")
    told = bank_command("merge", "birch.jsonl", "old.jsonl", "-o", "x.jsonl", "--preview")
    count = len(views(tmp_path / "old.jsonl"))
    assert told == (
        0,
        f"{count} items: 0 new, {count} that the bank has already.\n1 new remark about 1 item that it has.\n"
        "1 item that it may use would be retired, since a colleague retired them.\n",
        "",
    )
    assert not (tmp_path / "x.jsonl").exists()
    for names in (("birch.jsonl", "old.jsonl"), ("old.jsonl", "birch.jsonl")):
        bank_command("merge", *names, "-o", "x.jsonl", "--replace")
        assert state("x.jsonl") == "retired"  # the second retirement was taken back by nobody
    bank_command("review", "x.jsonl", "--item", one, "--take-back", *by)
    assert state("x.jsonl") == "approved"
