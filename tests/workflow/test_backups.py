"""A backup is the record of one moment, and is put back whole, into either kind of database."""

from __future__ import annotations

import json
import os
import random
import threading
import zipfile
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from sqlalchemy import text

from configurator.build_life.people import Person
from configurator.errors import ConfiguratorError
from configurator.record import accounts, sign_ins
from configurator.record.book import read_life
from configurator.record.build_list import entries_since
from configurator.record.changes import list_changes
from configurator.record.database import Record, open_record
from configurator.record.drafts import list_drafts
from configurator.workflow import restoring
from configurator.workflow.backup_file import opened_backup
from configurator.workflow.backups import BackupMade, back_up
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.issuing import freeze
from configurator.workflow.papers import list_documents, make_spec_sheet, spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.restoring import Restored, restore
from configurator.workflow.verifying import verify_all
from tests.databases.postgresql import Server

ENGINEER = Person(name="Invented Ängineer", role="engineer")


@pytest.fixture
def worked(premises: Premises, reference: str, now: datetime) -> Premises:
    """A record with a build, an issued spec, a document, an account and somebody logged in."""
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    findings = spec_of_draft(premises, reference).findings
    freeze(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=ENGINEER,
        now=now,
    )
    make_spec_sheet(premises, reference, now)
    account = accounts.add_account(
        premises.record, "Ann", ("engineer",), "hash", identity=None, only_as_first=False, now=now
    )
    assert account is not None
    sign_ins.start_sign_in(premises.record, account, "engineer", now=now, until=now)
    return premises


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Record, Path]]:
    """An empty record of either kind, with the folder for its documents."""
    url = None
    if request.param == "postgresql":
        server: Server = request.getfixturevalue("postgresql")
        url = server.url_of_new_database()
    record = open_record(tmp_path / "restored", url)
    yield record, tmp_path / "restored"
    record.engine.dispose()


@pytest.fixture
def made(worked: Premises, tmp_path: Path, now: datetime) -> BackupMade:
    return back_up(worked.record, worked.data_folder, tmp_path / "backup.zip", now=now)


def put_back(path: Path, record: Record, folder: Path, *, over: bool = False) -> Restored:
    with opened_backup(path) as backup:
        return restore(backup, record, folder, over=over)


def codes(error: pytest.ExceptionInfo[ConfiguratorError]) -> set[str]:
    return {fault.code for fault in error.value.faults}


def test_what_is_restored_is_what_was_there(
    worked: Premises, made: BackupMade, place: tuple[Record, Path]
) -> None:
    record, folder = place
    done = put_back(made.path, record, folder)
    assert (made.rows, 1, ()) == (done.rows, done.documents, done.faults)
    assert list_drafts(worked.record) == list_drafts(record)
    assert entries_since(worked.record, 0) == entries_since(record, 0)
    assert list_changes(worked.record, "B-0001") == list_changes(record, "B-0001")
    assert accounts.list_accounts(worked.record) == accounts.list_accounts(record)
    verified = verify_all(record, folder)
    assert ((), ()) == (verified.faults, verified.unnoted)
    with record.engine.connect() as connection:
        assert 0 == connection.scalar(text("SELECT count(*) FROM sign_ins"))


def test_a_backup_goes_from_one_database_to_the_other_and_back(
    worked: Premises, made: BackupMade, place: tuple[Record, Path], tmp_path: Path, now: datetime
) -> None:
    put_back(made.path, *place)
    again = back_up(*place, tmp_path / "again.zip", now=now)
    third = open_record(tmp_path / "third")
    put_back(again.path, third, tmp_path / "third")
    assert entries_since(worked.record, 0) == entries_since(third, 0)
    with zipfile.ZipFile(made.path) as first, zipfile.ZipFile(again.path) as second:
        assert first.read("manifest.json") == second.read("manifest.json")
    third.engine.dispose()


def test_work_goes_on_in_a_restored_record(
    worked: Premises, made: BackupMade, place: tuple[Record, Path], now: datetime
) -> None:
    put_back(made.path, *place)
    restored = Premises(worked.catalog, place[0], place[1], worked.engines, worked.catalog_folder)
    revision = read_draft(restored, "B-0001").revision
    pick_option(restored, "B-0001", revision=revision, group_id="livery", option_id="sloe", now=now)
    make_spec_sheet(restored, "B-0001", now)
    assert () == verify_all(*place).faults


def test_a_record_that_holds_something_is_left_alone_without_being_told(
    worked: Premises, made: BackupMade, now: datetime
) -> None:
    make_spec_sheet(worked, "B-0001", now)
    before = list_drafts(worked.record)
    with pytest.raises(ConfiguratorError) as refused:
        put_back(made.path, worked.record, worked.data_folder)
    assert {"R021"} == codes(refused)
    assert before == list_drafts(worked.record)


def test_told_to_it_takes_the_place_of_what_is_there(
    worked: Premises, made: BackupMade, place: tuple[Record, Path], now: datetime
) -> None:
    put_back(made.path, *place)
    restored = Premises(worked.catalog, *place, worked.engines, worked.catalog_folder)
    revision = read_draft(restored, "B-0001").revision
    pick_option(restored, "B-0001", revision=revision, group_id="livery", option_id="sloe", now=now)
    (document,) = list_documents(restored, "B-0001")
    document.path.write_bytes(b"something else of that name")
    put_back(made.path, *place, over=True)
    assert list_drafts(worked.record) == list_drafts(place[0])
    assert () == verify_all(*place).faults
    with pytest.raises(Exception, match="only ever added"), place[0].engine.begin() as connection:
        connection.execute(text("DELETE FROM entries"))


