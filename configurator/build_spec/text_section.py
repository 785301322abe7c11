"""The texts of the pack that apply to what is chosen, with their placeholders filled."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import FACT_LABELS, with_unit
from configurator.build_spec.spec import Fact, FittedComponent
from configurator.catalog.models.component import Slot
from configurator.catalog.models.data import Data
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
    ids = {item.slot: item.component.id for item in fitted}
    return all(
        slot in ids and (not wanted or ids[slot] in wanted)
        for slot, wanted in _slots_of(condition).items()
    )


def _slots_of(condition: AppliesIf) -> Mapping[str, tuple[str, ...]]:
    return condition.slots


def _filled(text: Text, look_up: Callable[[str], str]) -> Text:
    safety = text.safety
    if safety is not None:
        safety = SafetyMessage(
            signal=safety.signal,
            hazard=fill_placeholders(safety.hazard, look_up),
            consequence=fill_placeholders(safety.consequence, look_up),
            avoid=tuple(fill_placeholders(step, look_up) for step in safety.avoid),
        )
    body = fill_placeholders(text.body, look_up)
    return text.model_copy(update={"body": body, "safety": safety})


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
        return str(getattr(rooms[room], key, NOT_KNOWN)) if room in rooms else "not fitted"

    return look_up


def fact_words(fact: Fact) -> str:
    """Write a fact with its unit; a from–to while choices are open."""
    low = with_unit(fact.name, fact.low)
    if fact.is_settled:
        return low
    number = f"{fact.low:,.{FACT_LABELS[fact.name].decimals}f}"
    return f"{number.replace(',', ' ')} to {with_unit(fact.name, fact.high)}"
