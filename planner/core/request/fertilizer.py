"""Reading what a fertilizer says of itself, and a rate that is given by a nutrient."""

import re

from planner.core.mix.products import NutrientTarget
from planner.core.nutrient.nutrients import Fertilizer, Grade, Nutrient, product_rate_for
from planner.core.request.reader import Believable, Members
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity, quantity_of_si

KNOWN = ("grade", "slow_release", "bag")
#: A rate may be given by any of these.
TARGETS = tuple(nutrient for nutrient in Nutrient if nutrient is not Nutrient.SOLUBLE_N)

_GRADE = re.compile(
    r"(\d{1,3}(?:\.\d+)?)\s*[-–]\s*(\d{1,3}(?:\.\d+)?)\s*[-–]\s*(\d{1,3}(?:\.\d+)?)"
)

SHARES = Believable(Quantity(0, "%"), Quantity(100, "%"))
BAGS = Believable(Quantity(0.1, "kg"), Quantity(2_000, "kg"))
TARGET_RATES = Believable(Quantity(0.001, "g/m2"), Quantity(1, "kg/m2"))


def parse_grade(text: object, *, field: str = "grade") -> Grade:
    """Read "18-3-9": nitrogen, phosphate and potash in percent by weight.

    Parameters
    ----------
    text : object
        What was typed. [-]
    field : str
        What to call the input in a refusal. [-]

    Returns
    -------
    Grade
        The three numbers. [%]

    Raises
    ------
    Refused
        If it is not three numbers, or if they are more than the whole bag.

    References
    ----------
    University of Minnesota Extension, SULIS, Getting What You Paid For: N-P2O5-K2O by
    weight.
    """
    found = _GRADE.fullmatch(text.strip()) if isinstance(text, str) else None
    if found is None:
        raise Refused(
            field,
            "This is not a grade.",
            "Copy the three numbers from the bag, for example 18-3-9.",
        )
    grade = Grade(*map(float, found.groups()))
    whole = grade.n + grade.p2o5 + grade.k2o
    if whole > 100:
        raise Refused(
            field,
            f"{grade} adds up to {whole:.10g} %, more than the whole bag.",
            "Copy the three numbers from the bag again: each is a percentage of its weight.",
        )
    if not whole:
        raise Refused(
            field,
            f"{grade} holds no nutrient at all.",
            "Copy the three numbers from the bag, or leave the fertilizer out.",
        )
    return grade


def read_fertilizer(product: Members) -> Fertilizer | None:
    """Read what a fertilizer holds.

    Parameters
    ----------
    product : Members
        The members of a product. [-]

    Returns
    -------
    Fertilizer or None
        What was copied, or None where there is none or it has faults. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    inner = product.within("fertilizer", KNOWN)
    if inner is None:
        return None
    inner.want("grade", "Copy the three numbers from the bag, for example 18-3-9.")
    grade = None
    if inner.has("grade"):
        value, path = inner.values["grade"], inner.path_of("grade")
        grade = inner.faults.trying(lambda: parse_grade(value, field=path))
    slow = inner.quantity("slow_release", Dimension.SHARE, believable=SHARES)
    bag = inner.quantity("bag", Dimension.MASS, believable=BAGS)
    return None if grade is None else Fertilizer(grade, slow, bag)


def read_target(product: Members) -> NutrientTarget | None:
    """Read a rate that is given by a nutrient.

    Parameters
    ----------
    product : Members
        The members of a product. [-]

    Returns
    -------
    NutrientTarget or None
        The nutrient and its rate, or None where there is none or it has faults.
        [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    inner = product.within("nutrient_target", TARGETS)
    if inner is None:
        return None
    if len(inner.values) != 1:
        remedy = 'Write one of them, for example {"N": "3.6 g/m2"}.'
        inner.faults.add(inner.path, "The rate is given by one nutrient.", remedy)
        return None
    (name,) = inner.values
    if name not in TARGETS:
        return None
    rate = inner.quantity(name, Dimension.MASS_PER_AREA, believable=TARGET_RATES)
    return None if rate is None else NutrientTarget(Nutrient(name), rate)


def rate_for_target(target: NutrientTarget, fertilizer: Fertilizer, *, field: str) -> Quantity:
    """Work out the product that puts a nutrient down at a rate.

    Parameters
    ----------
    target : NutrientTarget
        The nutrient and its rate. [weight per area]
    fertilizer : Fertilizer
        What the product holds. [-]
    field : str
        What to call the input in a refusal. [-]

    Returns
    -------
    Quantity
        The rate of the product. [weight per area]

    Raises
    ------
    Refused
        If the product holds none of the nutrient.

    References
    ----------
    See ``product_rate_for``.
    """
    rate = product_rate_for(target=target.rate.si, fertilizer=fertilizer, nutrient=target.nutrient)
    if rate is None:
        raise Refused(
            field,
            f"A fertilizer of {fertilizer.grade} holds no {target.nutrient}.",
            "Give the rate by a nutrient that it holds, or choose another product.",
        )
    return quantity_of_si(rate, target.rate.unit)
