"""`diagnose` over the schools that one plan was made for: each school's own report, and a page of all side by side."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.blueprint.names import folder_name
from barwright.errors import BarwrightError, ResultsError
from barwright.pages import plain_page
from barwright.results.district import LEAST_STUDENTS, Count, DistrictGroup, ModelPool, counts_of, pooled
from barwright.tasks.diagnose.asked import asked_quiz
from barwright.tasks.diagnose.diagnose import Diagnosed, Wish, diagnose, forget
from barwright.tasks.diagnose.diagnosis import Diagnosis
from barwright.tasks.diagnose.spreadsheets import csv_text
from barwright.tasks.folders import changing
from barwright.tasks.form_folders import RECORD
from barwright.tasks.progress import Progress, silent
from barwright.tasks.saying import counted, listed, quoted
from barwright.tasks.schools.state import NAME as STATE
from barwright.tasks.schools.state import state_in

FOLDER = "district-results"
README = "README.txt"
MOST_TOLD = 5  # faults of a school that are told


@dataclass(frozen=True, slots=True)
class SchoolQuiz:
    """The folder of one quiz of one school: the school by the name of its folder, and as it is called."""

    school: str
    name: str
    quiz: str
    folder: Path


@dataclass(frozen=True, slots=True)
class DistrictDiagnosed:
    """Pages and tables that were written; how many schools and answer sheets were read, schools without, and faults."""

    files: tuple[Path, ...]
    read: int
    sheets: int
    without: tuple[str, ...]
    faults: tuple[str, ...]


def school_quizzes(folder: Path) -> tuple[SchoolQuiz, ...]:
    """The quizzes of the schools below a folder, as `make --schools` put them there; none if it is no such folder."""
    if (folder / RECORD).exists() or not folder.is_dir():
        return ()
    places = {path.parent: state_in(path.parent) for path in sorted(folder.glob(f"*/*/{STATE}"))}
    return tuple(
        SchoolQuiz(place.parent.name, state.school, place.name, place) for place, state in places.items() if state
    )


def diagnose_district(
    folder: Path,
    quizzes: Sequence[SchoolQuiz],
    paths: Sequence[Path],
    wish: Wish,
    *,
    progress: Progress = silent,
) -> DistrictDiagnosed:
    """Reads the answers of each school, writes its report into its own quiz folder, and a page of all schools.

    A fault of one school stops no other. ResultsError if no school has answers.
    """
    answers = _by_school(paths, quizzes)
    often, called = Counter(quiz.school for quiz in quizzes), _called(quizzes)
    faults, counts, sheets = [*answers.faults], dict[str, list[Count]](), 0
    for done, quiz in enumerate(quizzes, start=1):
        given = answers.of(quiz, alone=often[quiz.school] == 1)
        progress("schools", done, len(quizzes))
        if not given:
            continue
        try:
            found = _diagnosis_of(quiz, given, wish)
        except BarwrightError as error:
            faults += [f"{quiz.school}, {quiz.quiz}: {line}" for line in str(error).splitlines()[:MOST_TOLD]]
            continue
        sheets += len(found.findings.students)
        own = counts_of(called[quiz.school], found.given, found.responses, omit=wish.omit)
        counts.setdefault(quiz.quiz, []).extend(own)
    if not counts:
        raise ResultsError("\n".join(faults) or f"no school of {folder} has answers in what you named: {_NAMED}")
    files = _written(folder, quizzes, counts)
    read = {count.school for every in counts.values() for count in every}
    without = tuple(dict.fromkeys(each.school for each in quizzes if called[each.school] not in read))
    return DistrictDiagnosed(files, len(read), sheets, without, tuple(faults))


def _diagnosis_of(quiz: SchoolQuiz, given: Sequence[Path], wish: Wish) -> Diagnosis:
    """What the answers of one school tell, with its own report written; ResultsError where not all can be read."""
    result = diagnose(quiz.folder, given, replace(wish, salt=f" {quiz.school}"))
    if isinstance(result, Diagnosed):
        return result.diagnosis
    raise ResultsError(f'not all could be told: answer each "?" in {result.columns}, and run this again')


def _called(quizzes: Sequence[SchoolQuiz]) -> dict[str, str]:
    """What each school is called on the page, by its folder: its name, with the folder where several share that."""
    names = {quiz.school: quiz.name for quiz in quizzes}
    often = Counter(names.values())
    return {folder: name if name and often[name] == 1 else f"{name} ({folder})" for folder, name in names.items()}


_NAMED = "give folders or files that are called as the schools' folders, e.g. answers/alder-creek or alder-creek.csv"


@dataclass(frozen=True, slots=True)
class _Answers:
    """Files and folders of answers by the folder name of their school, and what is wrong with others."""

    by_school: dict[str, list[Path]]
    faults: tuple[str, ...]

    def of(self, quiz: SchoolQuiz, *, alone: bool) -> list[Path]:
        """The answers to one quiz of a school: all of the school's, or of several quizzes those under its name."""
        mine = self.by_school.get(quiz.school, [])
        if alone:
            return mine
        below = [child for path in mine if path.is_dir() for child in sorted(path.iterdir())]
        return [path for path in below if _named(path) == quiz.quiz]


