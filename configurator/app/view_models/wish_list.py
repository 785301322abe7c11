"""The wishes being entered: typed targets, must-keeps, preferences in their order."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from configurator.app.view_models.wish_facts import (
    WishableFact,
    amount_in_words,
    fact_of_wish,
    is_known,
    target_in_words,
    target_of,
)
from configurator.catalog.models.build import BuildInput, Preference, Wish
from configurator.catalog.models.catalog import Catalog

LONGEST_AMOUNT = 20
LONGEST_SUBJECT = 60
_SPACES = re.compile(r"[\s\u00a0\u202f]+")
_AMOUNT = re.compile(r"(?:\d{1,7}|\d{1,3}(?:,\d{3}){1,2})(?:\.\d{1,3})?")


@dataclass(frozen=True)
class WishLine:
    """A wish in the list."""

    wish: Wish
    fact: WishableFact
    target: str
    written: str
    """The number as it would be typed."""
    trouble: str
    """Why it cannot be answered; empty when it can."""


@dataclass(frozen=True)
class KeepLine:
    """A choice made so far, and whether it must be kept."""

    group_id: str
    label: str
    is_kept: bool


@dataclass(frozen=True)
class PreferenceLine:
    """A preference in its order, counted from 1."""

    preference: Preference
    position: int
    label: str
    is_offered: bool

    @property
    def key(self) -> str:
        """Tells it from the others."""
        return f"{self.preference.group}-{self.preference.option}"


def amount_in(typed: str, unit: str) -> float | None:
    """Read a typed amount, with or without its unit; None where it is no plain number.

    Parameters
    ----------
    typed : str
        As a person writes it.
    unit : str
        Of the fact; "GBP" stands for pounds.

    Returns
    -------
    float or None
        The amount, 0 or more.

    Examples
    --------
    >>> amount_in("£46 000", "GBP"), amount_in("150 km", "km"), amount_in("6.5", "h")
    (46000.0, 150.0, 6.5)
    >>> amount_in("1,5", "h"), amount_in("-3", "kg"), amount_in("nan", "km")
    (None, None, None)
    """
    plain = _SPACES.sub("", typed)
    if unit == "GBP":
        plain = plain.removeprefix("£")
    elif unit:
        plain = plain.removesuffix(_SPACES.sub("", unit))
    return float(plain.replace(",", "")) if _AMOUNT.fullmatch(plain) else None


def unknown_subject(typed: str) -> str:
    """Say that a wish cannot be about what was typed.

    Examples
    --------
    >>> unknown_subject("Colour")
    'A wish cannot be about “Colour”. Choose one of the list; until then no wish can be added.'
    """
    return (
        f"A wish cannot be about “{typed.strip()[:LONGEST_SUBJECT]}”. "
        "Choose one of the list; until then no wish can be added."
    )


def amount_problem(typed: str, fact: WishableFact) -> str:
    """Say what is wrong with a typed amount; empty when it can be used."""
    if not typed.strip():
        return f"{fact.label}: no number was given. Write how much it should be {fact.side}."
    if amount_in(typed, fact.unit) is not None:
        return ""
    example = amount_in_words(fact.fact, 1500.0 if fact.unit == "GBP" else 6.5)
    return (
        f"{fact.label}: “{typed.strip()[:LONGEST_AMOUNT]}” is not a number that can be used. "
        f"Write digits with a point before decimals, such as {example}; nothing below zero."
    )


def wish_for(fact: WishableFact, amount: float) -> Wish:
    """Make the wish for an amount of a fact, on the side that the fact is wished on."""
    if fact.side == "at least":
        return Wish(fact=fact.fact, case=fact.case, at_least=amount)
    return Wish(fact=fact.fact, case=fact.case, at_most=amount)


def with_wish(wishes: Sequence[Wish], new: Wish) -> tuple[Wish, ...]:
    """Put a wish in the place of one about the same, or at the end."""
    if any(_is_about_the_same(wish, new) for wish in wishes):
        return tuple(new if _is_about_the_same(wish, new) else wish for wish in wishes)
    return (*wishes, new)


def without_wish(wishes: Sequence[Wish], given_up: Wish) -> tuple[Wish, ...]:
    """Leave a wish out."""
    return tuple(wish for wish in wishes if wish != given_up)


def wish_lines(build: BuildInput, catalog: Catalog, facts: Sequence[WishableFact]) -> tuple[
    WishLine, ...
]:  # fmt: skip
    """Say the wishes of a build in their order."""
    return tuple(_wish_line(wish, catalog, tuple(facts)) for wish in build.wishes)


def keep_lines(build: BuildInput, catalog: Catalog) -> tuple[KeepLine, ...]:
    """List the choices made so far in the order of the talk, then marks on what is not offered."""
    offered = tuple(
        KeepLine(group.id, f"{group.label}: {option.label}", group.id in build.must_keep)
        for group in catalog.groups_for(build.vehicle)
        for option in group.options
        if build.choices.get(group.id) == option.id
    )
    known = {line.group_id for line in offered}
    lost = (group_id for group_id in build.must_keep if group_id not in known)
    return (*offered, *(_lost_keep(group_id, build, catalog) for group_id in lost))


def preference_lines(build: BuildInput, catalog: Catalog) -> tuple[PreferenceLine, ...]:
    """Say the preferences, the dearest first; also those that the catalog has lost."""
    labels = _option_labels(build, catalog)
    return tuple(
        PreferenceLine(
            preference,
            position,
            labels.get(preference, f"{preference.group}: {preference.option}"),
            preference in labels,
        )
        for position, preference in enumerate(build.preferences, start=1)
    )


def preferable(build: BuildInput, catalog: Catalog) -> dict[str, Preference]:
    """List by label the options that could still be preferred, in the order of the talk."""
    return {
        label: preference
        for preference, label in _option_labels(build, catalog).items()
        if preference not in build.preferences
    }


def moved(preferences: Sequence[Preference], which: Preference, by: int) -> tuple[Preference, ...]:
    """Move a preference by some places, held within the list.

    Examples
    --------
    >>> roof, floor = (Preference(group=g, option="oak") for g in ("roof", "floor"))
    >>> [each.group for each in moved((roof, floor), floor, -1)]
    ['floor', 'roof']
    """
    rest = [preference for preference in preferences if preference != which]
    if len(rest) == len(preferences):
        return tuple(preferences)
    place = min(max(preferences.index(which) + by, 0), len(rest))
    return (*rest[:place], which, *rest[place:])


def answerable(
    build: BuildInput, catalog: Catalog
) -> tuple[tuple[Wish, ...], tuple[Preference, ...]]:
    """Leave out the wishes and preferences that name what the catalog has lost."""
    offered = _option_labels(build, catalog)
    return (
        tuple(wish for wish in build.wishes if is_known(wish, catalog)),
        tuple(preference for preference in build.preferences if preference in offered),
    )


def _lost_keep(group_id: str, build: BuildInput, catalog: Catalog) -> KeepLine:
    group = catalog.group_by_id.get(group_id)
    option_id = build.choices.get(group_id, "what was chosen")
    label = f"{group.label if group else group_id}: “{option_id}” is not offered any more"
    return KeepLine(group_id, label, is_kept=True)


def _wish_line(wish: Wish, catalog: Catalog, facts: tuple[WishableFact, ...]) -> WishLine:
    trouble = "" if is_known(wish, catalog) else f"The catalog has no “{wish.case}” any more."
    written = f"{target_of(wish):.3f}".rstrip("0").rstrip(".")
    return WishLine(wish, fact_of_wish(wish, facts), target_in_words(wish), written, trouble)


def _option_labels(build: BuildInput, catalog: Catalog) -> dict[Preference, str]:
    return {
        Preference(group=group.id, option=option.id): f"{group.label}: {option.label}"
        for group in catalog.groups_for(build.vehicle)
        for option in group.options
    }


def _is_about_the_same(one: Wish, other: Wish) -> bool:
    return (one.fact, one.case, one.at_least is None) == (
        other.fact,
        other.case,
        other.at_least is None,
    )
