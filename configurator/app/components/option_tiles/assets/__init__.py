"""Assets that the browser loads."""
