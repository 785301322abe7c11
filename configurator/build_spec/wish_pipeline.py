"""Catalog, build and its wishes in, the answer out."""

from __future__ import annotations

from configurator.build_spec.engines import Engines
from configurator.build_spec.wish_answer import WishAnswer, WishFront
from configurator.build_spec.wish_front import wish_front
from configurator.build_spec.wishes import answer_wishes
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog


def wished(catalog: Catalog, build: BuildInput, engines: Engines) -> WishAnswer:
    """Answer the wishes of a build; see `wishes.answer_wishes`.

    Parameters
    ----------
    catalog : Catalog
        The workshop's catalog.
    build : BuildInput
        With its wishes, preferences and marks.
    engines : Engines
        Compiled builds kept warm.

    Raises
    ------
    ChoiceError
        If the vehicle is unknown, or a wish, preference or mark cannot be understood.
    CatalogError
        If a limit cannot be used as written.
    """
    return answer_wishes(engines.compiled(catalog, build), build)


def price_range_front(
    catalog: Catalog, build: BuildInput, engines: Engines, case_id: str | None = None
) -> WishFront:
    """Lay out price against range in one driving case; see `wish_front.wish_front`.

    Raises
    ------
    ChoiceError
        If the vehicle or the case is unknown, or a mark cannot be understood.
    CatalogError
        If a limit cannot be used as written.
    """
    return wish_front(engines.compiled(catalog, build), build, case_id)
