"""A file to double-click that opens the desk: its name and text on each system."""

import os
import shlex
from collections.abc import Mapping
from pathlib import Path, PureWindowsPath

from barwright.tasks.files import read_text, write_new
from barwright.tasks.paths import writing

NAME = "Barwright"
MODE = 0o755  # a file to double-click must be one that may be run
# What has a meaning of its own in an `Exec` line (Desktop Entry Specification 1.5, "The Exec key").
_ACTS_IN_EXEC = '"`$\\'


def shortcut(system: str, python: str, folder: str) -> tuple[str, str]:
    """The name and the text of the file for a system (`sys.platform`), by the Python that runs now.

    >>> shortcut("darwin", "/usr/bin/python3", "/Users/a b")[0]
    'Barwright.command'
    """
    if system == "win32":
        # %% is a percent sign in a batch file. PureWindowsPath: a path cannot hold a quotation mark there.
        parts = [str(PureWindowsPath(each)).replace("%", "%%") for each in (python, folder)]
        text = f'@echo off\r\ntitle {NAME}\r\n"{parts[0]}" -m barwright desk "{parts[1]}"\r\nif errorlevel 1 pause\r\n'
        return f"{NAME}.bat", text
    if system == "darwin":
        return f"{NAME}.command", f"#!/bin/sh\nexec {shlex.quote(python)} -m barwright desk {shlex.quote(folder)}\n"
    command = " ".join(map(_in_exec, (python, "-m", "barwright", "desk", folder)))
    text = f"[Desktop Entry]\nType=Application\nName={NAME}\nComment=Rhythm quizzes\nExec={command}\nTerminal=false\n"
    return f"{NAME}.desktop", text


def _in_exec(word: str) -> str:
    """One argument of an `Exec` line: quoted, then escaped again as any text of such a file is."""
    quoted = "".join(f"\\{sign}" if sign in _ACTS_IN_EXEC else sign for sign in word.replace("%", "%%"))
    escaped = quoted.replace("\\", "\\\\").replace("\n", "\\n")
    return f'"{escaped}"'


def desktop_folder(system: str, home: Path, environ: Mapping[str, str] = os.environ, dirs: str = "") -> Path:
    """The folder whose files lie on the desktop; `dirs`: the text of `user-dirs.dirs`, where there is one.

    >>> desktop_folder("linux", Path("/home/a"), {}, 'XDG_DESKTOP_DIR="$HOME/Bureau"').as_posix()
    '/home/a/Bureau'
    """
    if system == "win32" and environ.get("OneDrive") and (Path(environ["OneDrive"]) / "Desktop").is_dir():
        return Path(environ["OneDrive"]) / "Desktop"
    for line in dirs.splitlines() if system == "linux" else ():
        name, _, value = line.partition("=")
        if name.strip() == "XDG_DESKTOP_DIR":
            return Path(value.strip().strip('"').replace("$HOME", str(home)))
    return home / "Desktop"


def write_shortcut(folder: Path, *, system: str, python: str, replace: bool, home: Path | None = None) -> Path:
    """Writes the file and gives back its path; OutputError if there is one, or if the desktop cannot be written."""
    home = home or Path.home()
    dirs = home / ".config" / "user-dirs.dirs"
    text = read_text(dirs, kind="list of folders") if system == "linux" and dirs.is_file() else ""
    desktop = desktop_folder(system, home, dirs=text)
    name, content = shortcut(system, python, str(folder.absolute()))
    path = desktop / name
    write_new(path, content.encode(), replace=replace)
    if system != "win32":
        with writing(path):
            path.chmod(MODE)
    return path
