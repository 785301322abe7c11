from datetime import datetime
from pathlib import Path

import pytest

from configurator.errors import ChoiceError, ConfiguratorError
from configurator.workflow.builds import list_builds, read_draft
from configurator.workflow.consultation import (
    clear_choice,
    how_options_stand,
    outline_of_draft,
    pick_option,
    set_house_choices,
)
from configurator.workflow.offered import lost_choices
from configurator.workflow.papers import make_handover_pack, make_spec_sheet
from configurator.workflow.premises import Premises, open_premises


def codes(error: ConfiguratorError) -> list[str]:
    return [fault.code for fault in error.faults]


@pytest.fixture
def later(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str, now: datetime
) -> Premises:
    """The same record after the catalog has lost the colour that was chosen."""
    pick_option(premises, reference, revision=1, group_id="livery", option_id="nettle", now=now)
    for file in catalog_folder.rglob("*.yaml"):
        file.write_text(file.read_text().replace("nettle", "thistle"))
    return open_premises(catalog_folder, data_folder)


def test_a_lost_choice_is_told_in_the_list_and_in_the_talk(later: Premises, reference: str) -> None:
    draft = read_draft(later, reference)
    assert {"livery": "nettle"} == draft.build.choices
    assert ["P007"] == [fault.code for fault in lost_choices(later.catalog, draft.build)]
    assert "Choice not in the catalog" == list_builds(later)[0].state
    spec = outline_of_draft(later, draft)
    assert spec.chosen("livery") is None
    assert any("nettle" in finding.sentence for finding in spec.findings)


def test_documents_wait_until_a_lost_choice_is_made_again(
    later: Premises, reference: str, now: datetime
) -> None:
    with pytest.raises(ChoiceError, match='"nettle" was chosen') as caught:
        make_spec_sheet(later, reference, now)
    assert ["P007"] == codes(caught.value)
    with pytest.raises(ChoiceError):
        make_handover_pack(later, reference, now)
    picked = pick_option(
        later, reference, revision=2, group_id="livery", option_id="thistle", now=now
    )
    assert {"livery": "thistle"} == picked.build.choices
    assert make_spec_sheet(later, reference, now).content.startswith(b"%PDF")


def test_the_talk_goes_on_beside_a_lost_choice(
    later: Premises, reference: str, now: datetime
) -> None:
    picked = pick_option(
        later, reference, revision=2, group_id="box", option_id="slatted-box", now=now
    )
    assert {"livery": "nettle", "box": "slatted-box"} == picked.build.choices
    cleared = clear_choice(later, reference, revision=3, group_id="livery", now=now)
    assert {"box": "slatted-box"} == cleared.build.choices


def test_a_lost_vehicle_is_told_and_its_builds_are_kept(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str, now: datetime
) -> None:
    for file in catalog_folder.rglob("*.yaml"):
        file.write_text(file.read_text().replace("clover-van", "clover-lorry"))
    later = open_premises(catalog_folder, data_folder)
    row = list_builds(later)[0]
    assert ("clover-van", "Vehicle not in the catalog") == (row.vehicle_label, row.state)
    draft = read_draft(later, reference)
    for attempt in (
        lambda: outline_of_draft(later, draft),
        lambda: make_spec_sheet(later, reference, now),
        lambda: pick_option(
            later, reference, revision=1, group_id="livery", option_id="sloe", now=now
        ),
    ):
        with pytest.raises(ChoiceError, match="is not in the catalog") as caught:
            attempt()
        assert ["P001"] == codes(caught.value)
    assert draft == read_draft(premises, reference)


def test_the_workshop_puts_nothing_in_the_place_of_a_lost_choice(
    later: Premises, reference: str, now: datetime
) -> None:
    draft = set_house_choices(later, reference, revision=2, wanted=True, now=now)
    spec = outline_of_draft(later, draft)
    assert ["livery"] == [group.group_id for group in spec.open_groups]
    assert not spec.is_complete
    livery = next(g for g in how_options_stand(later, draft) if g.group_id == "livery")
    assert (None, "nettle") == (livery.chosen_option_id, livery.withdrawn_option_id)


def test_a_vehicle_without_any_build_says_that_no_choice_can_help(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str
) -> None:
    limits = catalog_folder / "limits.yaml"
    limits.write_text(
        limits.read_text()
        + "\n  - {id: cheapest, label: Price, limit: price_gbp, at_most: 1, because: Nobody pays"
        " more., source: invented}\n"
    )
    later = open_premises(catalog_folder, data_folder)
    spec = outline_of_draft(later, read_draft(later, reference))
    found = next(finding for finding in spec.findings if finding.code == "F006")
    assert "configurator check" in found.remedy
    assert spec.plan.earliest_handover <= spec.plan.latest_handover
