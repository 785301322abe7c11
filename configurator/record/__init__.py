"""The record of builds; the only room that knows SQL."""
