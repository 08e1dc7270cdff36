"""What an order costs and what is asked for it. Pure: prices and hours are handed in."""
