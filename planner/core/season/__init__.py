"""A season of rounds: their windows, what opens them, and whether the year holds them all."""
