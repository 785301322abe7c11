"""The book: whole entries, one after the other, each bound to all before it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from configurator.build_life.entries import AsBuiltRecorded, Body, Closed, StageReached
from configurator.build_life.life import Life
from configurator.build_life.people import Person
from configurator.catalog.models.build import BuildInput
from configurator.errors import OvertakenError, RecordError
from configurator.record.book import ToKeep, read_life, write_entries
from configurator.record.build_list import entries_since
from configurator.record.contents import find_content
from configurator.record.database import Record
from configurator.record.new_builds import add_build

PERSON = Person(name="Invented Engineer", role="engineer")


def reached(stage: str, now: datetime) -> StageReached:
    return StageReached(stage_id=stage, reached_on=now.date(), letter="A")


@pytest.fixture
def reference(record: Record, new_build: Callable[..., BuildInput], now: datetime) -> str:
    return add_build(record, new_build(), now=now).reference


def test_what_was_written_is_read_again(record: Record, reference: str, now: datetime) -> None:
    body = reached("order", now)
    written = write_entries(record, reference, [body], by=PERSON, now=now)
    assert written == read_life(record, reference).entries
    assert (body,) == read_life(record, reference).of(StageReached)
    assert now == written[0].made_at
    assert PERSON == written[0].by


# Source: a hash chain by its definition: each hash is of the hash before and the text, SHA-256.
def test_each_entry_is_hashed_with_the_one_before(
    record: Record, reference: str, now: datetime
) -> None:
    for stage in ("order", "paint", "handover"):
        write_entries(record, reference, [reached(stage, now)], by=PERSON, now=now)
    before = "0" * 64
    with record.engine.connect() as connection:
        rows = connection.execute(text("SELECT written, sha256 FROM entries ORDER BY number"))
        for written, sha256 in rows:
            before = hashlib.sha256(f"{before}\n{written}".encode()).hexdigest()
            assert before == sha256
    assert before == read_life(record, reference).entries[-1].sha256


def test_the_chain_goes_through_all_builds(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    first = add_build(record, new_build(), now=now).reference
    second = add_build(record, new_build(), now=now).reference
    for reference in (first, second, first):
        body = AsBuiltRecorded(
            record="isolation", values={"x": 1.0}, measured_on=now.date(), by="Tester"
        )
        write_entries(record, reference, [body], by=PERSON, now=now)
    found = entries_since(record, 0)
    assert [1, 3] == [entry.number for reference, entry in found if reference == first]
    assert [2] == [entry.number for reference, entry in found if reference == second]


def test_the_same_cannot_be_written_twice(record: Record, reference: str, now: datetime) -> None:
    write_entries(record, reference, [reached("order", now)], by=PERSON, now=now)
    with pytest.raises(OvertakenError):
        write_entries(record, reference, [reached("order", now)], by=PERSON, now=now)
    assert 1 == len(read_life(record, reference).entries)


def test_all_entries_are_written_or_none(record: Record, reference: str, now: datetime) -> None:
    bodies: list[Body] = [reached("order", now), Closed(because="gave up"), reached("order", now)]
    with pytest.raises(OvertakenError):
        write_entries(
            record, reference, bodies, by=PERSON, now=now, keep=[ToKeep("spec", b"a spec")]
        )
    assert () == read_life(record, reference).entries
    with pytest.raises(RecordError):
        find_content(record, hashlib.sha256(b"a spec").hexdigest())


def test_of_many_at_once_one_wins_and_the_others_are_told(
    record: Record, reference: str, now: datetime
) -> None:
    def attempt(number: int) -> bool:
        by = Person(name=f"Person {number}", role="engineer")
        try:
            write_entries(record, reference, [reached("paint", now)], by=by, now=now)
        except OvertakenError:
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        won = list(pool.map(attempt, range(24)))
    assert 1 == sum(won)
    assert 1 == len(read_life(record, reference).entries)


def test_who_decides_on_the_life_sees_it_as_it_is_when_it_is_written(
    record: Record, reference: str, now: datetime
) -> None:
    def one_more(life: Life) -> list[Body]:
        return [reached(f"stage-{len(life.entries)}", now)]

    with ThreadPoolExecutor(6) as pool:
        list(
            pool.map(
                lambda _: write_entries(record, reference, one_more, by=PERSON, now=now), range(12)
            )
        )
    stages = [body.stage_id for body in read_life(record, reference).of(StageReached)]
    assert [f"stage-{number}" for number in range(12)] == stages


@pytest.mark.parametrize("statement", ["UPDATE entries SET slot = 'x'", "DELETE FROM entries"])
def test_the_database_refuses_to_rewrite_entries(
    record: Record, reference: str, now: datetime, statement: str
) -> None:
    write_entries(record, reference, [reached("order", now)], by=PERSON, now=now)
    with pytest.raises(DBAPIError, match="only ever added"), record.engine.begin() as connection:
        connection.execute(text(statement))
    assert 1 == len(read_life(record, reference).entries)


def test_a_clock_set_back_does_not_change_the_order(
    record: Record, reference: str, now: datetime
) -> None:
    write_entries(record, reference, [reached("order", now)], by=PERSON, now=now)
    earlier = now - timedelta(days=400)
    write_entries(record, reference, [reached("paint", earlier)], by=PERSON, now=earlier)
    stages = [body.stage_id for body in read_life(record, reference).of(StageReached)]
    assert ["order", "paint"] == stages


def test_contents_are_kept_under_their_hash(record: Record, reference: str, now: datetime) -> None:
    kept = json.dumps({"a": "Ä"}).encode()
    body = Closed(because="no answer")
    write_entries(record, reference, [body], by=PERSON, now=now, keep=[ToKeep("spec", kept)] * 2)
    assert kept == find_content(record, hashlib.sha256(kept).hexdigest())


def test_an_unknown_build_is_told(record: Record, now: datetime) -> None:
    with pytest.raises(RecordError, match="no build"):
        write_entries(record, "B-0009", [reached("order", now)], by=PERSON, now=now)
