"""Catalog files to frozen models; the only room that knows YAML."""
