"""Limits that are told only for the builds that somebody asks about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.rules.options import Build, OptionPlaces
from configurator.rules.problem import LazyLimit, SwiftLazyLimit
from configurator.rules.rows import Member, Row, Sums, row_of_limit

_ANSWERS_KEPT = 20_000


class Lazy:
    """A lazy limit, with what it told so far."""

    def __init__(self, limit: LazyLimit, places: OptionPlaces, sums: Sums) -> None:
        self.member: Member = ("limit", limit.id)
        self.limit = limit
        self._swift = limit if isinstance(limit, SwiftLazyLimit) else None
        self._places = places
        self._told: dict[Build, Row | None] = {}
        self._sums = sums

    def row_against(self, build: Build) -> Row | None:
        """Give a row that a complete build breaks and every allowed one keeps, or None.

        Raises
        ------
        RuntimeError
            If what is told does not rule the build out, so that asking on would never end.
        """
        # Engines in other threads share what was told, and may forget it at any time.
        try:
            return self._told[build]
        except KeyError:
            row = self._asked(build)
        self._remember({build: row})
        return row

    def kept(
        self, builds: Sequence[Build], choices: Mapping[Build, Mapping[str, str]]
    ) -> list[Build]:
        """Give those of some complete builds, each with its choices, that keep the limit."""
        if self._swift is not None:
            unasked = [build for build in builds if build not in self._told]
            judged = self._swift.kept_by([choices[build] for build in unasked])
            broken = {build for build, kept in zip(unasked, judged, strict=True) if not kept}
            self._remember(dict.fromkeys(set(unasked) - broken))
            builds = [build for build in builds if build not in broken]
        return [build for build in builds if self.row_against(build) is None]

    def _remember(self, told: dict[Build, Row | None]) -> None:
        if len(self._told) > _ANSWERS_KEPT:
            self._told.clear()
        self._told.update(told)

    def _asked(self, build: Build) -> Row | None:
        choices = self._places.choices(build)
        told = self.limit.broken_by(choices)
        if told is None:
            return None
        row = row_of_limit(told, self._sums.of(told.quantity), self._places)
        if row.allows(self._places, build):
            message = (
                f'limit "{self.limit.id}": it says that {choices} breaks {told}, which it keeps; '
                "a limit told must be broken by the choices asked about."
            )
            raise RuntimeError(message)
        return Row(self.member, row.factors, row.total, row.bound)
