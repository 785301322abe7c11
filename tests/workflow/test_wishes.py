import math
from datetime import datetime
from pathlib import Path

import pytest

from configurator.build_spec.pipeline import specify
from configurator.catalog.models.build import Preference, Wish
from configurator.errors import ChoiceError, ConfiguratorError, StaleDraftError
from configurator.record.changes import Step
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import can_undo, pick_option, undo_last_change
from configurator.workflow.draft_saving import save_steps
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.wishes import (
    front_of_draft,
    set_wishes,
    take_wished_build,
    wishes_answered,
)

FAR = Wish(fact="range_low_km", case="round-in-january", at_least=40.0)
NETTLE = Preference(group="livery", option="nettle")


def codes(error: ConfiguratorError) -> list[str]:
    return [fault.code for fault in error.faults]


@pytest.fixture
def wished_for(premises: Premises, reference: str, now: datetime) -> Draft:
    return set_wishes(premises, reference, revision=1, wishes=[FAR], preferences=[NETTLE], now=now)


def test_wishes_are_on_disk_when_the_function_returns_and_can_be_undone(
    catalog_folder: Path, data_folder: Path, reference: str, wished_for: Draft, now: datetime
) -> None:
    again = open_premises(catalog_folder, data_folder)
    assert wished_for == read_draft(again, reference)
    assert ((FAR,), (NETTLE,)) == (wished_for.build.wishes, wished_for.build.preferences)
    undone = undo_last_change(again, reference, revision=2, now=now)
    assert ((), ()) == (undone.build.wishes, undone.build.preferences)
    assert not can_undo(again, reference)


def test_the_same_wishes_again_change_nothing(
    premises: Premises, reference: str, wished_for: Draft, now: datetime
) -> None:
    again = set_wishes(
        premises,
        reference,
        revision=1,
        wishes=[{"fact": "range_low_km", "case": "round-in-january", "at_least": "40"}],
        preferences=[NETTLE],
        now=now,
    )
    assert wished_for == again


def test_everything_that_is_wrong_with_wishes_is_told_at_once_and_nothing_saved(
    premises: Premises, reference: str, now: datetime
) -> None:
    with pytest.raises(ChoiceError) as caught:
        set_wishes(
            premises,
            reference,
            revision=1,
            wishes=[
                {"fact": "range_lo_km", "case": "lane", "at_least": 40},
                {"fact": "price_gbp", "at_most": math.inf},
                {"fact": "price_gbp", "at_most": 1, "at_least": 1},
                {"fact": "range_low_km", "case": "<script>", "at_least": 40},
                Wish(fact="range_low_km", at_least=40),
                Wish(fact="range_low_km", case="round-in-janury", at_least=40),
                Wish(fact="price_gbp", case="lane", at_most=9000),
                Wish(fact="range_low_km", case="lane", at_most=40),
                Wish(fact="handover_weeks", at_least=40),
                Wish(fact="price_gbp", at_most=1e12),
            ],
            preferences=[
                Preference(group="liveri", option="nettle"),
                Preference(group="livery", option="plaid"),
            ],
            now=now,
        )
    expected = ["S006", "S009", "S009", "S007", "S007", "S007", "S007", "S008", "S008", "S009"]
    assert [*expected, "S002", "S003"] == codes(caught.value)
    said = [str(fault) for fault in caught.value.faults]
    assert 'Did you mean "range_low_km"?' in said[0]
    assert 'Did you mean "round-in-january"?' in said[5]
    assert [f"wish {n}" for n in (1, 2, 3, 4, 5)] == [f.where for f in caught.value.faults[:5]]
    assert 1 == read_draft(premises, reference).revision


def test_too_many_wishes_are_refused(premises: Premises, reference: str, now: datetime) -> None:
    with pytest.raises(ChoiceError, match="there are 13") as caught:
        set_wishes(premises, reference, revision=1, wishes=[FAR] * 13, preferences=[], now=now)
    assert ["S011"] == codes(caught.value)


def test_wishes_decided_on_an_older_draft_are_refused(
    premises: Premises, reference: str, wished_for: Draft, now: datetime
) -> None:
    with pytest.raises(StaleDraftError, match="the wishes were changed"):
        set_wishes(premises, reference, revision=1, wishes=[], preferences=[], now=now)
    assert wished_for == read_draft(premises, reference)


