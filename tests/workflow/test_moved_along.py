"""What moves along with a pick while the workshop chooses the rest is told by name."""

from __future__ import annotations

from datetime import datetime

from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import set_house_choices
from configurator.workflow.moved_along import Moved, moved_along
from configurator.workflow.premises import Premises
from tests.workflow.led_through_life import pick


def pick_and_see(
    premises: Premises, reference: str, group: str, option: str, now: datetime
) -> set[Moved]:
    before = read_draft(premises, reference)
    after = pick(premises, reference, group, option, now)
    return set(moved_along(premises, before, after, {group}))


def test_the_workshops_choices_that_move_along_are_named(
    premises: Premises, reference: str, now: datetime
) -> None:
    assert set() == pick_and_see(premises, reference, "livery", "nettle", now), (
        "nothing is filled yet"
    )
    set_house_choices(premises, reference, revision=2, wanted=True, now=now)
    # A heater wants many cells, and many cells want stiff springs, by the tiny workshop's rules.
    labels = {
        option.id: option.label for group in premises.catalog.groups for option in group.options
    }
    moved = pick_and_see(premises, reference, "warmth", "hot-wire", now)
    assert {"many-cells", "stiff-springs"} == {
        option for option, label in labels.items() for one in moved if one.after == label
    }
    assert set() == pick_and_see(premises, reference, "livery", "buttermilk", now)
