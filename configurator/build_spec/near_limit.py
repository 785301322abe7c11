"""Whether some build still possible comes so near to a limit that the limit itself may be told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from configurator.build_spec.breaking_limit import BreakingLimit
from configurator.build_spec.compiled import Compiled
from configurator.build_spec.falling_limit import FallingLimit, KeptStates
from configurator.build_spec.limit_forms import LimitForms
from configurator.rules.engine import Engine
from configurator.rules.narrower import narrower_engine

NEAR_KM = 0.05
"""A build whose range is this near to a limit of the range [km] counts as at the limit."""


@dataclass(frozen=True)
class RangeLimits:
    """The blocking limits on the shortest ranges of a compiled build."""

    compiled: Compiled

    def reached(self, case: str | None, picks: Mapping[str, str]) -> float | None:
        """Give the limit of a driving case that some build with the picks comes near to, if any.

        Parameters
        ----------
        case : str, optional
            The driving case.
        picks : mapping of str to str
            The option taken, by group.

        Returns
        -------
        float or None
            The bound [km]; None where there is no such limit or every build goes further.
        """
        for forms in self.compiled.limits:
            limit = forms.limit
            is_meant = limit.limit == "range_low_km" and limit.case == case
            if (
                is_meant
                and limit.severity == "blocks"
                and isinstance(forms.lazy, FallingLimit)
                and self._engine(forms, forms.lazy).is_possible(picks)
            ):
                return forms.bound
        return None

    def _engine(self, forms: LimitForms, lazy: FallingLimit) -> Engine:
        """Make the engine of the builds that keep the limit by little."""

        def made() -> Engine:
            near = replace(lazy, bound=forms.bound + NEAR_KM, known=KeptStates())
            return narrower_engine(self.compiled.engine, lazy_limits=[BreakingLimit(near)])

        return self.compiled.reduced_engines.get_or_make(("near", forms.limit.id), made)
