"""The air, the turf and the mix as they are told, against what the labels ask for."""

from collections.abc import Iterator, Mapping, Sequence

from planner.core.findings import Finding, Findings
from planner.core.label.facts import Need, Tolerance, Use
from planner.core.mix.mixing import ANY_ADJUVANT, Step
from planner.core.mix.products import Product
from planner.core.shown import Shown
from planner.core.tolerance import Stand
from planner.core.weather import Weather
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Quantity

_NEVER = Weather()


def condition_findings(
    weather: Weather | None,
    products: Sequence[Product],
    *,
    stands: Sequence[Stand] = (),
    shown: Shown,
) -> Findings:
    """Compare temperature, rain, turf and adjuvants with what each label says.

    Parameters
    ----------
    weather : Weather or None
        The reading, None where nobody gave one. [°C, s]
    products : Sequence[Product]
        The products of the mix. [-]
    stands : Sequence[Stand]
        The turf that is to get the mix, with what grows in it as far as anybody told. [-]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A refusal where a label is left, a warning where nobody can tell. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels themselves. A limit of temperature is taken as hard; a mixed stand is
    judged by the turfgrass that stands the least.
    """
    told = weather or _NEVER
    found = Findings()
    for product in products:
        refusals = (*_heat(told, product, shown), *_rain(told, product))
        warnings = (*_heat_warnings(told, product, shown), *_rain_unknown(told, product))
        found += Findings(warnings, refusals)
        found += turf_findings([product], stands)
        found += _adjuvants(product, products)
    return found + _uses(products)


def turf_findings(products: Sequence[Product], stands: Sequence[Stand]) -> Findings:
    """Compare what grows in the turf with what each label says of it.

    Parameters
    ----------
    products : Sequence[Product]
        The products of the mix. [-]
    stands : Sequence[Stand]
        The turf that is to get the mix, with what grows in it as far as anybody told. [-]

    Returns
    -------
    Findings
        A refusal where a label is left, a warning where nobody can tell. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels themselves. A mixed stand is judged by the turfgrass that stands the least.
    """
    found = Findings()
    for product in products:
        for stand in stands:
            found += _tolerance(product, stand)
    return found


def _uses(products: Sequence[Product]) -> Findings:
    """Refuse lines of the labels that are for one plant, or for spots and for all the turf."""
    refusals = []
    by_area = [product for product in products if product.by_area]
    for product in by_area:
        if product.label.conditions.use is Use.PER_PLANT:
            message = (
                f"{product.name}: this line of the label is for each plant, and a plan puts it "
                "on an area. Take a line that is for turf."
            )
            refusals.append(Finding("rate_for_each_plant", message, product=product.name))
    uses = {product.label.conditions.use: product for product in by_area}
    if Use.SPOT in uses and Use.BROADCAST in uses:
        message = (
            f"{uses[Use.SPOT].name} is used on spots and {uses[Use.BROADCAST].name} over all the "
            "turf: they cannot share a tank. Mix them apart."
        )
        refusals.append(Finding("uses_mixed", message, product=uses[Use.SPOT].name))
    return Findings(refusals=tuple(refusals))


def _heat(weather: Weather, product: Product, shown: Shown) -> Iterator[Finding]:
    conditions, now = product.label.conditions, weather.temperature
    if now is None:
        return
    if conditions.temperature_max is not None and now.si > conditions.temperature_max.si:
        message = (
            f"{product.name}: it is {shown.degrees_of(now)} and the label allows "
            f"{shown.degrees_of(conditions.temperature_max)} at most. Do not spray "
            "now: wait for a cooler hour, and measure again."
        )
        yield Finding("temperature_over_label", message, product=product.name)
    if conditions.temperature_min is not None and now.si < conditions.temperature_min.si:
        message = (
            f"{product.name}: it is {shown.degrees_of(now)} and the label asks for "
            f"{shown.degrees_of(conditions.temperature_min)} at least. It would not "
            "work: wait for a warmer hour, and measure again."
        )
        yield Finding("temperature_under_label", message, product=product.name)


def _heat_warnings(weather: Weather, product: Product, shown: Shown) -> Iterator[Finding]:
    conditions = product.label.conditions
    hottest, coldest = conditions.temperature_max, conditions.temperature_min
    if weather.temperature is None and (hottest is not None or coldest is not None):
        told = _limits_said(coldest, hottest, shown)
        message = (
            f"{product.name}: the label allows {told}, and no temperature was measured. Measure "
            "it on the site before you spray."
        )
        yield Finding("temperature_unknown", message, product=product.name)
    peak = weather.temperature_high
    if hottest is not None and peak is not None and peak.si > hottest.si:
        message = (
            f"{product.name}: up to {shown.degrees_of(peak)} is expected today and the label "
            f"allows {shown.degrees_of(hottest)} at most. Finish before it gets so "
            "hot, and measure again at every stop."
        )
        yield Finding("temperature_rising", message, product=product.name)


