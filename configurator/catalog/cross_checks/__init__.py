"""What each file alone cannot show: whether the entries of a catalog fit together."""
