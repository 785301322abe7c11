from __future__ import annotations

import sys

import pytest
from streamlit.testing.v1 import AppTest

from configurator.build_life.people import Person


def _who_acts() -> None:
    import streamlit as st

    from configurator.app.people import acting

    st.text(acting().in_words)


def test_the_one_person_named_at_the_start_acts_in_a_workshop_worked_alone(
    monkeypatch: pytest.MonkeyPatch,
):
    monkeypatch.setattr(sys, "argv", ["main.py", "--data", "record", "--solo", " A. Sample "])
    screen = AppTest.from_function(_who_acts).run()
    assert "A. Sample, manager, alone in this workshop" == screen.text[0].value


def test_the_person_logged_in_acts_in_the_role_worn(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys, "argv", ["main.py", "--solo", "A. Sample"])
    screen = AppTest.from_function(_who_acts)
    screen.session_state["person"] = Person(name="B. Invented", role="engineer")
    assert "B. Invented, engineer" == screen.run().text[0].value
