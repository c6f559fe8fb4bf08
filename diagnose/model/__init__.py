"""What the words mean: records of the trade, frozen, without files, terminal or engine."""
