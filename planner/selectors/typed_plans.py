"""A plan from the text of a request alone, with no stored row and no database."""

from typing import Any

from planner.core.answers import answer_text
from planner.core.ground.ground import Rules
from properties.core.setbacks import Claim
from properties.core.units import Dimension, parse_quantity
from properties.selectors.rules import example_setbacks


def example_rules() -> Rules:
    """Read the example distances that ship with the project; nobody has checked them."""
    # The distance does not depend on the units a plan is shown in, so one family is used.
    return Rules(
        {
            kind: Claim(parse_quantity(example["us"], Dimension.LENGTH), example["source"])
            for kind, example in example_setbacks().items()
        }
    )


def plan_of_text(text: str) -> dict[str, Any]:
    """Plan what a request's text asks for. FaultsFound with every fault if it cannot be read."""
    return answer_text(text, rules=example_rules())
