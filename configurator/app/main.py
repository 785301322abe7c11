"""The screens: declares the pages and runs the one that is asked for."""

from __future__ import annotations

from functools import partial

import streamlit as st

from configurator.app import frame, people, session
from configurator.app.premises import premises
from configurator.app.screens import (
    as_built,
    builds,
    changes,
    charging_and_drive,
    consultation,
    electrical_set,
    enquiry,
    handover,
    log_in,
    measurements,
    papers,
    quotation,
    sign_off,
    survey,
    weights,
    wishes,
    working,
    your_day,
)


def run() -> None:
    """Show the page in the address, or the faults that keep the workshop closed."""
    st.set_page_config(page_title="Builds", page_icon=frame.ICON, layout="wide")
    frame.apply_look()
    pages: dict[session.PageName, st.Page] = {
        "builds": st.Page(builds.show, title="Builds", default=True),
        "enquiry": st.Page(enquiry.show, title="New enquiry", url_path="enquiry"),
        "consultation": st.Page(consultation.show, title="Consultation", url_path="consultation"),
        "wishes": st.Page(wishes.show, title="Wishes", url_path="wishes"),
        "day": st.Page(your_day.show, title="Your day", url_path="your-day"),
        "measurements": st.Page(
            measurements.show, title="Measured on the road", url_path="measured-on-the-road"
        ),
        "survey": st.Page(survey.show, title="Survey of the donor", url_path="survey"),
        "quotation": st.Page(quotation.show, title="Quotation", url_path="quotation"),
        "sign-off": st.Page(sign_off.show, title="Sign-off", url_path="sign-off"),
        "handover": st.Page(handover.show, title="Handover", url_path="handover"),
        "as-built": st.Page(as_built.show, title="As built", url_path="as-built"),
        "changes": st.Page(changes.show, title="Changes", url_path="changes"),
        "papers": st.Page(papers.show, title="Papers", url_path="papers"),
        "charging": st.Page(
            charging_and_drive.show, title="Charging and driving", url_path="charging-and-driving"
        ),
        "weights": st.Page(weights.show, title="Weights", url_path="weights"),
        "working": st.Page(working.show, title="Working", url_path="working"),
        "electrical": st.Page(
            electrical_set.show, title="Electrical set", url_path="electrical-set"
        ),
    }
    # The first page has no name in its address; who types the name comes to it all the same.
    by_its_name = st.Page(builds.show, title="Builds", url_path="builds")
    wanted = st.navigation([*pages.values(), by_its_name], position="hidden")
    session.note_pages(pages)
    frame.calmly("The workshop cannot open yet", partial(_open, wanted))


def _open(wanted: st.Page) -> None:
    if people.here() is None:
        log_in.show()
        return
    frame.top_bar(premises().catalog.workshop)
    frame.calmly("This cannot be done as it stands", wanted.run)
    frame.bottom()


run()