def test_an_answer_is_the_same_object_until_something_changes(
    premises: Premises, reference: str, wished_for: Draft, now: datetime
) -> None:
    answer = wishes_answered(premises, wished_for)
    assert answer is wishes_answered(premises, read_draft(premises, reference))
    assert answer.all_met
    assert "nettle" == answer.builds[0].choices["livery"]
    front = front_of_draft(premises, wished_for)
    assert front is front_of_draft(premises, wished_for)
    assert "round-in-january" == front.case_id
    changed = pick_option(
        premises, reference, revision=2, group_id="livery", option_id="sloe", now=now
    )
    assert answer is not wishes_answered(premises, changed)


def test_a_build_is_taken_as_one_change_and_undone_as_one(
    premises: Premises, reference: str, wished_for: Draft, now: datetime
) -> None:
    best = wishes_answered(premises, wished_for).builds[0]
    taken = take_wished_build(premises, reference, revision=2, choices=best.choices, now=now)
    assert best.choices == taken.build.choices
    spec = specify(premises.catalog, taken.build, premises.engines)
    assert spec.is_complete
    assert best.price_gbp == spec.price.total_low_gbp
    assert not [finding for finding in spec.findings if finding.severity == "blocks"]
    assert wished_for.build == undo_last_change(premises, reference, revision=3, now=now).build


def test_taking_what_stands_already_changes_nothing(
    premises: Premises, reference: str, wished_for: Draft, now: datetime
) -> None:
    choices = wishes_answered(premises, wished_for).builds[0].choices
    taken = take_wished_build(premises, reference, revision=2, choices=choices, now=now)
    assert taken == take_wished_build(premises, reference, revision=3, choices=choices, now=now)


@pytest.mark.parametrize(
    "refused",
    [
        ({"cells": "many-cells", "springs": "old-springs"}, ["P015"]),
        ({"livery": "plaid"}, ["P003"]),
        ({"wings": "long", "livery": "plaid"}, ["P002", "P003"]),
        ({"livery": None}, ["P015"]),
    ],
)
def test_a_build_that_cannot_be_had_any_more_is_refused(
    premises: Premises,
    reference: str,
    wished_for: Draft,
    now: datetime,
    refused: tuple[dict[str, str | None], list[str]],
) -> None:
    change, expected = refused
    best = wishes_answered(premises, wished_for).builds[0].choices
    choices = {g: o for g, o in {**best, **change}.items() if o is not None}
    with pytest.raises(ChoiceError) as caught:
        take_wished_build(premises, reference, revision=2, choices=choices, now=now)
    assert sorted(expected) == sorted(codes(caught.value))
    assert wished_for == read_draft(premises, reference)


def test_a_build_that_alters_a_kept_choice_is_refused(
    premises: Premises, reference: str, wished_for: Draft, now: datetime
) -> None:
    best = wishes_answered(premises, wished_for).builds[0].choices
    draft = pick_option(
        premises, reference, revision=2, group_id="livery", option_id="sloe", now=now
    )
    marked = save_steps(
        premises, draft, "picked", (Step("must_keep", None, [], ["livery"]),), now=now
    )
    with pytest.raises(ChoiceError, match='"sloe" is marked to be kept') as caught:
        take_wished_build(premises, reference, revision=4, choices=best, now=now)
    assert ["P016"] == codes(caught.value)
    answer = wishes_answered(premises, marked)
    assert {"sloe"} == {build.choices["livery"] for build in answer.builds}


def test_wishes_that_the_catalog_has_lost_are_told(
    premises: Premises,
    catalog_folder: Path,
    data_folder: Path,
    reference: str,
    wished_for: Draft,
) -> None:
    for file in catalog_folder.rglob("*.yaml"):
        file.write_text(file.read_text().replace("nettle", "thistle"))
    later = open_premises(catalog_folder, data_folder)
    with pytest.raises(ChoiceError, match='preference 1: "nettle" is not offered') as caught:
        wishes_answered(later, read_draft(later, reference))
    assert ["S003"] == codes(caught.value)


def test_wishes_leave_the_promised_spec_as_it_is(
    premises: Premises, reference: str, wished_for: Draft
) -> None:
    plain = wished_for.build.model_copy(update={"wishes": (), "preferences": ()})
    expected = specify(premises.catalog, plain, premises.engines)
    assert expected == specify(premises.catalog, wished_for.build, premises.engines)
