"""The invented jobs that a plan must come out right for, as requests.

Every firm, place, product and label value is invented.
"""

from typing import Any

from tests.planner.core.asking import area, corners_of, place, with_output

Json = dict[str, Any]

FIRM = "rules of Quillbrook Turf Service (invented)"

#: A front lawn, a back lawn with a bed, and a side strip for the hand gun.
QUILLBROOK: Json = {
    "property": place(
        area("front", "turf", corners_of(0, 0, 80, 45), name="Front lawn"),
        area("back", "turf", corners_of(0, 100, 110, 170), name="Back lawn"),
        area("side", "turf", corners_of(120, 0, 126, 60), name="Side strip", only="hand_tool"),
        area("bed", "flower_bed", corners_of(40, 128, 64, 138), name="Bed"),
    ),
    "machine": with_output("0.90 gal/1000 sq ft", swath="5 ft", tanks=["25 gal"]),
    "hand_tool": with_output("2.20 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"]),
    "setback_rules": [
        {"kind": "flower_bed", "method": "boom", "distance": "6 ft", "source": FIRM},
        {"kind": "flower_bed", "method": "hand_gun", "distance": "1.5 ft", "source": FIRM},
    ],
    "mix": [
        {
            "name": "W-1 (invented)",
            "rate": "1.2 fl oz/1000 sq ft",
            "formulation": "SL",
            "label": {
                "rate_min": "1.00 fl oz/1000 sq ft",
                "rate_max": "1.25 fl oz/1000 sq ft",
                "carrier_min": "0.75 gal/1000 sq ft",
            },
        },
        {
            "name": "D-1 (invented)",
            "rate": "0.15 oz wt/1000 sq ft",
            "formulation": "WG",
            "label": {
                "rate_min": "0.12 oz wt/1000 sq ft",
                "rate_max": "0.18 oz wt/1000 sq ft",
            },
        },
        {
            "name": "Surfactant (invented)",
            "rate": "0.25 %",
            "formulation": "NIS",
            "label": {"rate_min": "0.2 %", "rate_max": "0.3 %"},
        },
    ],
    "measures": {"liquid": ["1 fl oz", "0.1 fl oz"], "dry": ["0.05 oz wt"]},
}

COPPERLEAF_RULES = [
    {
        "kind": kind,
        "distance": "5 ft",
        "downwind": "25 ft",
        "source": "rules of Copperleaf Grounds Co. (invented)",
    }
    for kind in ("vegetable_garden", "flower_bed")
]

#: A lawn with a neighbour's vegetables to the east and a bed to the north, and a mixed tank.
COPPERLEAF: Json = {
    "property": place(
        area("lawn", "turf", corners_of(0, 0, 150, 100), name="Lawn"),
        area("garden", "garden", corners_of(150, 0, 180, 100), name="Vegetables next door"),
        area("bed", "bed", corners_of(0, 100, 150, 106), name="Ornamental bed"),
    ),
    "machine": with_output("1.5 gal/1000 sq ft", swath="5 ft", tanks=["25 gal"]),
    "mix": [
        {
            "name": "W-3 (invented)",
            "rate": "0.80 fl oz/1000 sq ft",
            "formulation": "SL",
            "label": {
                "rate_min": "0.70 fl oz/1000 sq ft",
                "rate_max": "1.00 fl oz/1000 sq ft",
                "wind_max": "10 mph",
            },
        }
    ],
    "setback_rules": COPPERLEAF_RULES,
    "wind_rule": {
        "half_angle": "60 deg",
        "judged": "facing",
        "source": "rules of Copperleaf Grounds Co. (invented)",
    },
    "measures": {"liquid": ["0.5 fl oz"]},
    "tank_now": {"spray": "17.8125 gal", "products": {"W-3 (invented)": "9.5 fl oz"}},
}


def in_wind(wind_from: str, wind_speed: str) -> Json:
    """The Copperleaf job at one moment."""
    return COPPERLEAF | {"weather": {"wind_from": wind_from, "wind_speed": wind_speed}}


COUNCIL = "local rules of Brackenmere (invented)"

