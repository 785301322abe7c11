"""The spec sheet for the customer."""

from configurator.documents.spec_sheet.opening import ISSUED_AS
from configurator.documents.spec_sheet.sheet import spec_sheet_pdf

__all__ = ["ISSUED_AS", "spec_sheet_pdf"]
