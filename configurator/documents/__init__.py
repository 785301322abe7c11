"""PDF documents from a Spec; the only room that knows ReportLab."""
