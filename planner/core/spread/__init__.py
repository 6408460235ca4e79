"""Granular product: bags, settings, catch tests and passes."""
