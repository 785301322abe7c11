"""The download of the pack as far as the vehicle is measured, wherever a page offers it."""

from __future__ import annotations

import streamlit as st

from configurator.app.markup import plain_label
from configurator.app.premises import premises
from configurator.workflow.as_built import measured_draft_pack


def offer_draft_pack(reference: str, label: str) -> None:
    """Offer the pack of the issued spec with what is measured so far; each page says draft."""
    st.download_button(
        plain_label(label),
        data=lambda: measured_draft_pack(premises(), reference),
        file_name=f"{reference}-handover-pack-draft.pdf",
        mime="application/pdf",
        key="download-draft-pack",
        on_click="ignore",
    )
