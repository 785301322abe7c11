"""One module for each screen: it lays out and calls workflow."""
