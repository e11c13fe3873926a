"""Climate: weather files read, monthly tables made into hours, sun and sky on each plane."""
