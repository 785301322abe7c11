"""What happened to a build, from enquiry to handover, and what follows from it; pure."""
