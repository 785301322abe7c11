"""Which sign-offs a build is asked for: those of the catalog that its spec was issued with."""

from __future__ import annotations

from configurator.build_life.life import Life
from configurator.catalog.models.workshop import SignOff
from configurator.errors import CatalogError
from configurator.workflow.issued_catalogs import catalog_of
from configurator.workflow.premises import Premises


def sign_offs_asked(premises: Premises, life: Life) -> tuple[SignOff, ...]:
    """List the sign-offs of a build; a later edit of the catalog makes none of them needless.

    Parameters
    ----------
    premises : Premises
        Where the catalogs are.
    life : Life
        Of the build; before a spec is issued those of the catalog at work are told.

    Raises
    ------
    RecordError
        If the catalog of the issue is lost or was altered.
    """
    issued = life.issued
    if issued is None:
        return premises.catalog.workshop.sign_offs
    sha256 = issued.catalog_sha256
    return premises.issued_sign_offs.get_or_make(sha256, lambda: _issued(premises, sha256))


def _issued(premises: Premises, sha256: str) -> tuple[SignOff, ...]:
    try:
        return catalog_of(premises, sha256).workshop.sign_offs
    except CatalogError:
        # Kept by an older version, in a shape that this one does not read.
        return premises.catalog.workshop.sign_offs
