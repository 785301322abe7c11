"""A full disk, a folder that may only be read, a clock set back: told, and nothing is lost."""

from __future__ import annotations

import multiprocessing
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from configurator.catalog.models.build import Customer, Donor
from configurator.errors import ConfiguratorError
from configurator.record.changes import list_changes
from configurator.record.database import open_record
from configurator.record.drafts import list_drafts
from configurator.workflow.backups import back_up
from configurator.workflow.builds import read_draft, start_enquiry
from configurator.workflow.consultation import pick_option, undo_last_change
from configurator.workflow.papers import list_documents, make_spec_sheet
from configurator.workflow.premises import Premises
from configurator.workflow.verifying import verify_all

resource = pytest.importorskip("resource")
pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows has no fork")
NOBODY = 65534


def codes_elsewhere(work: Callable[[], object], prepare: Callable[[], None]) -> set[str]:
    """Do some work in a process of its own and give the codes of the faults it tells."""
    fork = multiprocessing.get_context("fork")
    answers = fork.SimpleQueue()

    def run() -> None:
        prepare()
        try:
            work()
        except ConfiguratorError as error:
            answers.put({fault.code for fault in error.faults})
        else:
            answers.put(set())
        os._exit(0)

    process = fork.Process(target=run)
    process.start()
    found: set[str] = answers.get()
    process.join()
    return found


def no_file_larger_than(size_bytes: int) -> Callable[[], None]:
    """Stand in for a full disk: no file may grow beyond a size."""
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size_bytes, size_bytes))


def test_on_a_full_disk_a_pick_a_paper_and_a_backup_are_told_and_nothing_is_half_written(
    premises: Premises, reference: str, now: datetime, tmp_path: Path
) -> None:
    make_spec_sheet(premises, reference, now)
    premises.record.engine.dispose()
    record = Path(premises.record.where)
    before = list_drafts(premises.record)

    def pick_on() -> None:
        premises.record.engine.dispose(close=False)
        for revision in range(1, 400):
            colour = ("nettle", "sloe")[revision % 2]
            pick_option(
                premises,
                reference,
                revision=revision,
                group_id="livery",
                option_id=colour,
                now=now,
            )

    premises.record.engine.dispose()
    assert {"R005"} == codes_elsewhere(pick_on, no_file_larger_than(record.stat().st_size))
    assert () == verify_all(premises.record, premises.data_folder).faults
    assert before[0].revision <= read_draft(premises, reference).revision

    def write_paper() -> None:
        premises.record.engine.dispose(close=False)
        pdf = list_documents(premises, reference)[0]
        pdf.path.unlink()
        make_spec_sheet(premises, reference, now)

    assert {"P009"} == codes_elsewhere(write_paper, no_file_larger_than(2000))
    target = tmp_path / "backups" / "full.zip"

    def copy() -> None:
        premises.record.engine.dispose(close=False)
        back_up(premises.record, premises.data_folder, target, now=now)

    assert {"P009"} == codes_elsewhere(copy, no_file_larger_than(1000))
    assert [] == list(target.parent.iterdir())
    left = [path.name for path in premises.data_folder.rglob("*") if "unfinished" in path.name]
    assert [] == left


@pytest.fixture
def read_only() -> Iterator[Path]:
    """A folder with a record that whoever works may read and not write."""
    folder = Path(tempfile.mkdtemp(prefix="record-read-only-"))
    open_record(folder).engine.dispose()
    for path in (*folder.iterdir(), folder):
        path.chmod(0o555 if path.is_dir() else 0o444)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


def no_longer_root() -> None:
    if os.geteuid() == 0:
        os.setuid(NOBODY)


def test_a_folder_that_may_only_be_read_is_told(read_only: Path) -> None:
    assert codes_elsewhere(lambda: open_record(read_only), no_longer_root) <= {"R001", "R006"}
    assert codes_elsewhere(lambda: open_record(read_only), no_longer_root)
    deeper = read_only / "deeper"
    assert {"R001"} == codes_elsewhere(lambda: open_record(deeper), no_longer_root)


def test_no_backup_is_written_where_nothing_may_be_written(
    premises: Premises, read_only: Path, now: datetime
) -> None:
    target = read_only / "backup.zip"

    def copy() -> None:
        back_up(premises.record, premises.data_folder, target, now=now)

    assert {"P009"} == codes_elsewhere(copy, no_longer_root)


def test_a_clock_set_back_loses_nothing_and_changes_no_order(
    anywhere: Premises, now: datetime
) -> None:
    reference = start_enquiry(
        anywhere,
        customer=Customer(name="Invented Person"),
        vehicle_id="clover-van",
        donor=Donor(),
        notes="",
        now=now,
    )
    for number, colour in enumerate(("nettle", "sloe", "buttermilk")):
        moment = now - timedelta(days=400 * number)
        pick_option(
            anywhere,
            reference,
            revision=number + 1,
            group_id="livery",
            option_id=colour,
            now=moment,
        )
    changes = list_changes(anywhere.record, reference)
    assert [1, 2, 3, 4] == [change.revision for change in changes]
    undo_last_change(anywhere, reference, revision=4, now=now - timedelta(days=4000))
    assert "sloe" == read_draft(anywhere, reference).build.choices["livery"]
    assert () == verify_all(anywhere.record, anywhere.data_folder).faults
