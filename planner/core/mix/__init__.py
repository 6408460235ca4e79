"""What goes into a tank: products, measured out, in which order, and what may not meet."""
