"""How the options stand in a talk: possible or not, why not, and the smallest way out."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from configurator.build_spec.spec import ChoiceOrigin, Spec
from configurator.catalog.models.data import Data
from configurator.catalog.models.group import OptionLook


class LimitReached(Data):
    """How near the rest of a reason lets a build come to a limit that speaks against an option."""

    limit_id: str
    label: str
    bound: float
    reached: float
    """The best that any build with the choices and under the other rules of the reason has."""
    unit: str
    heaviest: tuple[tuple[str, float], ...] = ()
    """The options that weigh most in that build, heaviest first, each with what another option of
    its group would relieve the limit of, in the limit's unit."""


class Reason(Data):
    """Why an option is out: a minimal set; without any one member it would be possible."""

    choices: tuple[tuple[str, str], ...]
    """(group id, option id) of the customer's choices involved."""
    rules: tuple[str, ...]
    limits: tuple[str, ...]
    reached: tuple[LimitReached, ...] = ()
    sentence: str
    """The same for a customer to read."""


class Difference(Data):
    """What a change does to the build as the workshop would complete it, after less before."""

    price_gbp: Decimal
    range_km: float | None
    """The middle of the range in the harder headline case; None where either cannot drive."""
    range_label: str = ""
    kerb_mass_kg: float
    handover_days: int


class WayOut(Data):
    """A smallest change of other choices that would let an option in."""

    changes: tuple[tuple[str, str], ...]
    """(group id, new option id), the option itself left out."""
    sentence: str
    difference: Difference | None = None
    price_difference_gbp: Decimal
    """Of the options changed and the option itself against what stands in their groups."""


class OptionState(Data):
    """How one option stands in the talk."""

    option_id: str
    label: str
    summary: str
    look: OptionLook
    is_chosen: bool
    follows: bool
    """It is the only one left, by the rules."""
    is_available: bool | None
    """None while the exact answer is still being worked out."""
    price_gbp: Decimal
    """Its own line [GBP with VAT]."""
    price_difference_gbp: Decimal
    """Against what is chosen in the group, or the house choice while it is open."""
    reason: Reason | None
    """Why it is out or, where it alone is left, why the others of its group are."""
    ways_out: tuple[WayOut, ...] = ()
    """Up to three, the smallest change first."""
    no_way_out: str = ""
    """Why there is none, where there is none."""


class GroupState(Data):
    """A group in the talk with all its options, in the order of the catalog."""

    group_id: str
    label: str
    question: str
    part_id: str
    shown_as: Literal["tiles", "colours"]
    closes_at: str
    chosen_option_id: str | None
    origin: ChoiceOrigin | None
    must_keep: bool = False
    """The customer marked the choice: no way out alters it."""
    withdrawn_option_id: str | None = None
    """What was chosen and the catalog does not offer any more; nothing is put in its place."""
    options: tuple[OptionState, ...]


class Assessment(Data):
    """What the consultation shows: the spec and how every option stands."""

    spec: Spec
    groups: tuple[GroupState, ...]
    is_contradictory: bool
    """The choices break a rule or a limit together; the findings say which."""


class PriceFromTo(Data):
    """The price [GBP with VAT] over all builds still possible, told before the other figures."""

    low_gbp: Decimal
    high_gbp: Decimal
    vat_percent: Decimal
