"""The last step of each derivation is the fact, on every build of both tiny vehicles."""

import pytest

from configurator.build_spec.electrical_derivation import derive_electrical
from configurator.build_spec.electrical_facts import electrical_set_facts
from configurator.build_spec.electrical_set import ElectricalSet
from configurator.build_spec.facts import extents_of_complete
from tests.build_spec.electrical_builds import choices_of, electrical_catalog
from tests.build_spec.tiny_builds import compiled_of, tiny_catalog

VAN = "clover-van"


@pytest.mark.parametrize("cells", ["few-cells", "many-cells"])
@pytest.mark.parametrize("warmth", ["scarf", "hot-wire"])
@pytest.mark.parametrize("plug", ["slow-plug", "quick-plug"])
def test_the_last_step_is_the_fact(cells: str, warmth: str, plug: str) -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    choices = choices_of(compiled, cells=cells, warmth=warmth, plug=plug)
    values = {e.name: e.low for e in extents_of_complete(compiled.book, choices)}
    fitted = ElectricalSet(compiled.offer.vehicle, compiled.book.parts_of(choices))
    names = [fact.name for fact in electrical_set_facts(compiled.book.around)]
    assert len(names) == 9
    for name in names:
        derived = derive_electrical(fitted, name)
        assert (derived is None) == (name not in values), name
        if derived is not None:
            assert values[name] == pytest.approx(derived.steps[-1].value, rel=1e-9, abs=1e-9), name
            assert derived.formula
            assert derived.source
            ids = [stated.id for stated in derived.inputs]
            assert ids
            assert len(ids) == len(set(ids))
            assert all(stated.source and stated.label for stated in derived.inputs)


def test_what_is_not_stated_and_other_facts_have_no_derivation() -> None:
    compiled = compiled_of(tiny_catalog(), VAN)
    fitted = ElectricalSet(
        compiled.offer.vehicle, compiled.book.parts_of(compiled.offer.house_choices())
    )
    for fact in electrical_set_facts(compiled.book.around):
        assert derive_electrical(fitted, fact.name) is None
    assert derive_electrical(fitted, "kerb_mass_kg") is None


def test_the_doubt_of_the_cables_rating_is_told() -> None:
    compiled = compiled_of(electrical_catalog(), VAN)
    choices = choices_of(compiled, warmth="scarf")
    fitted = ElectricalSet(compiled.offer.vehicle, compiled.book.parts_of(choices))
    derived = derive_electrical(fitted, "fuse_over_cable_a")
    assert derived is not None
    rating = next(stated for stated in derived.inputs if stated.id == "cable-rating")
    assert (250.0, 12.5) == (rating.value, rating.sigma)
