"""One desk a folder: who has it, told to the same user's other programs alone, and joined by them.

The lock of the operating system is held while a desk runs, and goes with it whatever ends it. Beside it, in a folder
that only the user may enter, stands where the desk listens and the secret by which it is joined.
"""

import hashlib
import http.client
import json
import os
import sys
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from filelock import FileLock, Timeout

from barwright.errors import BarwrightError

LOOPBACK = "127.0.0.1"
WAIT_SECONDS = 10.0  # for a desk that is just beginning
STEP_SECONDS = 0.05
_OWNER_ONLY, _OWNER_READS = 0o700, 0o600


@dataclass(frozen=True, slots=True)
class Listening:
    """Where a desk listens, and by what it is joined."""

    port: int
    joining: str


def state_folder(environ: Mapping[str, str] = os.environ, *, system: str = sys.platform) -> Path:
    """Where a user's programs keep what only they may read while they run: by the rules of each system."""
    if system == "win32":
        return Path(environ.get("LOCALAPPDATA") or Path.home()) / "Barwright"
    if system == "darwin":
        return Path.home() / "Library" / "Application Support" / "Barwright"
    place = environ.get("XDG_RUNTIME_DIR") or environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    return Path(place) / "barwright"


class DeskPlace:
    """The state of one opened folder."""

    def __init__(self, folder: Path, home: Path | None = None) -> None:
        """`folder`: the opened one; `home`: where states are kept (usual: `state_folder`)."""
        self.home = home or state_folder()
        name = hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:24]
        self.file = self.home / f"desk-{name}.json"
        self._lock = FileLock(self.home / f"desk-{name}.lock", fallback_to_soft=False, mode=_OWNER_READS)

    def taken(self) -> bool:
        """Whether this program has the folder now; False if another desk has it. BarwrightError if nobody can."""
        try:
            self.home.mkdir(parents=True, exist_ok=True, mode=_OWNER_ONLY)
            os.chmod(self.home, _OWNER_ONLY)
            self._lock.acquire(timeout=0)
        except Timeout:
            return False
        except OSError as error:
            raise BarwrightError(
                f"{self.home}: cannot be used ({error.strerror}): the desk keeps its key there"
            ) from error
        self.file.unlink(missing_ok=True)  # of one that was killed
        return True

    def tell(self, listening: Listening) -> None:
        """Writes where the desk of this folder listens, for its user alone."""
        part = self.file.with_suffix(".part")
        part.unlink(missing_ok=True)
        number = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, _OWNER_READS)
        with os.fdopen(number, "w", encoding="utf-8") as file:
            json.dump(asdict(listening), file)
        os.replace(part, self.file)

    def told(self) -> Listening | None:
        """Where the desk that has the folder listens; None if it has not said so (yet)."""
        try:
            said = json.loads(self.file.read_text("utf-8"))
            return Listening(int(said["port"]), str(said["joining"]))
        except (OSError, ValueError, KeyError, TypeError):
            return None

    def leave(self) -> None:
        """Gives the folder back."""
        self.file.unlink(missing_ok=True)
        self._lock.release()


def address_of(listening: Listening) -> str | None:
    """A new address that opens the desk which listens there, good once; None if it does not answer as ours does."""
    connection = http.client.HTTPConnection(LOOPBACK, listening.port, timeout=WAIT_SECONDS)
    try:
        connection.request("POST", "/join", headers={"Authorization": f"Bearer {listening.joining}"})
        answer = connection.getresponse()
        text = answer.read(1000).decode("ascii", "replace").strip()
        return text if answer.status == http.client.OK else None
    except (OSError, http.client.HTTPException):
        return None
    finally:
        connection.close()
