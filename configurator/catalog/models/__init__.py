"""The shape of everything a workshop edits."""
