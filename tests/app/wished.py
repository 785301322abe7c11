"""Wishes and answers about the tiny catalog's float, made by hand for the view models."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.spec import Fact
from configurator.build_spec.wish_answer import FrontPoint, WishedBuild, WishFront
from configurator.catalog.models.build import BuildInput, Customer, Wish
from configurator.catalog.models.rule import FactName

JUNE = Wish(fact="range_low_km", case="round-in-june", at_least=100)
PRICE = Wish(fact="price_gbp", at_most=16_000)
CHOICES = {
    "cells": "few-cells", "springs": "old-springs", "warmth": "scarf",
    "box": "bare-bed", "livery": "nettle",
}  # fmt: skip


def wishing(*wishes: Wish, **changes: Any) -> BuildInput:
    """Make a build with wishes."""
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="Ann Example"),
        vehicle="clover-float",
        priced_on=date(2026, 2, 2),
        wishes=wishes,
    )
    return build.model_copy(update=changes)


def fact(name: FactName, value: float, case: str | None = None) -> Fact:
    """Make a settled fact."""
    label = FACT_LABELS[name]
    return Fact(name=name, case=case, label=label.label, unit=label.unit, low=value, high=value)


def wished_build(*facts: Fact, **changes: Any) -> WishedBuild:
    """Make a complete build that answers wishes."""
    found = WishedBuild(
        choices=CHOICES,
        price_gbp=Decimal("15035.63"),
        facts=facts,
        preferences_kept=0,
        gives_up=(),
        differs_by="the cheapest",
    )
    return found.model_copy(update=changes)


def front(*pairs: tuple[str, float], is_complete: bool = True) -> WishFront:
    """Make a front for the round in June of builds with these prices and ranges."""
    return WishFront(
        case_id="round-in-june",
        case_label="The round in June",
        is_complete=is_complete,
        points=tuple(
            FrontPoint(
                price_gbp=Decimal(price),
                range_km=range_km,
                choices={**CHOICES, "livery": f"paint-{number}"},
                label=f"Paint {number}",
            )
            for number, (price, range_km) in enumerate(pairs)
        ),
    )
