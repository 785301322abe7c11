"""The entries of the customer's day."""

from __future__ import annotations

from typing import Any

import streamlit as st

from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import premises
from configurator.app.screens.form_marks import form_mark
from configurator.app.screens.typed_numbers import typed_number
from configurator.app.view_models.typed_numbers import Bounds
from configurator.app.view_models.your_day import LOADS
from configurator.build_spec.day_faults import ENTRY_LABELS, bounds_of
from configurator.workflow.builds import Draft

NOTHING = ""
"""Where no number stands; None would mean that the entry is left out."""

WAY = "There and back, from a full battery."
WARM = "The battery is warmer or colder than the air"
EXPLAINED = {
    "cold_starts": "How often the day begins anew in a cabin that has cooled down.",
    "battery_is_warm": (
        "As after a night indoors or after charging; otherwise it is as warm as the air outside."
    ),
    "trailer_drag_area_m2": (
        "How much wind the trailer catches beyond the vehicle: about 0.5 for a low one, 1.5 to "
        "2.5 for a tall box or a caravan."
    ),
}
"""What an entry means, where its name alone does not say it."""


def show_entries(entries: dict[str, Any], draft: Draft) -> dict[str, Any]:
    """Lay out the entries of a day.

    Parameters
    ----------
    entries : dict
        What they show at first, as `entries_of` spreads a day.
    draft : Draft
        A day kept meanwhile shows anew, since the entries get other keys.

    Returns
    -------
    dict
        The same entries as they stand now.
    """
    kept = form_mark((draft.build.reference, draft.build.day))
    page = _Entries(dict(entries), kept)
    with st.container(key="day-way"):
        _heading("The way", WAY)
        page.slider("town_km", 200, 1)
        page.slider("country_km", 300, 1)
        page.slider("motorway_km", 300, 1)
        if page.now["motorway_km"]:
            page.slider("motorway_km_h", 130, 5)
        page.pair(("climbed_m", 50), ("descended_m", 50))
    with st.container(key="day-load"):
        _heading("Load", "")
        page.load()
        page.trailer()
    with st.container(key="day-weather"):
        _heading("Weather and stops", "")
        page.slider("temperature_c", 45, 1)
        page.slider("cabin_c", 28, 1)
        page.warmth()
        page.pair(("cold_starts", 1), ("altitude_m", 50))
    with st.container(key="day-charge"):
        _heading("Charging and reserve", "")
        page.charging()
        page.slider("reserve_percent", 60, 1)
    return page.now


class _Entries:
    """What stands in the entries now; each shows its number until somebody changes it."""

    def __init__(self, now: dict[str, Any], kept: str) -> None:
        self.now = now
        self._kept = kept

    def slider(self, name: str, most: float, step: float) -> None:
        """Show a number to be slid; whatever is kept beyond the usual stays within reach."""
        least, greatest = bounds_of(name)
        value = float(self.now[name])
        self.now[name] = st.slider(
            _label(name),
            min_value=float(least),
            max_value=min(max(float(most), value), greatest),
            value=value,
            step=float(step) if value % step == 0 else 0.1,
            format="%g",
            key=self._key(name),
        )

    def number(self, name: str, step: float, entry: str | None = None) -> None:
        """Show a number to be typed; nothing typed and what cannot be are refused when read."""
        entry = entry or name
        bounds = Bounds(*bounds_of(name), ENTRY_LABELS[name][1])
        value = self.now[entry]
        typed = typed_number(_label(name), value, bounds, step=step, key=self._key(entry))
        self.now[entry] = NOTHING if typed is None else typed
        _explain(entry)

    def pair(self, first: tuple[str, float], second: tuple[str, float]) -> None:
        """Show two numbers side by side."""
        left, right = st.columns(2)
        with left:
            self.number(*first)
        with right:
            self.number(*second)

    def tick(self, name: str, label: str) -> bool:
        """Show a box to tick."""
        self.now[name] = st.checkbox(
            plain_label(label), value=bool(self.now[name]), key=self._key(name)
        )
        return bool(self.now[name])

    def load(self) -> None:
        """Show who and what is carried."""
        names = list(LOADS)
        self.now["load"] = st.radio(
            "Who and what is carried",
            names,
            index=names.index(self.now["load"]),
            format_func=LOADS.__getitem__,
            horizontal=True,
            key=self._key("load"),
        )
        if self.now["load"] == "kg":
            self.number("load_kg", 10)

    def trailer(self) -> None:
        """Show the trailer."""
        if not self.tick("has_trailer", "With a trailer"):
            return
        left, right = st.columns(2)
        with left:
            self.number("mass_kg", 50, "trailer_mass_kg")
        with right:
            self.number("drag_area_m2", 0.1, "trailer_drag_area_m2")

    def warmth(self) -> None:
        """Show what makes battery and cabin warmer than the air."""
        self.tick("preheats", "The cabin is warmed from the cable before setting out")
        is_warm = self.tick("battery_is_warm", WARM)
        _explain("battery_is_warm")
        if is_warm:
            self.slider("battery_c", 45, 1)

    def charging(self) -> None:
        """Show how long it charges halfway, and where."""
        self.slider("hours_charging", 12, 0.25)
        if not self.now["hours_charging"]:
            return
        labels = {source.id: source.label for source in premises().catalog.charging_sources}
        kept, usual = (
            self.now["charging_source"],
            premises().catalog.workshop.overnight_source,
        )
        wanted, known = kept or usual, list(labels)
        chosen = st.selectbox(
            "Where it charges halfway",
            known,
            index=known.index(wanted) if wanted in known else None,
            format_func=labels.__getitem__,
            key=self._key("charging_source"),
        )
        self.now["charging_source"] = kept if chosen == wanted else chosen

    def _key(self, name: str) -> str:
        return f"day-{name}-{self._kept}"


def _heading(title: str, beneath: str) -> None:
    st.html(tag("h2", text(title)) + (tag("p", text(beneath), class_="lead") if beneath else ""))


def _explain(entry: str) -> None:
    if entry in EXPLAINED:
        st.html(tag("p", text(EXPLAINED[entry]), class_="small"))


def _label(name: str) -> str:
    words, unit = ENTRY_LABELS[name]
    return plain_label(f"{words} ({unit})" if unit else words)
