"""A day's route with one tank: loads, refills onto a leftover, and what is left at the end."""
