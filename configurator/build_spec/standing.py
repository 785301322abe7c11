"""How the options stand in a talk: possible or not, why not, and the smallest way out."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from configurator.build_spec.spec import ChoiceOrigin, Spec
from configurator.catalog.models.data import Data
from configurator.catalog.models.group import OptionLook


class Reason(Data):
    """Why an option is out: a minimal set; without any one member it would be possible."""

    choices: tuple[tuple[str, str], ...]
    """(group id, option id) of the customer's choices involved."""
    rules: tuple[str, ...]
    limits: tuple[str, ...]
    sentence: str
    """The same for a customer to read."""


class WayOut(Data):
    """A smallest change of other choices that would let an option in."""

    changes: tuple[tuple[str, str], ...]
    """(group id, new option id), the option itself left out."""
    sentence: str
    price_difference_gbp: Decimal


class OptionState(Data):
    """How one option stands in the talk."""

    option_id: str
    label: str
    summary: str
    look: OptionLook
    is_chosen: bool
    follows: bool
    """It is the only one left, by the rules."""
    is_available: bool
    price_gbp: Decimal
    """Its own line [GBP with VAT]."""
    price_difference_gbp: Decimal
    """Against what is chosen in the group, or the house choice while it is open."""
    reason: Reason | None
    way_out: WayOut | None


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
