"""A wish in the form that the engine understands: a limit that the customer may give up again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from configurator.build_spec.drive_state import drive_state
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.facts import STORED_DECIMALS
from configurator.build_spec.falling_limit import FallingLimit
from configurator.build_spec.limit_forms import NOTHING, LimitForms, forms_of
from configurator.build_spec.slot_classes import Region, slot_classes, slot_regions
from configurator.catalog.models.build import Wish
from configurator.catalog.models.rule import Limit
from configurator.rules.problem import ConditionalLimit

HELD, GIVEN_UP = "held", "given up"


@dataclass(frozen=True)
class Target:
    """One wish with what it asks of a build.

    Other than a limit, a wish is missed by a build that does not have its fact at all.
    """

    wish: Wish
    forms: LimitForms
    without: tuple[Region, ...]
    """Regions of builds that do not have the fact; not for facts that move with mass."""
    group: str
    """The group of the engine that says whether the wish is held; no catalog has such an id."""

    @property
    def bounds(self) -> tuple[ConditionalLimit, ...]:
        """What must hold in every build that meets the wish, as far as it is sums and regions."""
        absent = (ConditionalLimit(self.group, region, NOTHING, None) for region in self.without)
        told = (replace(form, id=self.group) for form in self.forms.by_region)
        return (*told, *absent)

    @property
    def bounds_while_held(self) -> tuple[ConditionalLimit, ...]:
        """The same, asked only while the wish is held."""
        return tuple(while_held(form, self.group) for form in self.bounds)

    def lazy(self, *, while_held: bool) -> WishedLimit | None:
        """Bound a fact that moves with mass, always or only while the wish is held."""
        falling = self.forms.lazy
        if not isinstance(falling, FallingLimit):
            return None
        return WishedLimit(self.group, falling, self.group if while_held else None)


@dataclass(frozen=True)
class WishedLimit:
    """A falling fact's bound that also asks for the fact, and may be given up."""

    id: str
    falling: FallingLimit
    group: str | None
    """The group that says whether the wish is held; None where it always is."""

    def kept_by(self, many: Sequence[Mapping[str, str]]) -> list[bool]:
        """Tell of each complete choices whether they meet the wish or give it up."""
        falling = self.falling
        asked = [self._is_held(choices) for choices in many]
        held = [choices for choices, is_held in zip(many, asked, strict=True) if is_held]
        states = [drive_state(falling.offer, choices, falling.mass_g) for choices in held]
        met = iter([self._is_met(value) for value in falling.fact.evaluate(states)])
        return [not is_held or next(met) for is_held in asked]

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        """Tell a region of builds that miss the wish, these choices among them."""
        if self.kept_by([choices])[0]:
            return None
        told = self.falling.broken_by(choices)
        if told is None:
            told = ConditionalLimit(self.id, self._alike(choices), NOTHING, None)
        told = replace(told, id=self.id)
        return told if self.group is None else while_held(told, self.group)

    def _is_held(self, choices: Mapping[str, str]) -> bool:
        return self.group is None or choices[self.group] == HELD

    def _is_met(self, value: float | None) -> bool:
        if value is None:
            return False
        bound = self.falling.bound
        return value >= bound if self.falling.fact.falls else value <= bound

    def _alike(self, choices: Mapping[str, str]) -> Region:
        """Name the builds with the same parts; what is fitted decides whether there is a fact."""
        on = self.falling.on
        return {
            group.id: next(c for c in slot_classes(group, on, None) if choices[group.id] in c)
            for group in on.slot_groups
        }


def while_held(form: ConditionalLimit, group: str) -> ConditionalLimit:
    """Ask a limit only of builds that hold a wish."""
    return replace(form, when={**form.when, group: frozenset({HELD})})


def target_of(wish: Wish, number: int, book: FactBook) -> Target:
    """Put a wish into the engine's form.

    Parameters
    ----------
    wish : Wish
        A fact's target; read to as many decimals as facts are stored with.
    number : int
        Its place among the wishes, from 1.
    book : FactBook
        The facts of the build.

    Raises
    ------
    CatalogError
        If the wish bounds its fact from the side that no build comes near to.
    """
    forms = forms_of(limit_of(wish, number), book)
    return Target(wish, forms, _regions_without(wish, book), f"wish {number}")


def limit_of(wish: Wish, number: int) -> Limit:
    """Write a wish as a limit of the catalog would be written.

    Examples
    --------
    >>> limit_of(Wish(fact="price_gbp", at_most=46000), 1).at_most
    46000.0
    """
    return Limit(
        id=f"wish-{number}",
        label=f"Wish {number}",
        limit=wish.fact,
        case=wish.case,
        at_least=None if wish.at_least is None else round(wish.at_least, STORED_DECIMALS),
        at_most=None if wish.at_most is None else round(wish.at_most, STORED_DECIMALS),
        because="The customer wishes it.",
        source="the customer's wish",
    )


def _regions_without(wish: Wish, book: FactBook) -> tuple[Region, ...]:
    margin = book.margin_fact(wish.fact)
    if margin is not None:
        regions = book.slot_regions(margin.slots, {})
        return tuple(r for r in regions if margin.bound(book.parts_in(r)) is None)
    drive = book.drive_fact(wish.fact, wish.case)
    if drive is None or drive.mass:
        return ()
    regions = list(slot_regions(book.dependence(drive), {}))
    values = drive.evaluate([book.state_in(region) for region in regions])
    return tuple(r for r, value in zip(regions, values, strict=True) if value is None)
