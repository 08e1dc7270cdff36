"""Rates of a shop of our own invention, for tests of quotes."""

RATES = """
name = "Test forge"
currency = "EUR"
methods = ["hand", "power"]
[rates]
hour = "40"
fire_hour = "48"
[prices]
consumables_hour = "1.20"
[prices.steel]
mild = "2.00"
[fuel]
gas = "2.50"
electricity = "0.30"
hammer_hour = "2 kWh"
shop_hour = "0.5 kWh"
[overhead]
sellable_hours = 900
[overhead.year]
rent = "5400"
[tax]
name = "VAT"
share = "20 %"
[quote]
design = "1 h"
lay_out = "30 min"
pack = "15 min"
remakes = "4 %"
margin = "10 %"
deposit = "30 %"
valid_days = 30
"""
