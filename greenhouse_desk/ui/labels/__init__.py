"""The Labels screen: for which plants, in which layout, from which label of a used sheet on, seen as it prints."""
