"""Whether the wishes and marks of a build file name what there is, each thing once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from configurator.catalog.cross_checks.fact_cases import FACT_NAMES, case_kind
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import shown
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.shelf import list_at, text_at
from configurator.errors import Fault


def wish_name_faults(
    raw: RawEntry, build: Mapping[str, object], catalog: Catalog
) -> Iterator[Fault]:
    """Yield what wishes and marks name that does not exist, and what is named twice.

    Parameters
    ----------
    raw, build, catalog
        As for `build_name_faults`.

    Yields
    ------
    Fault
        Codes B013 to B015.
    """
    yield from _mark_faults(raw, build)
    yield from _repeated(raw, build, "wishes", _about)
    yield from _repeated(raw, build, "preferences", _liked)
    for number, wish in enumerate(list_at(build, "wishes")):
        fact = text_at(wish, "fact")
        if fact in FACT_NAMES and isinstance(wish, Mapping):
            yield from _case_faults(raw, number, fact, wish, catalog)


def _mark_faults(raw: RawEntry, build: Mapping[str, object]) -> Iterator[Fault]:
    choices = build.get("choices")
    chosen = [str(group) for group in choices] if isinstance(choices, Mapping) else []
    for number, group in enumerate(list_at(build, "must_keep")):
        if isinstance(group, str) and group not in chosen:
            what = f"must_keep names the group {shown(group)}; only what is chosen can be kept"
            remedy = did_you_mean(group, chosen) if chosen else 'Add it under "choices:".'
            yield Fault("B013", raw.where("must_keep", number), what, remedy)


def _repeated(
    raw: RawEntry,
    build: Mapping[str, object],
    field: str,
    tell: Callable[[object], tuple[object, ...] | None],
) -> Iterator[Fault]:
    """Yield each line of a list that is about the same as one before."""
    first: dict[tuple[object, ...], int] = {}
    for number, line in enumerate(list_at(build, field), start=1):
        about = tell(line)
        if about is None:
            continue
        if about in first:
            what = f"{field}: line {number} is about the same as line {first[about]}"
            yield Fault("B015", raw.where(field, number - 1), what, "Keep one of the two lines.")
        first.setdefault(about, number)


def _about(wish: object) -> tuple[object, ...] | None:
    fact = text_at(wish, "fact")
    if fact is None or not isinstance(wish, Mapping):
        return None
    return fact, text_at(wish, "case"), "at_least" in wish


def _liked(preference: object) -> tuple[object, ...] | None:
    group, option = text_at(preference, "group"), text_at(preference, "option")
    return None if group is None or option is None else (group, option)


def _case_faults(
    raw: RawEntry, number: int, fact: str, wish: Mapping[str, object], catalog: Catalog
) -> Iterator[Fault]:
    kind, case = case_kind(fact), wish.get("case")
    if kind is None:
        if case is not None:
            what = f"wish {number + 1} has a case, but {fact} has none"
            yield Fault("B014", raw.where("wishes", number, "case"), what, 'Take "case" out.')
        return
    known = catalog.driving_cases if kind == "driving case" else catalog.charging_sources
    ids = [entry.id for entry in known]
    if case is None:
        what = f"wish {number + 1} says no case; {fact} differs from {kind} to {kind}"
        remedy = f'Add "case:" with a {kind}. {did_you_mean("", ids)}'
        yield Fault("B014", raw.where("wishes", number, "fact"), what, remedy)
    elif isinstance(case, str) and case not in ids:
        what = f"wish {number + 1} names the {kind} {shown(case)}; the catalog has none of that id"
        where = raw.where("wishes", number, "case")
        yield Fault("B014", where, what, did_you_mean(case, ids))
