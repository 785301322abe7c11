"""The handover pack for the owner: one file a section, in the order of the pack."""
