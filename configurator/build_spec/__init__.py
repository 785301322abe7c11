"""One pure pipeline from catalog and choices to the Spec."""
