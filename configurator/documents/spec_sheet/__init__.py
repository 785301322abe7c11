"""The spec sheet for the customer."""

from configurator.documents.spec_sheet.sheet import spec_sheet_pdf

__all__ = ["spec_sheet_pdf"]
