"""Papers: frozen content set as PDF. Reads no row, knows no clock and asks nobody."""
