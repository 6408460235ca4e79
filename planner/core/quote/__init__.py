"""A quote: its states, its content in plain words, its drawing, and how two revisions differ."""
