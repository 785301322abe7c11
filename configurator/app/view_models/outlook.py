"""What can still become of a build while choices are open: how much, and how it would end."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.app.view_models.summary import Figure
from configurator.app.view_models.words import (
    from_to,
    money_from_to,
    rounded_up,
    week_of,
)
from configurator.build_spec.spec import Spec
from configurator.rules.counting import Count

BOUNDS = "Figures are from–to: the least and the most over every build that is still possible."


@dataclass(frozen=True)
class Outlook:
    """What is said beneath the figures; empty where there is nothing to say."""

    bounds: str
    builds: str
    default: tuple[Figure, ...]
    """The build that comes out if the workshop chooses the rest."""


def outlook_of(spec: Spec, default: Spec | None, left: Count) -> Outlook:
    """Say what is still possible.

    Parameters
    ----------
    spec : Spec
        The build as it stands.
    default : Spec or None
        The same, completed by the workshop; None where no build has the choices.
    left : Count
        The builds that have the customer's choices.

    Returns
    -------
    Outlook
        Without words on what is open when nothing is.
    """
    if spec.is_complete:
        return Outlook("", "", ())
    return Outlook(
        bounds=BOUNDS if left.value else "",
        builds=builds_words(left),
        default=() if default is None else default_figures(default),
    )


def builds_words(left: Count) -> str:
    """Say how many builds are left, and how exact that is.

    Examples
    --------
    >>> builds_words(Count(7910, is_exact=True))
    'Exactly 7,910 complete builds are still possible.'
    >>> builds_words(Count(1, is_exact=True))
    'Exactly 1 complete build is still possible.'
    >>> builds_words(Count(13_408_986_096, is_exact=False))
    'At most 13.5 billion complete builds are still possible.'
    >>> builds_words(Count(0, is_exact=True))
    'No complete build is possible with these choices.'
    """
    if left.value == 0:
        return "No complete build is possible with these choices."
    if not left.is_exact:
        return f"At most {rounded_up(left.value)} complete builds are still possible."
    are = "complete build is" if left.value == 1 else "complete builds are"
    return f"Exactly {left.value:,} {are} still possible."


def default_figures(default: Spec) -> tuple[Figure, ...]:
    """Say what comes out if the workshop chooses the rest."""
    price, weights = default.price, default.weights
    lines = {line.case_id: line for line in default.ranges}
    ranges = (
        Figure(line.label, from_to(line.low_km, line.high_km, "km"))
        for case_id in default.workshop.headline_cases
        if (line := lines.get(case_id)) is not None
    )
    return (
        Figure("Price", money_from_to(price.total_low_gbp, price.total_high_gbp)),
        *ranges,
        Figure("Kerb mass", from_to(weights.kerb_low_kg, weights.kerb_high_kg, "kg")),
        Figure("Earliest finish", week_of(default.plan.earliest_handover)),
    )
