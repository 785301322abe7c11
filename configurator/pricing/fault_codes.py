"""Fault codes of prices and plans with their meaning."""

FAULT_CODES = {
    "V001": "No VAT rate is in force on the day",
    "V002": "The shares due at the stages do not sum to a hundred",
}
