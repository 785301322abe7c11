from __future__ import annotations

from decimal import Decimal

from configurator.app.view_models.ways_out import (
    AGAINST_COMPLETE,
    AGAINST_DEFAULT,
    DifferenceWords,
    WayOutWords,
    compared_with,
    names_in,
    taken_words,
    way_out_words,
)
from configurator.build_spec.standing import Difference, WayOut
from tests.app.assessed import assessed

MOVED = Difference(
    price_gbp=Decimal("420.00"),
    range_km=-12.3,
    range_label="Country roads",
    kerb_mass_kg=0.0,
    handover_days=3,
)


def way_out(difference: Difference | None, *changes: tuple[str, str]) -> WayOutWords:
    groups = assessed(cells="many-cells").groups
    way = WayOut(
        changes=changes,
        sentence="",
        difference=difference,
        price_difference_gbp=Decimal("420.00"),
    )
    return way_out_words(way, names_in(groups))


def test_each_change_names_the_new_option_and_the_one_it_replaces():
    said = way_out(None, ("cells", "few-cells"), ("livery", "nettle"))
    assert ("Cells: Few cells instead of Many cells", "Livery: Nettle") == said.lines
    assert () == said.differences


def test_the_four_differences_are_said_with_their_signs():
    assert (
        DifferenceWords("Price", "+\xa0£420"),
        DifferenceWords("Range, Country roads", "−\xa012\xa0km"),
        DifferenceWords("Kerb mass", "no difference"),
        DifferenceWords("Finish", "3 days later"),
    ) == way_out(MOVED, ("cells", "few-cells")).differences


def test_a_range_that_cannot_be_compared_is_said_to_be_untold():
    unknown = MOVED.model_copy(update={"range_km": None})
    assert "cannot be told" == way_out(unknown, ("cells", "few-cells")).differences[1].value


def test_it_is_said_what_the_differences_are_against():
    groups = assessed().groups
    chosen = [group.model_copy(update={"chosen_option_id": "any"}) for group in groups]
    assert AGAINST_DEFAULT == compared_with(groups)
    assert AGAINST_COMPLETE == compared_with(chosen)


def test_a_way_out_taken_says_what_it_changed():
    names = names_in(assessed(springs="old-springs", cells="few-cells").groups)
    said = taken_words(("springs", "old-springs"), [("cells", "few-cells")], names)
    assert said.startswith(f"{names.option('springs', 'old-springs')} is chosen")
    assert said.endswith("Cells: Few cells.")
