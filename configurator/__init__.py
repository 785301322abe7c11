"""Build-spec configurator and handover-pack generator for a workshop that electrifies classics."""

__version__ = "0.1.0"
