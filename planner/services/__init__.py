"""Changing work: one act each, in one transaction."""
