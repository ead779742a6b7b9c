"""What `rehearse` prints: the same for the same seed, quick, and true of cases that can be counted by hand."""

import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from barwright.errors import BarwrightError
from barwright.results.chances import Wanted, acted_forms, wanted_chances
from barwright.results.rehearsing import kr20, rehearsed, seconds_of
from barwright.tasks.rehearse import rehearsal_lines, rehearse
from barwright.tasks.telling import untold_groups
from command_line import Command
from results.trial import UNITS, unit_forms
from results.written import form_of, item

BLUEPRINT = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-1-half-notes-and-rests.toml"


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Command:
    """Runs `barwright ARGUMENTS` in an empty folder; gives exit code, output and error output."""
    monkeypatch.chdir(tmp_path)
    return typed


def test_reliability_is_that_of_the_published_class() -> None:
    """Source: LSAT sections 6 and 7 (Bock & Lieberman 1970, Psychometrika 35:179-197), KR-20 .294997 and .453409."""
    published = {
        0.294997: "3 6 2 11 1 1 3 4 1 8 0 16 0 3 2 15 10 29 14 81 3 28 15 80 16 56 21 173 11 61 28 298",
        0.453409: "12 19 1 7 3 19 3 17 10 5 3 7 7 23 8 28 7 39 11 34 14 51 15 90 6 25 7 35 18 136 32 308",
    }
    for expected, counts in published.items():
        rows = [[int(bit) for bit in f"{n:05b}"] for n, count in enumerate(counts.split()) for _ in range(int(count))]
        assert kr20(np.array(rows, dtype=np.float64)) == pytest.approx(expected, abs=1e-6)
    assert kr20(np.ones((5, 3))) is None


def test_a_rehearsal_is_the_same_for_the_same_seed_and_no_other() -> None:
    first, *_ = unit_forms(UNITS[0])
    given = (replace(first, items=first.items[:4]),)
    assert rehearsed(given, seed=4) == rehearsed(given, seed=4) != rehearsed(given, seed=5)


def test_a_rehearsal_tells_of_its_items() -> None:
    given = unit_forms(UNITS[2])
    found = rehearsed(given, seed=4)
    rows = {row.misreading: row for row in found.rows}
    often = [row.found for row in rows.values() if row.chances >= 4 and row.apart >= 2]
    assert often
    assert min(often) >= 0.85
    assert all(row.found == 0 for row in found.rows if row.most < 2)
    assert found.clean <= 0.1
    assert found.guesser < 0.6


def test_time_is_a_minute_an_item_and_more_for_counts() -> None:
    fill = item("finish-measure", "4/4 q rq q _", "symbols", q="", h="rests-take-no-time")
    count = item("write-counts", "4/4 h q q", "row", **{"1-2_3_4": ""})
    assert seconds_of(form_of([fill, count])) == 165


def test_a_quiz_folder_and_its_blueprint_tell_the_same(tmp_path: Path, command: Command) -> None:
    shutil.copy(BLUEPRINT, tmp_path / "unit.toml")
    assert command("make", "unit.toml")[0] == 0
    by_folder, by_blueprint = rehearse(tmp_path / "out" / "unit"), rehearse(tmp_path / "unit.toml")
    assert list(rehearsal_lines(by_folder)) == list(rehearsal_lines(by_blueprint))
    code, out, err = command("rehearse", "out/unit", "--students", "30")
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == (
        f"Rhythm check 1: half notes and rests: {by_folder.rehearsal.students:,} simulated students on 3 forms, who "
        "slip in one answer of ten."
    )
    start = lines.index("How many chances set it apart from those that are most like it:")
    row = next(row for row in by_folder.rehearsal.rows if row.chances >= 2 and row.rivals[0][0] < row.chances)
    nearest = ", ".join(f"{apart} from {rival}" for apart, rival in row.rivals if apart < row.chances)
    assert lines[start + 1] == f"  {row.misreading}: {nearest}"
    assert [apart for apart, _ in row.rivals] == sorted(apart for apart, _ in row.rivals)
    untold = [line for line in lines if line.startswith("No item tells apart")]
    assert untold == [
        f"No item tells apart{where}: {' or '.join(group)}. They are found as one."
        for group, where in untold_groups(by_folder.forms)
    ]
    assert untold
    assert any(line.startswith("Answers that are typed or put together tell most") for line in lines)
    assert any(line.startswith("Reliability (KR-20) in a class of 30: about 0.") for line in lines)
    assert "A student needs about 18 minutes (1080 seconds)." in lines


