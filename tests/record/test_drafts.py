from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import update

from configurator.catalog.models.build import BuildInput
from configurator.errors import RecordError, StaleDraftError
from configurator.record.changes import Change, Step, list_changes
from configurator.record.database import Record, writing
from configurator.record.drafts import find_draft, list_drafts, save_draft
from configurator.record.new_builds import add_build
from configurator.record.tables import DraftRow


def plain(change: Change) -> str:
    return "; ".join(f"{step.key} became {step.new}" for step in change.steps)


def picked(revision: int, now: datetime, option: str) -> Change:
    return Change(revision, "picked", (Step("choices", "roof", None, option),), None, now)


def test_a_saved_draft_is_read_again_with_what_changed(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    add_build(record, new_build(), now=now)
    later = now + timedelta(minutes=5)
    change = picked(2, later, "steel")
    saved = save_draft(record, new_build(choices={"roof": "steel"}), change, plain)
    assert saved == find_draft(record, "B-0001")
    assert (2, later, {"roof": "steel"}) == (
        saved.revision,
        saved.saved_at,
        saved.build().choices,
    )
    assert [1, 2] == [change.revision for change in list_changes(record, "B-0001")]
    assert change == list_changes(record, "B-0001")[1]


def test_the_slower_of_two_people_is_told_what_the_other_did_and_nothing_is_lost(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    add_build(record, new_build(), now=now)
    first = save_draft(record, new_build(choices={"roof": "steel"}), picked(2, now, "steel"), plain)
    with pytest.raises(StaleDraftError, match="roof became steel") as caught:
        save_draft(record, new_build(choices={"roof": "canvas"}), picked(2, now, "canvas"), plain)
    assert ["R007"] == [fault.code for fault in caught.value.faults]
    assert first == find_draft(record, "B-0001")
    assert 2 == len(list_changes(record, "B-0001"))


def test_an_unknown_build_is_told(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    with pytest.raises(RecordError, match='no build "B-0404"') as caught:
        find_draft(record, "B-0404")
    assert ["R008"] == [fault.code for fault in caught.value.faults]
    with pytest.raises(RecordError, match='no build "B-0001"'):
        save_draft(record, new_build(), picked(2, now, "steel"), plain)


def test_a_draft_that_no_longer_reads_as_a_build_is_told_and_kept(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    content = add_build(record, new_build(), now=now).content | {"colour_of_the_moon": "blue"}
    with writing(record) as session:
        session.execute(update(DraftRow).values(content=content))
    with pytest.raises(RecordError, match="colour_of_the_moon") as caught:
        find_draft(record, "B-0001").build()
    assert ["R009"] == [fault.code for fault in caught.value.faults]
    assert content == find_draft(record, "B-0001").content


def test_the_last_saved_build_is_listed_first(
    record: Record, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    for minutes in (0, 10, 5):
        add_build(record, new_build(), now=now + timedelta(minutes=minutes))
    assert ["B-0002", "B-0003", "B-0001"] == [d.reference for d in list_drafts(record)]


words = st.text(st.characters(exclude_categories=("Cs",)), max_size=200)


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(name=words.filter(lambda name: bool(name.strip())), notes=words)
def test_whatever_people_type_comes_back_unchanged(
    record: Record,
    new_build: Callable[..., BuildInput],
    now: datetime,
    name: str,
    notes: str,
) -> None:
    build = new_build(customer={"name": name}, notes=notes)
    reference = add_build(record, build, now=now).reference
    assert (
        build.model_copy(update={"reference": reference}) == find_draft(record, reference).build()
    )
