from __future__ import annotations

import multiprocessing
import os
import subprocess
import sys
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from configurator.build_life.entries import SignedOff, SpecIssued
from configurator.build_life.people import Person
from configurator.catalog.models.build import Customer, Donor
from configurator.errors import LifeError, OvertakenError
from configurator.record.book import read_life
from configurator.record.changes import list_changes
from configurator.workflow.builds import read_draft, start_enquiry
from configurator.workflow.consultation import set_house_choices
from configurator.workflow.issuing import freeze
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.sign_offs import sign
from configurator.workflow.verifying import verify_all

RACERS = 4

PICK_FIFTEEN = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from configurator.errors import StaleDraftError
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option
from configurator.workflow.premises import open_premises

catalog, data, reference, group, *options = sys.argv[1:]
premises = open_premises(Path(catalog), Path(data))
refused = 0
for number in range(15):
    while True:
        draft = read_draft(premises, reference)
        try:
            saved = pick_option(
                premises, reference, revision=draft.revision, group_id=group,
                option_id=options[number % 2], now=datetime.now(UTC))
        except StaleDraftError:
            refused += 1
            continue
        break
    sys.stdout.write(f"{saved.revision} {options[number % 2]}\\n")
sys.stderr.write(str(refused))
"""


def test_two_processes_that_pick_at_once_lose_no_pick(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str
) -> None:
    shared = [sys.executable, "-c", PICK_FIFTEEN, str(catalog_folder), str(data_folder), reference]
    people = [("livery", "nettle", "sloe"), ("box", "slatted-box", "bare-bed")]
    processes = [
        subprocess.Popen([*shared, *person], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for person in people
    ]
    told = [process.communicate(timeout=180) for process in processes]
    assert [0, 0] == [process.returncode for process in processes], told
    lines = [line.split() for out, _ in told for line in out.decode().splitlines()]
    history = {
        change.revision: change.steps[0].new for change in list_changes(premises.record, reference)
    }
    assert 30 == len(lines)
    assert {int(revision): option for revision, option in lines}.items() <= history.items()
    draft = read_draft(premises, reference)
    assert (31, {"livery": "nettle", "box": "slatted-box"}) == (
        draft.revision,
        draft.build.choices,
    )


def try_to_freeze(premises: Premises, reference: str, number: int) -> str:
    by = Person(name=f"Engineer {number}", role="engineer")
    findings = spec_of_draft(premises, reference).findings
    freeze(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=by,
        now=datetime.now(UTC),
    )
    return by.name


def try_to_sign(premises: Premises, reference: str, number: int) -> str:
    by = Person(name=f"Engineer {number}", role="engineer")
    issued = read_life(premises.record, reference).issued
    assert issued is not None
    sha256, now = issued.spec_sha256, datetime.now(UTC)
    sign(premises, reference, "sums", spec_sha256=sha256, by=by, now=now)
    return by.name


Attempt = Callable[[Premises, str, int], str]


def told(attempt: Attempt, premises: Premises, reference: str, number: int) -> str | None:
    """Give the name of who won; None for who was told that another was first."""
    try:
        return attempt(premises, reference, number)
    except (LifeError, OvertakenError):
        return None


def in_threads(attempt: Attempt, premises: Premises, reference: str) -> list[str | None]:
    start = threading.Barrier(RACERS)

    def run(number: int) -> str | None:
        start.wait()
        return told(attempt, premises, reference, number)

    with ThreadPoolExecutor(RACERS) as pool:
        return list(pool.map(run, range(RACERS)))


def in_processes(attempt: Attempt, premises: Premises, reference: str) -> list[str | None]:
    fork = multiprocessing.get_context("fork")
    start, answers = fork.Barrier(RACERS), fork.SimpleQueue()

    def run(number: int) -> None:
        premises.record.engine.dispose(close=False)  # The connections belong to the parent.
        start.wait()
        answers.put(told(attempt, premises, reference, number))
        os._exit(0)

    processes = [fork.Process(target=run, args=(number,)) for number in range(RACERS)]
    for process in processes:
        process.start()
    found = [answers.get() for _ in processes]
    for process in processes:
        process.join()
    return found


@pytest.mark.parametrize(
    "race",
    [
        in_threads,
        pytest.param(
            in_processes,
            marks=pytest.mark.skipif(os.name == "nt", reason="Windows has no fork"),
        ),
    ],
)
def test_of_those_who_freeze_or_sign_at_once_one_wins_and_the_others_are_told(
    anywhere: Premises, now: datetime, race: Callable[..., list[str | None]]
) -> None:
    customer = Customer(name="Invented Person")
    vehicle: dict[str, Any] = {"vehicle_id": "clover-van", "donor": Donor(), "notes": ""}
    reference = start_enquiry(anywhere, customer=customer, now=now, **vehicle)
    set_house_choices(anywhere, reference, revision=1, wanted=True, now=now)
    for attempt, kind in ((try_to_freeze, SpecIssued), (try_to_sign, SignedOff)):
        winners = [name for name in race(attempt, anywhere, reference) if name is not None]
        life = read_life(anywhere.record, reference)
        (body,) = life.of(kind)
        assert [life.entry_of(body).by.name] == winners
    assert () == verify_all(anywhere.record, anywhere.data_folder).faults
