"""Whether every placeholder of every text can be filled for everybody who receives it."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.cross_checks import names
from configurator.catalog.cross_checks.fact_cases import FACT_NAMES, case_kind
from configurator.catalog.cross_checks.offered import vehicles_of
from configurator.catalog.cross_checks.placeholder_fields import fields_of, placeholder_owners
from configurator.catalog.cross_checks.text_checks import SLOTS
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import shown
from configurator.catalog.draft import Draft
from configurator.catalog.models.text import Text
from configurator.catalog.models_from_yaml import Entry
from configurator.catalog.placeholders import FACT_PREFIX, placeholders_in, unclosed_line
from configurator.errors import Fault


def placeholder_faults(draft: Draft) -> Iterator[Fault]:
    """Yield placeholders that name something unknown or may stay empty.

    Parameters
    ----------
    draft : Draft
        The catalog as it was read.

    Yields
    ------
    Fault
        With the line of the placeholder.
    """
    for entry in draft.texts:
        for where, is_body, text in _texts_of(entry):
            file, _, line = where.rpartition(":")
            for number, name in placeholders_in(text):
                at = f"{file}:{int(line) + (number if is_body else 0)}"
                yield from _faults_of_one(draft, entry.value, name, at)
            if (last := unclosed_line(text)) is not None:
                at = f"{file}:{int(line) + (last if is_body else 0)}"
                what = "a placeholder begins with {{ and does not end; readers would see the braces"
                yield Fault("C081", at, what, "Close it with }} on the same line.")


def _texts_of(entry: Entry[Text]) -> Iterator[tuple[str, bool, str]]:
    text = entry.value
    yield entry.where("title"), False, text.title
    if text.safety is not None:
        yield entry.where("safety", "hazard"), False, text.safety.hazard
        yield entry.where("safety", "consequence"), False, text.safety.consequence
        for number, sentence in enumerate(text.safety.avoid):
            yield entry.where("safety", "avoid", number), False, sentence
    yield entry.where("body"), True, text.body.lstrip("\n")


def _faults_of_one(draft: Draft, text: Text, name: str, where: str) -> Iterator[Fault]:
    if name.startswith(FACT_PREFIX):
        yield from _fact_faults(draft, name, where)
        return
    owner, _, field = name.partition(".")
    if owner not in placeholder_owners() or not field:
        yield _unknown(name, where, (f"{known}." for known in placeholder_owners()))
    elif field not in fields_of(owner):
        yield _unknown(name, where, (f"{owner}.{known}" for known in fields_of(owner)))
    elif owner in SLOTS and not _surely_fitted(draft, text, owner):
        what = f"the placeholder {shown(name)} speaks of a part that not every reader has"
        remedy = f"Add {owner} to applies_if.slots ([] means any)."
        yield Fault("C082", where, what, remedy)


def _unknown(name: str, where: str, known: Iterator[str]) -> Fault:
    what = f"the placeholder {shown(name)} names something unknown; it could not be filled"
    return Fault("C080", where, what, did_you_mean(name, known))


def _fact_faults(draft: Draft, name: str, where: str) -> Iterator[Fault]:
    fact, _, case = name.removeprefix(FACT_PREFIX).partition(":")
    if fact not in FACT_NAMES:
        yield _unknown(name, where, (f"{FACT_PREFIX}{known}" for known in FACT_NAMES))
        return
    kind = case_kind(fact)
    if kind is None:
        if case:
            what = f"the placeholder {shown(name)} has a case, but {fact} has none"
            yield Fault("C080", where, what, f'Write "{FACT_PREFIX}{fact}".')
        return
    known = names.known_cases(draft) if kind == "driving case" else names.known_sources(draft)
    if not case or known.lacks(case):
        yield _unknown(
            name, where, (f"{FACT_PREFIX}{fact}:{known_case}" for known_case in known.names)
        )


def _surely_fitted(draft: Draft, text: Text, slot: str) -> bool:
    """Tell whether everybody who receives the text has something in the slot."""
    if slot in text.applies_if.slots or not (draft.groups.is_whole and draft.vehicles.is_whole):
        return True
    options = {
        (group.id, option.id): option for group in draft.groups.values for option in group.options
    }
    for group, chosen in text.applies_if.choices.items():
        if chosen and all(slot in getattr(options.get((group, o)), "fits", ()) for o in chosen):
            return True
    vehicles = [v for v in draft.vehicles.values if v.id in (text.applies_if.vehicles or {v.id})]
    return all(
        slot in vehicle.fits or _always_chosen(draft, vehicle.id, slot) for vehicle in vehicles
    )


def _always_chosen(draft: Draft, vehicle: str, slot: str) -> bool:
    return any(
        offered and all(slot in option.fits for option in offered)
        for group in draft.groups.values
        if (offered := [o for o in group.options if vehicles_of({vehicle}, group, o)])
    )
