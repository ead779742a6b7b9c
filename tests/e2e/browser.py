"""A rendering library for QTI 3.0 and headless Chromium: what they need, installed once in a cache outside the tree."""

import hashlib
import json
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

HERE = Path(__file__).parent
WANTED = ("package.json", "package-lock.json")
CACHE = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "barwright-e2e"

Told = dict[str, list[dict[str, object]]]
Renderer = Callable[[dict[str, object]], Told]


def lacking() -> str:
    """What the machine lacks to show items, or nothing."""
    names = [name for name in ("node", "npm", "chromium") if shutil.which(name) is None]
    return f"no {' and no '.join(names)} on this machine" if names else ""


def installed() -> Path:
    """The folder with the node modules of our lock file, filled by npm if it is not yet."""
    known = hashlib.sha256(b"".join((HERE / name).read_bytes() for name in WANTED)).hexdigest()[:16]
    folder = CACHE / known
    if not (folder / "ready").is_file():
        folder.mkdir(parents=True, exist_ok=True)
        for name in WANTED:
            shutil.copy(HERE / name, folder / name)
        command = ["npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund"]
        done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
        assert done.returncode == 0, f"npm ci: {done.stderr}"
        (folder / "ready").touch()
    return folder


def audited(modules: Path, job_path: Path, job: dict[str, object]) -> dict[str, dict[str, object]]:
    """Audits pages (see audit.mjs) and gives back by path what was found."""
    job_path.write_text(json.dumps(job), "utf-8")
    command = ["node", HERE / "audit.mjs", modules, shutil.which("chromium"), job_path]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def rendered(modules: Path, job_path: Path, job: dict[str, object]) -> Told:
    """Does a job (see render.mjs), written to `job_path`, and gives back what came of it."""
    job_path.write_text(json.dumps(job), "utf-8")
    command = ["node", HERE / "render.mjs", modules, shutil.which("chromium"), job_path]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)
