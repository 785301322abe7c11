from __future__ import annotations

import pytest

from configurator.app.screens.safety import caution
from configurator.app.screens.tables import table
from configurator.catalog.models.text import SafetyMessage, SignalWord


@pytest.mark.parametrize(("signal", "tone"), [("danger", "refused"), ("warning", "asked")])
def test_a_message_says_hazard_consequence_and_how_to_avoid_it_in_its_tone(
    signal: SignalWord, tone: str
) -> None:
    message = SafetyMessage(
        signal=signal, hazard="It <bites>.", consequence="A wound.", avoid=("Stay away.",)
    )
    said = caution(message, "own", "<p>After</p>")
    assert f'class="notice {tone} own"' in said
    places = [
        said.index(words)
        for words in (f"{signal.capitalize()}. It &lt;bites&gt;.", "A wound.", "Stay", "After")
    ]
    assert sorted(places) == places


def test_title_and_heads_of_a_table_are_escaped_and_a_nameless_one_has_no_caption() -> None:
    said = table("Loads <all>", ["Axle <b>"], ["<tr></tr>"], "plain")
    assert ">Loads &lt;all&gt;</caption>" in said
    assert ">Axle &lt;b&gt;</th>" in said
    assert "<tbody><tr></tr></tbody>" in said
    assert "caption" not in table("", ["Axle"], [], "plain")