def test_a_backup_with_one_altered_byte_is_refused_and_changes_nothing(
    made: BackupMade, place: tuple[Record, Path], tmp_path: Path
) -> None:
    intact, chance = made.path.read_bytes(), random.Random(20260304)  # noqa: S311  only spreads the places
    altered = tmp_path / "altered.zip"
    with zipfile.ZipFile(made.path) as archive:
        parts = [
            (info.header_offset + 30 + len(info.filename), info.compress_size)
            for info in archive.infolist()
        ]
    places = [start + 40 + chance.randrange(size - 40) for start, size in parts if size > 80] * 2
    for spot in places:
        altered.write_bytes(intact[:spot] + bytes([intact[spot] ^ 0x10]) + intact[spot + 1 :])
        with pytest.raises(ConfiguratorError) as refused:
            put_back(altered, *place)
        assert codes(refused) <= {"P045", "P046", "P048"}
    altered.write_bytes(intact[:-100])
    with pytest.raises(ConfiguratorError) as cut:
        put_back(altered, *place)
    assert {"P045"} == codes(cut)
    assert () == list_drafts(place[0])
    assert not (place[1] / "documents").exists()


def rewritten(path: Path, target: Path, **manifest: object) -> Path:
    """Copy a backup with another manifest."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "manifest.json":
                content = json.dumps(json.loads(content) | manifest).encode()
            new.writestr(name, content)
    return target


@pytest.mark.parametrize(
    ("manifest", "code"),
    [
        ({"revision": "from_next_year"}, "P048"),
        ({"documents": {"../../escape.pdf": {"bytes": 1, "sha256": "0" * 64}}}, "P046"),
        ({"tables": {}}, "P046"),
        ({"book": {"entries": 1, "sha256": "0" * 64}}, "P046"),
        ({"documents": "none"}, "P045"),
    ],
)
def test_a_backup_that_says_something_else_is_refused(
    made: BackupMade,
    tmp_path: Path,
    manifest: dict[str, object],
    code: str,
) -> None:
    record = open_record(tmp_path / "restored")
    path = rewritten(made.path, tmp_path / "other.zip", **manifest)
    with pytest.raises(ConfiguratorError) as refused:
        put_back(path, record, tmp_path / "restored")
    assert {code} == codes(refused)
    assert () == list_drafts(record)
    assert [] == [path for path in tmp_path.rglob("*.pdf") if "restored" in path.parts]
    record.engine.dispose()


@pytest.mark.parametrize("content", [b"", b"nonsense", b"PK\x05\x06" + b"\0" * 18])
def test_what_is_no_backup_is_told(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "other.zip"
    path.write_bytes(content)
    with pytest.raises(ConfiguratorError) as refused, opened_backup(path):
        pass
    assert {"P045"} == codes(refused)


def test_a_backup_made_while_people_work_is_of_one_moment(
    worked: Premises, tmp_path: Path, now: datetime
) -> None:
    done = threading.Event()

    def go_on_picking() -> None:
        while not done.is_set():
            revision = read_draft(worked, "B-0001").revision
            colour = ("nettle", "sloe")[revision % 2]
            pick_option(
                worked, "B-0001", revision=revision, group_id="livery", option_id=colour, now=now
            )

    work = threading.Thread(target=go_on_picking)
    work.start()
    try:
        made = [
            back_up(worked.record, worked.data_folder, tmp_path / f"{number}.zip", now=now)
            for number in range(3)
        ]
    finally:
        done.set()
        work.join()
    for number, backup in enumerate(made):
        record = open_record(tmp_path / f"restored {number}")
        put_back(backup.path, record, tmp_path / f"restored {number}")
        assert () == verify_all(record, tmp_path / f"restored {number}").faults
        record.engine.dispose()


def test_a_backup_takes_no_other_files_place_and_only_its_owner_may_read_it(
    worked: Premises, made: BackupMade, now: datetime
) -> None:
    if os.name != "nt":
        assert 0o600 == made.path.stat().st_mode & 0o777
    with pytest.raises(ConfiguratorError) as refused:
        back_up(worked.record, worked.data_folder, made.path, now=now)
    assert {"P044"} == codes(refused)


def test_a_missing_document_and_a_flaw_are_told_and_go_along(
    worked: Premises, tmp_path: Path, now: datetime
) -> None:
    (document,) = list_documents(worked, "B-0001")
    document.path.unlink()
    engine = worked.record.engine.execution_options(writes=True)
    with engine.begin() as connection:
        connection.execute(text("UPDATE builds SET origin = 'elsewhere'"))
    made = back_up(worked.record, worked.data_folder, tmp_path / "flawed.zip", now=now)
    assert (f"B-0001/{document.name}",) == made.missing
    assert ["R014"] == [fault.code for fault in made.faults]
    record = open_record(tmp_path / "restored")
    done = put_back(made.path, record, tmp_path / "restored")
    assert (made.missing, ["R014"]) == (done.missing, [fault.code for fault in done.faults])
    assert read_life(worked.record, "B-0001") == read_life(record, "B-0001")
    record.engine.dispose()


def test_a_restore_that_fails_at_the_last_row_leaves_neither_rows_nor_files(
    made: BackupMade, place: tuple[Record, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_verdict(*_given: object) -> None:
        raise ConfiguratorError([])

    monkeypatch.setattr(restoring, "verify_within", no_verdict)
    with pytest.raises(ConfiguratorError):
        put_back(made.path, *place)
    assert () == list_drafts(place[0])
    assert [] == [path for path in place[1].rglob("*") if path.suffix == ".pdf"]
    monkeypatch.undo()
    put_back(made.path, *place)
    assert () == verify_all(*place).faults
