"""The vehicle of a spec as pictures on a page."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.drawing_flowable import DrawingFlowable
from configurator.documents.styles import TEXT_WIDTH
from configurator.drawings.look import look_of
from configurator.drawings.side_view import side_view


def vehicle_picture(spec: Spec, *, height: float, width: float = TEXT_WIDTH) -> Flowable:
    """Draw the vehicle from its side in the chosen look, within a size [pt]."""
    look = look_of(choice.look for choice in spec.choices)
    return DrawingFlowable(side_view(spec.vehicle, look), width=width, height=height)
