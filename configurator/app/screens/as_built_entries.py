"""The entries of what was measured on the finished vehicle, and of its serial numbers."""

from __future__ import annotations

from datetime import date
from functools import partial
from typing import cast

import streamlit as st

from configurator.app import session
from configurator.app.markup import plain_label, tag, text
from configurator.app.premises import now, premises
from configurator.app.screens.form_marks import form_mark
from configurator.app.screens.life_parts import do_calmly
from configurator.app.view_models.as_built import (
    choice_words,
    serial_rows,
    specified_words,
    written_notice,
    written_numbers,
)
from configurator.app.view_models.words import DAY_TYPED
from configurator.build_life.people import Person
from configurator.build_life.required_records import SERIAL_NUMBER
from configurator.build_life.tolerances import NO, YES, RecordVerdict, ValueVerdict
from configurator.catalog.models.component import Slot
from configurator.workflow.as_built import (
    AsBuiltState,
    record_measurement,
    record_serial_numbers,
)
from configurator.workflow.handover import gate_of

SERIALS = (
    "Read from the part itself. Where a part carries none, write what tells it from another: week "
    "of make, drawing, invoice in the file."
)
LONGEST = 120
NO_NEW_NUMBER = "No serial number was typed or altered, so nothing is written down."
WHY = "Why it is corrected"


def show_record_entry(
    reference: str, state: AsBuiltState, by: Person, *, is_correction: bool
) -> None:
    """Lay out the entry of one record, the first that is missing unless another is taken."""
    verdicts = [found for found in state.verdicts if found.record.id != SERIAL_NUMBER]
    if not verdicts:
        return
    st.html(tag("h2", text("Write down what was measured")))
    waiting = [number for number, found in enumerate(verdicts) if not found.is_settled]
    number = st.selectbox(
        "Record",
        range(len(verdicts)),
        index=waiting[0] if waiting else 0,
        format_func=lambda each: choice_words(verdicts[each]),
        key=f"record-{_mark(state)}",
    )
    found = verdicts[number]
    about = f"{found.record.because} {specified_words(found, state.spec)}"
    st.html(tag("p", text(about.rstrip()), class_="small"))
    _record_form(reference, found, by, WHY if is_correction else "Note")


def _record_form(reference: str, found: RecordVerdict, by: Person, note_label: str) -> None:
    record, made = found.record, found.made
    mark = f"{record.id}-{form_mark(made)}"
    with st.form(f"record-form-{mark}", border=False):
        left, right = st.columns(2)
        with left:
            values = {held.value.id: _value(held, mark) for held in found.values}
        with right:
            instrument, until = _instrument(found, mark)
            on = st.date_input(
                "Measured on", value=now().date(), format=DAY_TYPED, key=f"on-{mark}"
            )
            who = st.text_input("Measured by", value=by.name, max_chars=200, key=f"who-{mark}")
            note = st.text_input(note_label, max_chars=200, key=f"note-{mark}")
        sent = st.form_submit_button("Write it down", type="primary")
    if sent:
        act = partial(
            record_measurement,
            premises(),
            reference,
            record.id,
            values=values,
            instrument=instrument,
            calibrated_until=until,
            measured_on=on,
            measured_by=who or " ",
            note=note or "",
            by=by,
            now=now(),
        )
        do_calmly(act, lambda _entry: _written_down(reference, found))


def _written_down(reference: str, entered: RecordVerdict) -> session.Notice:
    """Tell that a record is written down, as a warning where it does not hold."""
    gate = gate_of(premises(), reference)
    now_held = next(held for held in gate.verdicts if held.record.key == entered.record.key)
    tells = any(value.tells for value in entered.record.values)
    return written_notice(now_held, gate.found_by_checks if tells else ())


def _value(held: ValueVerdict, mark: str) -> str:
    value, key = held.value, f"value-{mark}-{held.value.id}"
    unit = f" ({value.unit})" if value.unit else ""
    limit = f", {held.limit}" if held.limit and value.kind == "number" else ""
    label = plain_label(f"{value.label}{unit}{limit}")
    if value.kind == "yes-no":
        return st.radio(label, (YES, NO), index=None, horizontal=True, key=key) or ""
    return (st.text_input(label, max_chars=LONGEST, key=key) or "").strip()


def _instrument(found: RecordVerdict, mark: str) -> tuple[str, date | None]:
    record, made = found.record, found.made
    if not record.needs_instrument:
        return "", None
    name = st.text_input(
        "Instrument, with its number",
        value=made.instrument if made else "",
        max_chars=200,
        key=f"instrument-{mark}",
    )
    until = None
    if record.needs_calibration:
        until = st.date_input(
            "Its calibration counts until",
            value=made.calibrated_until if made else None,
            format=DAY_TYPED,
            key=f"until-{mark}",
        )
    return name or "", until


def show_serial_numbers(
    reference: str, state: AsBuiltState, by: Person, *, is_correction: bool
) -> None:
    """Lay out the serial numbers of all that is fitted; those that changed are written down."""
    rows = serial_rows(state.verdicts)
    if not rows:
        return
    st.html(tag("h2", text("Serial numbers")) + tag("p", text(SERIALS), class_="small"))
    mark = form_mark(rows)
    with st.form(f"serial-numbers-{mark}", border=False):
        columns = st.columns(2)
        typed = {}
        for place, (slot, label, number) in enumerate(rows):
            with columns[place % 2]:
                typed[slot] = st.text_input(
                    plain_label(label), value=number, max_chars=LONGEST, key=f"serial-{slot}-{mark}"
                )
        on = st.date_input("Read on", value=now().date(), format=DAY_TYPED, key=f"read-on-{mark}")
        note = ""
        if is_correction:
            note = st.text_input(WHY, max_chars=200, key=f"serial-note-{mark}")
        sent = st.form_submit_button("Write the serial numbers down")
    if sent:
        told = {slot: number for slot, _, number in rows}
        changed = {
            cast("Slot", slot): (number or "").strip()
            for slot, number in typed.items()
            if (number or "").strip() != told[slot]
        }
        if not changed:
            session.say("asked", (NO_NEW_NUMBER,))
            st.rerun()
        act = partial(
            record_serial_numbers,
            premises(),
            reference,
            changed,
            read_on=on,
            note=note or "",
            by=by,
            now=now(),
        )
        do_calmly(act, lambda entries: written_numbers(len(entries), len(rows)))


def _mark(state: AsBuiltState) -> str:
    return form_mark([(found.record.key, found.made) for found in state.verdicts])
