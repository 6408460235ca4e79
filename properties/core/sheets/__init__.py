"""A spreadsheet of properties: its text, its columns, its rows, and what is wrong with them."""
