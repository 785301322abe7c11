"""What the workshop chose was ordered like the rest: a later pick moves it only where it must."""

from __future__ import annotations

from datetime import datetime

from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import (
    clear_choice,
    set_house_choices,
    take_way_out,
    undo_last_change,
)
from configurator.workflow.issuing import issued_spec
from configurator.workflow.papers import spec_of_draft
from configurator.workflow.premises import Premises
from configurator.workflow.wishes import take_wished_build
from tests.workflow.led_through_life import order_it, pick


def chosen(premises: Premises, reference: str) -> dict[str, str]:
    choices = spec_of_draft(premises, reference).choices
    return {choice.group_id: choice.option_id for choice in choices}


# Source: common practice, no source: a customer who asks for one change is not given two.
def test_a_later_pick_leaves_alone_what_it_need_not_move(
    premises: Premises, reference: str, now: datetime
) -> None:
    pick(premises, reference, "cells", "many-cells", now)
    order_it(premises, reference, now)
    # Many cells want stiff springs; few cells go with either, and the house would take old ones.
    ordered = chosen(premises, reference)
    assert "stiff-springs" == ordered["springs"]
    pick(premises, reference, "cells", "few-cells", now)
    assert ordered | {"cells": "few-cells"} == chosen(premises, reference)


def test_picking_back_gives_the_same_spec_again(
    premises: Premises, reference: str, now: datetime
) -> None:
    pick(premises, reference, "cells", "many-cells", now)
    order_it(premises, reference, now)
    sha256 = issued_spec(premises, reference).sha256()
    assert sha256 == spec_of_draft(premises, reference).sha256()
    pick(premises, reference, "cells", "few-cells", now)
    pick(premises, reference, "livery", "nettle", now)
    pick(premises, reference, "livery", "buttermilk", now)
    pick(premises, reference, "cells", "many-cells", now)
    assert sha256 == spec_of_draft(premises, reference).sha256()


def test_picking_what_the_workshop_had_chosen_anyway_orders_nothing_else(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    before = read_draft(premises, reference)
    assert before == pick(premises, reference, "livery", "buttermilk", now)


def test_what_must_move_moves_and_all_of_it_is_undone_at_once(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    ordered = chosen(premises, reference)
    picked = pick(premises, reference, "warmth", "hot-wire", now)
    moved = {"warmth": "hot-wire", "cells": "many-cells", "springs": "stiff-springs"}
    assert ordered | moved == chosen(premises, reference)
    undo_last_change(premises, reference, revision=picked.revision, now=now)
    assert ordered == chosen(premises, reference)


def test_a_way_out_to_what_the_workshop_had_chosen_anyway_writes_nothing(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    before = read_draft(premises, reference)
    after = take_way_out(
        premises,
        reference,
        revision=before.revision,
        group_id="livery",
        option_id="buttermilk",
        now=now,
    )
    assert before == after


def test_taking_the_ordered_build_for_a_wish_is_the_ordered_spec(
    premises: Premises, reference: str, now: datetime
) -> None:
    pick(premises, reference, "cells", "many-cells", now)
    order_it(premises, reference, now)
    sha256, ordered = issued_spec(premises, reference).sha256(), chosen(premises, reference)
    pick(premises, reference, "cells", "few-cells", now)
    seen = read_draft(premises, reference).revision
    take_wished_build(premises, reference, revision=seen, choices=ordered, now=now)
    assert sha256 == spec_of_draft(premises, reference).sha256()


def test_a_choice_left_to_the_workshop_moves_no_other(
    premises: Premises, reference: str, now: datetime
) -> None:
    pick(premises, reference, "cells", "many-cells", now)
    order_it(premises, reference, now)
    ordered, seen = chosen(premises, reference), read_draft(premises, reference).revision
    assert "stiff-springs" == ordered["springs"]
    draft = clear_choice(premises, reference, revision=seen, group_id="cells", now=now)
    assert "cells" not in draft.build.choices
    assert ordered | {"cells": "few-cells"} == chosen(premises, reference)


def test_leaving_a_later_pick_to_the_workshop_again_is_the_ordered_spec(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    sha256 = issued_spec(premises, reference).sha256()
    pick(premises, reference, "warmth", "hot-wire", now)
    seen = read_draft(premises, reference).revision
    clear_choice(premises, reference, revision=seen, group_id="warmth", now=now)
    assert sha256 == spec_of_draft(premises, reference).sha256()


def test_leaving_the_rest_to_the_workshop_again_keeps_what_was_ordered(
    premises: Premises, reference: str, now: datetime
) -> None:
    pick(premises, reference, "cells", "many-cells", now)
    order_it(premises, reference, now)
    ordered, seen = chosen(premises, reference), read_draft(premises, reference).revision
    set_house_choices(premises, reference, revision=seen, wanted=False, now=now)
    pick(premises, reference, "cells", "few-cells", now)
    set_house_choices(premises, reference, revision=seen + 2, wanted=True, now=now)
    assert ordered | {"cells": "few-cells"} == chosen(premises, reference)
    draft = undo_last_change(premises, reference, revision=seen + 3, now=now)
    assert {"cells": "few-cells"} == draft.build.choices
    assert not draft.build.house_choices_for_the_rest


def test_what_was_left_to_the_workshop_after_the_order_stays_so_with_the_next_pick(
    premises: Premises, reference: str, now: datetime
) -> None:
    pick(premises, reference, "cells", "many-cells", now)
    order_it(premises, reference, now)
    pick(premises, reference, "cells", "few-cells", now)
    seen = read_draft(premises, reference).revision
    clear_choice(premises, reference, revision=seen, group_id="springs", now=now)
    left = chosen(premises, reference)
    assert "old-springs" == left["springs"]
    draft = pick(premises, reference, "livery", "nettle", now)
    assert left | {"livery": "nettle"} == chosen(premises, reference)
    assert "springs" not in draft.build.choices


def test_what_had_to_move_goes_back_to_what_was_ordered_once_it_can(
    premises: Premises, reference: str, now: datetime
) -> None:
    order_it(premises, reference, now)
    ordered = chosen(premises, reference)
    pick(premises, reference, "warmth", "hot-wire", now)
    pick(premises, reference, "livery", "nettle", now)
    pick(premises, reference, "warmth", ordered["warmth"], now)
    assert ordered | {"livery": "nettle"} == chosen(premises, reference)
