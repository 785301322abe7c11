"""The answer to wishes: builds against their targets, and what would have to give way."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from configurator.app.view_models.wish_facts import (
    WishableFact,
    amount_in_words,
    fact_of_wish,
    target_in_words,
    target_of,
)
from configurator.app.view_models.words import count, money
from configurator.build_spec.fact_names import FACT_LABELS, with_unit
from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import Fact
from configurator.build_spec.wish_answer import WishAnswer, WishedBuild, WishMissed
from configurator.catalog.models.build import BuildInput, Wish
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.group import Group

HAIR = 1e-9
INSTEAD = "instead of"
WITHOUT = "cannot be had with what is fitted"


@dataclass(frozen=True)
class FigureLine:
    """A figure of a build; beside a target also how it stands to it."""

    label: str
    value: str
    target: str = ""
    standing: str = ""
    is_met: bool = True


@dataclass(frozen=True)
class PickLine:
    """An option of a build, and what it would change in the talk."""

    group: str
    option: str
    change: str


@dataclass(frozen=True)
class BuildCard:
    """A build as its card shows it."""

    key: str
    heading: str
    price: str
    figures: tuple[FigureLine, ...]
    preferences: str
    gives_up: tuple[str, ...]
    picks: tuple[PickLine, ...]
    changes: str
    is_chosen_now: bool
    choices: Mapping[str, str]


@dataclass(frozen=True)
class MissedLine:
    """A wish that alone could give way, with the wish it would become."""

    key: str
    heading: str
    button: str
    wish: Wish
    instead: Wish


def answer_heading(answer: WishAnswer, build: BuildInput) -> str:
    """Say in one line how the wishes stand."""
    if not answer.builds:
        return "No complete build was found"
    if not answer.all_met:
        return "The wishes cannot all be met together"
    wished = len(build.wishes)
    if not wished:
        return "Builds to begin from"
    few = {1: "The wish", 2: "Both wishes"}
    return f"{few.get(wished, f'All {wished} wishes')} can be met"


def build_cards(
    answer: WishAnswer, build: BuildInput, catalog: Catalog, facts: Sequence[WishableFact]
) -> tuple[BuildCard, ...]:
    """Prepare the cards of the builds, the best first."""
    return tuple(_card(found, build, catalog, tuple(facts)) for found in answer.builds)


def missed_lines(answer: WishAnswer, facts: Sequence[WishableFact]) -> tuple[MissedLine, ...]:
    """Prepare each wish that alone could give way; none that would not change by it."""
    lines = (_missed(missed, tuple(facts)) for missed in answer.missed)
    return tuple(line for line in lines if line.instead != line.wish)


def give_up_lines(answer: WishAnswer, facts: Sequence[WishableFact]) -> tuple[str, ...]:
    """Say each smallest set of wishes of which giving up all helps."""
    return tuple(
        listed(
            [f"{fact_of_wish(wish, tuple(facts)).label} {target_in_words(wish)}" for wish in lot]
        )
        for lot in answer.give_up
    )


def eased(wish: Wish, reachable: float) -> Wish:
    """Put a target to what can be reached, rounded to the side that holds.

    Examples
    --------
    >>> eased(Wish(fact="price_gbp", at_most=46000), 47311.2).at_most
    47312.0
    >>> eased(Wish(fact="range_low_km", case="lanes", at_least=150), 143.9).at_least
    143.0
    """
    step = 1.0 if wish.fact == "price_gbp" else 10.0 ** FACT_LABELS[wish.fact].decimals
    if wish.at_least is not None:
        held = math.floor(round(reachable * step, 6)) / step
        return wish.model_copy(update={"at_least": held})
    held = math.ceil(round(reachable * step, 6)) / step
    return wish.model_copy(update={"at_most": held})


def choices_key(choices: Mapping[str, str]) -> str:
    """Name a build by what is chosen in it, so that a button never takes another one."""
    written = json.dumps(dict(choices), sort_keys=True)
    return hashlib.sha256(written.encode()).hexdigest()[:12]


def _card(
    found: WishedBuild, build: BuildInput, catalog: Catalog, facts: tuple[WishableFact, ...]
) -> BuildCard:
    picks = _picks(found, build, catalog)
    changed = sum(line.change.startswith(INSTEAD) for line in picks)
    is_chosen_now = dict(found.choices) == build.choices
    return BuildCard(
        key=choices_key(found.choices),
        heading=f"{found.differs_by[:1].upper()}{found.differs_by[1:]}",
        price=money(found.price_gbp),
        figures=_figures(found, build.wishes, facts),
        preferences=_preferences(found, build),
        gives_up=found.gives_up,
        picks=picks,
        changes=_changes(changed, build, is_chosen_now=is_chosen_now),
        is_chosen_now=is_chosen_now,
        choices=found.choices,
    )


def _figures(
    found: WishedBuild, wishes: Sequence[Wish], facts: tuple[WishableFact, ...]
) -> tuple[FigureLine, ...]:
    by_name = {(fact.name, fact.case): fact for fact in found.facts}
    wished = [
        _against(by_name.get((wish.fact, wish.case)), wish, fact_of_wish(wish, facts).label)
        for wish in wishes
    ]
    told = {(wish.fact, wish.case) for wish in wishes} | {("price_gbp", None)}
    others = [
        FigureLine(_label(fact, facts), _value(fact, fact.low))
        for fact in found.facts
        if (fact.name, fact.case) not in told
    ]
    return (*wished, *others)


def _against(fact: Fact | None, wish: Wish, label: str) -> FigureLine:
    if fact is None:
        return FigureLine(label, "none", target_in_words(wish), WITHOUT, is_met=False)
    target = target_of(wish)
    short_by = target - fact.low if wish.at_least is not None else fact.high - target
    value = _value(fact, fact.low if wish.at_least is not None else fact.high)
    if short_by <= HAIR:
        return FigureLine(label, value, target_in_words(wish), "met")
    standing = f"{'short' if wish.at_least is not None else 'over'} by {_shortage(fact, short_by)}"
    return FigureLine(label, value, target_in_words(wish), standing, is_met=False)


def _shortage(fact: Fact, short_by: float) -> str:
    # Rounded up: a wish missed by half a kilometre is never said to be missed by none.
    step = 1.0 if fact.name == "price_gbp" else 10.0 ** FACT_LABELS[fact.name].decimals
    return amount_in_words(fact.name, math.ceil(round(short_by * step, 6)) / step)


def _label(fact: Fact, facts: tuple[WishableFact, ...]) -> str:
    known = (known.label for known in facts if (known.fact, known.case) == (fact.name, fact.case))
    return next(known, fact.label)


def _value(fact: Fact, value: float) -> str:
    return (
        amount_in_words("price_gbp", value) if fact.unit == "GBP" else with_unit(fact.name, value)
    )


def _preferences(found: WishedBuild, build: BuildInput) -> str:
    wanted = len(build.preferences)
    if not wanted:
        return ""
    return f"Keeps {found.preferences_kept} of {count(wanted, 'preference', 'preferences')}"


def _picks(found: WishedBuild, build: BuildInput, catalog: Catalog) -> tuple[PickLine, ...]:
    return tuple(
        _pick(group, found.choices[group.id], build.choices.get(group.id))
        for group in catalog.groups_for(build.vehicle)
        if group.id in found.choices
    )


def _pick(group: Group, option_id: str, before: str | None) -> PickLine:
    labels = {option.id: option.label for option in group.options}
    change = "as chosen" if before == option_id else f"{INSTEAD} {labels.get(before or '', before)}"
    return PickLine(group.label, labels.get(option_id, option_id), change if before else "")


def _changes(changed: int, build: BuildInput, *, is_chosen_now: bool) -> str:
    if is_chosen_now:
        return "This is the build as it is chosen now."
    if not build.choices:
        return ""
    if not changed:
        return "Keeps every choice made so far."
    return f"Changes {count(changed, 'choice', 'choices')} made so far."


def _missed(missed: WishMissed, facts: tuple[WishableFact, ...]) -> MissedLine:
    instead = eased(missed.wish, missed.reachable)
    fact = fact_of_wish(missed.wish, facts)
    return MissedLine(
        key=fact.key,
        heading=f"{fact.label}: {target_in_words(instead)} instead of "
        f"{amount_in_words(fact.fact, target_of(missed.wish))}",
        button=f"Ask for {target_in_words(instead)}",
        wish=missed.wish,
        instead=instead,
    )
