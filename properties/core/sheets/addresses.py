"""When two addresses are one: written differently, meant the same."""

from properties.core.sheets.columns import plain_words

_SHORT = {
    "street": "st",
    "avenue": "ave",
    "av": "ave",
    "road": "rd",
    "lane": "ln",
    "drive": "dr",
    "court": "ct",
    "boulevard": "blvd",
    "place": "pl",
    "circle": "cir",
    "terrace": "ter",
    "parkway": "pkwy",
    "highway": "hwy",
    "square": "sq",
    "trail": "trl",
    "north": "n",
    "south": "s",
    "east": "e",
    "west": "w",
    "northeast": "ne",
    "northwest": "nw",
    "southeast": "se",
    "southwest": "sw",
    "apartment": "apt",
    "suite": "ste",
}


def address_key(address: str) -> str:
    """What two ways of writing one address have in common.

    Parameters
    ----------
    address : str
        An address as somebody wrote it. [-]

    Returns
    -------
    str
        Its words in small letters, the usual ones shortened. [-]

    Raises
    ------
    Nothing
        Any text has such a key.

    References
    ----------
    United States Postal Service, Publication 28, Postal Addressing Standards, appendix C1
    (street suffixes), section 233 (directionals) and appendix C2 (units).
    """
    return " ".join(_SHORT.get(word, word) for word in plain_words(address).split())
