"""What a firm has of its products, what it will need, and what to buy.

Amounts in L or kg: a product is measured out one way, and the two are never joined.
Money is a ``Decimal``.
"""
