"""Twenty invented engines, written before the rules were seen, that try what these read out of readings."""
