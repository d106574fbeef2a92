"""The protocols shelf: shipped and own protocols, and what is wrong with them."""
