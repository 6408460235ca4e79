"""What each part of the ground takes, how sure that is, and what is over."""
