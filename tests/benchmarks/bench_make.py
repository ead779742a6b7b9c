"""How long a thousand items with figures and one package take, beside the floor: the same pictures encoded, the same
bytes zipped, nothing else. Run it on a quiet machine:

    python tests/benchmarks/bench_make.py [ITEMS]

Prints items a second, seconds by phase, the floor, their ratio, the peak memory, the largest one-measure figure, and
the start-up time of `barwright --help`. Seconds are of this process alone, so another
program on the machine matters little. Nothing here is a test.
"""

import gc
import resource
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.parsing import read_blueprint
from barwright.cli import FEW_COLLECTIONS
from barwright.engrave.draw import encoded, picture
from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.forms.assembly import made_forms
from barwright.qti import ZipEntry, written, zipped
from barwright.rhythm.excerpt import Figure
from barwright.tasks.packing import drawn_pictures
from barwright.wording.items_in_words import worded_form
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


def blueprint_of(items: int) -> Blueprint:
    """A blueprint of so many items in one section."""
    parts = "".join(
        f'[[part]]\nfamily = "{family}"\nask = "{ask}"\nitems = {max(items * share // 100, 1)}\n'
        for (family, ask), share in SHARES.items()
    )
    text = f"""title = "Benchmark"
sections = ["One"]
[elements]
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["half", "quarter", "eighth"]
dots = ["half", "quarter"]
{parts}"""
    return read_blueprint(text, "benchmark.toml")[0]


def floor_seconds(figures: Sequence[Figure], entries: tuple[ZipEntry, ...]) -> float:
    """Seconds to encode the drawn pictures as PNG and to zip the finished entries."""
    conventions, font = blueprint_of(1).all_conventions, load_font("Bravura")
    images = [picture(layout(figure, font, conventions), font) for figure in figures]
    start = time.process_time()
    for image in images:
        encoded(image)
    zipped(entries)
    return time.process_time() - start


def main(items: int) -> None:
    """Prints the measurements."""
    gc.set_threshold(*FEW_COLLECTIONS)  # as the command does
    blueprint = blueprint_of(items)
    marks = [("start", time.process_time())]
    made = made_forms(blueprint)[0]
    marks.append(("items drawn and judged", time.process_time()))
    form = worded_form(made.form)
    marks.append(("worded", time.process_time()))
    pictures = drawn_pictures([form], blueprint.all_conventions, "Bravura", progress=lambda *_: None)
    marks.append(("figures", time.process_time()))
    entries = written(form, pictures, standard="cc13", shape="quiz")
    package = zipped(entries)
    marks.append(("package", time.process_time()))
    total = marks[-1][1] - marks[0][1]
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024  # before the floor holds every picture at once
    for (name, end), (_, begin) in zip(marks[1:], marks[:-1], strict=True):
        print(f"{name:<24}{end - begin:8.2f} s")
    count = len(made.form.items)
    floor = floor_seconds(figures_of(form), entries)
    print(f"{count} items, {len(pictures)} different figures, {len(package) / 1e6:.2f} MB")
    print(f"total {total:.2f} s, {count / total:.0f} items/s")
    print(f"floor {floor:.2f} s; ratio {total / floor:.2f}")
    print(f"peak memory {peak_mb:.0f} MB")
    single = [p for f, p in pictures.items() if len(f.excerpt.measures) == 1]
    print(f"largest one-measure figure {max(len(p.png) for p in single)} bytes of {len(single)}")
    command = [str(Path(sys.executable).with_name("barwright")), "--help"]
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        times.append(time.perf_counter() - begin)
    print(f"barwright --help: best of five {min(times):.2f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
