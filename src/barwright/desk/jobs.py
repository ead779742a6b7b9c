"""Long work in a process of its own: begun, looked at, ended. A job says how far it is, line by line.

A process that changed a question waits for the next change, since to load all that is needed takes longer than most.
"""

import json
import re
import subprocess
import sys
import threading
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from barwright.desk.sentences import Say
from barwright.tasks.shown.desk_words import ALL_SECTIONS, USUAL

MOST_KEPT = 40  # jobs that can be looked at; the oldest that have ended are forgotten
MOST_AT_ONCE = 4
AGAIN = "question"  # the action after which a process is used again: it leaves little in memory
_WAIT_SECONDS = 10
_OF_PART = re.compile(r"part (\d+), (finding )?questions")
_NOTHING: dict[str, Any] = {"lines": [], "faults": [], "parts": {}, "quiz": "", "first": "", "doubtful": False}


@dataclass(slots=True)
class Job:
    """One piece of work. `steps`: of each phase how many are done, and of how many; `end`: what came of it.

    `back` is the page that it belongs to, `quiz` the folder of the quiz that it changes. `end` holds `lines`, and
    `faults` where it failed; it is None while the work goes on. `spots`, of a change to a question: the number under
    which the page is to tell what was done, and that under which what failed; empty for the whole page. `only`: see
    `Jobs.begin`.
    """

    number: int
    action: str
    about: str
    back: str
    process: "subprocess.Popen[str]"
    forms: tuple[str, ...] = ()
    quiz: str = ""
    spots: tuple[str, str] | None = None
    only: str = ""
    language: str = USUAL
    steps: dict[str, tuple[int, int]] = field(default_factory=dict)
    end: dict[str, Any] | None = None
    cancelled: bool = False
    over: threading.Event = field(default_factory=threading.Event)

    @property
    def running(self) -> bool:
        """Whether it goes on."""
        return self.end is None


class Jobs:
    """The jobs of one desk."""

    def __init__(self) -> None:
        self._all: dict[int, Job] = {}
        self._last = 0
        self._lock = threading.Lock()
        self._waiting: subprocess.Popen[str] | None = None

    def begin(
        self,
        action: str,
        about: str,
        back: str,
        order: Mapping[str, object],
        *,
        forms: tuple[str, ...] = (),
        quiz: str = "",
        spots: tuple[str, str] | None = None,
        only: str = "",
    ) -> Job | None:
        """Begins an action of `desk.actions` in another process; None if too much is going on already.

        The order goes over a pipe, so nothing of it stands in a list of processes. One that is about the same and goes
        on already is given back instead. Of jobs that name the same `only` the last one alone goes on: nobody waits for
        what an earlier text of a plan would have given.
        """
        with self._lock:
            going = [job for job in self._all.values() if job.running]
            same = next((job for job in going if (job.action, job.about) == (action, about)), None)
            if same is not None:
                return same
            for old in [job for job in going if only and job.only == only]:
                cancel(old)
                going.remove(old)
            if len(going) >= MOST_AT_ONCE:
                return None
            process = self._taken() if action == AGAIN else _process()
            self._last += 1
            job = self._all[self._last] = Job(self._last, action, about, back, process, forms, quiz, spots, only)
            job.language = str(order.get("language", USUAL))
            self._forget()
        assert process.stdin is not None
        process.stdin.write(json.dumps({"action": action, **order}) + "\n")
        process.stdin.flush()
        if action != AGAIN:
            process.stdin.close()
        threading.Thread(target=self._follow, args=(job,), daemon=True).start()
        return job

    def prepare(self) -> None:
        """Lets a process load what a change to a question needs."""
        with self._lock:
            if self._waiting is None:
                self._waiting = _process()

    def _taken(self) -> "subprocess.Popen[str]":
        """The process that waits, if it is still there, or a new one."""
        waiting, self._waiting = self._waiting, None
        return waiting if waiting is not None and waiting.poll() is None else _process()

    def _follow(self, job: Job) -> None:
        """Reads what a job says until it ends; then its process waits for the next one, or is gone."""
        end = _read(job)
        if end is not None and job.action == AGAIN and not job.cancelled:
            with self._lock:
                more, self._waiting = self._waiting, job.process
        else:
            more = job.process
        if more is not None:
            _let_go(more)
        if end is None:
            end = {"faults": [Say(job.language)("job.cancelled" if job.cancelled else "job.lost")]}
        job.end = {**_NOTHING, **end}
        job.over.set()

    def _forget(self) -> None:
        ended = [number for number, job in self._all.items() if not job.running]
        for number in ended[: max(0, len(self._all) - MOST_KEPT)]:
            del self._all[number]

    def get(self, number: int) -> Job | None:
        """The job of a number, if it is still known."""
        return self._all.get(number)

    def latest(self, action: str, about: str) -> Job | None:
        """The last job of an action that was about this."""
        return next((j for j in reversed(self._all.values()) if (j.action, j.about) == (action, about)), None)

    @property
    def running(self) -> bool:
        """Whether any job goes on."""
        return any(job.running for job in self._all.values())

    def end_all(self) -> None:
        """Ends every job that goes on, as when the desk is closed."""
        for job in self._all.values():
            if job.running:
                cancel(job)
        with self._lock:
            if self._waiting is not None:
                self._waiting.kill()
                self._waiting = None


def steps_of(job: Job, say: Say) -> Iterator[tuple[str, int, int]]:
    """Each phase in words, how much is done, and of how much; the questions form by form."""
    for what, (done, of) in job.steps.items():
        if what == "items" and job.forms and of % len(job.forms) == 0:
            each = of // len(job.forms)
            for place, name in enumerate(job.forms):
                shown = say("form.all_sections") if name == ALL_SECTIONS else name
                yield say("step.questions_for", form=shown), min(max(done - place * each, 0), each), each
        else:
            yield _phase(what, say), done, of


def _phase(what: str, say: Say) -> str:
    """What a command calls a phase of its work, in words; as it says it where there are none."""
    if part := _OF_PART.fullmatch(what):
        return say("step.finding" if part[2] else "step.questions", number=part[1])
    ident = f"step.{what.replace(' ', '_')}"
    return say(ident) if say.has(ident) else what


def _process() -> "subprocess.Popen[str]":
    command, pipe = [sys.executable, "-m", "barwright.desk.work"], subprocess.PIPE
    return subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL, text=True, encoding="utf-8")


def cancel(job: Job) -> None:
    """Ends a job at once. What it had begun to change, the next look at the folder takes back."""
    job.cancelled = True
    job.process.kill()
    job.process.wait(_WAIT_SECONDS)


def _read(job: Job) -> dict[str, Any] | None:
    """What came of a job, when it has said that; None if its process ended before."""
    assert job.process.stdout is not None
    for line in job.process.stdout:
        told: dict[str, Any] = json.loads(line)
        if "step" not in told:
            return told
        what, done, of = told["step"]
        job.steps[what] = (done, of)
    return None


def _let_go(process: "subprocess.Popen[str]") -> None:
    """Lets a process end: it does when no order can come any more."""
    assert process.stdin is not None
    assert process.stdout is not None
    with suppress(BrokenPipeError):
        process.stdin.close()
    process.stdout.close()
    process.wait()
