"""What is made of a plan: HTML, PDF, the site, files for machines."""
