"""What to take next and how to lay a day, for one smith with several open orders."""
