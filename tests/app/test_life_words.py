"""What the screens about a build's life say."""

from __future__ import annotations

from configurator.app.view_models.life import warnings_to_answer
from configurator.build_spec.spec import Finding


def warning(sentence: str) -> Finding:
    return Finding(
        code="F001",
        severity="warns",
        subject="rear",
        sentence=sentence,
        source="invented for tests",
        remedy="Carry less.",
    )


def test_two_warnings_that_one_reason_answers_are_both_read() -> None:
    (told,) = warnings_to_answer([warning("Near the axle limit."), warning("Near the tyre limit.")])
    assert "Near the axle limit. Near the tyre limit." == told.sentence
    assert "Carry less." == told.remedy
