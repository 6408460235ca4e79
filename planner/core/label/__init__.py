"""What a label says: rates, limits, facts, and the substances in a product."""
