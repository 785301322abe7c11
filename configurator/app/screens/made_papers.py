"""The papers made so far."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import streamlit as st

from configurator.app.markup import tag, text
from configurator.app.view_models.papers import PaperLine
from configurator.workflow.stored_document import StoredDocument


def show_made_papers(lines: Sequence[PaperLine]) -> None:
    """List what was made, each to be had again exactly as it was."""
    st.html(tag("h2", text("Made so far")))
    if not lines:
        st.html(
            tag(
                "section",
                tag(
                    "p",
                    text(
                        "No paper was made yet. What you download is kept, and listed here when "
                        "you come back."
                    ),
                ),
                class_="empty small-empty",
            )
        )
        return
    for number, line in enumerate(lines):
        _made_paper(number, line)


def _made_paper(number: int, line: PaperLine) -> None:
    made = f"Made {line.made} from the choices marked {line.mark}"
    look = "missing" if line.is_out_of_date else "small"
    standing = tag("p", text(line.standing), class_=look) if line.standing else ""
    with st.container(key=f"paper-{number}", horizontal=True, vertical_alignment="center"):
        title = tag("p", tag("strong", text(line.name)))
        st.html(title + tag("p", text(made), class_="small") + standing)
        st.download_button(
            f"Download it again ({number + 1})",
            data=partial(_kept_content, line.document),
            file_name=line.document.name,
            mime="application/pdf",
            key=f"again-{number}",
            on_click="ignore",
        )


def _kept_content(document: StoredDocument) -> bytes:
    return document.content
