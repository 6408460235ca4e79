"""Reading work, always for a person, who sees their own firm and no other."""
