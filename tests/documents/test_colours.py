"""Text reads on every ground that the documents use."""

from __future__ import annotations

import pytest

from configurator.documents.colours import TEXT_PAIRS
from configurator.drawings.colour import LEAST_TEXT_CONTRAST, contrast_ratio


@pytest.mark.parametrize(("words", "ground"), TEXT_PAIRS)
def test_text_has_contrast_on_its_ground(words: str, ground: str) -> None:
    # Source: W3C Web Content Accessibility Guidelines 2.2, 1.4.3, level AA: 4.5 to 1.
    assert contrast_ratio(words, ground) >= LEAST_TEXT_CONTRAST == 4.5
