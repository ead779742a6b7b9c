"""`diagnose`: files of answers become a report, tables, and a blueprint of what to teach again; all stays here."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from barwright.engrave.font import DEFAULT
from barwright.errors import BarwrightError, ResultsError
from barwright.results.rates import USUAL, Rates, rates_of
from barwright.results.reading.final_answers import Attempt, Settled, settled
from barwright.results.reading.mapping import columns_text, parse_columns
from barwright.results.reading.sources import gathered
from barwright.results.reading.told import Said
from barwright.results.scoring import Omit
from barwright.tasks.diagnose.asked import AskedQuiz, asked_quiz
from barwright.tasks.diagnose.files import response_files
from barwright.tasks.files import read_text, write_new
from barwright.tasks.folders import changing
from barwright.tasks.packing import drawn_pictures
from barwright.tasks.progress import Progress, silent
from barwright.tasks.saying import counted, quoted

if TYPE_CHECKING:
    from barwright.tasks.diagnose.diagnosis import Diagnosis

RESULTS = "results"
DOCUMENT = "diagnosis.json"
COLUMNS = "columns.toml"
README = "README.txt"
_OURS = ("report.html", "students.csv", "items.csv", DOCUMENT, "reteach.toml", README)


@dataclass(frozen=True, slots=True)
class Wish:
    """How the teacher wants it: the file of columns, the attempt that counts, what is left out, names, pages,
    what is assumed of students beforehand, whether to tell how much hangs on that, and whether tables were typed from
    paper. `salt`: makes the codes of students differ from those of another school."""

    columns: Path | None = None
    attempt: Attempt = "last"
    omit: Omit = "wrong"
    names: bool = False
    feedback: bool = False
    rates: Rates = USUAL
    sensitivity: bool = False
    music_font: str = DEFAULT
    paper: bool = False
    salt: str = ""


@dataclass(frozen=True, slots=True)
class Diagnosed:
    """What was read, in lines for people; where the results lie, the files written there, and the diagnosis."""

    told: tuple[str, ...]
    folder: Path
    files: tuple[str, ...]
    diagnosis: "Diagnosis"


@dataclass(frozen=True, slots=True)
class Doubtful:
    """What was read, and the file of columns that was written: it asks what could not be told."""

    told: tuple[str, ...]
    columns: Path


def checked_wish(attempt: str, omit: str) -> tuple[Attempt, Omit]:
    """The two choices of the command line; BarwrightError for one that is not known."""
    if attempt not in ("last", "first"):
        raise BarwrightError(f"--attempt {attempt!r} is not known: use last or first")
    if omit not in ("wrong", "exclude"):
        raise BarwrightError(f"--omit {omit!r} is not known: use wrong or exclude")
    return ("first" if attempt == "first" else "last"), ("exclude" if omit == "exclude" else "wrong")


def assumed(slips: str, prior: str) -> Rates:
    """What the command line says of slips and of the prior, in percent; BarwrightError for what is no such number."""
    return rates_of(slips=slips, prior=prior)


def diagnose(folder: Path, paths: Sequence[Path], wish: Wish, *, progress: Progress = silent) -> Diagnosed | Doubtful:
    """Reads answers, works out what they show, and writes it into the folder's `results`.

    Where it cannot be told what a column is, or of which form a file, nothing is worked out: a file of columns asks for
    it. ResultsError, with a line for each file, if one is refused.
    """
    quiz = asked_quiz(folder)
    columns = wish.columns if wish.columns is not None else folder / COLUMNS
    collected = gathered(response_files(paths), quiz.sheets, _said(columns, quiz), paper=wish.paper)
    if collected.refused:
        raise ResultsError("\n".join(collected.refused))
    told = (*collected.told, *collected.faults)
    if any(doubts.any for doubts in collected.doubts):
        write_new(columns, columns_text(collected.doubts).encode(), replace=True)
        return Doubtful(told, columns)
    answers = settled(collected.givens, quiz.sheets, attempt=wish.attempt, salt=quiz.title + wish.salt)
    if not answers.responses:
        raise ResultsError("no student has answered anything in these files: nothing can be worked out")
    files, diagnosis = _files(quiz, answers, wish, progress)
    place = folder / RESULTS
    with changing(place) as held:
        held.check_free(replace=True)
        held.write(files, gone=[path for path in _standing(place) if path not in files])
    return Diagnosed((*told, *answers.remarks), place, tuple(files), diagnosis)


def _said(columns: Path, quiz: AskedQuiz) -> Mapping[str, Said]:
    """What the file of columns says, if there is one."""
    if not columns.is_file():
        return {}
    return parse_columns(read_text(columns, kind="file of columns"), str(columns), [s.name for s in quiz.sheets])


def _files(quiz: AskedQuiz, answers: Settled, wish: Wish, progress: Progress) -> tuple[dict[str, bytes], "Diagnosis"]:
    """Every file of the results by its path in their folder."""
    from barwright.tasks.diagnose.diagnosis import diagnosis_of
    from barwright.tasks.diagnose.document import diagnosis_json
    from barwright.tasks.diagnose.feedback import FeedbackPages
    from barwright.tasks.diagnose.page import report_of
    from barwright.tasks.diagnose.quiz_in_words import Words
    from barwright.tasks.diagnose.reteach import reteach_toml
    from barwright.tasks.diagnose.spreadsheets import items_csv, students_csv

    diagnosis = diagnosis_of(
        quiz, answers, named=wish.names, omit=wish.omit, rates=wish.rates, sensitive=wish.sensitivity
    )
    words = Words(quiz)
    report = report_of(diagnosis, words)
    pages = FeedbackPages(diagnosis, words) if wish.feedback else None
    conventions = quiz.forms[0].items[0].item.conventions
    pictures = drawn_pictures(words.forms_shown(), conventions, wish.music_font, progress=progress)
    files = {
        "report.html": report.html(pictures),
        "students.csv": students_csv(diagnosis),
        "items.csv": items_csv(diagnosis, words),
        DOCUMENT: diagnosis_json(diagnosis, quiz, words),
    }
    again = reteach_toml(quiz.forms, diagnosis, quoted(quiz.folder / RESULTS / "reteach.toml"))
    if again is not None:
        files["reteach.toml"] = again
    if pages is not None:
        files |= pages.html(pictures)
    files[README] = _readme(quiz.folder, files, wish)
    return files, diagnosis


def _readme(folder: Path, files: Mapping[str, bytes], wish: Wish) -> bytes:
    """The line that says what lies here and how it goes away."""
    kept = ", ".join(sorted(name for name in files if "/" not in name))
    pages = ", and a page for each student in feedback/" if wish.feedback else ""
    whose = "with the names of your files" if wish.names else "with codes for students"
    return (
        f"Written by barwright diagnose from students' answers, {whose}: {kept}{pages}. Nothing of it has left this "
        f"computer. Delete this folder, or run  barwright diagnose {quoted(folder)} --forget  to take it away.\n"
    ).encode()


def _standing(place: Path) -> tuple[str, ...]:
    """The files in a folder of results that a diagnosis wrote, by their names."""
    plain = [name for name in _OURS if (place / name).is_file()]
    feedback = place / "feedback"
    pages = sorted(path.name for path in feedback.glob("*.html")) if feedback.is_dir() else []
    return (*plain, *(f"feedback/{name}" for name in pages))


def forget(folder: Path) -> str:
    """Takes away what diagnoses wrote into a quiz folder, the file of columns too, and says so.

    Files of others in it stay. ResultsError if there is nothing.
    """
    place = folder / RESULTS
    paths = [place / name for name in _standing(place)]
    if (folder / COLUMNS).is_file():
        paths.append(folder / COLUMNS)
    if not paths:
        raise ResultsError(f"{place}: no results lie there, so there is nothing to forget")
    for path in paths:
        path.unlink()
    for each in (place / "feedback", place):
        if each.is_dir() and not any(each.iterdir()):
            each.rmdir()
    return f"Took {counted(len(paths), 'file')} away from {place}."


def told_lines(done: Diagnosed | Doubtful) -> tuple[str, ...]:
    """What the command prints: what was matched and how, what was written, and what to do next."""
    if isinstance(done, Doubtful):
        asks = f'Wrote {done.columns}: it asks what could not be told. Answer each "?" in it, and run this again.'
        return (*done.told, asks)
    students = len({student.student for student in done.diagnosis.findings.students})
    plain = [name for name in done.files if "/" not in name and name != README]
    pages = ["feedback"] if len(plain) + 1 < len(done.files) else []
    return (
        *done.told,
        f"Wrote {done.folder}: {counted(students, 'student')}; {', '.join([*plain, *pages])}.",
        f"Next: open {quoted(done.folder / 'report.html')}",
    )
