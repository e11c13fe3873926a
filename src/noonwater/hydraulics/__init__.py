"""Circuit to network to flow, head, pressure and power in each operating state."""
