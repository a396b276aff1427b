"""Twenty invented engines that try what the shipped rules read out of readings, written before the rules were seen."""