def _by_school(paths: Sequence[Path], quizzes: Sequence[SchoolQuiz]) -> _Answers:
    schools = {quiz.school for quiz in quizzes}
    by_school: dict[str, list[Path]] = {}
    faults = []
    for path in _candidates(paths, schools):
        if _named(path) in schools:
            by_school.setdefault(_named(path), []).append(path)
        elif not path.exists():
            faults.append(f"{path}: there is no such file or folder: check the name")
        else:
            faults.append(f"{path}: no school's folder is called {_named(path)}: {_NAMED}")
    return _Answers(by_school, tuple(faults))


def _candidates(paths: Sequence[Path], schools: set[str]) -> Iterator[Path]:
    """What may be called as a school: what was named, or what lies in a folder that was."""
    for path in paths:
        if path.is_dir() and _named(path) not in schools:
            yield from (each for each in sorted(path.iterdir()) if not each.name.startswith("."))
        else:
            yield path


def _named(path: Path) -> str:
    return folder_name(path.name if path.is_dir() else path.stem)


def _written(folder: Path, quizzes: Sequence[SchoolQuiz], counts: dict[str, list[Count]]) -> tuple[Path, ...]:
    files: dict[str, bytes] = {}
    for quiz, own in counts.items():
        first = next(asked_quiz(each.folder) for each in quizzes if each.quiz == quiz)
        pools = pooled(own)
        files[f"{quiz}.html"] = _page(pools, first.title, first.forms[0].language)
        files[f"{quiz}.csv"] = _table(pools)
    files[README] = (
        f"Written by barwright diagnose: counts by school and section, and no student; of groups of fewer than "
        f"{LEAST_STUDENTS} students nothing. Take it and all schools' results away with  barwright diagnose "
        f"{quoted(folder)} --forget\n"
    ).encode()
    place = folder / FOLDER
    with changing(place) as held:
        held.check_free(replace=True)
        held.write(files)
    return tuple(place / name for name in files if name != README)


def _page(pools: Sequence[ModelPool], title: str, language: str) -> bytes:
    models = [
        {
            "name": pool.model.rsplit(" ", 1)[0],
            "measures": int(pool.model.rsplit(" ", 1)[1]),
            "every": _line(pool.every),
            "schools": [(_line(s.whole), [_line(g) for g in s.sections]) for s in pool.schools],
        }
        for pool in pools
    ]
    schools = len({school.whole.name for pool in pools for school in pool.schools})
    return plain_page("district.html", title, language, models=models, schools=schools, least=LEAST_STUDENTS)


def _line(group: DistrictGroup) -> dict[str, object]:
    if not group.shown:
        return {"name": group.name, "shown": False}
    low, high = group.range
    percent = {"share": 100 * group.share, "low": 100 * low, "high": 100 * high}
    rounded = {name: round(value) for name, value in percent.items()}
    return {"name": group.name, "shown": True, "students": group.students, **rounded}


def _table(pools: Sequence[ModelPool]) -> bytes:
    """The same for a spreadsheet: a row for each school and section that is shown or not, by kind of question."""
    rows: list[list[str | int | float | None]] = [
        ["question", "school", "section", "students", "answers", "right", "share", "low", "high"]
    ]
    for pool in pools:
        rows.append([pool.model, "", "", *_cells(pool.every)])
        for school in pool.schools:
            rows.append([pool.model, school.whole.name, "", *_cells(school.whole)])
            rows += [[pool.model, school.whole.name, each.name, *_cells(each)] for each in school.sections]
    return csv_text(rows)


def _cells(group: DistrictGroup) -> list[str | int | float | None]:
    if not group.shown:
        return [None] * 6
    return [group.students, group.answers, group.right, group.share, *group.range]


def forget_district(folder: Path, quizzes: Sequence[SchoolQuiz]) -> str:
    """Takes away what diagnoses wrote for all schools, and says so; ResultsError if there is nothing."""
    gone = 0
    for quiz in quizzes:
        try:
            forget(quiz.folder)
        except ResultsError:
            continue
        gone += 1
    place = folder / FOLDER
    mine = [place / name for quiz in {q.quiz for q in quizzes} for name in (f"{quiz}.html", f"{quiz}.csv")]
    there = [path for path in (*mine, place / README) if path.is_file()]
    for path in there:
        path.unlink()
    if place.is_dir() and not any(place.iterdir()):
        place.rmdir()
    if not gone and not there:
        raise ResultsError(f"{folder}: no results lie there, so there is nothing to forget")
    return f"Took the results of {counted(gone, 'quiz folder')} away, and {counted(len(there), 'file')} from {place}."


def district_lines(done: DistrictDiagnosed) -> tuple[str, ...]:
    """What the command prints: how many schools were read, which were not, and what to open."""
    lines = [f"Read {counted(done.sheets, 'answer sheet')} of {counted(done.read, 'school')}."]
    if done.without:
        named = [*done.without[:MOST_TOLD], *(["others"] if len(done.without) > MOST_TOLD else [])]
        lines.append(f"No answers could be read of {counted(len(done.without), 'school')}: {listed(named, 'and')}.")
    lines.append("Each school's own report lies in the results of its quiz folder.")
    lines.append(f"Next: open {quoted(done.files[0])}")
    return tuple(lines)
