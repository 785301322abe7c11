"""Up to three smallest changes of the customer's picks that would let an option in."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.differences import difference_between, figures_of_default
from configurator.build_spec.sentences import listed, option_name
from configurator.build_spec.settle import Settled
from configurator.build_spec.standing import Difference, WayOut
from configurator.rules.smallest_changes import Change, smallest_changes
from configurator.units import pounds

MOST_WAYS = 3


def ways_out(
    compiled: Compiled, settled: Settled, group_id: str, option_id: str
) -> tuple[WayOut, ...]:
    """Find the smallest changes of other picks with which an option fits.

    Parameters
    ----------
    compiled : Compiled
        The build's facts and engine.
    settled : Settled
        The choices as they stand; those that must be kept are never altered.
    group_id, option_id : str
        An option that does not go with the picks.

    Returns
    -------
    tuple of WayOut
        At most three, the smallest first: fewest picks altered, then least price of the options
        taken against what stands in their groups, then least change of the range, whichever way,
        then the order of the catalog. Of none of them can a part be left out.
    """
    if _is_kept_otherwise(settled, group_id, option_id):
        return ()
    found = smallest_changes(
        compiled.engine,
        settled.picks,
        (group_id, option_id),
        settled.kept,
        compiled.book.price,
        enough=MOST_WAYS,
    )
    ways = [
        (change, _way_out(compiled, settled, change, {**settled.picks, group_id: option_id}))
        for change in found
    ]
    ways.sort(key=lambda pair: (pair[0].total, *_range_and_place(compiled, *pair)))
    return tuple(way for _, way in ways[:MOST_WAYS])


def why_no_way_out(compiled: Compiled, settled: Settled, group_id: str, option_id: str) -> str:
    """Say why no change of other picks lets an option in.

    Parameters
    ----------
    compiled, settled, group_id, option_id
        As for `ways_out`, which found none.
    """
    if _is_kept_otherwise(settled, group_id, option_id):
        name = option_name(compiled, group_id, settled.picks[group_id])
        return f"{name} is marked as must keep; take the mark away to change it."
    kept = {group: settled.picks[group] for group in settled.kept if group != group_id}
    wanted = {**kept, group_id: option_id}
    if not kept or not compiled.engine.is_possible({group_id: option_id}):
        return "No change of other choices lets it in."
    against = [pair for pair in compiled.engine.conflict(wanted).picks if pair[0] != group_id]
    names = listed([option_name(compiled, *pair) for pair in against])
    are, mark = ("is", "the mark") if len(against) == 1 else ("are", "a mark")
    return f"No way out while {names} {are} marked as must keep; take {mark} away to see one."


def _is_kept_otherwise(settled: Settled, group_id: str, option_id: str) -> bool:
    return group_id in settled.kept and settled.picks[group_id] != option_id


def _way_out(
    compiled: Compiled, settled: Settled, change: Change, picks: Mapping[str, str]
) -> WayOut:
    taken = {**picks, **dict(change.options)}
    names = [option_name(compiled, group, option) for group, option in change.options]
    difference = _difference(compiled, settled.picks, taken)
    price = pounds(_price_change_pence(compiled, settled, taken))
    if settled.house and difference is not None:
        # With the workshop choosing the rest, the price on screen moves by the whole build's.
        price = difference.price_gbp
    return WayOut(
        changes=change.options,
        sentence=f"Fits with {listed(names)} instead.",
        difference=difference,
        price_difference_gbp=price,
    )


def _difference(
    compiled: Compiled, picks: Mapping[str, str], taken: Mapping[str, str]
) -> Difference | None:
    before, after = figures_of_default(compiled, picks), figures_of_default(compiled, taken)
    return None if before is None or after is None else difference_between(compiled, before, after)


def _price_change_pence(compiled: Compiled, settled: Settled, taken: Mapping[str, str]) -> int:
    """Compare the options taken with what stands in their groups, or else the house choice."""
    offer, basis = compiled.offer, compiled.basis
    standing = {**offer.house_choices(), **settled.choices}
    return sum(
        basis.option_pence(offer.option_by_pair[group, option])
        - basis.option_pence(offer.option_by_pair[group, standing[group]])
        for group, option in taken.items()
        if option != standing[group]
    )


def _range_and_place(
    compiled: Compiled, change: Change, way: WayOut
) -> tuple[float, tuple[tuple[int, int], ...]]:
    groups = compiled.offer.groups
    places = {
        (group.id, option.id): (at, number)
        for at, group in enumerate(groups)
        for number, option in enumerate(group.options)
    }
    changed_km = None if way.difference is None else way.difference.range_km
    far = float("inf") if changed_km is None else abs(changed_km)
    return far, tuple(places[pair] for pair in change.options)
