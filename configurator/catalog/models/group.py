"""Option groups and their options: what can be chosen, and what each choice brings along."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from configurator.catalog.models.component import Slot
from configurator.catalog.models.data import Data, Identifier, Label, Money, Sentence, Source
from configurator.catalog.models.vehicle import PlacedItem, Work

SrgbColour = Annotated[str, StringConstraints(pattern=r"^#[0-9a-f]{6}$")]


class Effects(Data):
    """What an option adds to the physics; sums over the chosen options."""

    drag_area_m2: float = Field(ge=-1, le=2, default=0)
    rolling_resistance: float = Field(ge=-0.01, le=0.01, default=0)
    cabin_heat_loss_w_per_k: float = Field(ge=-100, le=200, default=0)
    auxiliary_power_w: float = Field(ge=-500, le=3000, default=0)
    low_voltage_load_w: float = Field(ge=-1000, le=3000, default=0)
    trailer_kg: float = Field(ge=0, le=3500, default=0)
    """Braked trailer the option allows for."""


class OptionLook(Data):
    """How an option shows in the vehicle's picture."""

    body_colour: SrgbColour | None = None
    second_colour: SrgbColour | None = None
    swatch: SrgbColour | None = None
    """A colour patch for the tile where the picture does not show the option."""
    roof_shape: Literal["fixed", "folding", "raised", "hardtop"] | None = None
    wheel_style: Literal["steel", "spoked", "slotted"] | None = None
    extra: Literal["roof-rack", "tow-ball", "spare-wheel", "awning", "load-cover"] | None = None


class OptionBase(Data):
    """What an option brings along; a vehicle may state its own."""

    parts_gbp: Money = Field(default="0.00", validate_default=True)
    lead_weeks: int = Field(ge=0, le=104, default=0)
    needed_by: Identifier | None = None
    work: tuple[Work, ...] = ()
    puts_in: tuple[PlacedItem, ...] = ()
    takes_out: tuple[PlacedItem, ...] = ()
    carries: tuple[PlacedItem, ...] = ()
    """Load and people that the laden vehicle carries because of this option."""


class VehicleOverride(OptionBase):
    """What the same option means on one vehicle; a key that is given replaces the general one."""


class Option(OptionBase):
    """Something that can be chosen."""

    id: Identifier
    label: Label
    summary: Sentence
    vehicles: tuple[Identifier, ...] | None = None
    """The vehicles it is offered for; all when absent."""
    priced_on: date
    seats: int = Field(ge=0, le=9, default=0)
    fits: dict[Slot, Identifier] = {}
    effects: Effects = Effects()
    look: OptionLook = OptionLook()
    on_vehicle: dict[Identifier, VehicleOverride] = {}
    source: Sentence | Source = "common practice, no source"


class Group(Data):
    """A question of the talk; exactly one of its options is chosen in a complete build."""

    id: Identifier
    label: Label
    part: Identifier
    order: int = Field(ge=0, le=999)
    question: Sentence
    vehicles: tuple[Identifier, ...] | None = None
    closes_at: Identifier
    """The stage by which the choice must be made."""
    house_choice: Identifier
    """What the workshop fits when the customer has no wish."""
    house_choice_on: dict[Identifier, Identifier] = {}
    """The same for single vehicles, where they are offered something else."""
    shown_as: Literal["tiles", "colours"] = "tiles"
    options: tuple[Option, ...] = Field(min_length=1)
