"""How long packages of many items take to read back and to check, beside a plain parse of the same files. Run it on a
quiet machine:

    python tests/benchmarks/bench_check.py [ITEMS]

Prints for each standard the items, the files and megabytes, the seconds of unpacking and parsing every XML file with
lxml and nothing else, and how many times as long reading and checking take: aimed at 6 and 10. Seconds are of this
process alone, the best of three. Nothing here is a test.
"""

import gc
import io
import sys
import time
import zipfile
from collections.abc import Callable
from functools import partial

from bench_make import blueprint_of
from lxml import etree

from barwright.check.reading import read_package
from barwright.check.rules import checked
from barwright.cli import FEW_COLLECTIONS
from barwright.forms.assembly import made_forms
from barwright.qti import written, zipped
from barwright.tasks.packing import drawn_pictures
from barwright.wording.items_in_words import worded_form

STANDARDS = ("cc13", "qti12", "qti22", "qti30")
TIMES = 3


def parsed(package: bytes) -> None:
    """Unpacks every file, and parses those of XML."""
    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        for path in archive.namelist():
            data = archive.read(path)
            if path.endswith(".xml"):
                etree.fromstring(data)


def seconds(work: Callable[[], object]) -> float:
    """Seconds of processor time, the best of a few."""
    found = []
    for _ in range(TIMES):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def main(items: int) -> None:
    """Prints the measurements."""
    gc.set_threshold(*FEW_COLLECTIONS)  # as the command does
    blueprint = blueprint_of(items)
    form = worded_form(made_forms(blueprint)[0].form)
    pictures = drawn_pictures([form], blueprint.all_conventions, "Bravura", progress=lambda *_: None)
    print(f"{'standard':10}{'items':>7}{'files':>7}{'MB':>7}{'parse s':>9}{'read':>7}{'check':>7}   (times the parse)")
    for standard in STANDARDS:
        entries = written(form, pictures, standard=standard, shape="quiz")
        package = zipped(entries)
        plain, read, check = (seconds(partial(work, package)) for work in (parsed, read_package, checked))
        read, check = read / plain, check / plain
        megabytes = sum(len(e.data) for e in entries) / 1e6
        print(f"{standard:10}{len(form.items):7}{len(entries):7}{megabytes:7.1f}{plain:9.2f}{read:7.1f}{check:7.1f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000)
