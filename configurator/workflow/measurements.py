"""What was measured on the road: keep it with the draft, hold it against the catalog."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.drive_state import NO_EFFECT, slots_filled, sum_effects
from configurator.build_spec.measured_vehicle import coast_down_fit
from configurator.build_spec.settle import settle
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.component import Tyre
from configurator.catalog.models.measurements import CoastDown, Measurements
from configurator.physics.coast_down import CoastDownFit
from configurator.workflow.builds import Draft
from configurator.workflow.draft_saving import save_steps, take_step
from configurator.workflow.draft_steps import field_steps
from configurator.workflow.measurement_faults import check_fit, check_trips, read_measurements
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises


@dataclass(frozen=True)
class Assumed:
    """A value that the catalog assumes, with its standard deviation."""

    value: float
    sigma: float


@dataclass(frozen=True)
class RoadLoadCompared:
    """What a coast-down says beside what the catalog assumed; None where it assumes nothing yet."""

    fit: CoastDownFit
    drag_area_m2: Assumed | None
    rolling_resistance: Assumed | None
    counts_now: bool
    """Whether it may take the place of what was assumed: on the finished vehicle, only once
    everything is chosen."""


def set_measurements(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    measurements: Measurements | Mapping[str, object] | None,
    now: datetime,
) -> Draft:
    """Put measurements in the place of those of the draft, or take them away.

    Parameters
    ----------
    premises, reference, revision, now
        As for `consultation.pick_option`.
    measurements : Measurements, mapping or None
        A mapping as a form sends it; None for none.

    Returns
    -------
    Draft
        As it is on disk now; undone like any other change.

    Raises
    ------
    ChoiceError
        If an entry cannot be; all faults together, nothing is saved.
    MeasurementError
        If the runs of a coast-down cannot be fitted, or what was measured is too far from what is
        chosen.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    wanted = _read(measurements)

    def save(draft: Draft) -> Draft:
        check_vehicle(premises.catalog, draft.build.vehicle)
        check_trips(wanted, [case.id for case in premises.catalog.driving_cases], now.date())
        if wanted.coast_down is not None:
            check_fit(coast_down_fit(wanted.coast_down))
        # Fits the trips to what is chosen: what cannot be is told before it is kept.
        build = draft.build.model_copy(update={"measurements": wanted})
        premises.engines.compiled(premises.catalog, build)
        steps = field_steps(draft.build, build, "measurements")
        return save_steps(premises, draft, "measurements", steps, now=now)

    return take_step(
        premises,
        reference,
        revision,
        is_done=lambda draft: draft.build.measurements == wanted,
        save=save,
    )


def road_load_compared(premises: Premises, draft: Draft, coast_down: CoastDown) -> RoadLoadCompared:
    """Fit a coast-down, kept or not, and hold it against what the catalog assumes.

    Raises
    ------
    ChoiceError
        If the vehicle is gone.
    MeasurementError
        If the runs cannot be fitted, or say what no road vehicle has.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    fit = coast_down_fit(coast_down)
    check_fit(fit)
    bare = draft.build.model_copy(update={"measurements": Measurements()})
    compiled = premises.engines.compiled(premises.catalog, bare)
    choices = settle(compiled, bare).choices
    if coast_down.vehicle_was == "donor":
        drag = compiled.offer.vehicle.drag_area_m2
        assumed = Assumed(drag.value, drag.value * drag.sigma_percent / 100)
        # The donor's tyres stand in no catalog and do not stay on it.
        return RoadLoadCompared(fit, assumed, None, counts_now=True)
    if len(choices) < len(compiled.offer.groups):
        return RoadLoadCompared(fit, None, None, counts_now=False)
    return RoadLoadCompared(fit, *_assumed(compiled, bare), counts_now=True)


def _assumed(compiled: Compiled, build: BuildInput) -> tuple[Assumed, Assumed | None]:
    """Give drag and rolling resistance of complete choices, as the energy model is told them."""
    offer = compiled.offer
    options = offer.options_of(settle(compiled, build).choices)
    in_drag, in_rolling, _, _ = sum_effects([NO_EFFECT, *offer.vectors_of(options)])
    drag = offer.vehicle.drag_area_m2
    area_m2 = drag.value + in_drag
    air = Assumed(area_m2, area_m2 * drag.sigma_percent / 100)
    tyre = compiled.catalog.component_by_id.get(dict(slots_filled(offer, options)).get("tyre", ""))
    if not isinstance(tyre, Tyre):
        return air, None
    rolling = tyre.rolling_resistance.value + in_rolling
    return air, Assumed(rolling, rolling * tyre.rolling_resistance.sigma_percent / 100)


def _read(measurements: Measurements | Mapping[str, object] | None) -> Measurements:
    if measurements is None:
        return Measurements()
    if isinstance(measurements, Measurements):
        return measurements
    return read_measurements(measurements)
