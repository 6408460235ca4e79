"""Areas that were stated and not drawn, and how far the firm thinks they may be out."""

from properties.core.stated import StatedGround
from properties.core.units import Quantity
from properties.models import Firm, Property, StatedArea, StatedAreaRule

#: Where a firm has set none. One standard deviation: 95 in 100 lie within twice as much.
EXAMPLE_ERROR = Quantity(15.0, "%")
EXAMPLE_SOURCE = "Example, to be checked locally: common practice for an area that somebody stated"


def stated_area_rule_of(firm: Firm) -> StatedAreaRule:
    """Give the firm's rule, or the example every firm starts with."""
    found = StatedAreaRule.objects.filter(firm=firm).select_related("checked_by").first()
    return found or StatedAreaRule(firm=firm, error=EXAMPLE_ERROR, source=EXAMPLE_SOURCE)


def stated_area_of(place: Property) -> StatedArea | None:
    """Give what somebody stated of a property's turf, whether or not it has been drawn since."""
    return StatedArea.objects.filter(property=place).first()


def stated_ground_of(place: Property) -> StatedGround | None:
    """Give the stated turf of a property where none is drawn; a drawing is always stronger."""
    if place.turf_area_m2 > 0:
        return None
    stated = stated_area_of(place)
    if stated is None:
        return None
    rule = stated_area_rule_of(place.firm)
    return StatedGround(
        area=stated.area,
        sigma_share=rule.error.si,
        said_by=f"As stated in {stated.source}, not drawn",
        error_source=rule.source,
    )
