"""Nothing a person wrote is cut without a word."""

from __future__ import annotations

import pytest

from configurator.errors import LifeError
from configurator.workflow.typed_words import LONGEST_NOTE, refuse_too_long


def test_words_that_have_no_room_are_refused_with_how_long_they_are() -> None:
    refuse_too_long("C1", "x" * LONGEST_NOTE, LONGEST_NOTE)
    with pytest.raises(LifeError, match="201 characters; 200 can be kept"):
        refuse_too_long("C1", "x" * (LONGEST_NOTE + 1), LONGEST_NOTE)
