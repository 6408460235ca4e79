"""A figure carries all that is needed to work it out again."""

from properties.core.units import Quantity
from properties.core.working import COMMON_PRACTICE, Figure, Input


def test_a_figure_without_a_source_says_that_it_is_common_practice() -> None:
    figure = Figure(
        key="carrier_volume",
        name="Finished spray",
        formula="area × output",
        inputs=(
            Input("area", Quantity(5000, "sq ft")),
            Input("output", Quantity(2, "gal/1000 sq ft")),
        ),
        result=Quantity(10, "gal"),
    )

    assert figure.source == COMMON_PRACTICE
    area, output = (one.quantity.si for one in figure.inputs)
    assert Quantity(10, "gal").si == figure.result.si
    assert abs(area * output - figure.result.si) < 1e-9
