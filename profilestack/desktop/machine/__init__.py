"""The machine side: shop, plan, methods, spread, test cuts, run sheet, exports."""