def _limits_said(coldest: Quantity | None, hottest: Quantity | None, shown: Shown) -> str:
    ends = [None if end is None else shown.degrees_of(end) for end in (coldest, hottest)]
    if ends[0] is None:
        return f"{ends[1]} at most"
    return f"{ends[0]} at least" if ends[1] is None else f"{ends[0]} to {ends[1]}"


def _rain(weather: Weather, product: Product) -> Iterator[Finding]:
    needed, left = product.label.told.rain_fast, weather.rain_in
    if needed is None or left is None or left.si >= needed.si:
        return
    message = (
        f"{product.name}: rain is expected in {left}, and the label asks for {needed} without "
        "rain after spraying. It would wash off: wait for a longer dry spell."
    )
    yield Finding("rain_too_soon", message, product=product.name)


def _rain_unknown(weather: Weather, product: Product) -> Iterator[Finding]:
    needed = product.label.told.rain_fast
    if needed is not None and weather.rain_in is None:
        message = (
            f"{product.name}: the label asks for {needed} without rain after spraying, and nobody "
            "told how long it will stay dry. Look at the forecast before you spray."
        )
        yield Finding("rain_unknown", message, product=product.name)


def _tolerance(product: Product, stand: Stand) -> Findings:
    turf, said = product.label.conditions.turf, product.label.conditions.tolerance
    if stand.turfgrasses:
        return _line(product, stand) + _stands(product, said, stand)
    if turf is None and not said:
        return Findings()
    message = (
        f"{product.name}: the label tells turfgrasses apart, and nobody told which grow "
        f"{stand.here}. Look at the turf, and enter it with the property."
    )
    return Findings((Finding("turfgrass_unknown", message, product=product.name),))


def _line(product: Product, stand: Stand) -> Findings:
    """Refuse the rates of a line of the label on turf that the line is not for."""
    turf = product.label.conditions.turf
    others = [TURFGRASSES[word] for word in stand.turfgrasses if word != turf]
    if turf is None or not others:
        return Findings()
    message = (
        f"{product.name}: this line of the label is for {TURFGRASSES[turf]}, and {others[0]} "
        f"grows {stand.here}. Take the line of the label for it, or leave this turf out."
    )
    return Findings(refusals=(Finding("rate_for_other_turf", message, product=product.name),))


def _stands(product: Product, said: Mapping[str, Tolerance], stand: Stand) -> Findings:
    refusals, warnings = [], []
    for word in stand.turfgrasses if said else ():
        name, stands = TURFGRASSES[word], said.get(word)
        if stands is Tolerance.FORBIDDEN:
            message = (
                f"{product.name}: the label forbids it on {name}, which grows {stand.here}. Choose "
                "another product, or leave this turf out."
            )
            refusals.append(Finding("turf_not_tolerant", message, product=product.name))
        elif stands is not Tolerance.TOLERATES:
            why = "asks for care on" if stands else "does not name"
            message = (
                f"{product.name}: the label {why} {name}, which grows {stand.here}. Read what it "
                "says, and try a small strip first."
            )
            warnings.append(Finding("turf_tolerance_unsure", message, product=product.name))
    return Findings(tuple(warnings), tuple(refusals))


def _adjuvants(product: Product, products: Sequence[Product]) -> Findings:
    others = [other for other in products if other is not product]
    found = Findings()
    for token, need in product.label.conditions.adjuvants.items():
        present = [other for other in others if _is(other, token)]
        called = "an adjuvant" if token == ANY_ADJUVANT else token
        if need is Need.FORBIDDEN and present:
            message = (
                f"{product.name}: the label forbids {called} in the tank, and {present[0].name} "
                "is one. Take it out of the mix."
            )
            refusal = Finding("adjuvant_forbidden", message, product=product.name)
            found += Findings(refusals=(refusal,))
        elif not present:
            found += _absent(product, called, need, is_known=_all_known(others))
    return found


def _absent(product: Product, called: str, need: Need, *, is_known: bool) -> Findings:
    if not is_known:
        wants = "asks for" if need is Need.REQUIRED else "forbids"
        message = (
            f"{product.name}: the label {wants} {called} in the tank, and the formulation of some "
            "product of the mix is not known. Look at its label, and enter the formulation."
        )
        return Findings((Finding("adjuvant_unconfirmed", message, product=product.name),))
    if need is Need.FORBIDDEN:
        return Findings()
    message = (
        f"{product.name}: the label asks for {called} in the tank, and there is none. Add it to "
        "the mix."
    )
    return Findings(refusals=(Finding("adjuvant_missing", message, product=product.name),))


def _all_known(products: Sequence[Product]) -> bool:
    return all(product.formulation is not None for product in products)


def _is(product: Product, token: str) -> bool:
    formulation = product.formulation
    if formulation is None:
        return False
    if token == ANY_ADJUVANT:
        return formulation.step is Step.ADJUVANTS
    return formulation.token == token
