"""Whether two quiz folders hold the same: every file, and of packages every entry, byte for byte.

    python tests/same_entries.py FOLDER FOLDER

Zips are compared entry by entry, since compression may differ between machines. Prints what differs; exit code 1 then.
"""

import hashlib
import sys
import zipfile
from pathlib import Path


def entries(folder: Path) -> dict[str, str]:
    """Every file, or entry of a package, with a digest of its bytes."""
    found = {}
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        name = path.relative_to(folder).as_posix()
        if path.suffix in (".zip", ".imscc"):
            with zipfile.ZipFile(path) as archive:
                for entry in archive.namelist():
                    found[f"{name}:{entry}"] = hashlib.sha256(archive.read(entry)).hexdigest()
        else:
            found[name] = hashlib.sha256(path.read_bytes()).hexdigest()
    return found


def main(one: str, other: str) -> int:
    """Prints the names that differ, and how many entries were compared."""
    first, second = entries(Path(one)), entries(Path(other))
    differing = sorted(n for n in first.keys() | second.keys() if first.get(n) != second.get(n))
    for name in differing:
        print(f"differs: {name}")
    print(f"{len(first)} entries compared, {len(differing)} differ")
    return int(bool(differing) or not first)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
