"""The entries of what was measured on the road."""

from __future__ import annotations

import hashlib
from dataclasses import replace

import streamlit as st

from configurator.app.markup import tag, text
from configurator.app.premises import now, premises
from configurator.app.view_models.measured_ranges import mass_told
from configurator.app.view_models.measurements import (
    VEHICLE_WAS,
    TypedMeasurements,
    VehicleWas,
    typed_from,
)
from configurator.workflow.builds import Draft
from configurator.workflow.measured_ranges import usual_mass

RUNS = (
    "A line for each reading: seconds, then km/h. A blank line between runs; as many runs one way "
    "as the other."
)
TRIPS = "A line for each trip: driving case; km; kWh; date. The energy as the battery counted it."
RUNS_EXAMPLE = "0 80.4\n2.5 71.3\n5 63.0\n\n0 80.1\n2.5 71.0"
LONGEST_RUNS, LONGEST_TRIPS = 200_000, 30_000
LEAST_KG, MOST_KG = 301.0, 5000.0
KINDS = tuple(VEHICLE_WAS)


def show_entries(draft: Draft) -> TypedMeasurements:
    """Lay out the entries; what is kept meanwhile shows anew, since they get other keys."""
    kept = draft.build.measurements
    usual = typed_from(kept, today=now().date(), mass_kg=LEAST_KG)
    mark = hashlib.sha256(repr((draft.build.reference, kept)).encode()).hexdigest()[:12]
    with st.container(key="measured-coast-down"):
        typed = _coast_down(draft, usual, mark)
    with st.container(key="measured-trips"):
        return _with_trips(typed, mark)


def _coast_down(draft: Draft, usual: TypedMeasurements, mark: str) -> TypedMeasurements:
    st.html(tag("h2", text("Coast-down")) + tag("p", text(RUNS), class_="lead"))
    was = st.radio(
        "What was driven",
        KINDS,
        index=KINDS.index(usual.vehicle_was),
        format_func=VEHICLE_WAS.__getitem__,
        horizontal=True,
        key=f"measured-was-{mark}",
    )
    left, right = st.columns(2)
    with left:
        day = st.date_input("Day of the test", usual.measured_on, key=f"measured-on-{mark}")
        air = _number("Air (°C)", usual.temperature_c, (-10.0, 45.0), f"measured-air-{mark}")
    with right:
        mass = _mass(draft, was, f"measured-kg-{mark}-{was}")
        altitude = _number(
            "Above the sea (m)", usual.altitude_m, (-100.0, 3000.0), f"measured-altitude-{mark}"
        )
    runs = st.text_area(
        "Runs",
        usual.runs,
        placeholder=RUNS_EXAMPLE,
        max_chars=LONGEST_RUNS,
        height=240,
        key=f"measured-runs-{mark}",
    )
    return TypedMeasurements(was, day, mass, air, altitude, runs, usual.trips)


def _mass(draft: Draft, was: VehicleWas, key: str) -> float:
    """Let the mass be entered; it opens with what is kept, else with what is likely, told."""
    label, bounds = "Mass with everybody in it (kg)", (LEAST_KG, MOST_KG)
    kept = draft.build.measurements.coast_down
    if kept is not None and kept.vehicle_was == was:
        return _number(label, kept.mass_kg, bounds, key)
    usual = usual_mass(premises(), draft, was)
    mass = _number(label, min(max(float(round(usual.mass_kg)), LEAST_KG), MOST_KG), bounds, key)
    st.html(tag("p", text(mass_told(usual)), class_="small"))
    return mass


def _with_trips(typed: TypedMeasurements, mark: str) -> TypedMeasurements:
    cases = premises().catalog.driving_cases
    st.html(tag("h2", text("Trips")) + tag("p", text(TRIPS), class_="lead"))
    trips = st.text_area(
        "Trips",
        typed.trips,
        placeholder=f"{cases[0].id}; 42; 9.8; 2026-05-04",
        max_chars=LONGEST_TRIPS,
        height=120,
        key=f"measured-trips-{mark}",
    )
    known = "; ".join(f"{case.id} ({case.label})" for case in cases)
    st.html(tag("p", text(f"Driving cases: {known}."), class_="small"))
    return replace(typed, trips=trips)


def _number(label: str, value: float, bounds: tuple[float, float], key: str) -> float:
    least, most = bounds
    typed = st.number_input(
        label, min_value=least, max_value=most, value=value, step=1.0, format="%g", key=key
    )
    return typed if typed is not None else value
