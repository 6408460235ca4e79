"""Reading what a person copied from a label."""

from planner.core.label.facts import Use
from planner.core.label.labels import EVERY_KIND, PLANT_KINDS, RATE_KINDS, Label, Limits
from planner.core.request.distances import read_label_distances
from planner.core.request.label_facts import (
    KNOWN_OF_CONDITIONS,
    KNOWN_OF_TOLD,
    read_conditions,
    read_told,
)
from planner.core.request.limits import (
    DENSITIES,
    read_ingredients,
    read_seeding,
    read_use_limits,
)
from planner.core.request.rates import AMOUNTS_EACH, RATES
from planner.core.request.reader import Members
from planner.core.request.set_up import OUTPUTS
from planner.core.request.wind import WINDS
from properties.core.units import Dimension, Quantity

KNOWN = (
    *("rate_min", "rate_max", "setbacks", "carrier_min", "carrier_max", "wind_max"),
    *("limits", "active_ingredients", "density", "seeding"),
    *KNOWN_OF_CONDITIONS,
    *KNOWN_OF_TOLD,
)


def read_label(product: Members, rate: Quantity | None) -> Label | None:
    """Read the label of a product.

    Parameters
    ----------
    product : Members
        The members of the product. [-]
    rate : Quantity or None
        The rate asked for, if it could be read: the label's must be of its kind. [-]

    Returns
    -------
    Label or None
        What was copied, or None where there is no label. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    label = product.within("label", KNOWN)
    if label is None:
        return None
    limits = read_use_limits(label, rate)
    wind_max = label.quantity("wind_max", Dimension.SPEED, believable=WINDS)
    return Label(
        rate=_limits(label, "rate", *(_rate(label, f"rate_{end}", rate) for end in ("min", "max"))),
        carrier=_limits(
            label,
            "carrier",
            *(
                label.quantity(f"carrier_{end}", Dimension.VOLUME_PER_AREA, believable=OUTPUTS)
                for end in ("min", "max")
            ),
        ),
        setbacks=read_label_distances(label, "setbacks"),
        wind_max=wind_max,
        limits=limits,
        active_ingredients=read_ingredients(label, rate, limits.year),
        density=label.quantity("density", Dimension.MASS_PER_VOLUME, believable=DENSITIES),
        seeding=read_seeding(label),
        conditions=read_conditions(label, wind_max=wind_max),
        told=read_told(label),
    )


def _rate(label: Members, name: str, asked: Quantity | None) -> Quantity | None:
    # Where the rate has a fault it is not known what the label’s range should be compared with.
    of_plants = label.values.get("use") == Use.PER_PLANT and asked is None
    of_plants |= asked is not None and asked.dimension in PLANT_KINDS
    found = label.quantity(name, *(EVERY_KIND if of_plants else RATE_KINDS))
    if found is None or asked is None:
        return found
    kind, asked_kind = EVERY_KIND[found.dimension], EVERY_KIND[asked.dimension]
    if kind != asked_kind:
        label.faults.add(
            label.path_of(name),
            f"{found} is a {kind}, and the rate asked for is a {asked_kind}.",
            "Copy the rate and its range from the same line of the label.",
        )
        return None
    believable = (RATES | AMOUNTS_EACH)[found.dimension]
    return label.faults.trying(lambda: believable.check(found, field=label.path_of(name)))


def _limits(label: Members, what: str, lowest: Quantity | None, highest: Quantity | None) -> Limits:
    limits = Limits(lowest, highest)
    if lowest is not None and limits.exceeded_by(lowest.si):
        label.faults.add(
            label.path_of(f"{what}_min"),
            f"{lowest} is more than {highest}, the label’s highest.",
            "Copy both again: the first must be the smaller.",
        )
        return Limits()
    return limits
