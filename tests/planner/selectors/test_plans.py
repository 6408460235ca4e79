"""What a plan request calls the shapes of a drawing."""

from planner.selectors.names import named
from tests.places import collection, feature, rectangle


def test_a_shape_without_a_name_is_called_by_its_kind_and_counted_where_there_are_several() -> None:
    place = rectangle(0, 0, 10, 10)
    drawing = collection(
        feature("t1", "turf", place),
        feature("b1", "flower_bed", place),
        feature("b2", "flower_bed", place, name="Rose bed"),
        feature("b3", "flower_bed", place),
    )

    called = [shape["properties"]["name"] for shape in named(drawing)["features"]]

    assert called == ["Turf", "Flower bed 1", "Rose bed", "Flower bed 2"]
