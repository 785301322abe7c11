from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from configurator.rules.limits import limit_of
from configurator.rules.options import option_bits
from configurator.rules.problem import Domain, Quantity, QuantityLimit
from configurator.rules.sums import sum_of
from configurator.rules.tables import broken_region, envelope
from tests.rules.small_problems import domains, limits, steady


def compiled(data):
    groups = data.draw(domains())
    limit = data.draw(limits(groups, "mass"))
    names = option_bits(groups)
    builds = [
        dict(zip((group.id for group in groups), options, strict=True))
        for options in product(*(group.options for group in groups))
    ]
    table = limit_of(limit, sum_of(limit.quantity, names), names)
    return limit, table, names, [(build, names.pick_mask(build) | 1) for build in builds]


@given(st.data())
@steady
def test_a_build_that_keeps_a_limit_keeps_its_envelope(data):
    limit, table, names, builds = compiled(data)
    around = envelope(table, names)
    for build, bits in builds:
        assert limit.keeps(build) == table.allows(bits)
        if around is not None and limit.keeps(build):
            assert around.allows(bits)


@given(st.data())
@steady
def test_a_region_told_of_a_table_is_broken_by_the_build_asked_about_and_by_no_allowed_one(data):
    limit, table, _, builds = compiled(data)
    broken = [bits for build, bits in builds if not limit.keeps(build)]
    if not broken:
        return
    asked_about = data.draw(st.sampled_from(broken))
    region = broken_region(table, asked_about)
    assert not region.allows(asked_about)
    for build, bits in builds:
        assert region.allows(bits) or not limit.keeps(build)


def test_a_region_stops_at_the_row_whose_bound_is_just_reached():
    groups = (Domain("roof", ("low", "tall")),)
    names = option_bits(groups)
    classes = (("roof", {"low": 0, "tall": 1}),)
    limit = QuantityLimit("mass", Quantity(5, {}), classes, {(0,): 5, (1,): 4})
    table = limit_of(limit, sum_of(limit.quantity, names), names)
    region = broken_region(table, names.pick_mask({"roof": "tall"}) | 1)
    assert not region.allows(names.pick_mask({"roof": "tall"}) | 1)
    assert region.allows(names.pick_mask({"roof": "low"}) | 1)
