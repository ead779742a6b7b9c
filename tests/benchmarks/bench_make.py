"""How long the whole of `make` takes beside the floor: the same pictures encoded, the same bytes zipped, nothing else.

    python tests/benchmarks/bench_make.py [ITEMS [SECTIONS]]

A thousand items of one form, and six forms of twenty, unless told otherwise. All stages count: capacity, items drawn
and judged, pictures, every package of every standard, proof, key and record. Prints seconds by stage, items a second,
items judged for each one kept, the floor, their ratio, the peak memory, and the
start-up time of `barwright --help`. Seconds are of this process alone, so another
program on the machine matters little. Nothing here is a test.
"""

import gc
import io
import resource
import subprocess
import sys
import time
import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.parsing import read_blueprint
from barwright.cli import FEW_COLLECTIONS
from barwright.engrave.draw import encoded, picture
from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.forms.assembly import made_forms
from barwright.qti import ZipEntry, zipped
from barwright.rhythm.excerpt import Figure
from barwright.tasks.capacity import meter_faults
from barwright.tasks.packing import USUAL_STANDARDS, packed
from barwright.wording.worded import figures_of

# A teacher's mixture of the twelve asks; eighths and dotted quarters, so that there are thousands of excerpts.
SHARES = {
    ("measure-completion", "finish-measure"): 20,
    ("measure-completion", "finish-measure-with-two"): 10,
    ("measure-completion", "beats-left"): 10,
    ("measure-completion", "all-that-fit"): 5,
    ("count-labeling", "counts-for-rhythm"): 20,
    ("count-labeling", "count-under-mark"): 10,
    ("count-labeling", "write-counts"): 10,
    ("count-labeling", "rhythm-for-counts"): 5,
    ("meter-identification", "time-signature-for-rhythm"): 5,
    ("meter-identification", "rhythm-for-time-signature"): 5,
}


def blueprint_of(items: int, sections: int = 1) -> Blueprint:
    """A blueprint of so many items in each section."""
    names = ", ".join(f'"Section {n}"' for n in range(1, sections + 1))
    parts = "".join(
        f'[[part]]\nfamily = "{family}"\nask = "{ask}"\nitems = {max(items * share // 100, 1)}\n'
        for (family, ask), share in SHARES.items()
    )
    text = f"""title = "Benchmark"
sections = [{names}]
[elements]
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["half", "quarter", "eighth"]
dots = ["half", "quarter"]
{parts}"""
    return read_blueprint(text, "benchmark.toml")[0]


def floor_seconds(figures: Sequence[Figure], packages: Mapping[str, bytes]) -> float:
    """Seconds to encode the drawn pictures as PNG and to zip the finished entries again."""
    conventions, font = blueprint_of(1).all_conventions, load_font("Bravura")
    images = [picture(layout(figure, font, conventions), font) for figure in figures]
    entries = [entries_in(each) for path, each in packages.items() if not path.endswith((".html", ".jsonl"))]
    start = time.process_time()
    for image in images:
        encoded(image)
    for each in entries:
        zipped(each)
    return time.process_time() - start


def entries_in(package: bytes) -> tuple[ZipEntry, ...]:
    """The entries of a package."""
    with zipfile.ZipFile(io.BytesIO(package)) as found:
        return tuple(ZipEntry(info.filename, found.read(info)) for info in found.infolist())


def job(items: int, sections: int) -> None:
    """Makes a quiz of so many items in so many sections, all in memory, and prints what it took."""
    blueprint = blueprint_of(items, sections)
    marks = [("start", time.process_time())]
    list(meter_faults(blueprint))
    marks.append(("capacity", time.process_time()))
    made = made_forms(blueprint)
    marks.append(("items drawn and judged", time.process_time()))
    forms = [each.form for each in made]
    kinds = [(form, (standard, "quiz")) for form in forms for standard in USUAL_STANDARDS]
    result = packed(forms, kinds, {}, music_font="Bravura", progress=lambda *_: None)
    marks.append(("pictures, packages, pages", time.process_time()))
    total = marks[-1][1] - marks[0][1]
    for (name, end), (_, begin) in zip(marks[1:], marks[:-1], strict=True):
        print(f"{name:<28}{end - begin:8.2f} s")
    figures = tuple(dict.fromkeys(figure for form in result.forms for figure in figures_of(form)))
    floor = floor_seconds(figures, {path: result.files[path] for path in result.packages})
    count = sum(len(form.items) for form in forms)
    judged = sum(each.tally.judged for each in made)
    print(f"{count} items in {sections} forms, {len(figures)} figures, {len(result.packages)} packages")
    print(f"total {total:.2f} s, {count / total:.0f} items/s; {judged / count:.2f} items judged for each one kept")
    print(f"floor {floor:.2f} s; ratio {total / floor:.2f}")


def main(items: int, sections: int) -> None:
    """Prints the measurements of one large form, and of several."""
    gc.set_threshold(*FEW_COLLECTIONS)  # as the command does
    job(items, 1)
    job(20, sections)
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
    command = [str(Path(sys.executable).with_name("barwright")), "--help"]
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        times.append(time.perf_counter() - begin)
    print(f"barwright --help: best of five {min(times):.2f} s")


if __name__ == "__main__":
    numbers = [int(text) for text in sys.argv[1:]]
    main(*(numbers + [1000, 6][len(numbers) :]))