#: A lawn of 70 × 35 m beside a pond to the south, fed with a spreader that has its deflector.
RUSHMERE: Json = {
    "units": "metric",
    "on": "2026-09-10",
    "property": place(
        area("lawn", "turf", corners_of(0, 0, 70, 35), unit_m=1, name="Park lawn"),
        area("pond", "pond", corners_of(-40, -30, 110, 0), unit_m=1, name="Brackenmere pond"),
    ),
    "machine": {
        "kind": "rotary_spreader",
        "swath": "4 m",
        "hopper": "20 kg",
        "deflector": True,
        "times_over": 2,
        "calibration": {
            "method": "weigh_back",
            "product": "Feed G-5 (invented)",
            "area": "100 m2",
            "runs": [
                {"setting": 6.5, "used": "1.12 kg"},
                {"setting": 6.1, "used": "1.03 kg"},
                {"setting": 6, "used": "1.01 kg"},
            ],
        },
    },
    "mix": [
        {
            "name": "Feed G-5 (invented)",
            "formulation": "G",
            "nutrient_target": {"N": "3.6 g/m2"},
            "fertilizer": {"grade": "18-3-9", "slow_release": "40 %", "bag": "20 kg"},
        }
    ],
    "setback_rules": [
        {"kind": "pond", "method": "granular_open", "distance": "8 m", "source": COUNCIL},
        {"kind": "pond", "method": "granular_deflector", "distance": "3 m", "source": COUNCIL},
    ],
    "nutrient_limits": [
        {"nutrient": "N", "per": "application", "at_most": "4.4 g/m2", "source": COUNCIL},
        {"nutrient": "soluble N", "per": "application", "at_most": "2.2 g/m2", "source": COUNCIL},
        {"nutrient": "N", "per": "year", "at_most": "12 g/m2", "source": COUNCIL},
        {
            "nutrient": "P2O5",
            "per": "application",
            "at_most": "0 g/m2",
            "unless": "soil_test",
            "source": COUNCIL,
        },
    ],
    "nutrients_so_far": {"N": "7.8 g/m2"},
    "soil_test": {"taken": "2025-03-14", "valid_until": "2028-03-13"},
}


def after_runs(count: int) -> Json:
    """The Rushmere job once so many catch tests are made."""
    machine = RUSHMERE["machine"]
    tests = machine["calibration"] | {"runs": machine["calibration"]["runs"][:count]}
    return RUSHMERE | {"machine": machine | {"calibration": tests}}


ROOM = {"W-2 (invented)": "2.0 fl oz/1000 sq ft"}


def lawns(*square_feet: int) -> list[Json]:
    """Lawns of a route by their treatable ground, each with room for 2 fl oz/1,000 sq ft."""
    return [{"area": f"{area} sq ft", "room": ROOM} for area in square_feet]


#: Seven lawns with the yard after the fourth, a tap without an air gap, and a drifting hand gun.
PENNYWHISTLE: Json = {
    "machine": with_output(
        "2.0 gal/1000 sq ft",
        kind="hand_gun",
        swath="5 ft",
        tanks=["200 gal"],
        fill_limit="190 gal",
        unsprayable="3 gal",
    ),
    "mix": [
        {
            "name": "W-2 (invented)",
            "rate": "1.2 fl oz/1000 sq ft",
            "formulation": "SL",
            "label": {
                "rate_min": "1.0 fl oz/1000 sq ft",
                "rate_max": "1.5 fl oz/1000 sq ft",
            },
        }
    ],
    "measures": {"liquid": ["1 fl oz"]},
    "route": {
        "stops": [
            *lawns(11_200, 8_400, 15_600, 22_300),
            {"reload": "yard", "name": "The yard"},
            *lawns(9_750),
            {"reload": "customer_tap", "name": "Tap at stop 5", "permission": True},
            *lawns(31_400, 12_650),
        ],
        "refill": {"after_load": 1, "in_tank": "9.0 gal"},
    },
}


def _ground(*corners: tuple[float, float, float, float]) -> Json:
    polygons = [area("", "turf", corners_of(*each))["geometry"]["coordinates"] for each in corners]
    return {"type": "MultiPolygon", "coordinates": polygons}


#: Front 6,200 sq ft, back 9,650 sq ft, and within it a patch of 500 sq ft.
LARKFOOT_FRONT, LARKFOOT_BACK = (0, 0, 100, 62), (0, 100, 96.5, 200)
LARKFOOT_PATCH = (40, 140, 60, 165)


def _had(on: str, *where: tuple[float, float, float, float]) -> Json:
    return {
        "on": on,
        "product": "W-4 (invented)",
        "rate": "1.2 fl oz/1000 sq ft",
        "where": _ground(*where),
    }


#: A product with a yearly limit and an interval, on ground with three different pasts.
LARKFOOT: Json = {
    "on": "2026-07-06",
    "property": place(
        area("front", "turf", corners_of(*LARKFOOT_FRONT), name="Front"),
        area("back", "turf", corners_of(*LARKFOOT_BACK), name="Back"),
    ),
    "machine": with_output("1.0 gal/1000 sq ft", swath="5 ft", tanks=["25 gal"]),
    "mix": [
        {
            "name": "W-4 (invented)",
            "rate": "1.2 fl oz/1000 sq ft",
            "formulation": "SL",
            "label": {
                "rate_min": "0.8 fl oz/1000 sq ft",
                "rate_max": "1.5 fl oz/1000 sq ft",
                "limits": {"per_year": "3.4 fl oz/1000 sq ft", "interval": "30 days"},
            },
        }
    ],
    "measures": {"liquid": ["0.5 fl oz"]},
    "history": [
        _had("2026-04-10", LARKFOOT_FRONT, LARKFOOT_BACK),
        _had("2026-05-20", LARKFOOT_FRONT),
        _had("2026-06-08", LARKFOOT_PATCH),
    ],
}


def at_rate(request: Json, rate: str) -> Json:
    """The same job with its only product at another rate."""
    (product,) = request["mix"]
    return request | {"mix": [product | {"rate": rate}]}
