"""Reading plants that are treated one by one: their number, told or counted, and what each gets."""

from collections.abc import Sequence

from shapely import get_num_geometries

from planner.core.label.labels import Basis
from planner.core.machine.machines import Machine
from planner.core.mix.plants import Plants
from planner.core.mix.products import Product
from planner.core.request.reader import Believable, Members
from properties.core.features import KINDS, Role
from properties.core.outlines import Drawing, Shape
from properties.core.units import Dimension, Quantity

KNOWN = ("count", "kind", "spray_each")
MOST_PLANTS = 100_000
#: What is counted where nobody says what to count.
USUAL_KIND = "tree_or_shrub"
KINDS_TO_COUNT = tuple(kind.token for kind in KINDS.values() if kind.role is Role.PROTECTED)

SPRAY_EACH = Believable(Quantity(1, "mL"), Quantity(1000, "L"))

#: Members that say something of turf, or of a way of working that plants do not have.
NOT_OF_PLANTS = (
    *("route", "hand_tool", "tank_now", "passes", "rate_meets", "first_pass_used"),
    *("history", "history_since", "blackouts", "seedings", "turfgrasses"),
    *("nutrient_limits", "nutrients_so_far", "nutrients_lately", "soil_test"),
)


def read_plants(
    whole: Members,
    drawing: Drawing | None,
    *,
    machine: Machine | None,
    products: Sequence[Product],
) -> Plants | None:
    """Read how many plants there are, and check what goes with them.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    drawing : Drawing or None
        What is drawn, if it could be read; the plants are counted there unless told. [-]
    machine : Machine or None
        The machine, if it could be read. [-]
    products : Sequence[Product]
        The products that could be read. [-]

    Returns
    -------
    Plants or None
        The plants; None where there are none, or where their number has a fault. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    members = whole.within("plants", KNOWN)
    if members is None:
        return None
    for name in filter(whole.has, NOT_OF_PLANTS):
        whole.faults.add(name, "Plants are treated one by one, without it.", "Leave it out.")
    _check_products(whole, products)
    if machine is not None and machine.spreading is not None:
        remedy = "Choose a sprayer."
        whole.faults.add("machine.kind", "A spreader does not treat single plants.", remedy)
    members.want("spray_each", "Write the finished spray that each plant gets, such as 0.5 gal.")
    each = members.quantity("spray_each", Dimension.VOLUME, believable=SPRAY_EACH)
    found = _counted(members, drawing)
    return None if each is None or found is None else Plants(found[0], each, *found[1:])


def _counted(
    members: Members, drawing: Drawing | None
) -> tuple[int, tuple[str, ...], tuple[str, ...]] | None:
    kind = members.choice("kind", KINDS_TO_COUNT) or USUAL_KIND
    if members.has("count"):
        count = members.whole("count", least=1, most=MOST_PLANTS)
        return None if count is None else (count, (), ())
    drawn = [shape for shape in drawing.shapes if shape.kind.token == kind] if drawing else []
    points = [shape for shape in drawn if _is_points(shape)]
    if not points:
        members.faults.add(
            members.path_of("count"),
            "Nobody says how many plants there are.",
            "Count them on the site and write the number, or draw each as a point.",
        )
        return None
    count = sum(int(get_num_geometries(shape.geometry)) for shape in points)
    uncounted = tuple(shape.name or shape.ref for shape in drawn if not _is_points(shape))
    return count, tuple(shape.ref for shape in points), uncounted


def _is_points(shape: Shape) -> bool:
    return shape.geometry.geom_type in {"Point", "MultiPoint"}


def _check_products(whole: Members, products: Sequence[Product]) -> None:
    for product in products:
        if product.kind.basis is Basis.AREA:
            whole.faults.add(
                "mix",
                f"{product.name}: {product.rate} is for an area, and plants get an amount each.",
                "Take the line of its label for each plant, or plan it for turf.",
            )
