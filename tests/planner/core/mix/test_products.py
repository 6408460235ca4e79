"""What a label says against the rate and the carrier asked for."""

import pytest

from planner.core.label.labels import Label, Limits
from planner.core.mix.products import Product, label_findings
from planner.core.shown import SHOWN, Units
from properties.core.units import parse_quantity
from tests.planner.core.asking import codes

OUTPUT = parse_quantity("1.0 gal/1000 sq ft").si


def limits(*ends: str | None) -> Limits:
    return Limits(*(None if end is None else parse_quantity(end) for end in ends))


ANY = limits()
RANGE = limits("1.0 fl oz/1000 sq ft", "1.5 fl oz/1000 sq ft")


def product(
    asked: str = "1.2 fl oz/1000 sq ft", *, rate: Limits = RANGE, carrier: Limits = ANY
) -> Product:
    return Product("Invented product", parse_quantity(asked), Label(rate=rate, carrier=carrier))


@pytest.mark.parametrize(
    ("rate", "refused"),
    [
        ("0.99 fl oz/1000 sq ft", ["rate_below_label"]),
        ("1.0 fl oz/1000 sq ft", []),
        ("1.5 fl oz/1000 sq ft", []),
        ("1.51 fl oz/1000 sq ft", ["rate_above_label"]),
        # 1.5 fl oz/1,000 sq ft is 65.34 fl oz/acre (43.56 times).
        ("65.34 fl oz/acre", []),
        ("65.35 fl oz/acre", ["rate_above_label"]),
    ],
)
def test_a_rate_is_refused_only_outside_the_label(rate: str, refused: list[str]) -> None:
    found = label_findings(product(rate), output_l_per_m2=OUTPUT, shown=SHOWN[Units.US])

    assert codes(found.refusals) == refused
    assert product(rate).rate_is_in_label is not bool(refused)


def test_a_refusal_names_the_product_the_rate_and_the_limit() -> None:
    (refusal,) = label_findings(
        product("2 fl oz/1000 sq ft"), output_l_per_m2=OUTPUT, shown=SHOWN[Units.US]
    ).refusals

    assert refusal.product == "Invented product"
    assert "2 fl oz/1000 sq ft" in refusal.message
    assert "1.5 fl oz/1000 sq ft" in refusal.message


@pytest.mark.parametrize(
    ("carrier", "refused"),
    [
        (limits("1.1 gal/1000 sq ft"), ["carrier_below_label"]),
        (limits("1.0 gal/1000 sq ft", "1.0 gal/1000 sq ft"), []),
        (limits(None, "0.9 gal/1000 sq ft"), ["carrier_above_label"]),
    ],
)
def test_an_output_outside_the_label_s_carrier_is_refused(
    carrier: Limits, refused: list[str]
) -> None:
    found = label_findings(product(carrier=carrier), output_l_per_m2=OUTPUT, shown=SHOWN[Units.US])

    assert codes(found.refusals) == refused


@pytest.mark.parametrize(
    ("known", "words"),
    [
        (limits(), "the label’s range of rates is not known"),
        (limits("1 fl oz/1000 sq ft"), "the label’s highest rate is not known"),
        (limits(None, "2 fl oz/1000 sq ft"), "the label’s lowest rate is not known"),
    ],
)
def test_what_nobody_copied_from_the_label_is_told(known: Limits, words: str) -> None:
    found = label_findings(product(rate=known), output_l_per_m2=OUTPUT, shown=SHOWN[Units.US])

    (warning,) = found.warnings
    assert (warning.code, warning.product) == ("label_range_missing", "Invented product")
    assert words in warning.message


def test_a_whole_range_needs_no_word() -> None:
    found = label_findings(product(), output_l_per_m2=OUTPUT, shown=SHOWN[Units.US])

    assert found.warnings == found.refusals == ()
