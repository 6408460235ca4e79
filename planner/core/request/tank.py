"""Reading what is already in a tank."""

from collections.abc import Sequence

from planner.core.label.labels import Form
from planner.core.machine.machines import Machine
from planner.core.mix.products import Product
from planner.core.request.reader import Believable, Faults, Members, quantity_at
from planner.core.request.tanks import TANKS
from planner.core.shown import listed
from planner.core.tank_now import TankNow
from planner.core.tools import Tool
from properties.core.units import Dimension, Quantity

KNOWN = ("tool", "spray", "products")

AMOUNTS = {
    Form.LIQUID: Believable(Quantity(0, "L"), Quantity(100_000, "L")),
    Form.DRY: Believable(Quantity(0, "kg"), Quantity(100_000, "kg")),
}
DIMENSIONS = {Form.LIQUID: Dimension.VOLUME, Form.DRY: Dimension.MASS}
_SAME_VOLUME = 1 + 1e-9


def read_tank_now(
    whole: Members,
    products: Sequence[Product],
    *,
    machine: Machine | None,
    hand_tool: Machine | None,
) -> TankNow | None:
    """Read what is already mixed, and check it against the mix.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    products : Sequence[Product]
        The mix as far as it could be read. [-]
    machine, hand_tool : Machine or None
        The tools, as far as they could be read. [-]

    Returns
    -------
    TankNow or None
        What is in the tank, or None where nothing is told or there are faults. [as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    tank = whole.within("tank_now", KNOWN)
    if tank is None:
        return None
    tool = Tool(tank.choice("tool", tuple(Tool)) or Tool.MACHINE)
    if tool is Tool.HAND_TOOL and not whole.has("hand_tool"):
        remedy = "Add the hand tool to the request, or say machine."
        whole.faults.add(tank.path_of("tool"), "This request has no hand tool.", remedy)
    tank.want("spray", "Write how much finished spray is in the tank, for example 17.5 gal.")
    spray = tank.quantity("spray", Dimension.VOLUME, believable=TANKS)
    holder = machine if tool is Tool.MACHINE else hand_tool
    if spray is not None and holder is not None and holder.tanks:
        check_holds(tank.faults, tank.path_of("spray"), spray, holder.tanks)
    tank.want("products", "Write how much of each product of the mix is in it.")
    amounts = _amounts(tank, products)
    if spray is None or len(amounts) < len(products):
        return None
    liquids_l = sum(amounts[product.name].si for product in products if product.is_liquid)
    if liquids_l > spray.si * _SAME_VOLUME:
        tank.faults.add(
            tank.path_of("products"),
            f"The products alone are more than the {spray} in the tank.",
            "Check the amounts and their units.",
        )
    return TankNow(tool, spray, amounts)


def check_holds(faults: Faults, path: str, volume: Quantity, tanks: Sequence[Quantity]) -> None:
    """Note a fault where more is said to be in the tanks than they hold.

    Parameters
    ----------
    faults : Faults
        Where faults are noted. [-]
    path : str
        Where the volume stands. [-]
    volume : Quantity
        What is said to be in them. [volume]
    tanks : Sequence[Quantity]
        What each of them holds; at least one. [volume]

    Returns
    -------
    None
        Nothing. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own derivation.
    """
    if volume.si > sum(tank.si for tank in tanks) * _SAME_VOLUME:
        held = listed([str(tank) for tank in tanks])
        problem = f"{volume} is more than the tank holds ({held})."
        faults.add(path, problem, "Read the gauge again on level ground, and check the unit.")


def _amounts(tank: Members, products: Sequence[Product]) -> dict[str, Quantity]:
    inner = tank.within("products", [product.name for product in products])
    if inner is None:
        return {}
    amounts = {}
    for product in products:
        form, path = product.kind.form, inner.path_of(product.name)
        if inner.want(product.name, "Write how much of it is in the tank; 0 is an answer too."):
            value = inner.values[product.name]
            amount = quantity_at(
                inner.faults, path, value, DIMENSIONS[form], believable=AMOUNTS[form]
            )
            if amount is not None:
                amounts[product.name] = amount
    return amounts
