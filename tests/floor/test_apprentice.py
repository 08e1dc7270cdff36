"""An apprentice who knows nothing of the recipe works by the card and the bottom line alone."""