def test_make_prints_one_line_of_it(tmp_path: Path, command: Command) -> None:
    shutil.copy(BLUEPRINT, tmp_path / "unit.toml")
    _, out, _ = command("make", "unit.toml")
    (line,) = [line for line in out.splitlines() if line.startswith("Told apart")]
    acts = acted_forms(unit_forms(UNITS[0]))
    told = min(sum(f.chances(n) >= 2 and f.nearest(n)[0] >= 2 for n in f.names) for f in acts)
    untold = "; ".join(f"{' or '.join(group)}{where}" for group, where in untold_groups(acts))
    assert line == (
        f"Told apart in every form: {told} misreadings, each by 2 items or more; no item tells apart {untold}. "
        "More: barwright rehearse out/unit"
    )


def test_what_is_no_quiz_is_refused(command: Command) -> None:
    assert command("rehearse", ".") == (
        1,
        "",
        ". has no record.jsonl: name a folder that barwright make wrote, or a blueprint file\n",
    )
    with pytest.raises(BarwrightError) as refused:
        rehearse(BLUEPRINT, students=1)
    assert str(refused.value) == "--students 1: a class has 2 to 200 students here"


def test_variants_of_a_question_are_one_chance() -> None:
    """Each student gets one of them, so a misreading that both offer has one chance."""
    one = item("finish-measure", "4/4 q rq q _", "symbols", q="", h="rests-take-no-time")
    other = item("finish-measure", "4/4 q q rq _", "symbols", q="", h="rests-take-no-time")
    form = form_of([one, other])
    pool = type(form)(form.ident, form.section, 0, tuple(type(a)(a.item, 1, 1, a.offered) for a in form.items))
    by_number = {n: rehearsed([f]).rows[0].chances for n, f in ((2, form), (1, pool))}
    assert by_number == {2: 2, 1: 1}
    assert seconds_of(pool) == 60


ONE = """
title = "One question"
[elements]
meters = ["3/4"]
notes = ["half", "quarter"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 1
"""


def test_neither_help_nor_make_waits_for_numpy(tmp_path: Path) -> None:
    (tmp_path / "unit.toml").write_text(ONE, "utf-8")
    script = (
        "import sys, contextlib\nfrom barwright.cli import run\n"
        "with contextlib.suppress(SystemExit): run()\n"
        "print('numpy' in sys.modules)"
    )
    for arguments in (["--help"], ["make", "unit.toml"]):
        ran = subprocess.run(
            [sys.executable, "-c", script, *arguments], cwd=tmp_path, capture_output=True, text=True, check=True
        )
        assert ran.stdout.splitlines()[-1] == "False", arguments


def test_named_misreadings_are_counted_by_item_and_against_each_other() -> None:
    """Four items: both stand in two of them with one answer, and each in one alone. Counted by hand."""
    rests, dots = "rests-take-no-time", "dots-passed-over"
    made = form_of(
        [
            item("finish-measure", "4/4 q. e rq _", "symbols", q="", h=f"{rests} {dots}"),
            item("finish-measure", "4/4 e q. rq _", "symbols", q="", h=f"{rests} {dots}"),
            item("finish-measure", "4/4 q rq q _", "symbols", q="", h=rests),
            item("finish-measure", "4/4 q. e q _", "symbols", q="", **{"q.": dots}),
        ]
    )
    (form,) = acted_forms([made])
    assert wanted_chances(form.items, [rests, dots]) == (Wanted(rests, 3, 1, dots), Wanted(dots, 3, 1, rests))
    assert [row.lacks for row in wanted_chances(form.items, [rests, dots])] == [2, 2]
    assert wanted_chances(form.items, [rests]) == (Wanted(rests, 3, 3, ""),)
    more = acted_forms([form_of([*(a.item for a in made.items), made.items[2].item])])[0].items
    assert sum(row.lacks for row in wanted_chances(more, [rests, dots])) == 2


def test_make_says_which_named_misreadings_have_too_few_chances(tmp_path: Path, command: Command) -> None:
    text = BLUEPRINT.read_text("utf-8")
    head = text.partition("[[part]]")[0]
    part = '[[part]]\nfamily = "measure-completion"\nask = "finish-measure"\nitems = 3\n'
    (tmp_path / "few.toml").write_text(f'{head}{part}misreadings = ["rests-take-no-time"]\n', "utf-8")
    (tmp_path / "none.toml").write_text(f"{head}{part}", "utf-8")
    told = "Of the misreadings that you named these have fewer than 4 chances, or than 2 apart from another one: "
    assert [line for line in command("make", "none.toml")[1].splitlines() if line.startswith("Of the mis")] == []
    (line,) = [line for line in command("make", "few.toml")[1].splitlines() if line.startswith("Of the mis")]
    assert line.startswith(f"{told}rests-take-no-time (")
    assert line.endswith("). More items, longer excerpts or a typed ask give more.")
