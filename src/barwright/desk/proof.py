"""The proof of a form, and what is done to single questions of it; each change is one command of `question`."""

import json
from dataclasses import replace
from pathlib import Path
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from barwright.desk.actions import change_question
from barwright.desk.jobs import Job, Jobs
from barwright.desk.opened import bank_file, opened_contents, plan_of_quiz, quiz_folder
from barwright.desk.plan import checked_plan
from barwright.desk.rendering import lines_of, moved, page
from barwright.desk.sent_forms import Fields, posted
from barwright.desk.sentences import OwnFault, OwnSentence, Say, say_of
from barwright.errors import BarwrightError
from barwright.showing import shown
from barwright.tasks.shown.desk_words import ALL_SECTIONS
from barwright.tasks.shown.proof import ProofShown, others_shown, proof_shown
from barwright.tasks.shown.quiz import quiz_shown

AT_ONCE = {"keep", "release"}
"""Changes that draw and pack nothing anew; all others go on in a process of their own, with progress."""
KNOWN = {*AT_ONCE, "another", "never", "move", "points", "wording", "back", "apply"}
MOST_DIGITS = 4


def _place(request: Request) -> tuple[Path, int, str]:
    """The quiz folder, the number of the form, and the address of its proof."""
    folder, number = quiz_folder(request.path_params["name"]), int(request.path_params["number"])
    return folder, number, f"/quiz/{quote(folder.name)}/proof/{number}"


def _found(folder: Path, number: int, say: Say) -> ProofShown:
    plan = plan_of_quiz(folder)
    proof = proof_shown(folder, number, plan)
    if proof is None:
        raise HTTPException(404)
    return proof if plan is not None else replace(proof, fixed=(say("proof.no_plan"),))


def _named(proof: ProofShown, say: Say) -> OwnSentence:
    """What a form is called."""
    section = say("form.all_sections") if proof.section == ALL_SECTIONS else OwnSentence(proof.section)
    return say("form.retake", section=section, number=proof.retake) if proof.retake else section


def _proof(request: Request, *, faults: tuple[str, ...] = (), spot: str = "", status: int = 200) -> Response:
    """The proof; `faults` are told beside the question `spot`, or above all where that is empty."""
    folder, number, at = _place(request)
    say = say_of(request)
    proof = _found(folder, number, say)
    job = _told(request, at)
    said: tuple[str, ...] = ()
    if job is not None and job.end is not None and job.spots is not None and not faults:
        faults, said = tuple(job.end["faults"]), tuple(job.end["lines"])
        spot = job.spots[1 if faults else 0]
    if spot not in {question.number for question in proof.questions}:
        spot = ""
    names = {"faults": faults, "said": said, "spot": spot, **_common(folder, number, proof)}
    return page(request, "proof.html.j2", status=status, title=say("proof.title", form=_named(proof, say)), **names)


def _common(folder: Path, number: int, proof: ProofShown) -> dict[str, object]:
    """What both pages show."""
    return {"quiz": quiz_shown(folder), "proof": proof, "number": number, "banks": opened_contents().banks}


def _told(request: Request, at: str) -> Job | None:
    """The change of which this page is to tell, if one was made from it."""
    jobs: Jobs = request.app.state.jobs
    number = request.query_params.get("job", "")
    job = jobs.get(int(number)) if number.isdecimal() and len(number) < 9 else None
    return job if job is not None and job.back == at else None


def _others(request: Request) -> Response:
    """What could stand in the place of a question, side by side."""
    folder, number, _ = _place(request)
    say = say_of(request)
    proof, name = _found(folder, number, say), request.path_params["question"]
    question = next((each for each in proof.questions if each.number == name), None)
    if question is None:
        raise HTTPException(404)
    try:
        others = others_shown(folder, proof, name, _plan(folder, say), request.query_params.get("seen", ""))
    except BarwrightError as error:
        return _proof(request, faults=lines_of(error), spot=name, status=409)
    names = {"question": question, "others": others, **_common(folder, number, proof)}
    return page(request, "others.html.j2", status=200, title=say("others.title", number=name), **names)


def _plan(folder: Path, say: Say) -> Path:
    plan = plan_of_quiz(folder)
    if plan is None:
        raise OwnFault(say("proof.plan_missing", folder=folder))
    return checked_plan(plan)


def _change(request: Request, fields: Fields) -> Response:
    """Does what a form under a question asks for; what is wrong with it is told beside the question."""
    folder, number, at = _place(request)
    say = say_of(request)
    proof, name = _found(folder, number, say), fields.one("question")
    try:
        order, after = _order(folder, proof, fields, say)
        if order["do"] in AT_ONCE:
            change_question(order, _silent)
            return moved(f"{at}#q{name}")
        jobs: Jobs = request.app.state.jobs
        about = json.dumps(order, sort_keys=True)  # so that none but the very same change is taken for this one
        job = jobs.begin("question", about, at, order, quiz=folder.name, spots=(after, name))
        if job is None:
            raise OwnFault(say("fault.busy"))
    except BarwrightError as error:
        return _proof(request, faults=lines_of(error), spot=name, status=409)
    return moved(f"/job/{job.number}")


def _silent(_what: str, _done: int, _of: int) -> None:
    """Nobody looks how far a change is that is over at once."""


def _order(folder: Path, proof: ProofShown, fields: Fields, say: Say) -> tuple[dict[str, object], str]:
    """What is to be done, and the number under which its question stands then; empty where it is not known."""
    what, name = fields.one("do"), fields.one("question")
    if what == "another" and fields.has("never"):
        what = "never"
    if what not in KNOWN:
        raise OwnFault(say("proof.unknown", what=shown(what)))
    if not fields.one("seen"):
        raise OwnFault(say("proof.unseen"))
    place = {"quiz": str(folder), "plan": str(_plan(folder, say)), "section": proof.section, "retake": proof.retake}
    order: dict[str, object] = {"do": what, "question": name, "seen": fields.one("seen"), **place}
    order["language"] = say.code
    if what == "move":
        to = _whole(fields.one("to"), say, "proof.whole_number")
        return {**order, "to": to}, f"{to}{name.lstrip('0123456789')}"
    if what == "points":
        return {**order, "worth": _whole(fields.one("worth"), say, "proof.whole_points")}, name
    if what == "back":
        kind = fields.one("what")
        return {**order, "what": kind}, "" if kind in ("never", "move") else name
    if what == "wording":
        texts = {key: fields.one(key).strip() for key in ("stem", "hint", "choice")}
        return {**order, **texts}, name
    bank = str(bank_file(fields.one("bank"))) if what == "never" and fields.one("bank") else ""
    said = {key: fields.one(key).strip() for key in ("take", "by", "date", "comment")}
    return {**order, **said, "bank": bank}, "" if what == "apply" else name


def _whole(text: str, say: Say, fault: str) -> int:
    if not (text.strip().isascii() and text.strip().isdecimal() and len(text.strip()) <= MOST_DIGITS):
        raise OwnFault(say(fault, value=shown(text)))
    return int(text)


ROUTES = [
    Route("/quiz/{name}/proof/{number:int}", _proof),
    Route("/quiz/{name}/proof/{number:int}/others/{question}", _others),
    Route("/quiz/{name}/proof/{number:int}/change", posted(_change), methods=["POST"]),
]
