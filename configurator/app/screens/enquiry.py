"""The enquiry: who asks, and for which vehicle."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NoReturn

import streamlit as st

from configurator.app import frame, session
from configurator.app.markup import plain_label, tag, text
from configurator.app.pictures import vehicle_picture
from configurator.app.premises import now, premises
from configurator.app.view_models.enquiry import (
    LONGEST_LINE,
    LONGEST_NOTE,
    TypedEnquiry,
    customer_and_donor,
    enquiry_problems,
)
from configurator.catalog.models.vehicle import Vehicle
from configurator.workflow.builds import start_enquiry

IN_A_ROW = 3


def show() -> None:
    """Lay out the form; a build is created by its button and by nothing else."""
    frame.heading(
        "New enquiry",
        "Who asks, and for which vehicle. The rest is found in the talk and can be changed there.",
    )
    frame.show_notices()
    vehicle_id = _vehicle(premises().catalog.vehicles)
    with st.form("enquiry", border=False):
        typed = _fields(vehicle_id)
        sent = st.form_submit_button("Begin the talk", type="primary")
    if sent:
        _begin(typed)


def _vehicle(vehicles: Sequence[Vehicle]) -> str | None:
    st.html(tag("h2", text("Which vehicle is it?")))
    with st.container(key="vehicles"):
        for start in range(0, len(vehicles), IN_A_ROW):
            columns = st.columns(IN_A_ROW, gap="medium")
            for column, vehicle in zip(columns, vehicles[start : start + IN_A_ROW], strict=False):
                with column:
                    _introduce(vehicle)
    return session.wanted_vehicle()


def _fields(vehicle_id: str | None) -> TypedEnquiry:
    with st.container(key="person"):
        left, right = st.columns(2, gap="medium")
        name = left.text_input("Customer’s name", max_chars=LONGEST_LINE)
        contact = right.text_input("How to reach them", max_chars=LONGEST_LINE)
        donor = st.text_area(
            "What is known of the donor vehicle",
            placeholder="Its condition, what is missing, where it stands",
            max_chars=LONGEST_NOTE,
            height=100,
        )
        notes = st.text_area(
            "Notes for the workshop",
            placeholder="What the customer wishes for; not shown in the talk",
            max_chars=LONGEST_NOTE,
            height=100,
        )
    return TypedEnquiry(name or "", contact or "", vehicle_id, donor or "", notes or "")


def _introduce(vehicle: Vehicle) -> None:
    picture = vehicle_picture(vehicle, ())
    st.image(picture.svg, alt=picture.alt, width="stretch")
    is_wanted = session.wanted_vehicle() == vehicle.id
    st.html(
        tag("h3", text(vehicle.label), class_="wanted" if is_wanted else None)
        + tag("p", text(f"{vehicle.kind}, {vehicle.year}"), class_="kind")
        + tag("p", text(vehicle.introduction))
    )
    label = plain_label(vehicle.label)
    if st.button(
        f"✓ {label} it is" if is_wanted else f"Choose the {label}",
        key=f"vehicle-{vehicle.id}",
    ):
        session.want_vehicle(vehicle.id)
        st.rerun()


def _begin(typed: TypedEnquiry) -> None:
    problems = enquiry_problems(typed)
    people = None if problems else customer_and_donor(typed)
    if people is None or typed.vehicle_id is None:
        session.say("refused", problems or ("A field holds something that cannot be kept.",))
        frame.show_notices()
        return
    customer, donor = people
    reference = start_enquiry(
        premises(),
        customer=customer,
        vehicle_id=typed.vehicle_id,
        donor=donor,
        notes=typed.notes.strip(),
        now=now(),
    )
    session.want_vehicle(None)
    _leave(reference)


def _leave(reference: str) -> NoReturn:
    session.go_to("consultation", reference)
