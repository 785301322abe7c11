from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from sqlalchemy import text

from configurator.catalog.models.build import Customer, Donor
from configurator.errors import ChoiceError, RecordError
from configurator.record.database import writing
from configurator.workflow.builds import list_builds, read_draft, start_enquiry
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.premises import Premises, open_premises


def test_an_enquiry_is_kept_and_found_after_a_restart(
    premises: Premises, catalog_folder: Path, data_folder: Path, reference: str
) -> None:
    again = open_premises(catalog_folder, data_folder)
    assert read_draft(premises, reference) == read_draft(again, reference)
    assert ["B-0001"] == [row.reference for row in list_builds(again)]


@pytest.mark.parametrize(
    "name",
    [
        "x" * 200,
        "<b>Bold</b> & <script>alert(1)</script>",
        "*stars* _lines_ [link](there) ![](picture)",
        "Ζωή Кот 小林 مريم 🚐",
        "O'Hara\"; DROP TABLE builds; --",
        "{{ vehicle.label }}",
    ],
)
def test_a_name_goes_through_unchanged(
    premises: Premises, enquiry: Callable[..., str], name: str
) -> None:
    reference = enquiry(name=name, notes=name)
    assert (name, name) == (
        read_draft(premises, reference).build.customer.name,
        read_draft(premises, reference).build.notes,
    )
    assert name == list_builds(premises, search=name.split(maxsplit=1)[0])[0].customer_name


def test_an_enquiry_for_an_unknown_vehicle_is_refused_and_leaves_nothing(
    premises: Premises, enquiry: Callable[..., str]
) -> None:
    with pytest.raises(ChoiceError, match="Clover van") as caught:
        enquiry(vehicle="moon-buggy")
    assert ["P001"] == [fault.code for fault in caught.value.faults]
    assert () == list_builds(premises)


def test_notes_that_are_too_long_are_refused(premises: Premises, now: datetime) -> None:
    with pytest.raises(ChoiceError) as caught:
        start_enquiry(
            premises,
            customer=Customer(name="A"),
            vehicle_id="clover-van",
            donor=Donor(),
            notes="x" * 2001,
            now=now,
        )
    (fault,) = caught.value.faults
    assert ("P008", "Enquiry, notes") == (fault.code, fault.where)
    assert "Write at most 2000 characters." == fault.remedy


def test_the_list_is_searched_by_reference_customer_and_vehicle(
    premises: Premises, enquiry: Callable[..., str]
) -> None:
    enquiry(name="Invented Ærø Dairy", vehicle="clover-float")
    enquiry(name="Invented Baker", vehicle="clover-van")

    def found(search: str) -> list[str]:
        return sorted(row.reference for row in list_builds(premises, search))

    assert ["B-0001", "B-0002"] == found("")
    assert ["B-0001"] == found("ærø")
    assert ["B-0001"] == found("Dàiry"), "accents make no difference"
    assert ["B-0002"] == found("b-0002")
    assert ["B-0001"] == found("FLOAT invented")
    assert [] == found("float baker")


def test_a_build_is_an_enquiry_then_in_talk_then_all_chosen(
    premises: Premises, reference: str, now: datetime
) -> None:
    def standing() -> tuple[str, int]:
        row = list_builds(premises)[0]
        return row.state, row.open_groups

    assert ("Enquiry", 6) == standing()
    pick_option(premises, reference, revision=1, group_id="livery", option_id="nettle", now=now)
    assert ("In talk", 5) == standing()
    set_house_choices(premises, reference, revision=2, wanted=True, now=now)
    assert ("All chosen", 0) == standing()


def test_groups_that_follow_from_the_rules_do_not_count_as_open(
    premises: Premises, reference: str, now: datetime
) -> None:
    pick_option(premises, reference, revision=1, group_id="cells", option_id="many-cells", now=now)
    # Many cells want stiff springs, so that five groups less the springs are left.
    assert 4 == list_builds(premises)[0].open_groups


def test_a_draft_that_cannot_be_read_is_listed_and_does_not_hide_the_others(
    premises: Premises, enquiry: Callable[..., str]
) -> None:
    enquiry()
    enquiry()
    with writing(premises.record) as session:
        session.execute(text("UPDATE drafts SET content = '{}' WHERE build_id = 1"))
    states = {row.reference: row.state for row in list_builds(premises)}
    assert {"B-0001": "Cannot be read", "B-0002": "Enquiry"} == states
    with pytest.raises(RecordError, match="does not read as a build"):
        read_draft(premises, "B-0001")
