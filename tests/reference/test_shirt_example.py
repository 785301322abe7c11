"""The running example of interactive configuration in the literature: a T-shirt."""

import pytest

from configurator.rules.counting import Count, count_builds
from configurator.rules.engine import Engine
from configurator.rules.problem import Domain, Implication, Problem

# Source: T. Hadzic, R. M. Jensen, H. R. Andersen, Calculating valid domains for BDD-based
# interactive configuration, arXiv:0704.1394 (2007), after T. Hadzic et al., Fast backtrack-free
# product configuration using a precompiled solution space representation (2004). That the papers
# exist was looked up; the example itself is from memory.
SHIRT = Problem(
    domains=(
        Domain("colour", ("black", "white", "red", "blue")),
        Domain("size", ("small", "medium", "large")),
        Domain("print", ("MIB", "STW")),
    ),
    implications=(
        Implication(
            "mib-is-black", {"print": frozenset({"MIB"})}, {"colour": frozenset({"black"})}
        ),
        Implication(
            "stw-is-not-small",
            {"print": frozenset({"STW"})},
            {"size": frozenset({"medium", "large"})},
        ),
    ),
)


def test_eleven_of_the_twenty_four_shirts_can_be_made():
    assert Count(11, is_exact=True) == count_builds(SHIRT, {})


def test_a_small_shirt_leaves_one_colour_and_one_print():
    available = Engine(SHIRT).availability({"size": "small"})
    assert {"MIB": True, "STW": False} == available["print"]
    assert ["black"] == [colour for colour, possible in available["colour"].items() if possible]
    assert Count(1, is_exact=True) == count_builds(SHIRT, {"size": "small"})


@pytest.mark.parametrize("colour", ["white", "red", "blue"])
def test_a_shirt_that_is_not_black_leaves_the_other_print_and_two_sizes(colour):
    available = Engine(SHIRT).availability({"colour": colour})
    assert {"MIB": False, "STW": True} == available["print"]
    assert {"small": False, "medium": True, "large": True} == available["size"]


def test_why_a_small_shirt_is_not_red_needs_both_rules():
    found = Engine(SHIRT).conflict({"size": "small", "colour": "red"})
    assert {"mib-is-black", "stw-is-not-small"} == set(found.implications)
