"""What is wrong with wishes as a person wrote them: every fault, each with what to do."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from pydantic import ValidationError

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.offer import check_choices
from configurator.build_spec.wish_targets import target_of
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.build import BuildInput, Wish
from configurator.catalog.models.rule import FactName
from configurator.errors import CatalogError, Fault

MOST_WISHES = 12
MOST_PREFERENCES = 20
GREATEST_TARGET = 10_000_000.0
"""No fact of a vehicle comes near; more would be a slip of the keyboard."""


def read_wishes(
    written: Sequence[Wish | Mapping[str, object]],
) -> tuple[dict[int, Wish], list[Fault]]:
    """Read wishes as a form sends them.

    Parameters
    ----------
    written : sequence of Wish or mapping
        A mapping has `fact` and one of `at_least` and `at_most`, and `case` where there is one.

    Returns
    -------
    tuple of dict of int to Wish and list of Fault
        What can be read, by its place from 1, and a fault for each wish that cannot.

    Examples
    --------
    >>> wishes, faults = read_wishes([{"fact": "prize_gbp", "at_most": 46000}])
    >>> wishes, faults[0].code, faults[0].remedy
    ({}, 'S006', 'Did you mean "price_gbp"?')
    """
    wishes: dict[int, Wish] = {}
    faults: list[Fault] = []
    for number, entry in enumerate(written, start=1):
        if isinstance(entry, Wish):
            wishes[number] = entry
            continue
        try:
            wishes[number] = Wish.model_validate(dict(entry))
        except ValidationError as error:
            faults.append(_unreadable(number, entry, error))
    return wishes, faults


def _unreadable(number: int, entry: Mapping[str, object], error: ValidationError) -> Fault:
    fact = str(entry.get("fact", ""))[:60]
    where = f"wish {number}"
    if fact not in FACT_LABELS:
        what = f'the fact is "{fact}"; a wish is a target for something that is computed'
        return Fault("S006", where, what, did_you_mean(fact, FACT_LABELS))
    detail = error.errors()[0]
    if "case" in detail["loc"]:
        what = f'the case is "{str(entry.get("case"))[:60]}"; a case is named by its id'
        return Fault("S007", where, what, "Choose one of the cases shown.")
    what = "the target cannot be read; it is one number, either at least or at most"
    return Fault("S009", where, what, "Write one finite number, such as 150.")


def wish_faults(
    compiled: Compiled, build: BuildInput, numbers: Sequence[int] = ()
) -> tuple[Fault, ...]:
    """Find everything in wishes, preferences and choices to be kept that cannot be understood.

    Parameters
    ----------
    compiled : Compiled
        The build's facts and what is offered.
    build : BuildInput
        With wishes, preferences and marks.
    numbers : sequence of int, optional
        What the person sees as the number of each wish; without it they count from 1.

    Returns
    -------
    tuple of Fault
        Codes S002, S003 and S006 to S011; empty when an answer can be found.
    """
    return (
        *_too_many("wishes", len(build.wishes), MOST_WISHES),
        *_too_many("preferences", len(build.preferences), MOST_PREFERENCES),
        *(
            fault
            for number, wish in zip(
                numbers or range(1, len(build.wishes) + 1), build.wishes, strict=True
            )
            for fault in _faults_of_wish(compiled.book, wish, number)
        ),
        *(
            replace(fault, where=f"preference {number}")
            for number, preference in enumerate(build.preferences, start=1)
            for fault in check_choices(compiled.offer, {preference.group: preference.option})
        ),
        *_faults_of_kept(compiled, build),
    )


def _too_many(what: str, count: int, most: int) -> Iterator[Fault]:
    if count > most:
        yield Fault(
            "S011",
            what,
            f"there are {count}; among more than {most} no answer helps anybody to choose",
            f"Keep the {most} that matter most.",
        )


def _faults_of_wish(book: FactBook, wish: Wish, number: int) -> Iterator[Fault]:
    where = f"wish {number}"
    cases = _cases(book, wish.fact)
    if wish.case not in cases:
        yield _wrong_case(where, wish, cases)
        return
    target = wish.at_least if wish.at_least is not None else wish.at_most
    if target is None or not math.isfinite(target) or abs(target) > GREATEST_TARGET:
        what = f"the target is {target}; no vehicle's {FACT_LABELS[wish.fact].label} is like that"
        yield Fault("S009", where, what, "Write a number that a vehicle can have.")
        return
    try:
        target_of(wish, number, book)
    except CatalogError:
        side, other = (
            ("at least", "at most") if wish.at_least is not None else ("at most", "at least")
        )
        what = f'"{FACT_LABELS[wish.fact].label}" is wished {side}; nobody is served by that side'
        yield Fault("S008", where, what, f"Write it as {other}.")


def _cases(book: FactBook, name: FactName) -> list[str | None]:
    """List the cases that a fact has in this catalog; None stands for a fact without cases."""
    cases = [fact.case for fact in book.drive_facts if fact.name == name]
    return cases or ([] if name == "charging_hours" else [None])


def _wrong_case(where: str, wish: Wish, cases: Sequence[str | None]) -> Fault:
    label, named = FACT_LABELS[wish.fact].label, [case for case in cases if case is not None]
    if cases == [None]:
        what = f'"{label}" has no cases, and the wish names "{wish.case}"'
        return Fault("S007", where, what, "Leave the case out.")
    what = f'"{label}" needs one of its cases, and the wish names {_shown(wish.case)}'
    return Fault("S007", where, what, did_you_mean(wish.case or "", named))


def _shown(case: str | None) -> str:
    return "none" if case is None else f'"{case}"'


def _faults_of_kept(compiled: Compiled, build: BuildInput) -> Iterator[Fault]:
    for group_id in build.must_keep:
        option_id = build.choices.get(group_id)
        if option_id is not None and (group_id, option_id) in compiled.offer.option_by_pair:
            continue
        group = compiled.offer.group_by_id.get(group_id)
        why = "nothing is chosen there" if option_id is None else f'"{option_id}" is not offered'
        yield Fault(
            "S010",
            group.label if group else group_id,
            f"the choice is marked to be kept, and {why}",
            "Choose an option there, or take the mark away.",
        )
