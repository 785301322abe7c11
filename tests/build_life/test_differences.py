"""Between two specs all that differs is told, and nothing else."""

from __future__ import annotations

from decimal import Decimal
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.build_life.differences import (
    SpecDifferences,
    altered_amounts_gbp,
    spec_differences,
)
from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import Discount, Donor, SecondDonor
from tests.build_spec.tiny_builds import build_of, every_build, tiny_catalog


@cache
def some_specs() -> tuple[Spec, ...]:
    catalog, engines = tiny_catalog(), Engines()
    known = every_build("clover-van")
    known = known[:: max(len(known) // 10, 1)][:10]
    return tuple(specify(catalog, build_of("clover-van", **one.choices), engines) for one in known)


def test_a_spec_does_not_differ_from_itself() -> None:
    spec = some_specs()[0]
    same = spec_differences(spec, spec)
    parts = (same.choices, same.lines, same.masses, same.ranges, same.texts, same.findings)
    assert ((),) * 6 == parts
    assert same.handover is None


def test_what_was_open_till_now_is_no_other_choice() -> None:
    # Source: common practice, no source: who chooses in time changes nothing that was ordered.
    catalog, engines = tiny_catalog(), Engines()
    before = specify(catalog, build_of("clover-van"), engines)
    house = build_of("clover-van").model_copy(update={"house_choices_for_the_rest": True})
    after = specify(catalog, house, engines)
    assert before.open_groups
    closed = spec_differences(before, after)
    assert any(line.after_gbp for line in closed.lines)
    assert () == altered_amounts_gbp(closed.lines)
    there, back = some_specs()[0], some_specs()[-1]
    assert altered_amounts_gbp(spec_differences(there, back).lines)


@given(st.sampled_from(range(10)), st.sampled_from(range(10)))
@settings(max_examples=60, deadline=None)
def test_what_the_lines_add_is_the_change_of_the_total(first: int, second: int) -> None:
    before, after = some_specs()[first], some_specs()[second]
    found = spec_differences(before, after)
    assert after.price.total_low_gbp - before.price.total_low_gbp == found.price_change_gbp
    changed = [
        (c.group_label, before.chosen(c.group_id))
        for c in after.choices
        if (was := before.chosen(c.group_id)) is None or was.option_label != c.option_label
    ]
    assert len(changed) == len(found.choices)


@given(st.sampled_from(range(10)), st.sampled_from(range(10)))
@settings(max_examples=30, deadline=None)
def test_the_way_back_is_the_way_there_turned_round(first: int, second: int) -> None:
    before, after = some_specs()[first], some_specs()[second]
    there, back = spec_differences(before, after), spec_differences(after, before)
    assert turned(there) == turned(turned_back(back))


def turned(found: SpecDifferences) -> set[tuple[str, object, object]]:
    told: set[tuple[str, object, object]] = {(w.label, w.before, w.after) for w in found.choices}
    told |= {(line.id, line.before_gbp, line.after_gbp) for line in found.lines}
    return told | {(span.label, span.before, span.after) for span in (*found.masses, *found.ranges)}


def turned_back(found: SpecDifferences) -> SpecDifferences:
    def swap(item: object) -> object:
        names = ("before_gbp", "after_gbp") if hasattr(item, "before_gbp") else ("before", "after")
        first, second = (getattr(item, name) for name in names)
        return item.model_copy(update=dict(zip(names, (second, first), strict=True)))  # type: ignore[attr-defined]

    parts = ("choices", "lines", "masses", "ranges")
    return found.model_copy(
        update={part: tuple(swap(item) for item in getattr(found, part)) for part in parts}
    )


def test_a_discount_is_a_line_that_differs() -> None:
    catalog, engines = tiny_catalog(), Engines()
    build = some_specs()[0].build
    before = specify(catalog, build, engines)
    lower = Discount(amount_gbp=Decimal("100.00"), reason="Patience")
    after = specify(catalog, build.model_copy(update={"discount": lower}), engines)
    found = spec_differences(before, after)
    assert [Decimal("-100.00")] == [line.change_gbp for line in found.lines]
    assert () == found.choices


def test_what_is_known_of_the_donors_is_told_where_it_differs() -> None:
    before = some_specs()[0]
    donor = Donor(description="Stood in a barn", identity_mark="Sample 1")
    second = SecondDonor(description="Front crushed", identity_mark="Sample 2")
    build = before.build.model_copy(update={"donor": donor, "second_donor": second})
    found = spec_differences(before, before.model_copy(update={"build": build}))
    assert [
        ("Donor as it came", None, "Stood in a barn"),
        ("Identity mark of the donor", None, "Sample 1"),
        ("Second donor, for parts", None, "Front crushed; identity mark Sample 2"),
    ] == [(words.label, words.before, words.after) for words in found.survey]
