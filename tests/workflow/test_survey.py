"""The survey of the donor is typed part by part, priced at once, and undone like any change."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest

from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import Donor
from configurator.errors import ChoiceError, StaleDraftError
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import undo_last_change
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.survey import set_donors, set_verdict, survey_of
from configurator.workflow.survey_faults import read_donors, read_line

PART = "rear-doors"


def test_nothing_is_looked_at_before_somebody_has_looked(
    premises: Premises, reference: str
) -> None:
    state = survey_of(premises, read_draft(premises, reference))
    assert state.parts
    assert state.parts == state.not_looked_at
    assert 0 == state.amount_gbp == state.provisional_gbp


def test_a_verdict_is_kept_and_priced_by_the_usual_figures(
    premises: Premises, reference: str, now: datetime
) -> None:
    before = spec_of_draft(premises, reference).price.total_low_gbp
    draft = set_verdict(premises, reference, PART, revision=1, line={"verdict": "repair"}, now=now)
    state = next(s for s in survey_of(premises, draft).parts if s.part.id == PART)
    assert state.result is not None
    assert state.usual["repair"].amount_gbp == state.result.amount_gbp > 0
    assert 0 == state.usual["keep"].amount_gbp
    # What the price adds is what the survey says, to the penny.
    after = spec_of_draft(premises, reference).price.total_low_gbp
    assert state.result.amount_gbp == after - before
    # Source: the hours of the part at its trade's rate, and its parts, with the VAT of the day.
    rate = next(
        t.rate_gbp_per_hour for t in premises.catalog.workshop.trades if t.id == state.part.trade
    )
    vat = spec_of_draft(premises, reference).price.vat_percent
    net = state.part.repair_parts_gbp + state.part.repair_hours * rate
    assert state.result.amount_gbp == (net * (1 + vat / 100)).quantize(Decimal("0.01"))


def test_own_figures_and_a_provisional_sum_take_the_place_of_the_usual(
    premises: Premises, reference: str, now: datetime
) -> None:
    line = {
        "verdict": "replace",
        "hours": "2.5",
        "parts_gbp": "40.00",
        "provisional_gbp": "100.00",
        "origin": "New oak, <b>from</b> the mill",
        "note": "Two are rotten",
    }
    draft = set_verdict(premises, reference, PART, revision=1, line=line, now=now)
    state = survey_of(premises, draft)
    (found,) = (s.result for s in state.parts if s.result)
    assert Decimal("2.5") == found.hours
    assert "New oak, <b>from</b> the mill" == found.origin
    vat = spec_of_draft(premises, reference).price.vat_percent
    assert Decimal(100) * (1 + vat / 100) == state.provisional_gbp
    kinds = {item.kind for item in spec_of_draft(premises, reference).price.lines}
    assert {"survey", "provisional"} <= kinds


def test_a_verdict_is_taken_back_and_taken_away(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_verdict(premises, reference, PART, revision=1, line={"verdict": "repair"}, now=now)
    set_verdict(premises, reference, PART, revision=2, line={"verdict": "replace"}, now=now)
    draft = undo_last_change(premises, reference, revision=3, now=now)
    assert ["repair"] == [line.verdict for line in draft.build.survey]
    gone = set_verdict(premises, reference, PART, revision=draft.revision, line=None, now=now)
    assert () == gone.build.survey


def test_every_entry_that_cannot_be_is_told_and_nothing_is_kept(
    premises: Premises, reference: str, now: datetime
) -> None:
    line = {"verdict": "mend", "hours": "-1", "parts_gbp": "1.005", "provisional_gbp": "much"}
    with pytest.raises(ChoiceError) as refused:
        set_verdict(premises, reference, PART, revision=1, line=line, now=now)
    assert ["Verdict", "Hours", "Parts", "Provisional sum"] == [
        fault.where for fault in refused.value.faults
    ]
    with pytest.raises(ChoiceError, match="has no part"):
        set_verdict(premises, reference, "rear-door", revision=1, line={"verdict": "keep"}, now=now)
    assert 1 == read_draft(premises, reference).revision


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("1e3", "1000.0"), ("0e5", "0.0"), ("-0", "0.0"), ("٣", "3.0"), (" 8 ", "8.0"), ("7", "7.0")],
)
def test_hours_are_kept_in_one_form_however_they_are_typed(typed: str, kept: str) -> None:
    line = read_line({"part": PART, "verdict": "repair", "hours": typed, "parts_gbp": typed})
    assert (kept, f"{kept}0") == (str(line.hours), str(line.parts_gbp))


def test_a_figure_written_back_is_the_same_spec_again(
    premises: Premises, reference: str, now: datetime
) -> None:
    def keep(revision: int, hours: str) -> str:
        line = {"verdict": "repair", "hours": hours}
        set_verdict(premises, reference, PART, revision=revision, line=line, now=now)
        return spec_of_draft(premises, reference).sha256()

    first = keep(1, "7")
    assert first != keep(2, "8.5")
    assert first == keep(3, "7.0")


@pytest.mark.parametrize(
    ("entry", "typed", "told"),
    [
        ("hours", "2001", "Hours: “2001” is too much. Write at most 2,000 h. [P018]"),
        (
            "hours",
            "7.55",
            "Hours: “7.55” is too fine. Write it in steps of 0.1 h. [P018]",
        ),
        (
            "hours",
            " ",
            "Hours: nothing stands there. Write it in digits, such as 7.5. [P018]",
        ),
        ("parts_gbp", "£50", "Parts: “£50” is no number. Write it in digits, such as 7.5. [P018]"),
        (
            "parts_gbp",
            "1000000000",
            "Parts: “1000000000” is too much. Write at most £1,000,000. [P018]",
        ),
        ("parts_gbp", "-1", "Parts: “-1” is too little. Write at least £0. [P018]"),
        ("verdict", "", "Verdict: none is taken. Take one of the three. [P018]"),
    ],
)
def test_what_a_figure_must_be_is_told_with_its_unit(entry: str, typed: str, told: str) -> None:
    with pytest.raises(ChoiceError) as refused:
        read_line({"part": PART, "verdict": "repair", entry: typed})
    assert [told] == [str(fault) for fault in refused.value.faults]


def test_a_weight_that_no_axle_has_is_told_in_kilograms() -> None:
    with pytest.raises(ChoiceError, match="Write at most 5,000 kg"):
        read_donors({"front_axle_kg": "41000", "rear_axle_kg": "395"}, None, date(2026, 3, 4))


# Source: statics: the wheels of both sides carry what the wheels of both axles carry.
def test_axles_and_sides_weigh_the_same_vehicle() -> None:
    axles = {"front_axle_kg": "410", "rear_axle_kg": "395", "weighed_on": date(2026, 3, 4)}
    near = {**axles, "left_side_kg": "400", "right_side_kg": "410"}
    assert read_donors(near, None, date(2026, 3, 4))[0].sides_were_weighed
    far = {**axles, "left_side_kg": "300", "right_side_kg": "310"}
    with pytest.raises(ChoiceError, match="805 kg together, and the sides 610 kg"):
        read_donors(far, None, date(2026, 3, 4))


def test_a_part_that_the_list_lost_is_told_and_taken_out(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_verdict(premises, reference, PART, revision=1, line={"verdict": "repair"}, now=now)
    file = premises.catalog_folder / "survey" / "van.yaml"
    assert PART in file.read_text(encoding="utf-8")
    written = file.read_text(encoding="utf-8").replace(f"id: {PART}", "id: tail-gate")
    file.write_text(written, encoding="utf-8")
    premises.record.engine.dispose()
    later = open_premises(premises.catalog_folder, premises.data_folder)
    state = survey_of(later, read_draft(later, reference))
    assert [PART] == [line.part for line in state.lost]
    assert all(part.line is None for part in state.parts)
    draft = set_verdict(later, reference, PART, revision=2, line=None, now=now)
    assert ((), ()) == (draft.build.survey, survey_of(later, draft).lost)
    later.record.engine.dispose()


def test_who_looked_at_an_older_draft_is_told(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_verdict(premises, reference, PART, revision=1, line={"verdict": "repair"}, now=now)
    with pytest.raises(StaleDraftError, match="survey of the donor was changed"):
        set_verdict(premises, reference, PART, revision=1, line={"verdict": "keep"}, now=now)


def test_weighed_axles_take_the_place_of_the_catalogs(
    premises: Premises, reference: str, now: datetime
) -> None:
    donor = {
        "description": "Stood in a barn",
        "front_axle_kg": "410",
        "rear_axle_kg": "395",
        "weighed_on": now.date(),
    }
    draft = set_donors(premises, reference, revision=1, donor=donor, second_donor=None, now=now)
    assert (410, 395) == (draft.build.donor.front_axle_kg, draft.build.donor.rear_axle_kg)
    weights = spec_of_draft(premises, reference).weights
    assert (410, 395) == (weights.front.donor_kg, weights.rear.donor_kg)


def test_what_cannot_be_known_of_a_donor_is_told(
    premises: Premises, reference: str, now: datetime
) -> None:
    donor = {"front_axle_kg": "410", "weighed_on": now.date() + timedelta(days=1)}
    with pytest.raises(ChoiceError) as refused:
        set_donors(
            premises, reference, revision=1, donor=donor, second_donor={"mark": "x"}, now=now
        )
    assert 3 == len(refused.value.faults)


def test_two_donors_are_made_into_one(premises: Premises, reference: str, now: datetime) -> None:
    line = {"verdict": "repair", "from_second_donor": True, "origin": "own MARK, read"}
    with pytest.raises(ChoiceError, match="none is told"):
        set_verdict(premises, reference, PART, revision=1, line=line, now=now)
    second = {"description": "Front crushed", "identity_mark": "Sample mark 2"}
    set_donors(premises, reference, revision=1, donor={}, second_donor=second, now=now)
    set_verdict(premises, reference, PART, revision=2, line=line, now=now)
    (result,) = spec_of_draft(premises, reference).survey
    assert "From the second donor. Own MARK, read" == result.origin
    with pytest.raises(ChoiceError, match="1 of its parts is taken: Rear doors"):
        set_donors(premises, reference, revision=3, donor={}, second_donor=None, now=now)


def test_the_spec_names_the_parts_that_nobody_looked_at(
    premises: Premises, reference: str, now: datetime
) -> None:
    labels = [
        state.part.label for state in survey_of(premises, read_draft(premises, reference)).parts
    ]
    before = spec_of_draft(premises, reference)
    assert labels == list(before.not_surveyed)
    set_verdict(premises, reference, PART, revision=1, line={"verdict": "keep"}, now=now)
    after = spec_of_draft(premises, reference)
    assert [label for label in labels if label != "Rear doors"] == list(after.not_surveyed)
    assert after.sha256() == spec_of_draft(premises, reference).sha256()
    # Source: a spec kept before it named them says nothing of them.
    kept = after.model_dump(mode="json")
    del kept["not_surveyed"]
    assert () == Spec.model_validate(kept).not_surveyed


def test_weights_without_the_day_of_weighing_are_refused() -> None:
    donor = {"front_axle_kg": "410", "rear_axle_kg": "395"}
    with pytest.raises(ChoiceError) as refused:
        read_donors(donor, None, date(2026, 3, 4))
    (fault,) = refused.value.faults
    assert ("P018", "Weighed on") == (fault.code, fault.where)
    assert "Write the day of the weighing." == fault.remedy


def test_a_record_with_weights_and_no_day_still_loads() -> None:
    assert Donor.model_validate({"front_axle_kg": 410, "rear_axle_kg": 395}).axles_were_weighed


@pytest.mark.parametrize("other", ["Sample 1", " sample  1", "SAMPLE1"])
def test_two_donors_have_two_identity_marks(other: str) -> None:
    donor, day = {"identity_mark": "Sample 1"}, date(2026, 3, 4)
    with pytest.raises(ChoiceError, match="two vehicles") as refused:
        read_donors(donor, {"identity_mark": other}, day)
    assert ["Second donor, Identity mark"] == [fault.where for fault in refused.value.faults]
    assert read_donors(donor, {"identity_mark": "Sample 2"}, day)[1] is not None
    assert read_donors({}, {"description": "Front crushed"}, day)[1] is not None


# Source: physics: an axle carries a part of the vehicle, and the empty vehicle weighs less than
# it may weigh laden; the tiny van's gross mass is 1720 kg.
def test_an_axle_that_outweighs_the_laden_vehicle_is_refused_with_every_other_fault(
    premises: Premises, reference: str, now: datetime
) -> None:
    donor = {"front_axle_kg": "1750", "rear_axle_kg": "395"}
    with pytest.raises(ChoiceError) as refused:
        set_donors(premises, reference, revision=1, donor=donor, second_donor=None, now=now)
    assert ["Weighed on", "Front axle"] == [fault.where for fault in refused.value.faults]
    assert "1,750 kg" in str(refused.value)
    assert "1,720 kg" in str(refused.value)
    assert 1 == read_draft(premises, reference).revision


# Source: worked by hand: 900 kg is 61 % more than the 560 kg usual on the tiny van's front axle.
def test_an_unusual_axle_is_told_at_once_by_the_survey(
    premises: Premises, reference: str, now: datetime
) -> None:
    donor = {"front_axle_kg": "900", "rear_axle_kg": "520", "weighed_on": now.date()}
    draft = set_donors(premises, reference, revision=1, donor=donor, second_donor=None, now=now)
    (finding,) = survey_of(premises, draft).unlikely
    assert ("F010", "donor-front-axle") == (finding.code, finding.subject)
