"""How much ammonium sulfate hard water takes before a weed killer meets it."""

from planner.core.findings import Finding, Findings
from planner.core.mix.compatibility import WaterTest
from planner.core.mix.products import Product
from planner.core.shown import Units, said
from properties.core.units import Quantity

#: Pounds in 100 gal of water for each ppm (mg/L) of an ion.
LB_PER_100_GAL_PER_PPM = {
    "potassium": 0.002,
    "sodium": 0.005,
    "calcium": 0.009,
    "magnesium": 0.014,
    "iron": 0.042,
}
PPM = "mg/L"
PER_100_GAL = "lb/100 gal"
#: What the answer is shown in.
CONDITIONER_UNITS = {Units.US: PER_100_GAL, Units.METRIC: "g/L"}
AMMONIUM_SULFATE = "ammonium sulfate"
_AS_MUCH = 1 - 1e-9


def conditioner_rate(test: WaterTest) -> Quantity:
    """Find the ammonium sulfate that ties up the ions of a water.

    Parameters
    ----------
    test : WaterTest
        What was found in the water; an ion that was not tested counts as none. [kg/L]

    Returns
    -------
    Quantity
        Ammonium sulfate in the water. [lb/100 gal]

    Raises
    ------
    Nothing
        Every water has one, of pure water 0.

    References
    ----------
    North Dakota State University, Crop & Pest Report, Equation Used to Calculate Rate of
    AMS, 2 July 2015 (ND Weed Control Guide); after Nalewaja and Matysiak, 1993.
    """
    ions = ((factor, getattr(test, ion)) for ion, factor in LB_PER_100_GAL_PER_PPM.items())
    return Quantity(
        sum(factor * found.to(PPM).value for factor, found in ions if found is not None),
        PER_100_GAL,
    )


def conditioning_findings(test: WaterTest | None, products: tuple[Product, ...]) -> Findings:
    """Warn where the ammonium sulfate of a mix is too little for its water.

    Parameters
    ----------
    test : WaterTest or None
        What was found in the water, if anybody looked. [kg/L]
    products : tuple[Product, ...]
        The mix. [-]

    Returns
    -------
    Findings
        One warning at most. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    See ``conditioner_rate``. A label asks for more than the water takes: that rules.
    """
    found = conditioner_in(products)
    if test is None or found is None or found.kind.is_weighed is False or found.by_area:
        return Findings()
    needed = conditioner_rate(test)
    if found.rate.si >= needed.si * _AS_MUCH:
        return Findings()
    message = (
        f"{found.name}: {found.rate} is less than this water ties up ({said(needed)}). Add more "
        "of it, as far as the labels allow."
    )
    return Findings((Finding("conditioner_too_little", message, product=found.name),))


def conditioner_in(products: tuple[Product, ...]) -> Product | None:
    """Find the ammonium sulfate of a mix.

    Parameters
    ----------
    products : tuple[Product, ...]
        The mix. [-]

    Returns
    -------
    Product or None
        It, or None where the mix has none. [-]

    Raises
    ------
    Nothing
        Any mix can be looked through.

    References
    ----------
    By its formulation, as it was told.
    """
    for product in products:
        formulation = product.formulation
        if formulation is not None and formulation.token == AMMONIUM_SULFATE:
            return product
    return None
