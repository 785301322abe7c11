"""What can be said to wishes: the best complete builds, or what would have to give way."""

from __future__ import annotations

from decimal import Decimal

from configurator.build_spec.spec import Fact
from configurator.catalog.models.build import Wish
from configurator.catalog.models.data import Data


class WishedBuild(Data):
    """A complete build that keeps all rules and limits, and what it gives up."""

    choices: dict[str, str]
    """Every group with its option."""
    price_gbp: Decimal
    facts: tuple[Fact, ...]
    """Of every wish, in order, then price, harder headline range (low), kerb mass and finish."""
    preferences_kept: int
    gives_up: tuple[str, ...]
    """One sentence for each preference not kept and each wish missed, with by how much."""
    differs_by: str
    """What kind of build it is beside the others, such as "the cheapest" or "goes furthest"."""


class WishMissed(Data):
    """A wish that has to give way, and the least amount by which."""

    wish: Wish
    reachable: float
    """The best value of the fact when only this wish gives way."""
    short_by: float
    unit: str
    sentence: str


class FrontPoint(Data):
    """A build that no other beats in both price and winter range."""

    price_gbp: Decimal
    range_km: float
    choices: dict[str, str]
    label: str
    """The options that tell it from its neighbours."""


class WishAnswer(Data):
    """The answer to a customer's wishes."""

    all_met: bool
    builds: tuple[WishedBuild, ...]
    """At most three that differ in kind, the best first; when not all wishes can be met together,
    the best builds that give up the fewest."""
    give_up: tuple[tuple[Wish, ...], ...] = ()
    """When they cannot all be met: the smallest sets of wishes of which giving up one set helps."""
    missed: tuple[WishMissed, ...] = ()
    """Each wish that alone could give way, with the least amount."""
    must_keeps_in_the_way: str = ""
    """Said when the choices that must be kept already contradict each other or the wishes."""


class WishFront(Data):
    """The builds among which only price decides against winter range, cheapest first."""

    case_id: str
    case_label: str
    is_complete: bool
    """False where points between the ones told may be missing."""
    points: tuple[FrontPoint, ...]
