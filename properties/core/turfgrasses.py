"""The turfgrasses that grow on lawns and fields."""

#: Turfgrasses by the word that files carry.
TURFGRASSES = {
    "kentucky_bluegrass": "Kentucky bluegrass",
    "perennial_ryegrass": "perennial ryegrass",
    "tall_fescue": "tall fescue",
    "fine_fescue": "fine fescue",
    "creeping_bentgrass": "creeping bentgrass",
    "bermudagrass": "bermudagrass",
    "zoysiagrass": "zoysiagrass",
    "st_augustinegrass": "St. Augustinegrass",
    "centipedegrass": "centipedegrass",
    "bahiagrass": "bahiagrass",
    "buffalograss": "buffalograss",
    "seashore_paspalum": "seashore paspalum",
    "other_turfgrass": "another turfgrass",
}
