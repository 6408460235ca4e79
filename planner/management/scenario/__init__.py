"""The demo scenario: an invented firm, its places and what it works with."""
