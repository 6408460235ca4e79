"""Which ground which tool treats, at which distances, and why the rest is left."""
