"""The papers a contractor hands over, from a job and its results: PDF and spreadsheet."""
