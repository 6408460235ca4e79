"""Where money leaks: what was quoted, planned and used, side by side."""
