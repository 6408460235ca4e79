"""Changing places: one act each, in one transaction."""
