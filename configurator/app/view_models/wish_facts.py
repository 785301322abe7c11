"""The facts a wish can be about, in the order people ask for them, and targets in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from configurator.app.view_models.words import UNBROKEN_SPACE, from_to, money_from_to
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import Wish
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.rule import FactName

Side = Literal["at least", "at most"]


@dataclass(frozen=True)
class WishableFact:
    """A fact that a wish can be about; whether more or less of it is wished follows from it."""

    fact: FactName
    case: str | None
    side: Side
    label: str
    about: str
    """What the figure means to a customer."""

    @property
    def unit(self) -> str:
        """Unit of the target as typed."""
        return FACT_LABELS[self.fact].unit

    @property
    def key(self) -> str:
        """Tells it from the others."""
        return f"{self.fact}-{self.case or 'any'}-{self.side.replace(' ', '-')}"


WITHOUT_CASE: tuple[tuple[FactName, Side, str], ...] = (
    ("handover_weeks", "at most", "From the order to the earliest handover, the queue included."),
    ("kerb_mass_kg", "at most", "Ready to drive, with nobody and nothing in it."),
    ("seats", "at least", "Places to sit, the driver’s among them."),
    ("payload_kg", "at least", "People and things it may carry beside the driver."),
    ("front_axle_margin_kg", "at least", "What the front axle could still carry, fully laden."),
    ("rear_axle_margin_kg", "at least", "What the rear axle could still carry, fully laden."),
    ("hill_restart_percent", "at least", "The steepest slope it starts on again, fully laden."),
    ("cruise_power_margin_kw", "at least", "Power left over at a steady 90 km/h."),
    ("top_speed_km_h", "at least", "The speed it can hold on the level."),
    ("usable_energy_kwh", "at least", "What the battery gives from full to empty."),
)


def wishable_facts(catalog: Catalog) -> tuple[WishableFact, ...]:
    """List what can be wished for, the figures that the talk shows first.

    Parameters
    ----------
    catalog : Catalog
        Its driving cases and charging sources give the facts that have a case.

    Returns
    -------
    tuple of WishableFact
        No two with the same key.
    """
    return (
        *_ranges(catalog),
        WishableFact("price_gbp", None, "at most", FACT_LABELS["price_gbp"].label, "VAT included."),
        *_charging(catalog),
        *(
            WishableFact(fact, None, side, FACT_LABELS[fact].label, about)
            for fact, side, about in WITHOUT_CASE
        ),
    )


def fact_of_wish(wish: Wish, wishable: tuple[WishableFact, ...]) -> WishableFact:
    """Find what a wish is about; also one that the list does not hold (any more)."""
    side: Side = "at least" if wish.at_least is not None else "at most"
    for known in wishable:
        if (known.fact, known.case, known.side) == (wish.fact, wish.case, side):
            return known
    case = f", {wish.case}" if wish.case else ""
    label = f"{FACT_LABELS[wish.fact].label}{case}"
    return WishableFact(wish.fact, wish.case, side, label, "")


def still_possible(spec: Spec, fact: WishableFact) -> str:
    """Say between what a fact lies over all builds that the choices made so far still allow.

    Parameters
    ----------
    spec : Spec
        Of the choices made so far.
    fact : WishableFact
        What the wish would be about.

    Returns
    -------
    str
        A sentence; empty for a figure that the outline of a talk leaves out.
    """
    found = spec.fact(fact.fact, fact.case)
    if found is None:
        return ""
    if fact.fact == "price_gbp":
        told = money_from_to(spec.price.total_low_gbp, spec.price.total_high_gbp)
        return f"As chosen so far: {told}."
    # Of a range the outline of a talk holds the outer edges alone.
    furthest = spec.fact("range_high_km", fact.case) if fact.fact == "range_low_km" else None
    high, edges = (furthest.high, " from low to high edge") if furthest else (found.high, "")
    told = from_to(found.low, high, fact.unit, FACT_LABELS[fact.fact].decimals).strip()
    return f"As chosen so far: {told}{edges}."


def is_known(wish: Wish, catalog: Catalog) -> bool:
    """Tell whether the catalog still has the driving case or charging source of a wish."""
    cases = {case.id for case in catalog.driving_cases}
    sources = {source.id for source in catalog.charging_sources}
    return wish.case is None or wish.case in cases | sources


def target_of(wish: Wish) -> float:
    """Read the number of a wish, whichever side it is of."""
    return wish.at_least if wish.at_least is not None else wish.at_most or 0.0


def target_in_words(wish: Wish) -> str:
    """Say what a wish asks for.

    Examples
    --------
    >>> target_in_words(Wish(fact="price_gbp", at_most=46000))
    'at most £46,000'
    >>> target_in_words(Wish(fact="range_low_km", case="lanes", at_least=149.5)).split()
    ['at', 'least', '149.5', 'km']
    """
    side = "at least" if wish.at_least is not None else "at most"
    return f"{side} {amount_in_words(wish.fact, target_of(wish))}"


def amount_in_words(fact: FactName, amount: float) -> str:
    """Say a typed amount with its unit, with no digit more or less than it has.

    Examples
    --------
    >>> amount_in_words("price_gbp", 46250.4), amount_in_words("seats", 2.0)
    ('£46,250.40', '2')
    """
    unit = FACT_LABELS[fact].unit
    if unit == "GBP":
        return f"£{amount:,.0f}" if amount == round(amount) else f"£{amount:,.2f}"
    number = f"{amount:,.3f}".rstrip("0").rstrip(".").replace("-", "\N{MINUS SIGN}")
    return f"{number}{UNBROKEN_SPACE}{unit}" if unit else number


def _ranges(catalog: Catalog) -> Iterator[WishableFact]:
    shown_first = catalog.workshop.headline_cases
    order = {case_id: number for number, case_id in enumerate(shown_first)}
    name = FACT_LABELS["range_low_km"].label
    about = "The low edge of the estimate: of ten such drives nine go further."
    for case in sorted(catalog.driving_cases, key=lambda case: order.get(case.id, len(order))):
        label = f"{name}: {case.label}"
        yield WishableFact("range_low_km", case.id, "at least", label, about)


def _charging(catalog: Catalog) -> Iterator[WishableFact]:
    overnight = catalog.workshop.overnight_source
    name = FACT_LABELS["charging_hours"].label
    for source in sorted(catalog.charging_sources, key=lambda source: source.id != overnight):
        label = f"{name}: {source.label}"
        about = _about_charging(source)
        yield WishableFact("charging_hours", source.id, "at most", label, about)


def _about_charging(source: ChargingSource) -> str:
    return f"From {source.from_percent:.0f} to {source.to_percent:.0f} % of the battery."
