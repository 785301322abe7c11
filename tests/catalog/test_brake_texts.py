"""What the workshop tells of the brakes is true of the brakes that are fitted."""

from __future__ import annotations

import re
from pathlib import Path

from configurator.catalog.load import load_catalog
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.text import Text

DEMO = Path(__file__).parents[2] / "catalog"
OF_DRUMS, OF_DISCS = r"\b(drums?|shoes?|linings?)\b", r"\b(discs?|pads?|calipers?)\b"
WITH_DISCS = {"front-discs", "front-discs-servo"}


# Source: brakes.yaml: every option has drums behind; two of them have discs in front.
def test_a_text_for_any_brakes_names_no_kind_alone() -> None:
    for text in _brake_texts(load_catalog(DEMO)):
        fitted = set(text.applies_if.choices.get("brakes", ())) or WITH_DISCS | {"drums-servo"}
        if fitted <= WITH_DISCS or not fitted & WITH_DISCS:
            continue
        for sentence in _sentences(text):
            names_drums = re.search(OF_DRUMS, sentence, re.IGNORECASE) is not None
            names_discs = re.search(OF_DISCS, sentence, re.IGNORECASE) is not None
            assert names_drums == names_discs, f"{text.id}: {sentence}"


# Source: common practice, no source: dust of old linings may hold asbestos; drums stay behind.
def test_wherever_drums_are_fitted_their_dust_is_warned_of() -> None:
    cared = [text for text in load_catalog(DEMO).texts if text.id.endswith("drum-brakes")]
    assert 2 == len(cared)
    for text in cared:
        assert "never blow it out" in text.body, text.id


def _brake_texts(catalog: Catalog) -> list[Text]:
    return [text for text in catalog.texts if "brakes" in text.id]


def _sentences(text: Text) -> list[str]:
    safety = text.safety
    said = [text.title, *re.split(r"(?<=[.!?])\s|\n", text.body)]
    return said if safety is None else [*said, safety.hazard, safety.consequence, *safety.avoid]
