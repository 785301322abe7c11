from __future__ import annotations

import ast
from pathlib import Path

from configurator.app.view_models.words import DAY_TYPED

SCREENS = Path(__file__).parents[2] / "configurator" / "app" / "screens"


def fields_for_days() -> list[tuple[str, ast.Call]]:
    return [
        (path.name, node)
        for path in sorted(SCREENS.glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "date_input"
    ]


# Source: common practice, no source: a British reader takes 03/04 for the third of April, and the
# sentences beside the fields say "3 April 2026".
def test_each_field_for_a_day_is_typed_in_the_order_in_which_days_are_spoken():
    assert DAY_TYPED == "DD/MM/YYYY"
    fields = fields_for_days()
    assert len(fields) >= 9
    otherwise = [
        f"{name}:{call.lineno}"
        for name, call in fields
        if "DAY_TYPED" not in [ast.unparse(k.value) for k in call.keywords if k.arg == "format"]
    ]
    assert [] == otherwise
