"""One file for each revision of the tables."""
