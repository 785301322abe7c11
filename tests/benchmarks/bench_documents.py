"""Times to write the documents of a build, and their sizes.

Run it from the repository as `python -m tests.benchmarks.bench_documents`.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable
from functools import partial
from io import BytesIO
from statistics import median
from time import perf_counter

import pypdf

from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.spec_sheet import spec_sheet_pdf
from tests.documents.extreme_specs import with_sixty_choices
from tests.documents.sample_spec import open_spec, sample_spec

REPEATS = 9

Write = Callable[[Spec], bytes]

ROWS: tuple[tuple[str, Write, Callable[[], Spec]], ...] = (
    ("spec sheet", spec_sheet_pdf, sample_spec),
    ("spec sheet, choices open", spec_sheet_pdf, open_spec),
    ("spec sheet, 60 choices", spec_sheet_pdf, with_sixty_choices),
    ("handover pack", handover_pack_pdf, sample_spec),
    ("handover pack, 60 choices", handover_pack_pdf, with_sixty_choices),
)


def main() -> None:
    """Print a row for each document."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=REPEATS)
    repeats = parser.parse_args().repeats
    say = partial(print, file=sys.stdout)
    say(f"{os.cpu_count()} cores, {repeats} repeats")
    say(f"{'document':28} {'first ms':>9} {'median ms':>10} {'worst ms':>9} {'pages':>6} {'kB':>6}")
    for label, write, make in ROWS:
        spec = make()
        times = [_milliseconds(write, spec) for _ in range(repeats)]
        pdf = write(spec)
        pages = len(pypdf.PdfReader(BytesIO(pdf)).pages)
        figures = f"{times[0]:9.0f} {median(times[1:]):10.0f} {max(times[1:]):9.0f}"
        say(f"{label:28} {figures} {pages:6} {len(pdf) / 1000:6.0f}")


def _milliseconds(write: Write, spec: Spec) -> float:
    start = perf_counter()
    write(spec)
    return (perf_counter() - start) * 1000


if __name__ == "__main__":
    main()
