"""Nitrogen, phosphorus and potassium, and what limits them."""
