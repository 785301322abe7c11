"""The ledger gathered by place and direction, for the drawing and the table beside it."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import LedgerLine, Spec
from configurator.drawings.mass_view import Centre, Flow, MassMark, mass_views
from configurator.drawings.shapes import Drawing


def mass_marks(ledger: Sequence[LedgerLine]) -> tuple[MassMark, ...]:
    """Sum what goes out, goes in and is carried at each place, from the front to the rear.

    Parameters
    ----------
    ledger : sequence of LedgerLine
        In any order.

    Returns
    -------
    tuple of MassMark
        One for each place and direction; together they weigh what the ledger does.
    """
    gathered: dict[tuple[str, Flow], list[LedgerLine]] = {}
    for line in ledger:
        gathered.setdefault((line.place_id, _flow(line)), []).append(line)
    marks = [
        MassMark(
            flow=flow,
            what=listed([line.what for line in lines]),
            label=lines[0].place_label,
            mass_kg=sum(abs(line.mass_kg) for line in lines),
            x_m=lines[0].x_m,
            y_m=lines[0].y_m,
            z_m=lines[0].z_m,
        )
        for (_, flow), lines in gathered.items()
    ]
    return tuple(sorted(marks, key=lambda mark: (mark.x_m, mark.label, mark.flow)))


def views_of_masses(spec: Spec) -> tuple[Drawing, Drawing] | None:
    """Draw a complete build with its masses from the side and from above; None while it is open."""
    if not spec.weights.loadings:
        return None
    donor, kerb = (
        Centre(loading.x_m, loading.y_m, loading.height_m) for loading in spec.weights.loadings[:2]
    )
    return mass_views(spec.vehicle, mass_marks(spec.ledger), donor, kerb)


def _flow(line: LedgerLine) -> Flow:
    if line.when == "laden":
        return "carried"
    return "out" if line.mass_kg < 0 else "in"
