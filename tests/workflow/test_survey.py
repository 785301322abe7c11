"""The survey of the donor is typed part by part, priced at once, and undone like any change."""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

import pytest

from configurator.errors import ChoiceError, StaleDraftError
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import undo_last_change
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.survey import set_donors, set_verdict, survey_of

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


def test_who_looked_at_an_older_draft_is_told(
    premises: Premises, reference: str, now: datetime
) -> None:
    set_verdict(premises, reference, PART, revision=1, line={"verdict": "repair"}, now=now)
    with pytest.raises(StaleDraftError, match="survey of the donor was changed"):
        set_verdict(premises, reference, PART, revision=1, line={"verdict": "keep"}, now=now)


def test_weighed_axles_take_the_place_of_the_catalogs(
    premises: Premises, reference: str, now: datetime
) -> None:
    donor = {"description": "Stood in a barn", "front_axle_kg": "410", "rear_axle_kg": "395"}
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
    line = {"verdict": "repair", "from_second_donor": True, "origin": "Maker's mark read"}
    with pytest.raises(ChoiceError, match="none is told"):
        set_verdict(premises, reference, PART, revision=1, line=line, now=now)
    second = {"description": "Front crushed", "identity_mark": "Sample mark 2"}
    set_donors(premises, reference, revision=1, donor={}, second_donor=second, now=now)
    set_verdict(premises, reference, PART, revision=2, line=line, now=now)
    (result,) = spec_of_draft(premises, reference).survey
    assert "From the second donor. Maker's mark read" == result.origin
    with pytest.raises(ChoiceError, match=PART):
        set_donors(premises, reference, revision=3, donor={}, second_donor=None, now=now)
