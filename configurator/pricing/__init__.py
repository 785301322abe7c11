"""Pure computation of prices, VAT, stage payments and the plan."""
