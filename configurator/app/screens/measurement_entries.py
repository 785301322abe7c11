"""The entries of what was measured on the road."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st

from configurator.app.markup import tag, text
from configurator.app.premises import now, premises
from configurator.app.screens.form_marks import form_mark
from configurator.app.screens.typed_numbers import typed_number
from configurator.app.view_models.measured_lines import RUNS_EXAMPLE, trip_example
from configurator.app.view_models.measured_ranges import mass_told
from configurator.app.view_models.measurements import (
    VEHICLE_WAS,
    TypedMeasurements,
    VehicleWas,
    kinds_offered,
    typed_from,
)
from configurator.app.view_models.typed_numbers import Bounds
from configurator.app.view_models.words import DAY_TYPED
from configurator.workflow.builds import Draft
from configurator.workflow.measured_ranges import usual_mass

RUNS = (
    "A line for each reading: seconds, then km/h. A blank line between runs; as many runs one way "
    "as the other."
)
TRIPS = "A line for each trip: driving case; km; kWh; date. The energy as the battery counted it."
LONGEST_RUNS, LONGEST_TRIPS = 200_000, 30_000
MASS = Bounds(301, 5000, "kg")
AIR = Bounds(-10, 45, "°C")
ALTITUDE = Bounds(-100, 3000, "m")
NOT_BUILT = (
    "The donor as it came in. The finished vehicle can be entered once it is built and its axle "
    "loads are noted as built."
)


def show_entries(draft: Draft) -> TypedMeasurements:
    """Lay out the entries; what is kept meanwhile shows anew, since they get other keys."""
    kept = draft.build.measurements
    usual = typed_from(kept, today=now().date(), vehicle_was=kinds_offered(draft.build)[-1])
    mark = form_mark((draft.build.reference, kept))
    with st.container(key="measured-coast-down"):
        typed = _coast_down(draft, usual, mark)
    with st.container(key="measured-trips"):
        return _with_trips(typed, mark)


def _coast_down(draft: Draft, usual: TypedMeasurements, mark: str) -> TypedMeasurements:
    st.html(tag("h2", text("Coast-down")) + tag("p", text(RUNS), class_="lead"))
    was = _driven(draft, usual, mark)
    left, right = st.columns(2)
    with left:
        day = st.date_input(
            "Day of the test", usual.measured_on, format=DAY_TYPED, key=f"measured-on-{mark}"
        )
    with right:
        kept = draft.build.measurements.coast_down
        weighed = usual.mass_kg if kept is not None and kept.vehicle_was == was else None
        label, key = "Mass with everybody in it (kg)", f"measured-kg-{mark}-{was}"
        mass = typed_number(label, weighed, MASS, step=1, key=key)
    st.html(tag("p", text(mass_told(usual_mass(premises(), draft, was))), class_="small"))
    left, right = st.columns(2)
    with left:
        key = f"measured-air-{mark}"
        air = typed_number("Air (°C)", usual.temperature_c, AIR, step=1, key=key)
    with right:
        key = f"measured-altitude-{mark}"
        altitude = typed_number("Above the sea (m)", usual.altitude_m, ALTITUDE, step=1, key=key)
    runs = st.text_area(
        "Runs",
        usual.runs,
        placeholder=RUNS_EXAMPLE,
        max_chars=LONGEST_RUNS,
        height=240,
        key=f"measured-runs-{mark}",
    )
    return TypedMeasurements(was, day, mass, air, altitude, runs, usual.trips)


def _driven(draft: Draft, usual: TypedMeasurements, mark: str) -> VehicleWas:
    """Let it be said what was driven, where more than one can have been."""
    kinds = kinds_offered(draft.build)
    if len(kinds) == 1:
        words = tag("strong", text("What was driven: ")) + text(NOT_BUILT)
        st.html(tag("p", words, class_="small"))
        return kinds[0]
    return st.radio(
        "What was driven",
        kinds,
        index=kinds.index(usual.vehicle_was),
        format_func=VEHICLE_WAS.__getitem__,
        horizontal=True,
        key=f"measured-was-{mark}",
    )


def _with_trips(typed: TypedMeasurements, mark: str) -> TypedMeasurements:
    cases = premises().catalog.driving_cases
    st.html(tag("h2", text("Trips")) + tag("p", text(TRIPS), class_="lead"))
    trips = st.text_area(
        "Trips",
        typed.trips,
        placeholder=trip_example(cases[0].id, now().date()),
        max_chars=LONGEST_TRIPS,
        height=120,
        key=f"measured-trips-{mark}",
    )
    known = "; ".join(f"{case.id} ({case.label})" for case in cases)
    st.html(tag("p", text(f"Driving cases: {known}."), class_="small"))
    return replace(typed, trips=trips)
