"""The chart of the pack: axle loads against their limits."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Axle, Spec
from configurator.documents.drawing_flowable import DrawingFlowable
from configurator.documents.styles import TEXT_WIDTH
from configurator.drawings.load_bars import AxleBar, load_bars

HIGHEST_PT = 120.0
"""The chart never takes more of a page than this [pt]."""


def axle_chart(spec: Spec) -> Flowable:
    """Draw both axles, without load, as weighed once they were, and laden, with their limits."""
    axles = [_axle_bar(spec.weights.front), _axle_bar(spec.weights.rear)]
    return DrawingFlowable(load_bars(axles), width=TEXT_WIDTH, height=HIGHEST_PT)


def _axle_bar(axle: Axle) -> AxleBar:
    weighed = axle.measured_kg
    return AxleBar(
        label=axle.axle.capitalize(),
        kerb_low_kg=axle.kerb_low_kg if weighed is None else weighed,
        kerb_high_kg=axle.kerb_high_kg if weighed is None else weighed,
        laden_low_kg=axle.laden_low_kg,
        laden_high_kg=axle.laden_high_kg,
        limit_low_kg=axle.limit_low_kg,
        limit_high_kg=axle.limit_high_kg,
        limited_by="" if axle.limited_by == "open" else axle.limited_by,
        kerb_is="" if weighed is None else "weighed",
    )
