"""How long reading answers back takes: a report of six sections, and a long table of a hundred thousand rows.

    python tests/benchmarks/bench_diagnose.py

Prints seconds and peak memory of each, run as a teacher runs it. Aims: 150 students, six sections, 30 questions: a
report in under 5 s; 100,000 rows in under 30 s and 500 MB. Nothing here is a test.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from barwright.blueprint.names import folder_name
from barwright.tasks.diagnose.asked import AskedQuiz, asked_quiz
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from results.shapes import by_label, csv_bytes, long, title, wide
from results.simulated_classes import sittings

UNIT = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-2-eighths-and-dotted-quarters.toml"
COMMAND = "from barwright.cli import run; run()"
READING = """
import sys
from pathlib import Path
from barwright.results.answers import administered
from barwright.results.reading.final_answers import settled
from barwright.results.reading.sources import gathered
from barwright.results.survey import surveyed
from barwright.tasks.diagnose.asked import asked_quiz

quiz = asked_quiz(Path(sys.argv[1]))
found = gathered([("long.csv", Path(sys.argv[2]).read_bytes())], quiz.sheets, {})
answers = settled(found.givens, quiz.sheets, attempt="last", salt="")
assert surveyed(administered(quiz.forms), answers.responses, omit="wrong")
"""
ITEMS = {"finish-measure-with-two": 7, "all-that-fit": 3, "counts-for-rhythm": 8, "count-under-mark": 6}


def quiz_of_thirty(folder: Path) -> AskedQuiz:
    """Unit 2 with 30 questions and six sections."""
    text = UNIT.read_text("utf-8")
    text = text.replace('sections = ["Period 2", "Period 5"]', f"sections = {[f'Period {n}' for n in range(1, 7)]}")
    lines, ask = [], ""
    for line in text.splitlines():
        ask = line.partition('"')[2].rstrip('"') if line.startswith("ask") else ask
        lines.append(f"items = {ITEMS[ask]}" if line.startswith("items") and ask in ITEMS else line)
    path = folder / "thirty.toml"
    path.write_text("\n".join(lines), "utf-8")
    made = make(path, Order(folder / "out", standards=("qti22",)), progress=silent)
    return asked_quiz(made.folder)


def timed(name: str, code: str, *arguments: str) -> None:
    """Runs code in a process of its own and prints how long it took, and its peak memory."""
    started = time.perf_counter()
    process = subprocess.Popen([sys.executable, "-c", code, *arguments], stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    took, work = time.perf_counter() - started, usage.ru_utime + usage.ru_stime
    state = "" if status == 0 else f", failed with {status}"
    print(f"{name}: {took:.1f} s ({work:.1f} s of work), {usage.ru_maxrss / 1024:.0f} MB{state}", flush=True)


def main() -> None:
    """Both runs."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        quiz = quiz_of_thirty(folder)
        questions = len({q.number for q in quiz.sheets[0].questions})
        small = sittings(quiz, 25)
        for number, form in enumerate(quiz.forms):
            rows = wide(quiz, number, [each for each in small if each.form is form], by_label, title)
            (folder / f"{folder_name(form.section)}.csv").write_bytes(csv_bytes(rows))
        tables = sorted(map(str, folder.glob("period-*.csv")))
        report = f"report of 150 students, 6 sections, {questions} questions"
        timed(report, COMMAND, "diagnose", str(quiz.folder), *tables)
        each = 100_000 // questions // len(quiz.forms) + 1
        many = sittings(quiz, each)
        rows = [
            long(quiz, n, [s for s in many if s.form is form], by_label, lambda q, _i: q.ident)
            for n, form in enumerate(quiz.forms)
        ]
        whole = [rows[0][0], *(row for table in rows for row in table[1:])]
        (folder / "long.csv").write_bytes(csv_bytes(whole))
        path = str(folder / "long.csv")
        timed(f"{len(whole) - 1:,} rows, read and counted", READING, str(quiz.folder), path)
        timed(f"{len(whole) - 1:,} rows, with a report", COMMAND, "diagnose", str(quiz.folder), path)


if __name__ == "__main__":
    main()
