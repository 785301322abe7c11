"""PDF documents from a Spec; the only room that knows ReportLab."""

from configurator.documents.typeface import register_typefaces

# ReportLab reads its default font when its layout part is first imported, so ours comes first.
register_typefaces()
