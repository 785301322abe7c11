"""The texts of the pack that apply to what is chosen, with their placeholders filled."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import with_unit
from configurator.build_spec.spec import Fact, FittedComponent
from configurator.catalog.models.component import Slot
from configurator.catalog.models.data import Data, UncertainValue
from configurator.catalog.models.text import AppliesIf, SafetyMessage, Text
from configurator.catalog.placeholders import fill_placeholders

NOT_KNOWN = "not yet known"


def texts_for(
    compiled: Compiled,
    choices: Mapping[str, str],
    fitted: Sequence[FittedComponent],
    facts: Sequence[Fact],
) -> tuple[Text, ...]:
    """Select and fill the texts, in the order of the catalog's sections and numbers."""
    components = {item.slot: item.component for item in fitted}
    look_up = _looking_up(compiled, components, facts)
    return tuple(
        _filled(text, look_up)
        for text in compiled.catalog.texts
        if applies(text.applies_if, compiled.offer.vehicle.id, choices, fitted)
    )


def applies(
    condition: AppliesIf,
    vehicle_id: str,
    choices: Mapping[str, str],
    fitted: Sequence[FittedComponent],
) -> bool:
    """Tell whether a text is for this build: everything its front matter asks must hold."""
    if condition.vehicles is not None and vehicle_id not in condition.vehicles:
        return False
    if any(choices.get(group) not in options for group, options in condition.choices.items()):
        return False
    ids: dict[str, str] = {item.slot: item.component.id for item in fitted}
    return all(
        slot in ids and (not wanted or ids[slot] in wanted)
        for slot, wanted in condition.slots.items()
    )


def _filled(text: Text, look_up: Callable[[str], str]) -> Text:
    safety = text.safety
    if safety is not None:
        safety = SafetyMessage(
            signal=safety.signal,
            hazard=fill_placeholders(safety.hazard, look_up),
            consequence=fill_placeholders(safety.consequence, look_up),
            avoid=tuple(fill_placeholders(step, look_up) for step in safety.avoid),
        )
    filled = {
        "title": fill_placeholders(text.title, look_up),
        "body": fill_placeholders(text.body, look_up),
        "safety": safety,
    }
    return text.model_copy(update=filled)


def _looking_up(
    compiled: Compiled, components: Mapping[Slot, Data], facts: Sequence[Fact]
) -> Callable[[str], str]:
    rooms: dict[str, Data] = {
        "vehicle": compiled.offer.vehicle,
        "workshop": compiled.catalog.workshop,
        **{str(slot): component for slot, component in components.items()},
    }
    by_key = {(fact.name, fact.case or ""): fact for fact in facts}

    def look_up(name: str) -> str:
        if name.startswith("fact:"):
            _, fact_name, *case = name.split(":")
            for (known, known_case), fact in by_key.items():
                if known == fact_name and known_case == "".join(case):
                    return fact_words(fact)
            return NOT_KNOWN
        room, _, key = name.partition(".")
        if room not in rooms:
            return "not fitted"
        return value_words(getattr(rooms[room], key, NOT_KNOWN))

    return look_up


def fact_words(fact: Fact) -> str:
    """Write a fact with its unit; a from–to while choices are open."""
    low = with_unit(fact.name, fact.low)
    if fact.is_settled:
        return low
    return f"{low} to {with_unit(fact.name, fact.high)}"


def value_words(value: object) -> str:
    """Write a value of the catalog as people read it, without idle decimals.

    Examples
    --------
    >>> value_words(2200.0), value_words(2.4), value_words(UncertainValue(
    ...     value=0.013, sigma_percent=10, source="guessed")), value_words((9.2, 16.1))
    ('2,200', '2.4', '0.013', '9.2 and 16.1')
    """
    if isinstance(value, UncertainValue):
        return value_words(value.value)
    if isinstance(value, tuple):
        return " and ".join(value_words(part) for part in value)
    if isinstance(value, float):
        return f"{value:,.3f}".rstrip("0").rstrip(".")
    return str(value)
