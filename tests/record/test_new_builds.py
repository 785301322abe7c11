import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from configurator.catalog.models.build import BuildInput
from configurator.errors import RecordError
from configurator.record.database import Record
from configurator.record.drafts import list_drafts
from configurator.record.new_builds import add_build, add_build_once

ADD_TWENTY = """
import sys
from datetime import UTC, date, datetime
from pathlib import Path
from configurator.catalog.models.build import BuildInput, Customer
from configurator.record.database import open_record
from configurator.record.new_builds import add_build

record = open_record(Path(sys.argv[1]))
build = BuildInput(reference="B-0001", customer=Customer(name="A"), vehicle="van",
                   priced_on=date(2026, 1, 2))
for _ in range(20):
    sys.stdout.write(add_build(record, build, now=datetime.now(UTC)).reference + "\\n")
"""


def test_references_count_up(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    given = [add_build(record, new_build(reference="B-0099"), now=now) for _ in range(3)]
    assert ["B-0001", "B-0002", "B-0003"] == [stored.reference for stored in given]
    assert ["B-0001", "B-0002", "B-0003"] == [stored.build().reference for stored in given]


def test_three_processes_that_start_at_once_never_share_a_reference(tmp_path: Path) -> None:
    processes = [
        subprocess.Popen([sys.executable, "-c", ADD_TWENTY, str(tmp_path)], stdout=subprocess.PIPE)
        for _ in range(3)
    ]
    printed = [process.communicate(timeout=120)[0].decode().split() for process in processes]
    assert [0, 0, 0] == [process.returncode for process in processes]
    given = sorted(reference for lines in printed for reference in lines)
    assert [f"B-{number:04d}" for number in range(1, 61)] == given


def test_a_build_from_a_file_keeps_its_reference_while_nobody_has_it(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    build = new_build(reference="B-0007")
    assert ("B-0007", True) == add_build_once(record, build, origin="one.yaml", now=now)
    assert ("B-0008", True) == add_build_once(record, build, origin="two.yaml", now=now)


def test_a_build_from_a_file_is_put_in_once(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    add_build_once(record, new_build(notes="first"), origin="one.yaml", now=now)
    again = add_build_once(record, new_build(notes="second"), origin="one.yaml", now=now)
    assert ("B-0001", False) == again
    assert ["first"] == [stored.build().notes for stored in list_drafts(record)]


def test_the_last_reference_is_told(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    add_build_once(record, new_build(reference="B-999999"), origin="one.yaml", now=now)
    with pytest.raises(RecordError) as caught:
        add_build(record, new_build(), now=now)
    assert ["R011"] == [fault.code for fault in caught.value.faults]
