"""Every distance that is asked from a feature, and those that decide. Distances in m."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.core.label.methods import Method
from planner.core.mix.products import Product
from planner.core.request import PlanRequest
from planner.core.setback_rules import Asked, a_kind, rules_asking
from planner.core.weather import USUAL_RULE, WindRule
from properties.core.downwind import Downwind
from properties.core.features import Kind, Role
from properties.core.outlines import Shape
from properties.core.setbacks import NOBODY_KNOWS, Claim, own_claim, strictest
from properties.core.treatable import Setback
from properties.core.units import Quantity

ON_ALL_SIDES = "kept on all sides, as nobody says where the wind comes from"


@dataclass(frozen=True)
class Wind:
    """Where the wind comes from, if anybody says so, and the rule for the side it comes from."""

    comes_from: Quantity | None = None
    rule: WindRule = USUAL_RULE


@dataclass(frozen=True)
class KeptFrom:
    """A feature, every distance that is asked from it, and the ones that decide.

    ``downwind_claims`` are for the side the wind comes from.
    """

    shape: Shape
    claims: tuple[Claim, ...]
    by_default: bool = False
    downwind_claims: tuple[Claim, ...] = ()
    wind: Wind = Wind()

    @cached_property
    def decided(self) -> Claim | None:
        """The strictest claim, None where the distance is unknown."""
        return strictest(self.claims)

    @cached_property
    def decided_downwind(self) -> Claim | None:
        """The strictest downwind claim, None where it asks for no more than the distance."""
        decided, downwind = self.decided, strictest(self.downwind_claims)
        if downwind is None or (decided and downwind.distance.si <= decided.distance.si):
            return None
        return downwind

    @property
    def follows_wind(self) -> bool:
        """Whether more is kept on the side the wind comes from than on the others."""
        return self.decided_downwind is not None and self.wind.comes_from is not None

    @property
    def is_all_round(self) -> bool:
        """Whether the downwind distance is kept on all sides, for want of a wind."""
        return self.decided_downwind is not None and self.wind.comes_from is None

    @property
    def deciding(self) -> tuple[Claim, ...]:
        """The claims that have a part in the zone."""
        return tuple(claim for claim in (self.decided, self.decided_downwind) if claim is not None)

    @cached_property
    def all_round(self) -> Claim | None:
        """The claim that is kept on all sides, None where nobody knows it."""
        downwind = self.decided_downwind
        if self.decided is None or downwind is None or self.follows_wind:
            return self.decided
        return Claim(downwind.distance, f"{downwind.reason}; {ON_ALL_SIDES}")

    @property
    def reach_m(self) -> tuple[float, float]:
        """How far it reaches all round and downwind, to compare with another tool's."""
        setback = self.setback
        downwind = setback.downwind
        return setback.distance_m, setback.distance_m if downwind is None else downwind.distance_m

    @cached_property
    def setback(self) -> Setback:
        """What the geometry needs: where the distance is unknown, the feature alone."""
        kept = self.all_round or Claim(Quantity(0, "m"), NOBODY_KNOWS)
        wind, downwind = self.wind, self.decided_downwind
        if wind.comes_from is None or downwind is None:
            return Setback(kept.distance.si, kept.reason)
        rule = Downwind(downwind.distance.si, wind.rule.half_angle.si, wind.rule.judged)
        return Setback(kept.distance.si, kept.reason, rule, wind.comes_from.si)


def keep_away(
    request: PlanRequest, *, method: Method, defaults: Mapping[str, Claim]
) -> tuple[KeptFrom, ...]:
    """Gather the distances asked from each feature: by labels, by the feature itself, by rules.

    A default counts only where none of them gives one. An obstacle is kept away
    from only if it has a distance of its own.

    Parameters
    ----------
    request : PlanRequest
        What is drawn, the mix with its labels, the rules, the day and the wind. [-]
    method : Method
        How the tool puts the product down. [-]
    defaults : Mapping[str, Claim]
        A claim by kind of feature where nobody else makes one. [-]

    Returns
    -------
    tuple[KeptFrom, ...]
        The features to keep away from, in drawing order. [-]

    Raises
    ------
    Nothing
        An unknown distance is a finding, not a fault.

    References
    ----------
    Our own rule: the strictest distance wins, and unknown is not zero.
    """
    weather = request.weather
    wind = Wind(None if weather is None else weather.wind_from, request.wind_rule)
    by_kind: dict[Kind, tuple[Asked, Asked]] = {}
    kept = []
    for shape in request.drawing.shapes:
        if shape.kind not in by_kind:
            by_kind[shape.kind] = _asked_of_kind(request, shape.kind, method)
        labels, rules = by_kind[shape.kind]
        asked = labels + _own(shape) + rules
        default = defaults.get(shape.kind.token) if shape.kind.role is Role.PROTECTED else None
        by_default = not asked.plain and default is not None
        claims = (default,) if default is not None and by_default else asked.plain
        if shape.kind.role is Role.PROTECTED or claims or asked.downwind:
            kept.append(KeptFrom(shape, claims, by_default, asked.downwind, wind))
    return tuple(kept)


def _asked_of_kind(request: PlanRequest, kind: Kind, method: Method) -> tuple[Asked, Asked]:
    if kind.role is not Role.PROTECTED:
        return Asked(), Asked()
    rules = rules_asking(request.setback_rules, kind, method=method, day=request.on)
    return labels_asking(request.products, kind, method=method), rules


def _own(shape: Shape) -> Asked:
    own, downwind = own_claim(shape), shape.downwind_setback
    return Asked(
        () if own is None else (own,),
        () if downwind is None else (Claim(downwind, "set on this feature, downwind"),),
    )


def labels_asking(products: Sequence[Product], kind: Kind, *, method: Method) -> Asked:
    """Gather what the labels of a mix ask for from a kind of feature, with a method.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    kind : Kind
        The kind of feature. [-]
    method : Method
        How the tool puts the product down. [-]

    Returns
    -------
    Asked
        A claim for each label that names the kind, and for the method or for any. [-]

    Raises
    ------
    Nothing
        A label that is silent makes no claim.

    References
    ----------
    The labels.
    """
    claims = list(_label_claims(products, kind, method))
    return Asked(
        tuple(claim for side, claim in claims if not side),
        tuple(claim for side, claim in claims if side),
    )


def _label_claims(
    products: Sequence[Product], kind: Kind, method: Method
) -> Iterator[tuple[str, Claim]]:
    for product in products:
        asked = product.label.setbacks.get(kind.token)
        if asked is None:
            continue
        distance = asked.for_method(method)
        of_label, words = f"label of {product.name}", a_kind(kind)
        if distance is not None:
            tool = f" {method.words}" if method in asked.by_method else ""
            yield "", Claim(distance, f"{of_label}: {distance} from {words}{tool}")
        if asked.downwind is not None:
            yield (
                "downwind",
                Claim(asked.downwind, f"{of_label}: {asked.downwind} from {words} downwind"),
            )
