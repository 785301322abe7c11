"""The customer's own day: keep it with the draft, answer it before and after it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.customers_day import check_day, customers_day
from configurator.build_spec.day_faults import read_day
from configurator.build_spec.day_result import DayResult
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.day import CustomersDay
from configurator.workflow.builds import Draft
from configurator.workflow.draft_saving import save_steps, take_step
from configurator.workflow.draft_steps import field_steps
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises


def set_day(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    day: CustomersDay | Mapping[str, object] | None,
    now: datetime,
) -> Draft:
    """Put a day in the place of that of the draft, or take it away.

    Parameters
    ----------
    premises, reference, revision, now
        As for `consultation.pick_option`.
    day : CustomersDay, mapping or None
        A mapping as a form sends it; None for no day.

    Returns
    -------
    Draft
        As it is on disk now; undone like any other change.

    Raises
    ------
    ChoiceError
        If an entry cannot be; all faults together, nothing is saved.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    wanted = _read(day)

    def save(draft: Draft) -> Draft:
        _, asked = _asked(premises, draft, wanted)
        steps = field_steps(draft.build, asked, "day")
        return save_steps(premises, draft, "day", steps, now=now)

    return take_step(
        premises, reference, revision, is_done=lambda draft: draft.build.day == wanted, save=save
    )


def day_answered(
    premises: Premises, draft: Draft, day: CustomersDay | Mapping[str, object]
) -> DayResult | None:
    """Answer a day with the choices of a draft, whether it is kept there or not.

    Returns
    -------
    DayResult or None
        None where the choices contradict each other or a part is missing to drive.

    Raises
    ------
    ChoiceError
        If the vehicle is gone, or an entry of the day cannot be.
    """
    return customers_day(*_asked(premises, draft, _read(day)))


def _asked(
    premises: Premises, draft: Draft, day: CustomersDay | None
) -> tuple[Compiled, BuildInput]:
    """Give the build with a day that can be."""
    check_vehicle(premises.catalog, draft.build.vehicle)
    asked = draft.build.model_copy(update={"day": day})
    compiled = premises.engines.compiled(premises.catalog, draft.build)
    check_day(compiled, asked)
    return compiled, asked


def _read(day: CustomersDay | Mapping[str, object] | None) -> CustomersDay | None:
    return day if day is None or isinstance(day, CustomersDay) else read_day(day)
