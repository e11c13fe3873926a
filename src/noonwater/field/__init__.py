"""What is seen and told on site, held against what the job says."""
