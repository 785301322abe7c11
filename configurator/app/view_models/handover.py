"""The handover gate, as its screen tells it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from configurator.app.view_models.life import Row, who_and_when
from configurator.app.view_models.words import money
from configurator.build_life.entries import HandedOver, OwnerTold, PackIssued, RevisionGiven
from configurator.build_life.gate import Missing
from configurator.build_life.life import Life
from configurator.build_spec.days import day_in_words
from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import Spec
from configurator.catalog.models.text import SafetyMessage

if TYPE_CHECKING:
    from configurator.app.session import PageName

HANDED_OVER_CARE = SafetyMessage(
    signal="warning",
    hazard="The vehicle is with its owner, and what is listed here does not hold on it.",
    consequence="Brakes, axles or the high-voltage set may fail those who drive or touch it.",
    avoid=(
        "Tell the owner today what was found, and let a competent person decide whether the "
        "vehicle may be driven or charged.",
        "Mend it and measure again; the next revision of the pack tells the owner the outcome.",
    ),
)
MISSING_HEADS = ("Missing", "Why", "Who can close it")
WAYS: dict[PageName, str] = {
    "consultation": "To the talk",
    "quotation": "To the quotation",
    "changes": "To the changes",
    "sign-off": "To the sign-offs",
    "as-built": "To the as-built record",
}
"""Where things are closed, in the order of the work."""


def missing_rows(missing: Iterable[Missing]) -> tuple[Row, ...]:
    """Tell what is missing, why, and who can close it."""
    return tuple(
        Row(
            (
                one.what,
                f"{one.why[:1].upper()}{one.why[1:]}",
                one.role.replace("-", " ").capitalize(),
            )
        )
        for one in missing
    )


def unsettled_words(spec: Spec) -> str:
    """Say which provisional sums nobody has settled yet; empty where there is none."""
    sums = [found for found in spec.survey if found.provisional_gbp]
    if not sums:
        return ""
    named = listed([f"{found.label} ({money(found.provisional_gbp)})" for found in sums])
    return (
        f"Not settled yet, provisional sums of {named}. In the survey, write the hours and parts "
        "that the work came to and leave the sum empty; a change order then has it signed, and "
        "the payments follow."
    )


def pages(missing: Iterable[Missing]) -> tuple[tuple[PageName, str], ...]:
    """List the pages on which what is missing is closed, each once."""
    wanted = {one.page for one in missing}
    return tuple((page, label) for page, label in WAYS.items() if page in wanted)


def pack_sentences(life: Life) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Say which revisions were issued, each with what changed, and the handing over."""
    told: list[tuple[str, tuple[str, ...]]] = []
    for entry in life.entries:
        if isinstance(entry.body, PackIssued):
            said = f"Revision {entry.body.revision}, {who_and_when(entry)}"
            told.append((said, entry.body.changes))
        if isinstance(entry.body, HandedOver):
            on = day_in_words(entry.body.handed_over_on)
            told.append((f"Handed over on {on}, noted by {who_and_when(entry)}", ()))
        if isinstance(entry.body, RevisionGiven):
            on, how = day_in_words(entry.body.given_on), entry.body.how.rstrip(".")
            said = f"Revision {entry.body.revision} given to the owner on {on}: {how}"
            told.append((f"{said}. Noted by {who_and_when(entry)}", ()))
        if isinstance(entry.body, OwnerTold):
            on, how = day_in_words(entry.body.told_on), entry.body.how.rstrip(".")
            said = f"The owner was told on {on} what was found: {how}"
            told.append((f"{said}. Noted by {who_and_when(entry)}", ()))
    return tuple(told)
