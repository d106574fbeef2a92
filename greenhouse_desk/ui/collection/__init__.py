"""The collection as it stands in the house: benches, care, one plant's drawer."""
